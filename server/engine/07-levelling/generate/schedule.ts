/** From the flat arrays of an instance back to a schedule with instants and people. */
import type { Instant, Placement, Schedule } from '../../types.ts';
import { DEMAND, HANDS, LEAD, RUN } from '../instance/codes.ts';
import type { Problem } from '../instance/problem.ts';
import type { Compiled } from './compiled.ts';
import { fillPhases } from './generate.ts';

/**
 * The schedule of the last pass of `problem` (one of the compiled two) as plain data in real time. O(phases log phases).
 * Machines that are alike are told apart by handing each hold the lowest unit that is free. The hands phases that load and
 * unload a machine carry its number too.
 */
export function scheduleOf(compiled: Pick<Compiled, 'work'>, problem: Problem, order: Int32Array): Schedule {
  const { work } = compiled;
  const time = instants(problem);
  if (problem.plain) fillPhases(problem);
  const starts = Int32Array.from(work.lots, (_, l) =>
    time(problem.mirrored ? problem.finishes[l]! : problem.starts[l]!),
  );
  const finishes = Int32Array.from(work.lots, (_, l) =>
    time(problem.mirrored ? problem.starts[l]! : problem.finishes[l]!),
  );
  const units = machineUnits(problem);
  const placements: Placement[] = [];
  work.lots.forEach((lot, l) => {
    lot.phases.forEach((_, i) => {
      const first = problem.phaseFirst[l]!;
      const p = problem.mirrored ? first + lot.phases.length - 1 - i : first + i;
      const times = [time(problem.phaseStarts[p]!), time(problem.phaseFinishes[p]!)];
      const finish = Math.max(...times);
      let start = Math.min(...times);
      if (problem.mirrored && problem.phaseKind[p] === LEAD) {
        // Backwards the order may wait for its cut-off; what is shown is when it is placed.
        if (i > 0) start = placements[placements.length - 1]!.finish;
        if (i === 0) starts[l] = start;
      }
      const crew = problem.phaseCrew[p]!;
      const hold = units.get(p);
      placements.push({
        lot: l,
        phase: i,
        start,
        finish,
        people:
          crew < 0 ? [] : [...problem.members.subarray(problem.memberFirst[crew]!, problem.memberFirst[crew + 1]!)],
        machine: hold?.machine ?? null,
        machineUnit: hold?.unit ?? null,
      });
    });
  });
  return { starts, finishes, placements, order: order.slice(), ...ends(compiled, finishes) };
}

/** Instants of a problem's times. */
export function instants(problem: Problem): (time: number) => Instant {
  const sign = problem.mirrored ? -1 : 1;
  return (time) => sign * (problem.origin + time * problem.tick);
}

function ends(compiled: Pick<Compiled, 'work'>, finishes: Int32Array): { readyAt: Instant; finishAt: Instant } {
  let readyAt = compiled.work.now;
  let finishAt = compiled.work.now;
  compiled.work.lots.forEach((lot, l) => {
    if (lot.spare !== true) finishAt = Math.max(finishAt, finishes[l]!);
    if (!lot.onSite) readyAt = Math.max(readyAt, finishes[l]!);
  });
  return { readyAt, finishAt };
}

interface Hold {
  readonly machine: number;
  readonly from: number;
  readonly to: number;
  unit: number;
}

function machineUnits(problem: Problem): Map<number, Hold> {
  const holds: Hold[] = [];
  for (let p = 0; p < problem.heldFrom.length; p++) {
    if (problem.heldFrom[p]! >= 0)
      holds.push({ machine: problem.heldMachine[p]!, from: problem.heldFrom[p]!, to: p, unit: 0 });
  }
  holds.sort((a, b) => problem.phaseStarts[a.from]! - problem.phaseStarts[b.from]! || a.from - b.from);
  const freeAt = new Map<number, number[]>();
  const ofPhase = new Map<number, Hold>();
  for (const hold of holds) {
    const ends = freeAt.get(hold.machine) ?? [];
    freeAt.set(hold.machine, ends);
    const start = problem.phaseStarts[hold.from]!;
    const free = ends.findIndex((end) => end <= start);
    hold.unit = free < 0 ? ends.length : free;
    ends[hold.unit] = problem.phaseFinishes[hold.to]!;
    for (let p = hold.from; p <= hold.to; p++)
      if (problem.phaseKind[p] === RUN || !ofPhase.has(p)) ofPhase.set(p, hold);
  }
  return ofPhase;
}

/**
 * Lots with work for hands, machines or pools that ended beyond the calendars: within them there was no room for it.
 * Backwards: lots that would have had to begin before now.
 */
export function lotsBeyond(problem: Problem): number[] {
  const lots: number[] = [];
  for (let l = 0; l < problem.lots; l++) {
    for (let p = problem.phaseFirst[l]!; p < problem.phaseFirst[l + 1]!; p++) {
      const kind = problem.phaseKind[p]!;
      const worked = kind === HANDS || kind === RUN || kind === DEMAND || kind === LEAD;
      if (worked && !problem.plain && problem.phaseFinishes[p]! > problem.calendars.horizon) {
        lots.push(l);
        break;
      }
    }
  }
  return lots;
}
