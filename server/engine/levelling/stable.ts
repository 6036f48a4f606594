import type { Instant, Schedule, Work } from '../types.ts';
import type { Compiled } from './compiled.ts';
import { generateSerial } from './generate.ts';
import { keepLinks, unlimitedTimes } from './orders.ts';
import { scheduleOf } from './schedule.ts';

/** What stood on the sheets before: when each lot was to start, and who does its phases. Lots are told by their ids. */
export type PreviousPlan = ReadonlyMap<
  string,
  { readonly start: Instant; readonly people: readonly (readonly number[])[] }
>;

/** A lot on the coming day's sheet that moves or changes hands must be worth as many minutes of the ready finish. */
export const MINUTES_PER_UPSET = 15;
/** How far ahead the sheet is protected, and by how much a start may drift unnoticed. */
const SHEET_MINUTES = 24 * 60;
const DRIFT_MINUTES = 15;

/** A schedule as the plan that a later one is compared with. */
export function previousPlanOf(work: Work, schedule: Schedule): PreviousPlan {
  const people = new Map<number, (readonly number[])[]>();
  for (const placement of schedule.placements)
    people.set(placement.lot, [...(people.get(placement.lot) ?? []), placement.people]);
  return new Map(work.lots.map((lot, l) => [lot.id, { start: schedule.starts[l]!, people: people.get(l) ?? [] }]));
}

/** The order of work of the plan before, with what is new put where it could start; links kept. O(lots log lots). */
export function previousOrder(compiled: Compiled, previous: PreviousPlan): Int32Array {
  const { work, forward } = compiled;
  const early = unlimitedTimes(forward).starts;
  const start = work.lots.map((lot, l) => previous.get(lot.id)?.start ?? forward.origin + early[l]! * forward.tick);
  const order = Int32Array.from([...work.lots.keys()].sort((a, b) => start[a]! - start[b]! || a - b));
  return keepLinks(forward, order);
}

/** The schedule of the order of work before, as it would go now. One pass. */
export function keptSchedule(compiled: Compiled, previous: PreviousPlan): Schedule {
  const order = previousOrder(compiled, previous);
  generateSerial(compiled.forward, order);
  return scheduleOf(compiled, compiled.forward, order);
}

/** Lots of the coming day's sheet that `next` starts at another time, or hands to other people, than `kept` does. */
export function upsetsOf(work: Work, kept: Schedule, next: Schedule): number {
  const until = work.now + SHEET_MINUTES;
  const peopleOf = (schedule: Schedule) => {
    const people = work.lots.map(() => '');
    for (const placement of schedule.placements) people[placement.lot] += `${placement.people.join('+')};`;
    return people;
  };
  const [before, after] = [peopleOf(kept), peopleOf(next)];
  let upsets = 0;
  for (let l = 0; l < work.lots.length; l++) {
    if (kept.starts[l]! >= until && next.starts[l]! >= until) continue;
    if (Math.abs(kept.starts[l]! - next.starts[l]!) > DRIFT_MINUTES || before[l] !== after[l]) upsets++;
  }
  return upsets;
}
