import { openMinutesBetween, unionOf } from '../open-time.ts';
import type { Instant, Lot, Schedule, Work } from '../types.ts';
import type { Compiled } from './compiled.ts';
import { generateSerial } from './generate.ts';
import { compareCriteria, Objective } from './objective.ts';
import { dependencyOrderOf, keepLinks, pinnedFirst, unlimitedTimes } from './orders.ts';
import { scheduleOf } from './schedule.ts';

/** What stood on the sheets before: when each lot was to start, and who does its phases. Lots are told by their ids. */
export type PreviousPlan = ReadonlyMap<
  string,
  { readonly start: Instant; readonly people: readonly (readonly number[])[] }
>;

/** A lot on the coming day's sheet that moves or changes hands must be worth as many working minutes of the ready finish. */
export const MINUTES_PER_UPSET = 15;
/** What gains so many working minutes is worth any upset: half a day. */
const WORTH_ANY_UPSET = 240;
/** How long a lot waits for the person it was for, before the gain of another is weighed. */
const PATIENCE_MINUTES = 240;
/** How far ahead the sheet is protected, and by how much a start may drift unnoticed. */
const SHEET_MINUTES = 24 * 60;
export const DRIFT_MINUTES = 15;

/** A schedule as the plan that a later one is compared with. */
export function previousPlanOf(work: Work, schedule: Schedule): PreviousPlan {
  const people = new Map<number, (readonly number[])[]>();
  for (const placement of schedule.placements)
    people.set(placement.lot, [...(people.get(placement.lot) ?? []), placement.people]);
  return new Map(work.lots.map((lot, l) => [lot.id, { start: schedule.starts[l]!, people: people.get(l) ?? [] }]));
}

/** The lots with the people that were to do them, for those on the coming day's sheet. */
export function withFormerPeople<L extends Lot>(lots: readonly L[], now: Instant, previous: PreviousPlan): L[] {
  return lots.map((lot) => {
    const before = previous.get(lot.id);
    const known = before !== undefined && before.start < now + SHEET_MINUTES && before.people.length > 0;
    return known && before.people.length === lot.phases.length && lot.begunAt === null
      ? { ...lot, formerPeople: before.people }
      : lot;
  });
}

export interface Settled {
  readonly schedule: Schedule;
  /** How long its phases waited for their former people at most; 0 where those were not asked for. */
  readonly graceMinutes: number;
  readonly keptPrevious: boolean;
  /** What a better order of work would gain, in working minutes, and how many lots it would upset; null where none was known. */
  readonly forgone: { readonly minutes: number; readonly upsets: number } | null;
}

/**
 * Of the order of work before and the best one found, with more and with less patience for the people of before, the one whose gain is greatest after
 * MINUTES_PER_UPSET for each lot that it upsets. An order that keeps the deadlines always beats one that does not. Leaves
 * the chosen schedule in the forward problem. Some passes.
 */
export function settle(compiled: Compiled, best: Int32Array, previous: PreviousPlan): Settled {
  const kept = keptPlan(compiled, previous);
  let chosen = { plan: kept, worth: 0 };
  let forgone: Settled['forgone'] = null;
  const between = workingMinutes(compiled);
  const rivals: (readonly [Int32Array, number])[] = [
    [kept.order, DRIFT_MINUTES],
    [best, DRIFT_MINUTES],
    [best, 0],
  ];
  for (const [order, graceMinutes] of rivals) {
    const plan = planOf(compiled, order, graceMinutes);
    const minutes = gainOf(kept, plan, between);
    const upsets = upsetsOf(compiled.work, kept.schedule, plan.schedule);
    const worth = minutes >= WORTH_ANY_UPSET ? minutes : minutes - MINUTES_PER_UPSET * upsets;
    const isBetter = compareCriteria(plan.criteria, chosen.plan.criteria) < 0;
    if (worth > chosen.worth || (worth === chosen.worth && isBetter)) chosen = { plan, worth };
    else if (minutes > 0 && Number.isFinite(minutes)) forgone = { minutes, upsets };
  }
  compiled.forward.graceMinutes = chosen.plan.graceMinutes;
  generateSerial(compiled.forward, chosen.plan.order);
  const keptPrevious = chosen.plan.order === kept.order;
  const { schedule, graceMinutes } = chosen.plan;
  return { schedule, graceMinutes, keptPrevious, forgone: keptPrevious ? forgone : null };
}

