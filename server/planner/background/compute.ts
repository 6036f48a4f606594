/** How deep the engine looks: a first answer that somebody waits for, and the search that goes on behind it. */
import {
  attributeRoom,
  type FutureEnds,
  findLevers,
  keptScheduleOf,
  planBuild,
  rightSize,
  waysBeside,
} from '../../engine/index.ts';
import type { Forecast, LeverSearch, Sizing, WaysBeside } from '../../model/index.ts';
import { readBuildFile } from '../build-text.ts';
import { readSchedule } from './former.ts';
import type { Background, LeversTask, PlanTask, Tried } from './tasks.ts';
import { clockOf, type Watch, watchAlone } from './watch.ts';

/** The same build, log, now, former and first plan give the same forecast, where time does not end the search first. */
const SEED = 1;
/** Passes of the schedule generator in the background's search: some tenths of a second for 300 lots. */
const SEARCHED_SCHEDULES = 2_000;
/** Passes for the first answer: with one alone it jumps by an evening where a sitting is missed by minutes. */
const QUICK_SCHEDULES = 20;
/** Futures of the first answer, so that a tap is soon followed by its chance: some tenths of a second for 300 lots. */
const QUICK_FUTURES = 500;
/**
 * Milliseconds for each lot, at least and at most: of a search, and of the futures of a first and of a searched answer.
 */
const TIMES = {
  search: { perLot: 1, least: 1_000, most: 30_000 },
  firstFutures: { perLot: 1, least: 600, most: 15_000 },
  futures: { perLot: 1, least: 1_300, most: 30_000 },
} as const;
/** The share of a quick answer's progress for its plan; the rest is for its futures. */
const QUICK_PLAN_SHARE = 0.2;

/**
 * The forecast that a task asks for. A quick one is the plan after a few passes, with a first chance; `onPlan` hears of
 * the plan before the chance is drawn. A deep one is the plan after the search, which ends with its passes or its time,
 * whichever is first; where there is no plan to compare it with, it is compared with the plan after a few passes.
 * `watch` may end either before that.
 */
export function computePlan(
  task: PlanTask,
  watch: Watch = watchAlone(),
  onPlan?: (early: Forecast) => void,
  onFutures?: (ends: FutureEnds) => void,
): Forecast {
  const { build, log, now, depth, former, first, noChance, seconds, seed = SEED } = task;
  const isQuick = depth === 'quick';
  const clock = clockOf(watch);
  // Seconds that somebody asked for pass for work that nobody watches too.
  const searchClock = seconds === undefined ? clock : clockOf({ ...watch, clock: () => performance.now() });
  const planShare = planShareOf(task);
  const tell = (share: number): void => watch.progress(Math.round(100 * share), 100);
  const levelling = {
    seed,
    onShare: (share: number) => tell(share * planShare),
    ...(seconds === undefined ? { schedules: isQuick ? QUICK_SCHEDULES : SEARCHED_SCHEDULES } : {}),
    ...(isQuick ? {} : { quickly: QUICK_SCHEDULES }),
    milliseconds: searchTime(task),
    clock: searchClock,
  };
  const risk = {
    seed,
    ...(isQuick ? { futures: QUICK_FUTURES } : {}),
    onShare: (share: number) => tell(planShare + share * (1 - planShare)),
    milliseconds: futuresTime(task),
    clock,
  };
  const found = planBuild(build, log, now, {
    levelling,
    ...(noChance ? {} : { risk }),
    ...(onPlan ? { onPlan } : {}),
    ...(onFutures ? { onFutures } : {}),
    ...(former ? { former: readSchedule(former) } : {}),
    ...(first ? { first } : {}),
  });
  if (isQuick || noChance || former || onFutures) return found;
  const few = { levelling: { seed, schedules: QUICK_SCHEDULES, clock }, risk: { ...risk, onShare: () => undefined } };
  const isWorthRisk = (plan: Forecast): boolean => endAlike(plan, found);
  return likelierOf(planBuild(build, log, now, { ...few, isWorthRisk, ...(first ? { first } : {}) }), found);
}

/**
 * The likelier of two plans that are ready at the same minute: a search looks at dates alone, and may
 * end with an order that leaves less to spare than the one it began with. Less than twice the error is no difference.
 */
function likelierOf(first: Forecast, found: Forecast): Forecast {
  if (!first.risk || !found.risk || !endAlike(first, found)) return found;
  const [before, after] = [first.risk.readyBy, found.risk.readyBy];
  return before.chance - after.chance > 2 * Math.hypot(before.error, after.error) ? first : found;
}

