/** Which of two schedules is better. */
import { intersectionOf, openMinutesBetween } from '../../calendar/index.ts';
import type { Calendar, Lot, Work } from '../../types.ts';
import type { Compiled } from '../generate/compiled.ts';
import { instants } from '../generate/schedule.ts';
import { FREE, HANDS, RUN } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';

/**
 * What a better schedule is, in this order; a later criterion counts only between schedules equal in all earlier ones.
 * 0. pins: minutes that lots pinned by the maker start after the time they are pinned to;
 * 1. ready: the finish of everything needed for the ready-by;
 * 2. lateness: minutes by which lots finish after their deadlines, added up;
 * 3. end: the finish of everything;
 * 4. idle: minutes, added up over those who may do anything, in which a person is there between their last work and the
 *    ready finish;
 * 5. switches: how often a person goes from one step to another;
 * 6. nights: minutes of people's work in the nights of the work (none are counted where it names none).
 */
export const CRITERIA = ['pins', 'ready', 'lateness', 'end', 'idle', 'switches', 'nights'] as const;

const MINUTES_PER_PIN_MINUTE = 10_080;
const MILLION = 1_000_000;

/** Judges the last pass of a forward instance. Its arrays are allocated once. */
export class Objective {
  private readonly workshop: Uint8Array;
  private readonly pinned: Int32Array;
  private readonly deadline: Int32Array;
  /** Those who may do anything. */
  private readonly persons: number[];
  private readonly nights: readonly (Calendar | null)[];
  private readonly busyUntil: Int32Array;
  private readonly hasPins: boolean;

  constructor(
    private readonly work: Work,
    private readonly instance: Instance,
  ) {
    this.workshop = Uint8Array.from(work.lots, (lot) => (lot.onSite ? 0 : 1));
    this.pinned = Int32Array.from(work.lots, (lot) => lot.pinnedStart ?? FREE);
    this.deadline = Int32Array.from(work.lots, (lot) => lot.deadline);
    const able = ableIn(work.lots);
    this.persons = [...work.resources.keys()].filter((r) => able.has(r) && work.resources[r]!.kind === 'person');
    this.nights = work.resources.map(({ open }, r) =>
      work.nights !== undefined && able.has(r) ? intersectionOf([open, work.nights]) : null,
    );
    this.busyUntil = new Int32Array(work.resources.length);
    this.hasPins = work.lots.some((lot) => lot.pinnedStart !== null);
  }

  /**
   * The one number the search goes by: the first three criteria of the last pass in their order. A minute of a pin
   * outweighs a week of the ready finish; lateness, however great, adds less than a minute to it.
   */
  cost(latest: number): number {
    const { instance, workshop, pinned, deadline } = this;
    if (instance.isTextbook) return latest;
    const { finishes, starts, lots } = instance;
    let ready = this.work.now;
    let late = 0;
    let pins = 0;
    for (let l = 0; l < lots; l++) {
      const finish = finishes[l]!;
      if (workshop[l] === 1 && finish > ready) ready = finish;
      if (finish > deadline[l]!) late += finish - deadline[l]!;
      if (this.hasPins && pinned[l] !== FREE && starts[l]! > pinned[l]!) pins += starts[l]! - pinned[l]!;
    }
    return ready + MINUTES_PER_PIN_MINUTE * pins + late / (late + MILLION);
  }

  /**
   * Everything of the last pass, in the order of CRITERIA; instants in the instance's time. `against`: the last three,
   * which cost more to know, are left out (as worse than anything) where an earlier one is already worse than there.
   */
  criteria(latest: number, against: readonly number[] = []): number[] {
    const { instance, work } = this;
    let pins = 0;
    let ready = instance.isTextbook ? 0 : work.now;
    let lateness = 0;
    const time = instants(instance);
    for (let l = 0; l < instance.lots; l++) {
      if (this.pinned[l] !== FREE) pins += Math.max(0, instance.starts[l]! - this.pinned[l]!);
      if (this.workshop[l] === 1) ready = Math.max(ready, instance.finishes[l]!);
      lateness += Math.max(0, time(instance.finishes[l]!) - this.deadline[l]!);
    }
    if (instance.isTextbook) return [0, ready, lateness, latest, 0, 0, 0];
    const first = [pins, ready, lateness, latest];
    const isWorse = against.length > 0 && compareCriteria(first, against) > 0;
    return [...first, ...(isWorse ? [Infinity, Infinity, Infinity] : this.hands(ready))];
  }

  private hands(ready: number): [number, number, number] {
    const { instance, persons, busyUntil, work } = this;
    busyUntil.fill(work.now);
    const stints: number[][] = work.resources.map(() => []);
    let nights = 0;
    for (let l = 0; l < instance.lots; l++) {
      for (let p = instance.phaseFirst[l]!; p < instance.phaseFirst[l + 1]!; p++) {
        const crew = instance.phaseCrew[p]!;
        if (crew < 0 || (instance.phaseKind[p] !== HANDS && instance.phaseKind[p] !== RUN)) continue;
        for (let m = instance.memberFirst[crew]!; m < instance.memberFirst[crew + 1]!; m++) {
          const person = instance.members[m]!;
          busyUntil[person] = Math.max(busyUntil[person]!, instance.phaseFinishes[p]!);
          const night = this.nights[person] ?? null;
          if (night !== null) nights += openMinutesBetween(night, instance.phaseStarts[p]!, instance.phaseFinishes[p]!);
          stints[person]!.push(instance.phaseStarts[p]!, instance.lotStep[l]!);
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
      if (busyUntil[person]! < ready)
        idle += openMinutesBetween(work.resources[person]!.open, busyUntil[person]!, ready);
    }
    return [idle, switches, nights];
  }
}

const known = new WeakMap<Instance, Objective>();

/** The judge of a work's forward instance, made once for it. */
export function objectiveOf({ work, forward }: Pick<Compiled, 'work' | 'forward'>): Objective {
  const there = known.get(forward);
  if (there !== undefined) return there;
  const made = new Objective(work, forward);
  known.set(forward, made);
  return made;
}

/** Who may do some phase of the lots. */
function ableIn(lots: readonly Lot[]): Set<number> {
  const able = new Set<number>();
  for (const { phases } of lots) {
    for (const phase of phases) if ('eligible' in phase) for (const person of phase.eligible) able.add(person);
  }
  return able;
}

/** Below zero when a is the better one; criteria in order. */
export function compareCriteria(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return a[i]! - b[i]!;
  return 0;
}
