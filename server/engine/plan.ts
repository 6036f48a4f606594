/** A build, its log and an instant in; everything the tool says of it out. The stages in their order. */

import type { Build, Forecast, ForecastRisk, LogEntry, Problem } from '../model/index.ts';
import { withAsked } from './07-levelling/index.ts';
import type { FutureEnds, RiskOptions } from './08-risk/index.ts';
import { riskOf } from './08-risk/index.ts';
import { threatsOf } from './09-threats/index.ts';
import {
  balanceAnswer,
  baselineOf,
  burnAnswer,
  capacityAnswer,
  daySheetsAnswer,
  decisionsAnswer,
  duesAnswer,
  firstPlanAnswer,
  limitsAnswer,
  lotsAnswer,
  lowerBoundAnswer,
  missingOf,
  moneyAnswer,
  ordersAnswer,
  parametersAnswer,
  partsAnswer,
  roomAnswer,
  type Spells,
  spellsOf,
  stepsAnswer,
  suppliesAnswer,
  trialsOf,
  uncertainAnswer,
  usesAnswer,
  whyAnswer,
  withHighs,
  workHoursAnswer,
  yardstickLinesOf,
} from './10-answers/index.ts';
import { doubtsOf, soundnessOf } from './12-soundness/index.ts';
import { freeUntilOf } from './14-levers/index.ts';
import { showAnswer, showProblems } from './15-show/index.ts';
import { type Planned, problemsOf, type Replaced, workThrough } from './stages/index.ts';
import type { Instant } from './types.ts';

/** What a forecast is given besides a build, its log and an instant. */
interface PlanOptions extends Replaced {
  /** Draws futures of the schedule too; left out unless given. */
  readonly risk?: RiskOptions;
  /** Asked of the plan before its futures are drawn: false leaves them out. */
  readonly isWorthRisk?: (planned: Forecast) => boolean;
  /** Hears of the forecast as it is before its futures are drawn, where that is asked for. */
  readonly onPlan?: (planned: Forecast) => void;
  /** Hears how the futures ended, where any were drawn: by that two cases are compared. */
  readonly onFutures?: (ends: FutureEnds) => void;
}

/**
 * The forecast of a build at `now` (whole minutes since the epoch, UTC). Works the case through (see `workThrough`):
 * what the log says, the calendars, quantities, steps at the paces that counting says, lots and links, dates with hands
 * and machines unlimited, and schedules that they can do. Then come the futures, where `risk` asks for them, the
 * answers that the pages show, what threatens the dates, and whether the plan is sound as a plan. Bad input is never
 * thrown: what is wrong is in `problems`, is left out of the plan, and the rest is computed; `complete` says whether
 * anything had to be left out or could not be placed. Depends on its arguments alone; deterministic.
 */
export function planBuild(build: Build, log: readonly LogEntry[], now: Instant, options: PlanOptions = {}): Forecast {
  const { risk, isWorthRisk = () => true, onPlan, onFutures, ...replaced } = options;
  const planned = workThrough({ build, log, now, ...replaced }, 'schedules');
  const spells = spellsOf(planned);
  const { plan, isWhole } = answersOf(planned, spells, options.former);
  const withRisk = (drawn: ForecastRisk | null | undefined): Forecast => judged(planned, spells, plan, drawn);
  if (risk === undefined || !isWorthRisk(plan)) return withRisk(undefined);
  if (!isWhole) return withRisk(null);
  onPlan?.(withRisk(undefined));
  return withRisk(riskOf(planned, risk, onFutures));
}

/** What the pages show of a plan, before any future is drawn, and whether none of the work is missing from it. */
function answersOf(
  planned: Planned,
  spells: Spells,
  former: Replaced['former'],
): { readonly plan: Forecast; readonly isWhole: boolean } {
  const { build, now } = planned.asked;
  const problems = problemsOf(planned);
  const orders = withHighs(planned, ordersAnswer(planned));
  const uncertain = uncertainAnswer(planned, orders);
  const decisions = [...decisionsAnswer(planned), ...trialsOf(uncertain)];
  // A plan without some of the work is no ground for a date, and a chance made from it would promise too much.
  const missing = missingOf(planned.plans, planned.quantities, problems, planned.work.lots);
  const isWhole = missing.every(({ code }) => code === 'too-many-lots');
  const room = roomAnswer(planned, isWhole);
  const baseline = baselineOf(planned);
  const steps = stepsAnswer(planned);
  const { supplies, loads } = suppliesAnswer(planned, steps, orders);
  const plan: Forecast = {
    ...frameOf(planned),
    parameters: parametersAnswer(build, planned.quantities),
    uses: usesAnswer(build),
    limits: limitsAnswer(planned),
    uncertain,
    parts: partsAnswer(planned),
    steps: former === undefined ? steps : withAsked(steps, former, now),
    lots: lotsAnswer(planned),
    criticalPath: criticalLots(planned),
    missing,
    room,
    ...((room.readyBy.clock ?? 0) < 0 ? { freeUntil: freeUntilOf(planned) } : {}),
    lowerBound: lowerBoundAnswer(planned),
    why: isWhole ? whyAnswer(planned) : [],
    keptOrder: planned.proof?.forgone ?? null,
    capacity: capacityAnswer(planned),
    orders,
    supplies,
    loads,
    money: moneyAnswer(planned, steps, supplies, spells),
    decisions,
    dues: duesAnswer(planned),
    days: daySheetsAnswer(planned, spells, orders, decisions),
    burn: burnAnswer(planned, baseline),
    firstPlan: firstPlanAnswer(planned),
    balance: balanceAnswer(planned, yardstickLinesOf(planned, baseline)),
    workHours: workHoursAnswer(planned, spells),
    problems: [...problems, ...showProblems(planned)],
    doubts: doubtsOf(planned),
    complete: isWhole && !problems.some(isInTheWay) && isPlaced(planned),
  };
  return { plan, isWhole };
}

/** What the build is, and the instants between which it is planned. */
function frameOf({ asked: { build, now }, surroundings, quantities }: Planned) {
  return {
    build: { id: build.id, name: build.name, zone: surroundings.zone },
    now,
    start: surroundings.start,
    event: surroundings.event,
    loadIn: surroundings.loadIn,
    readyBy: surroundings.readyBy,
    setCount: quantities.setCount,
    setName: build.sets?.name ?? 'set',
    currency: build.currency ?? '',
    confidence: quantities.confidence,
  };
}

/** The plan with its futures, what threatens it, whether it is sound, and the last days. */
function judged(planned: Planned, spells: Spells, plan: Forecast, drawn: ForecastRisk | null | undefined): Forecast {
  const { build, now } = planned.asked;
  const forecast = drawn === undefined ? plan : { ...plan, risk: drawn };
  const threatened = { ...forecast, threats: threatsOf(forecast, drawn ?? null, now, build.machines) };
  const sound = { ...threatened, soundness: soundnessOf({ planned, forecast: threatened }) };
  return { ...sound, show: showAnswer({ planned, spells, forecast: sound }) };
}

/** An event that is over leaves the plan whole. */
function isInTheWay({ severity, code }: Problem): boolean {
  return severity === 'error' && code !== 'event-past';
}

function isPlaced({ schedule, work, beyond }: Planned): boolean {
  return (schedule !== null || work.lots.length === 0) && beyond.size === 0;
}

/** The ids of the lots on the critical path; what has no units is none. */
function criticalLots({ dates, work }: Planned): string[] {
  return dates.path.flatMap((lot) => {
    const { id, firstUnit, lastUnit } = work.lots[lot]!;
    return lastUnit < firstUnit ? [] : [id];
  });
}
