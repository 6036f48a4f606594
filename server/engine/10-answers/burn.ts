/** Burn-down: what is left over time, planned and counted. */

import type { BurnLine } from '../../model/index.ts';
import { effectOf } from '../../model/log/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { nextUnitMinutes } from '../02-steps/index.ts';
import { type BuildWork, handsDone, handsOf, handsPerUnit, lotsOfStep, unitsOf } from '../04-lots/index.ts';
import { isInstant, NEVER, openMinutesBetween } from '../calendar/index.ts';
import type { TimedEntry } from '../log/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Schedule } from '../types.ts';
import { levelledOfLot } from './last-moments.ts';

/**
 * What the plan left over at each moment as it stood before anything was counted: what the counts are compared with.
 */
export interface Baseline {
  /** All steps together, in minutes of hands. */
  readonly all: readonly Point[];
  /** By step, in its units. */
  readonly steps: ReadonlyMap<string, readonly Point[]>;
}

type Point = readonly [number, number];

/** The lines of a first schedule; lots in `beyond` could not be placed and stay left. O(lots log lots). */
export function baselineFrom(
  plans: readonly PlannedStep[],
  work: BuildWork,
  schedule: Schedule,
  beyond: ReadonlySet<number>,
): Baseline {
  const falls = plans.map((): Point[] => []);
  work.lots.forEach((lot, i) => {
    const finish = beyond.has(i) ? NEVER : schedule.finishes[i]!;
    if (unitsOf(lot) > 0) falls[lot.step]!.push([finish, unitsOf(lot)]);
  });
  const perUnit = handsPerUnit(plans, work);
  const inHands = falls.flatMap((list, step) => {
    const each = perUnit[step]!;
    return each === 0 ? [] : list.map(([at, units]): Point => [at, units * each]);
  });
  return {
    all: fallingLine(work.now, inHands),
    steps: new Map(plans.map((plan, step) => [plan.id, fallingLine(work.now, falls[step]!)])),
  };
}

/**
 * What is left over time: counted by the log, planned by the baseline, and needed from now to the last moment. The
 * first line is all steps together in minutes of hands (a gear is not a fish); then each counted step in its own units.
 * Paces are a working hour: the minutes in which anybody is there; what is counted is divided by those since the step
 * was begun.
 */
export function burnAnswer(planned: Planned, baseline: Baseline | null): BurnLine[] {
  const lines = planned.plans.map((plan, index) => stepLine(planned, plan, index, baseline));
  const shown = lines.filter((_, i) => planned.plans[i]!.total > 0 && planned.plans[i]!.kind !== 'gate');
  return [allLine(planned, lines, baseline), ...shown];
}

function stepLine(planned: Planned, plan: PlannedStep, index: number, baseline: Baseline | null): BurnLine {
  const { work, surroundings, now, tally } = planned;
  const counted: Point[] = [];
  let left = plan.total;
  const begin = Math.min(surroundings.start ?? now, tally.firstAt ?? now, now);
  counted.push([begin, left]);
  const after = stepsAfter(planned, plan, index);
  for (const entry of tally.standing) {
    const change = changeOfLeft(entry, plan.id, after);
    if (change === 0) continue;
    left += change;
    counted.push([Math.min(entry.at, now), Math.min(plan.total, Math.max(0, left))]);
  }
  counted.push([now, plan.left]);
  const lots = lotsOfStep(work, index);
  const limit = Math.max(...lots.map((lot) => lastMoment(planned, lot)), lots.length === 0 ? now : NO_TIME);
  const line = baseline?.steps.get(plan.id) ?? [];
  return {
    step: plan.id,
    unit: plan.counted ? 'units' : 'jobs',
    total: plan.total,
    left: plan.left,
    counted: thinned(counted),
    planned: line,
    plannedLeft: leftAt(line, now),
    needed: neededLine(now, plan.left, limit),
    ...paces(
      planned,
      plan.total - plan.left,
      plan.left,
      limit,
      begunAt(planned, plan.tally.firstAt),
      mostPerHour(plan),
    ),
  };
}

/** What is scrapped at a later step of the route must pass this one again. */
function changeOfLeft(entry: TimedEntry, own: string, after: ReadonlySet<string>): number {
  if (entry.step === undefined) return 0;
  const { good, scrapped } = effectOf(entry);
  return (entry.step === own ? -good : 0) + (after.has(entry.step) ? scrapped : 0);
}

function stepsAfter({ plans }: Planned, { part }: PlannedStep, index: number): ReadonlySet<string> {
  const later = part === null ? [] : plans.slice(index + 1).filter((plan) => plan.part === part);
  return new Set(later.map((plan) => plan.id));
}

