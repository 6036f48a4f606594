/** From the flat arrays of an instance back to a schedule with instants and people. */
import type { Instant, Placement, Schedule } from '../../types.ts';
import { DEMAND, FREE, HANDS, LEAD, RUN } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import type { Compiled } from './compiled.ts';
import { fillPhases } from './generate.ts';

/**
 * The schedule of the last pass of `instance` (one of the compiled two) as data in real time. O(phases log phases).
 * Machines that are alike are kept apart by handing each occupation the lowest unit that is free. The hands phases that
 * load and unload a machine carry its number too.
 */
export function scheduleOf(compiled: Pick<Compiled, 'work'>, instance: Instance, activityList: Int32Array): Schedule {
  const { work } = compiled;
  const time = instants(instance);
  if (instance.isTextbook) fillPhases(instance);
  const starts = Int32Array.from(work.lots, (_, l) =>
    time(instance.mirrored ? instance.finishes[l]! : instance.starts[l]!),
  );
  const finishes = Int32Array.from(work.lots, (_, l) =>
    time(instance.mirrored ? instance.starts[l]! : instance.finishes[l]!),
  );
  const units = machineUnits(instance);
  const placements: Placement[] = [];
  work.lots.forEach((lot, l) => {
    lot.phases.forEach((_, i) => {
      const first = instance.phaseFirst[l]!;
      const p = instance.mirrored ? first + lot.phases.length - 1 - i : first + i;
      const times = [time(instance.phaseStarts[p]!), time(instance.phaseFinishes[p]!)];
      const finish = Math.max(...times);
      let start = Math.min(...times);
      if (instance.mirrored && instance.phaseKind[p] === LEAD) {
        // Backwards the order may wait for its cut-off; what is shown is when it is placed.
        if (i > 0) start = Math.max(placements[placements.length - 1]!.finish, lot.begunAt === null ? FREE : work.now);
        if (i === 0) starts[l] = start;
      }
      const crew = instance.phaseCrew[p]!;
      const occupation = units.get(p);
      placements.push({
        lot: l,
        phase: i,
        start,
        finish,
        people:
          crew < 0 ? [] : [...instance.members.subarray(instance.memberFirst[crew]!, instance.memberFirst[crew + 1]!)],
        machine: occupation?.machine ?? null,
        machineUnit: occupation?.unit ?? null,
      });
    });
  });
  return { starts, finishes, placements, activityList: activityList.slice(), ...ends(compiled, finishes) };
}

/** Instants of an instance's times. */
export function instants(instance: Instance): (time: number) => Instant {
  const sign = instance.mirrored ? -1 : 1;
  return (time) => sign * (instance.origin + time * instance.tick);
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

interface NumberedOccupation {
  readonly machine: number;
  readonly from: number;
  readonly to: number;
  unit: number;
}

function machineUnits(instance: Instance): Map<number, NumberedOccupation> {
  const occupations: NumberedOccupation[] = [];
  for (let p = 0; p < instance.occupiedFrom.length; p++) {
    if (instance.occupiedFrom[p]! >= 0)
      occupations.push({ machine: instance.occupiedMachine[p]!, from: instance.occupiedFrom[p]!, to: p, unit: 0 });
  }
  occupations.sort((a, b) => instance.phaseStarts[a.from]! - instance.phaseStarts[b.from]! || a.from - b.from);
  const freeAt = new Map<number, number[]>();
  const ofPhase = new Map<number, NumberedOccupation>();
  for (const occupation of occupations) {
    const ends = freeAt.get(occupation.machine) ?? [];
    freeAt.set(occupation.machine, ends);
    const start = instance.phaseStarts[occupation.from]!;
    const free = ends.findIndex((end) => end <= start);
    occupation.unit = free < 0 ? ends.length : free;
    ends[occupation.unit] = instance.phaseFinishes[occupation.to]!;
    for (let p = occupation.from; p <= occupation.to; p++)
      if (instance.phaseKind[p] === RUN || !ofPhase.has(p)) ofPhase.set(p, occupation);
  }
  return ofPhase;
}

/**
 * Lots with work for hands, machines or pools that ended beyond the calendars: within them there was no room for it.
 * Backwards: lots that would have had to begin before now.
 */
export function lotsBeyond(instance: Instance): number[] {
  const lots: number[] = [];
  for (let l = 0; l < instance.lots; l++) {
    for (let p = instance.phaseFirst[l]!; p < instance.phaseFirst[l + 1]!; p++) {
      const kind = instance.phaseKind[p]!;
      const worked = kind === HANDS || kind === RUN || kind === DEMAND || kind === LEAD;
      if (worked && !instance.isTextbook && instance.phaseFinishes[p]! > instance.calendars.horizon) {
        lots.push(l);
        break;
      }
    }
  }
  return lots;
}