/**
 * The order of work of the plan before, links kept. What is new stands where it must begin at the latest with hands
 * unlimited, but draws nothing before it to the front; a milestone stands where it is needed first. O(lots log lots).
 */
export function previousOrder({ work, forward, mirrored }: Compiled, previous: PreviousPlan): Int32Array {
  const late = unlimitedTimes(mirrored).finishes;
  const begins = work.lots.map((lot, l) => {
    if (lot.phases.length === 0) return Number.POSITIVE_INFINITY;
    return previous.get(lot.id)?.start ?? -(mirrored.origin + late[l]! * mirrored.tick);
  });
  for (const l of dependencyOrderOf(forward)) {
    if (previous.has(work.lots[l]!.id)) continue;
    for (let i = forward.linkFirst[l]!; i < forward.linkFirst[l + 1]!; i++) {
      const before = forward.linkFrom[i]!;
      if (work.lots[before]!.phases.length > 0) begins[l] = Math.max(begins[l]!, begins[before]!);
    }
  }
  const order = Int32Array.from([...work.lots.keys()].sort((a, b) => begins[a]! - begins[b]! || a - b));
  return keepLinks(forward, order);
}

/** Lots of the coming day's sheet that `next` starts at another time, or hands to other people, than `kept` does. */
export function upsetsOf(work: Work, kept: Schedule, next: Schedule): number {
  const until = work.now + SHEET_MINUTES;
  const peopleOf = (schedule: Schedule) => {
    const people = work.lots.map(() => '');
    for (const placement of schedule.placements) people[placement.lot] += `${[...placement.people].sort().join('+')};`;
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

interface Plan {
  readonly order: Int32Array;
  readonly schedule: Schedule;
  readonly criteria: readonly number[];
  readonly graceMinutes: number;
}

/** The order of work before as it would go now; where that is too late for a pin, the pinned lots come first. */
function keptPlan(compiled: Compiled, previous: PreviousPlan): Plan {
  const order = previousOrder(compiled, previous);
  const plan = planOf(compiled, order, PATIENCE_MINUTES);
  if (plan.criteria[0] === 0) return plan;
  const pinned = planOf(compiled, pinnedFirst(compiled.work, compiled.forward, order), PATIENCE_MINUTES);
  return pinned.criteria[0]! < plan.criteria[0]! ? pinned : plan;
}

function planOf(compiled: Compiled, order: Int32Array, graceMinutes: number): Plan {
  const { work, forward } = compiled;
  forward.graceMinutes = graceMinutes;
  const latest = generateSerial(forward, order);
  const criteria = new Objective(work, forward).criteria(latest);
  return { order, schedule: scheduleOf(compiled, forward, order), criteria, graceMinutes };
}

/**
 * Working minutes gained over `kept`: pins met, the ready finish (where that is the same, the end); without end where a
 * deadline is kept that was not. A few minutes at the end of an evening are a whole day by the clock, but a few minutes of work.
 */
function gainOf(kept: Plan, next: Plan, between: (from: number, to: number) => number): number {
  const [pins, ready, lateness, end] = [0, 1, 2, 3].map((i) => kept.criteria[i]! - next.criteria[i]!);
  if (lateness! > 0 && next.criteria[2] === 0) return Number.POSITIVE_INFINITY;
  const i = ready === 0 && end !== 0 ? 3 : 1;
  return pins! + between(next.criteria[i]!, kept.criteria[i]!);
}

/** Counts the minutes in which anybody is there, below zero backwards; by the clock where the work needs no people. */
function workingMinutes({ work, forward }: Compiled): (from: number, to: number) => number {
  const people = work.resources.filter(({ kind }) => kind === 'person').map(({ open }) => open);
  if (people.length === 0) return (from, to) => (to - from) * forward.tick;
  const working = unionOf(people);
  return (from, to) => openMinutesBetween(working, from, to);
}
