/** Plans again without disturbing the lots of the coming day, unless that gains real time. */
import { openMinutesBetween, unionOf } from '../../calendar/index.ts';
import type { Instant, Lot, Schedule, Work } from '../../types.ts';
import { type Choices, choose, mayWait, restTurnsOf, unchosen, withoutNeedless } from '../generate/choices.ts';
import type { Compiled } from '../generate/compiled.ts';
import { generateSerial } from '../generate/generate.ts';
import { dependencyOrderOf, keepLinks, pinnedFirst, unlimitedTimes } from '../generate/orders.ts';
import { scheduleOf } from '../generate/schedule.ts';
import { crewAmong } from '../instance/crews.ts';
import { compareCriteria, objectiveOf } from '../search/objective.ts';

/**
 * What stood on the sheets before, keyed by lot id: when each lot was to start, and when and by whom its phases.
 */
export type PreviousSchedule = ReadonlyMap<string, PreviousLot>;

export interface PreviousLot {
  readonly start: Instant;
  readonly people: readonly (readonly number[])[];
  readonly starts: readonly Instant[];
}

/**
 * A lot on the coming day's sheet that moves or changes hands must be worth as many working minutes of the ready
 * finish.
 */
export const MINUTES_PER_UPSET = 15;
/** A lot of a later day that moves or changes hands must be worth as many. */
const MINUTES_PER_LATER_MOVE = 1;
/** What gains this many working minutes is worth any upset: half a day. */
const WORTH_ANY_UPSET = 240;
/** How long a lot waits for the person it was for, before the gain of another is weighed. */
const PATIENCE_MINUTES = 240;
/** Passes for taking back choices of the plan before: most and fewest, and the lots that all of them place together. */
const TIDYING = { most: 60, fewest: 12, lots: 60_000 };
/** How far ahead the sheet is protected, and by how much a start may drift unnoticed. */
const SHEET_MINUTES = 24 * 60;
const DRIFT_MINUTES = 15;

/** The lots with the people that were to do them, for those on the coming day's sheet. */
export function withFormerPeople<L extends Lot>(lots: readonly L[], now: Instant, previous: PreviousSchedule): L[] {
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
  readonly choices: Choices;
  /** How long its phases waited for their former people at most; 0 where those were not asked for. */
  readonly graceMinutes: number;
  readonly keptPrevious: boolean;
  /**
   * What a better order of work would gain, in working minutes, and how many lots it would upset; null where none was
   * known.
   */
  readonly forgone: { readonly minutes: number; readonly upsets: number } | null;
}

/**
 * Chooses between the order of work before and those that were found, each with more and with less patience for the
 * people of before: the one whose gain is greatest after MINUTES_PER_UPSET for each lot of the coming day that it
 * upsets, and MINUTES_PER_LATER_MOVE for each later one: what gains nothing moves nothing. An order that keeps the
 * deadlines always beats one that does not. Leaves the chosen schedule in the forward instance. Some passes.
 */
export function settle(compiled: Compiled, found: readonly Choices[], previous: PreviousSchedule): Settled {
  const kept = keptPlan(compiled, previous);
  let chosen = { plan: kept, worth: 0 };
  let forgone: Settled['forgone'] = null;
  const between = workingMinutes(compiled);
  const rivals: (readonly [Choices, number])[] = [
    [kept.choices, DRIFT_MINUTES],
    ...found.flatMap((best) => [[best, DRIFT_MINUTES] as const, [best, 0] as const]),
  ];
  for (const [choices, graceMinutes] of rivals) {
    const plan = planOf(compiled, choices, graceMinutes);
    const minutes = gainOf(kept, plan, between);
    const upsets = upsetsOf(compiled.work, kept.schedule, plan.schedule);
    const later = upsetsOf(compiled.work, kept.schedule, plan.schedule, Number.POSITIVE_INFINITY) - upsets;
    const asked = MINUTES_PER_UPSET * upsets + MINUTES_PER_LATER_MOVE * later;
    const worth = minutes >= WORTH_ANY_UPSET ? minutes : minutes - asked;
    const isFiner = asked === 0 && compareCriteria(plan.criteria, chosen.plan.criteria) < 0;
    if (worth > chosen.worth || (worth === chosen.worth && isFiner)) chosen = { plan, worth };
    else if (minutes > (forgone?.minutes ?? 0) && Number.isFinite(minutes)) forgone = { minutes, upsets };
  }
  compiled.forward.graceMinutes = chosen.plan.graceMinutes;
  const { schedule, choices, graceMinutes } = chosen.plan;
  choose(compiled.forward, choices);
  generateSerial(compiled.forward, choices.activityList);
  const keptPrevious = choices.activityList === kept.choices.activityList;
  return { schedule, choices, graceMinutes, keptPrevious, forgone: keptPrevious ? forgone : null };
}