function allLine(planned: Planned, lines: readonly BurnLine[], baseline: Baseline | null): BurnLine {
  const { plans, now, work, tally, surroundings } = planned;
  const perUnitLeft = handsPerUnit(plans, work);
  const loads = loadsByStep(planned);
  const changes: [number, number][] = [];
  let total = 0;
  let left = 0;
  for (const [step, line] of lines.entries()) {
    const plan = plans[step]!;
    const { minutes, underWay } = handsDone(plan, step, work, surroundings, loads.get(plan.id) ?? 0);
    total += line.left * perUnitLeft[step]! + minutes;
    left += line.left * perUnitLeft[step]!;
    for (const begun of underWay) changes.push([begun.at, begun.minutes]);
    const inUnits = underWay.reduce((rest, begun) => rest - begun.minutes, minutes);
    const perUnitDone = inUnits / Math.max(1, line.total - line.left);
    for (let i = 1; i < line.counted.length; i++) {
      const fell = (line.counted[i - 1]![1] - line.counted[i]![1]) * perUnitDone;
      if (fell !== 0) changes.push([line.counted[i]![0], fell]);
    }
  }
  changes.sort((a, b) => a[0] - b[0]);
  const begin = Math.min(now, ...lines.map((line) => line.counted[0]![0]));
  const counted: Point[] = [[begin, Math.round(total)]];
  let running = total;
  for (const [at, fell] of changes) {
    running -= fell;
    // What is to be done again may take less than it took.
    counted.push([at, Math.max(0, Math.round(running))]);
  }
  counted.push([now, Math.round(left)]);
  const inWorkshop = work.lots.some((lot) => !lot.onSite);
  const limit = Math.max(
    work.lots.length === 0 ? now : NO_TIME,
    ...work.lots.map((lot, i) => (lot.onSite && inWorkshop ? NO_TIME : lastMoment(planned, i))),
  );
  const onSite = inWorkshop ? handsOf(work.lots.filter((lot) => lot.onSite)) : 0;
  const line = baseline?.all ?? [];
  return {
    step: null,
    unit: 'min',
    total: Math.round(total),
    left: Math.round(left),
    counted: thinned(counted),
    planned: line,
    plannedLeft: leftAt(line, now),
    needed: neededLine(now, Math.round(left), limit, Math.round(onSite)),
    ...paces(planned, total - left, left - onSite, limit, tally.firstAt === null ? null : begin),
  };
}

const NO_TIME = Number.NEGATIVE_INFINITY;

/** When a lot must be finished at the latest: the last moment that is shown of it, and never after its deadline. */
function lastMoment(planned: Planned, lot: number): number {
  const { deadline } = planned.work.lots[lot]!;
  return Math.min(deadline, levelledOfLot(planned, lot)?.lastFinish ?? deadline);
}

/** Straight from what is left now to what may be left at the last moment: nothing, or what can only be done on site. */
function neededLine(now: number, left: number, limit: number, after = 0): Point[] {
  if (left <= 0) return [];
  return [
    [now, left],
    [Math.max(now, limit), after],
  ];
}

/** Points kept of a counted line: what falls within one of this many equal times is drawn as one fall. */
const POINTS_KEPT = 160;

function thinned(points: readonly Point[]): Point[] {
  if (points.length <= POINTS_KEPT) return [...points];
  const from = points[0]![0];
  const width = Math.max(1, (points.at(-1)![0] - from) / POINTS_KEPT);
  const bucketOf = (i: number) => (i < points.length ? Math.floor((points[i]![0] - from) / width) : Number.NaN);
  return points.filter((_, i) => i === 0 || bucketOf(i) !== bucketOf(i + 1));
}

/** What a planned line says is left at an instant; null of no line. */
function leftAt(line: readonly Point[], now: number): number | null {
  return line.findLast(([at]) => at <= now)?.[1] ?? line[0]?.[1] ?? null;
}

/** By step: how often a machine was loaded, what waits in the middle of work was begun, or an order was placed. */
function loadsByStep({ tally }: Planned): ReadonlyMap<string, number> {
  const loads = new Map<string, number>();
  for (const entry of tally.standing) {
    if (entry.step !== undefined && effectOf(entry).begun > 0) loads.set(entry.step, (loads.get(entry.step) ?? 0) + 1);
  }
  return loads;
}

function fallingLine(from: number, falls: readonly Point[]): Point[] {
  let left = falls.reduce((total, [, units]) => total + units, 0);
  const points: Point[] = [[from, Math.round(left * 100) / 100]];
  const known = falls.filter(([at]) => isInstant(at));
  for (const [at, units] of known.sort((a, b) => a[0] - b[0])) {
    left -= units;
    points.push([at, Math.max(0, Math.round(left * 100) / 100)]);
  }
  return points;
}

/** When the making of a step's first counted units may have begun: with the entry before its first. */
function begunAt({ tally, surroundings }: Planned, firstAt: number | null): number | null {
  if (firstAt === null) return null;
  return tally.standing.findLast((entry) => entry.at < firstAt)?.at ?? Math.min(surroundings.start ?? firstAt, firstAt);
}

/** So few working minutes say nothing of a pace. */
const LEAST_TIMED = 30;

/** A pace of more than this many times the hands there are is none that anybody keeps (common sense, no source). */
const MOST_HANDS = 4;

/** Units that four times as many as may do a step could do in an hour; no bound where nobody's hands are in it. */
function mostPerHour(plan: PlannedStep): number {
  const hands = plan.phases.filter((phase) => phase.kind === 'hands');
  const each = nextUnitMinutes(plan);
  if (hands.length === 0 || each <= 0) return Number.POSITIVE_INFINITY;
  const crews = Math.min(...hands.map(({ eligible, people }) => Math.floor(eligible.length / people)));
  return (MOST_HANDS * Math.max(1, crews) * 60) / each;
}

function paces(
  { surroundings, now }: Planned,
  done: number,
  left: number,
  limit: number,
  since: number | null,
  most = Number.POSITIVE_INFINITY,
): Pick<BurnLine, 'neededPerHour' | 'countedPerHour'> {
  const ahead = openMinutesBetween(surroundings.working, now, Math.max(now, limit));
  const behind = since === null ? 0 : openMinutesBetween(surroundings.working, since, now);
  const needed = left <= 0 ? 0 : ahead <= 0 ? null : (left * 60) / ahead;
  return {
    neededPerHour: needed !== null && needed > most ? null : needed,
    countedPerHour: behind < LEAST_TIMED ? null : (done * 60) / behind,
  };
}