/** Whether two plans are ready, and all is finished in them, at the same minute. */
function endAlike(a: Forecast, b: Forecast): boolean {
  return a.room.readyBy.finish === b.room.readyBy.finish && a.room.event.finish === b.room.event.finish;
}

/** What of the work is the plan and not its futures, by the time that each is given. */
function planShareOf(task: PlanTask): number {
  if (task.noChance) return 1;
  const search = searchTime(task);
  return task.depth === 'quick' ? QUICK_PLAN_SHARE : search / (search + futuresTime(task));
}

/** The forecast that a task asks for, with how its futures ended. */
export function tryPlan(task: PlanTask, watch?: Watch): Tried {
  let ends: FutureEnds | null = null;
  const forecast = computePlan(task, watch, undefined, (drawn) => {
    ends = drawn;
  });
  return { forecast, ends };
}

/**
 * What would buy time, each lever worked out as an option is; `onRows` hears of what is found so far. `watch` may end
 * it before.
 */
export function computeLevers(
  task: LeversTask,
  onRows: (found: LeverSearch) => void = () => undefined,
  watch: Watch = watchAlone(),
): LeverSearch {
  const { asked, options } = triedAsOptions(task);
  return findLevers(asked, {
    ...options,
    milliseconds: Number.MAX_SAFE_INTEGER,
    clock: clockOf(watch),
    onRows: (found) => {
      watch.progress(found.tried, found.toTry + 1);
      onRows(found);
    },
  });
}

/** How large a parameter may be so that the date is kept; each value is worked out as an option is. */
export function computeSizing(
  { parameter, ...task }: LeversTask & { readonly parameter: string },
  { isEnough }: Pick<Watch, 'isEnough'> = watchAlone(),
): Sizing | null {
  const { asked, options } = triedAsOptions(task);
  return rightSize(asked, { ...options, parameter, isOver: isEnough });
}

/**
 * The ways of each part beside each other; each is worked out as an option is. `onParts` hears of what is found so far.
 */
export function computeWays(
  task: LeversTask,
  onParts: (found: WaysBeside) => void = () => undefined,
  watch: Watch = watchAlone(),
): WaysBeside {
  const { asked, options } = triedAsOptions(task);
  return waysBeside(asked, {
    ...options,
    isOver: watch.isEnough,
    onParts: (found, of) => {
      watch.progress(found.parts.length, of);
      onParts(found);
    },
  });
}

/** What the sheets say of the plan as it is, where its futures are drawn. */
export function knownPlan(known: Forecast | null): Pick<LeversTask, 'known'> {
  if (!known?.risk) return {};
  const { chance, error } = known.risk.readyBy;
  return { known: { readyAt: known.room.readyBy.finish, chance, error } };
}

/** What is asked beside a forecast begins from its plan and its chance, so that both say the same of what is. */
export function besideForecast(forecast: Forecast): Pick<LeversTask, 'former' | 'known'> {
  return forecast.risk ? { former: keptScheduleOf(forecast), ...knownPlan(forecast) } : {};
}

/** What is looked for in the same way: each change tried as an option is, by the same seed and futures. */
function triedAsOptions({ seed = SEED, futures, known, former, ...asked }: LeversTask) {
  const sheet = former ? { former: readSchedule(former) } : {};
  return {
    asked: { ...asked, ...sheet, levelling: { seed, schedules: QUICK_SCHEDULES } },
    options: { seed, ...(futures === undefined ? {} : { futures }), ...(known === undefined ? {} : { known }) },
  };
}

/** Work done at once in this thread: for the command line, where nobody else waits. */
export const atOnce: Background = {
  plan: async (task) => computePlan(task),
  tryOut: async (task) => tryPlan(task),
  findLevers: async (task, _, onRows) => computeLevers(task, onRows),
  rightSize: async (task) => computeSizing(task),
  waysBeside: async (task, _, onParts) => computeWays(task, onParts),
  attribute: async ({ former, ...span }) => attributeRoom({ ...span, former: readSchedule(former) }),
  read: async (text, name) => readBuildFile(text, name),
};

function searchTime({ depth, seconds, lots }: PlanTask): number {
  if (seconds !== undefined) return seconds * 1000;
  return depth === 'quick' ? Number.MAX_SAFE_INTEGER : timeOf('search', lots);
}

function futuresTime({ depth, lots }: PlanTask): number {
  return timeOf(depth === 'quick' ? 'firstFutures' : 'futures', lots);
}

/** The most where nobody knows how many lots there are. */
function timeOf(what: keyof typeof TIMES, lots = Number.POSITIVE_INFINITY): number {
  const { perLot, least, most } = TIMES[what];
  return Math.min(most, Math.max(least, lots * perLot));
}
