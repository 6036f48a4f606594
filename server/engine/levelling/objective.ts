import type { Work } from '../types.ts';
import { FREE, HANDS, type Problem, RUN } from './problem.ts';
import { instants } from './schedule.ts';

/**
 * What a better schedule is, in this order; a later criterion counts only between schedules equal in all earlier ones.
 * 0. pins: minutes that lots pinned by the maker start after the time they are pinned to;
 * 1. ready: the finish of everything needed for the ready-by;
 * 2. lateness: minutes by which lots finish after their deadlines, added up;
 * 3. end: the finish of everything;
 * 4. idle: minutes between each person's last work and the ready finish, added up, where one works long after another;
 * 5. switches: how often a person goes from one step to another;
 * 6. nights: minutes of hands before 6:00 or after 22:00, in UTC moved by `nightShiftMinutes`.
 */
export const CRITERIA = ['pins', 'ready', 'lateness', 'end', 'idle', 'switches', 'nights'] as const;

const NIGHT_FROM = 22 * 60;
const NIGHT_UNTIL = 6 * 60;
const DAY = 1440;

/** Judges the last pass of a forward problem. Its arrays are allocated once. */
export class Objective {
  private readonly workshop: Uint8Array;
  private readonly pinned: Int32Array;
  private readonly deadline: Int32Array;
  private readonly persons: number[];
  private readonly busyUntil: Int32Array;
  private readonly hasPins: boolean;

  constructor(
    private readonly work: Work,
    private readonly problem: Problem,
    private readonly nightShiftMinutes = 0,
  ) {
    this.workshop = Uint8Array.from(work.lots, (lot) => (lot.onSite ? 0 : 1));
    this.pinned = Int32Array.from(work.lots, (lot) => lot.pinnedStart ?? FREE);
    this.deadline = Int32Array.from(work.lots, (lot) => lot.deadline);
    this.persons = [...work.resources.keys()].filter((r) => work.resources[r]!.kind === 'person');
    this.busyUntil = new Int32Array(work.resources.length);
    this.hasPins = work.lots.some((lot) => lot.pinnedStart !== null);
  }

  /** The one number the search goes by: criteria 0 to 2 of the last pass in the problem's time, the later two as penalties. */
  cost(latest: number): number {
    const { problem, workshop, pinned, deadline } = this;
    if (problem.plain) return latest;
    const { finishes, starts, lots } = problem;
    let ready = this.work.now;
    let late = 0;
    for (let l = 0; l < lots; l++) {
      const finish = finishes[l]!;
      if (workshop[l] === 1 && finish > ready) ready = finish;
      if (finish > deadline[l]!) late += finish - deadline[l]!;
      if (this.hasPins && pinned[l] !== FREE && starts[l]! > pinned[l]!) late += 1000 * (starts[l]! - pinned[l]!);
    }
    return ready + late / 1000;
  }

  /**
   * Everything of the last pass, in the order of CRITERIA; instants in the problem's time. `against`: the last three, which
   * cost more to know, are left out (as worse than anything) where an earlier one is already worse than there.
   */
  criteria(latest: number, against: readonly number[] = []): number[] {
    const { problem, work } = this;
    let pins = 0;
    let ready = problem.plain ? 0 : work.now;
    let lateness = 0;
    const time = instants(problem);
    for (let l = 0; l < problem.lots; l++) {
      if (this.pinned[l] !== FREE) pins += Math.max(0, problem.starts[l]! - this.pinned[l]!);
      if (this.workshop[l] === 1) ready = Math.max(ready, problem.finishes[l]!);
      lateness += Math.max(0, time(problem.finishes[l]!) - this.deadline[l]!);
    }
    if (problem.plain) return [0, ready, lateness, latest, 0, 0, 0];
    const first = [pins, ready, lateness, latest];
    const isWorse = against.length > 0 && compareCriteria(first, against) > 0;
    return [...first, ...(isWorse ? [Infinity, Infinity, Infinity] : this.hands(ready))];
  }

  private hands(ready: number): [number, number, number] {
    const { problem, persons, busyUntil } = this;
    busyUntil.fill(this.work.now);
    const stints: number[][] = this.work.resources.map(() => []);
    let nights = 0;
    for (let l = 0; l < problem.lots; l++) {
      for (let p = problem.phaseFirst[l]!; p < problem.phaseFirst[l + 1]!; p++) {
        const crew = problem.phaseCrew[p]!;
        if (crew < 0 || (problem.phaseKind[p] !== HANDS && problem.phaseKind[p] !== RUN)) continue;
        nights += this.nightMinutes(
          problem.phaseStarts[p]!,
          Math.min(problem.phaseFinishes[p]!, problem.phaseStarts[p]! + problem.phaseMinutes[p]!),
        );
        for (let m = problem.memberFirst[crew]!; m < problem.memberFirst[crew + 1]!; m++) {
          const person = problem.members[m]!;
          busyUntil[person] = Math.max(busyUntil[person]!, problem.phaseFinishes[p]!);
          stints[person]!.push(problem.phaseStarts[p]!, problem.lotStep[l]!);
        }
      }
    }
    let switches = 0;
    let idle = 0;
    for (const person of persons) {
      const list = stints[person]!;
      const byStart = Array.from({ length: list.length / 2 }, (_, i) => i).sort((a, b) => list[2 * a]! - list[2 * b]!);
      for (let i = 1; i < byStart.length; i++)
        if (list[2 * byStart[i]! + 1] !== list[2 * byStart[i - 1]! + 1]) switches++;
      if (list.length > 0) idle += Math.max(0, ready - busyUntil[person]!);
    }
    return [idle, switches, nights];
  }

  private nightMinutes(from: number, to: number): number {
    let minutes = 0;
    for (let at = from; at < to; ) {
      const ofDay = (((at + this.nightShiftMinutes) % DAY) + DAY) % DAY;
      const next = ofDay < NIGHT_UNTIL ? NIGHT_UNTIL : ofDay < NIGHT_FROM ? NIGHT_FROM : DAY + NIGHT_UNTIL;
      const until = Math.min(to, at + next - ofDay);
      if (ofDay < NIGHT_UNTIL || ofDay >= NIGHT_FROM) minutes += until - at;
      at = until;
    }
    return minutes;
  }
}

/** Below zero when a is the better one; criteria in order. */
export function compareCriteria(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return a[i]! - b[i]!;
  return 0;
}