/**
 * The order of work of the plan before, links kept. What is new is where it must begin at the latest with hands
 * unlimited, but draws nothing before it to the front; a milestone is where it is needed first. O(lots log lots).
 */
export function previousOrder({ work, forward, mirrored }: Compiled, previous: PreviousSchedule): Int32Array {
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
  const activityList = Int32Array.from([...work.lots.keys()].sort((a, b) => begins[a]! - begins[b]! || a - b));
  return keepLinks(forward, activityList);
}

/**
 * Lots of the coming day's sheet, or of the next `minutes`, that `next` starts at another time, or hands to other
 * people, than `kept` does.
 */
export function upsetsOf(work: Work, kept: Schedule, next: Schedule, minutes = SHEET_MINUTES): number {
  const until = work.now + minutes;
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

/** Those of these choices whose schedule is best, the first where several are. One pass for each. */
export function bestOf(compiled: Compiled, found: readonly Choices[]): Choices {
  let best = planOf(compiled, found[0]!, 0);
  for (const choices of found.slice(1)) {
    const plan = planOf(compiled, choices, 0);
    if (compareCriteria(plan.criteria, best.criteria) < 0) best = plan;
  }
  return best.choices;
}

interface Plan {
  readonly choices: Choices;
  readonly schedule: Schedule;
  readonly criteria: readonly number[];
  readonly graceMinutes: number;
}

/**
 * The order of work before as it would go now; where that is too late for a pin, the pinned lots come first. Where it
 * is the better schedule, with the choices of before: those are taken back that win nothing. Where it is as good and
 * moves fewer lots, with the people and the begins of the later days as they stood: then nothing is dealt again that
 * nothing has happened to.
 */
function keptPlan(compiled: Compiled, previous: PreviousSchedule): Plan {
  const { work } = compiled;
  const activityList = previousOrder(compiled, previous);
  const plan = inOrder(compiled, activityList);
  const asItStood = planOf(compiled, previousChoices(compiled, activityList, previous), PATIENCE_MINUTES);
  if (compareCriteria(gist(asItStood.criteria), gist(plan.criteria)) < 0) return needed(compiled, asItStood);
  const later = previousChoices(compiled, activityList, previous, work.now + SHEET_MINUTES);
  const laterAsItStood = planOf(compiled, later, PATIENCE_MINUTES);
  const isAsGood = compareCriteria(gist(laterAsItStood.criteria), gist(plan.criteria)) <= 0;
  return isAsGood && movedIn(work, laterAsItStood, previous) < movedIn(work, plan, previous) ? laterAsItStood : plan;
}

/** Lots that do not stand where and with whom they stood before. */
function movedIn(work: Work, { schedule }: Plan, previous: PreviousSchedule): number {
  const moved = new Set<number>();
  for (const { lot, phase, start, people } of schedule.placements) {
    const before = previous.get(work.lots[lot]!.id);
    if (before === undefined || before.people.length !== work.lots[lot]!.phases.length) continue;
    const same =
      people.length === before.people[phase]!.length && people.every((p) => before.people[phase]!.includes(p));
    if (!same || Math.abs(start - before.starts[phase]!) > DRIFT_MINUTES) moved.add(lot);
  }
  return moved.size;
}

/** The plan by this order; where that is too late for a pin, and it helps, with the pinned lots first. */
function inOrder(compiled: Compiled, activityList: Int32Array): Plan {
  const { work, forward } = compiled;
  const plan = planOf(compiled, unchosen(forward, activityList), PATIENCE_MINUTES);
  if (plan.criteria[0] === 0) return plan;
  const pinned = planOf(compiled, unchosen(forward, pinnedFirst(work, forward, activityList)), PATIENCE_MINUTES);
  return pinned.criteria[0]! < plan.criteria[0]! ? pinned : plan;
}

/** The plan without the choices that win it nothing. */
function needed(compiled: Compiled, plan: Plan): Plan {
  const { forward } = compiled;
  const objective = objectiveOf(compiled);
  const isAsGood = (choices: Choices) => {
    choose(forward, choices);
    const criteria = objective.criteria(generateSerial(forward, choices.activityList), plan.criteria);
    return compareCriteria(gist(criteria), gist(plan.criteria)) <= 0;
  };
  const passes = Math.floor(TIDYING.lots / Math.max(1, forward.lots));
  const most = Math.max(TIDYING.fewest, Math.min(TIDYING.most, passes));
  return planOf(compiled, withoutNeedless(plan.choices, isAsGood, most), plan.graceMinutes);
}

/** Pins, ready finish, lateness and end: what choices of before are kept for. */
function gist(criteria: readonly number[]): readonly number[] {
  return criteria.slice(0, 4);
}

/**
 * Everybody and everything as in the plan before, of lots that were to begin at `from` or later. The phases of a lot
 * that has begun since are the last of those it had.
 */
function previousChoices(
  compiled: Compiled,
  activityList: Int32Array,
  previous: PreviousSchedule,
  from = Number.NEGATIVE_INFINITY,
): Choices {
  const { work, forward } = compiled;
  const choices = unchosen(forward, activityList);
  const { phaseFirst, crewRange } = forward;
  work.lots.forEach((lot, l) => {
    const before = previous.get(lot.id);
    const gone = (before?.people.length ?? 0) - lot.phases.length;
    if (before === undefined || gone < 0 || before.start < from) return;
    for (let i = lot.begunAt === null ? 0 : 1; i < lot.phases.length; i++) {
      const p = phaseFirst[l]! + i;
      choices.wanted[p] = crewAmong(before.people[gone + i]!, crewRange[2 * p]!, crewRange[2 * p + 1]!, forward);
      if (mayWait(forward, l, p)) choices.notBefore[p] = before.starts[gone + i]!;
    }
  });
  return { ...choices, restTurn: restTurnsBefore(compiled, activityList, previous) };
}

/** What somebody came back for in the plan before has its turn as it had there. */
function restTurnsBefore(
  { work, forward }: Compiled,
  activityList: Int32Array,
  previous: PreviousSchedule,
): Int32Array | null {
  const starts = new Map<number, Instant>();
  work.lots.forEach(({ id, phases }, l) => {
    const before = previous.get(id);
    const gone = (before?.starts.length ?? 0) - phases.length;
    if (before === undefined || gone < 0) return;
    for (let i = 0; i < phases.length; i++) starts.set(forward.phaseFirst[l]! + i, before.starts[gone + i]!);
  });
  const startOf = (l: number) => previous.get(work.lots[l]!.id)?.start ?? null;
  return restTurnsOf(forward, activityList, startOf, (p) => starts.get(p) ?? null);
}

function planOf(compiled: Compiled, choices: Choices, graceMinutes: number): Plan {
  const { forward } = compiled;
  forward.graceMinutes = graceMinutes;
  choose(forward, choices);
  const latest = generateSerial(forward, choices.activityList);
  const criteria = objectiveOf(compiled).criteria(latest);
  return { choices, schedule: scheduleOf(compiled, forward, choices.activityList), criteria, graceMinutes };
}

/**
 * Working minutes gained over `kept`: pins met, the ready finish (where that is the same, the end); infinite where a
 * deadline is kept that was not, and less than nothing where a pin is kept worse. A few minutes at the end of an
 * evening are a whole day by the clock, but a few minutes of work.
 */
function gainOf(kept: Plan, next: Plan, between: (from: number, to: number) => number): number {
  const [pins, ready, lateness, end] = [0, 1, 2, 3].map((i) => kept.criteria[i]! - next.criteria[i]!);
  if (pins! < 0) return Number.NEGATIVE_INFINITY;
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
