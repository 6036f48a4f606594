/** The plan before anything was counted: what the counts are compared with. */
import { type Forecast, type ForecastFirstPlan, type LogEntry, MOST_SCHEDULED_LOTS } from '../../model/index.ts';
import { standingAmong } from '../../model/log/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { measuredPaces, runFactors } from '../03-pace/index.ts';
import type { BuildWork } from '../04-lots/index.ts';
import { latestSchedule, level } from '../07-levelling/index.ts';
import { readWall } from '../calendar/index.ts';
import { inOrder, timedEntries } from '../log/index.ts';
import type { DeliveryPlan } from '../numbers/index.ts';
import { type KeptBaseline, lateThere, type Planned, type Remaining, workThrough } from '../stages/index.ts';
import type { Instant, Schedule } from '../types.ts';
import { type Baseline, baselineFrom } from './burn.ts';
import { passingLines } from './passing.ts';

/** The first plan of a forecast that compares its counts with one; null where there is none. */
export function firstPlanIn({ burn }: Pick<Forecast, 'burn'>, revision: number): KeptBaseline | null {
  const lines = burn.filter(({ planned }) => planned.length > 0);
  if (lines.length === 0) return null;
  return {
    revision,
    all: lines.find(({ step }) => step === null)?.planned ?? [],
    steps: lines.flatMap(({ step, planned }) => (step === null ? [] : [[step, planned] as const])),
  };
}

/** The first entry of a log that was not taken back; null where nothing stands. */
export function firstCount(log: readonly LogEntry[]): LogEntry | null {
  const { counts } = standingAmong(log);
  let [first, firstAt]: [LogEntry | null, Instant] = [null, Number.POSITIVE_INFINITY];
  for (const entry of log) {
    if (!counts(entry)) continue;
    if (first !== null && isSurelyLater(entry.at, first.at)) continue;
    const at = readWall(entry.at, 'UTC');
    if (!at.ok || at.value > firstAt) continue;
    const isEarlier = first === null || inOrder({ ...entry, at: at.value }, { ...first, at: firstAt }) < 0;
    if (isEarlier && timedEntries([entry]).problems.length === 0) [first, firstAt] = [entry, at.value];
  }
  return first;
}

/** Characters of an instant up to its minute. */
const MINUTE = 'YYYY-MM-DDTHH:MM'.length;

/** By their texts alone, which tells most entries of a long log apart. */
function isSurelyLater(at: string, than: string): boolean {
  return at.endsWith('Z') && than.endsWith('Z') && at.slice(0, MINUTE) > than.slice(0, MINUTE);
}

/** Which plan the counts are compared with. */
export function firstPlanAnswer({ asked, tally, plans }: Remaining): ForecastFirstPlan | null {
  if (plans.length === 0) return null;
  if (tally.firstAt === null) return { kind: 'open' };
  return asked.first === undefined ? { kind: 'present' } : { kind: 'kept', revision: asked.first.revision };
}

/** With one alone a first plan may be an evening longer than need be. */
const SCHEDULES = 20;

/**
 * The first schedule: as it was kept, else that of the case before anything was counted or lost, by its estimates; and
 * as long as nothing was counted the schedule itself. Null where nothing can be placed.
 */
export function baselineOf(planned: Planned): Baseline | null {
  const { asked, plans, work, schedule, beyond } = planned;
  const begin = beginOf(planned);
  if (begin === null) return schedule === null ? null : baselineFrom(plans, work, schedule, beyond);
  if (asked.first !== undefined) return { all: asked.first.all, steps: new Map(asked.first.steps) };
  const whole = workThrough({ ...asked, log: [], now: begin }, 'work');
  if (whole.work.lots.length === 0 || whole.work.lots.length > MOST_SCHEDULED_LOTS) return null;
  const first = level(whole.work, { seed: 1, schedules: SCHEDULES });
  return baselineFrom(whole.plans, whole.work, first.schedule, new Set(first.beyond));
}

/** How many units must have passed each step at each instant, in the order of the steps, and by which plan. */
export interface YardstickLines {
  readonly heldTo: 'latest' | 'first-plan';
  readonly lines: readonly DeliveryPlan[];
}

/**
 * What the counts are compared with: the latest schedule of the whole build that is still on time, at the paces and
 * with the lost hours that are known by now. Where even that would have to begin before the build did, no counting
 * could ever have kept to it, and they are compared with the first plan. Null where nothing can be placed.
 */
export function yardstickLinesOf(planned: Planned, baseline: Baseline | null): YardstickLines | null {
  const { asked, plans, paces, runTimes, work, backwardsInTime, now, surroundings } = planned;
  const begin = beginOf(planned);
  if (begin === null)
    return backwardsInTime === null
      ? null
      : linesOf(plans, work, backwardsInTime, Math.min(now, surroundings.start ?? now), baseline);
  const uncounted = { ...asked, log: asked.log.filter(isOfLostTime), now: begin };
  const known = { paces: asked.paces ?? measuredPaces(paces), runs: asked.runs ?? runFactors(runTimes) };
  const whole = workThrough({ ...uncounted, ...known }, 'work');
  if (whole.work.lots.length === 0 || whole.work.lots.length > MOST_SCHEDULED_LOTS) return null;
  const { inTime } = lateThere(
    whole.work,
    (other) => latestSchedule(other, { seed: 1, schedules: 1 }),
    ({ starts }) => starts,
  );
  return linesOf(whole.plans, whole.work, inTime, begin, baseline);
}

function linesOf(
  plans: readonly PlannedStep[],
  work: BuildWork,
  latest: Schedule,
  begin: Instant,
  baseline: Baseline | null,
): YardstickLines {
  const isPossible = work.lots.every(
    ({ begunAt, spare }, lot) => begunAt !== null || spare || latest.starts[lot]! >= begin,
  );
  if (isPossible || baseline === null) return { heldTo: 'latest', lines: passingLines(plans, work, latest) };
  return { heldTo: 'first-plan', lines: plans.map(({ id }) => lineOfBaseline(baseline.steps.get(id) ?? [])) };
}

/** What has passed by the line of what was to be left, which falls at once. */
function lineOfBaseline(left: readonly (readonly [at: Instant, left: number])[]): DeliveryPlan {
  const total = left[0]?.[1] ?? 0;
  const edges = left.slice(1).flatMap(([at, units], i) => [
    [at - 1, left[i]![1]],
    [at, units],
  ]);
  return { times: edges.map(([at]) => at!), units: edges.map(([, units]) => total - units!) };
}

/** When the build began; null as long as nothing is logged. */
function beginOf({ surroundings, tally, now }: Planned): Instant | null {
  return tally.firstAt === null ? null : Math.min(surroundings.start ?? tally.firstAt, now);
}

/** Lost hours, and what takes entries back. */
function isOfLostTime({ kind }: LogEntry): boolean {
  return kind === 'lost' || kind === 'undo';
}
