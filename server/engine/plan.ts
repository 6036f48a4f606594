/** A build, its log and an instant in; everything the tool says of it out. The stages in their order. */

import type { Build, Forecast, ForecastRisk, LogEntry } from '../model/index.ts';
import type { BuildWork } from './04-lots/index.ts';
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
  heldLinesOf,
  limitsAnswer,
  lotsAnswer,
  lowerBoundAnswer,
  missingOf,
  moneyAnswer,
  ordersAnswer,
  parametersAnswer,
  partsAnswer,
  roomAnswer,
  spellsOf,
  stepsAnswer,
  suppliesAnswer,
  trialsOf,
  uncertainAnswer,
  usesAnswer,
  whyAnswer,
  withHighs,
  workHoursAnswer,
} from './10-answers/index.ts';
import { doubtsOf, soundnessOf } from './12-soundness/index.ts';
import { freeUntilOf } from './14-levers/index.ts';
import { showAnswer, showProblems } from './15-show/index.ts';
import { problemsOf, type Replaced, workThrough } from './stages/index.ts';
import type { Instant } from './types.ts';

/** What a forecast is given besides a build, its log and an instant. */
interface PlanOptions extends Replaced {
  /** Draws futures of the schedule too; left out unless given. */
  readonly risk?: RiskOptions;
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
 * thrown: what is wrong stands in `problems`, is left out of the plan, and the rest is computed; `complete` says
 * whether anything had to be left out or could not be placed. Depends on its arguments alone; deterministic.
 */
export function planBuild(build: Build, log: readonly LogEntry[], now: Instant, options: PlanOptions = {}): Forecast {
  const { risk, onPlan, onFutures, ...replaced } = options;
  const planned = workThrough({ build, log, now, ...replaced }, 'schedules');
  const problems = problemsOf(planned);
  const { surroundings, quantities } = planned;
  const capacity = capacityAnswer(planned);
  const orders = withHighs(planned, ordersAnswer(planned));
  const uncertain = uncertainAnswer(planned, orders);
  const decisions = [...decisionsAnswer(planned), ...trialsOf(uncertain)];
  const spells = spellsOf(planned);
  const errors = problems.some((found) => found.severity === 'error' && found.code !== 'event-past');
  // A plan without some of the work is no ground for a date, and a chance made from it would promise too much.
  const missing = missingOf(planned.plans, quantities, problems, planned.work.lots);
  const isWhole = missing.every(({ code }) => code === 'too-many-lots');
  const room = roomAnswer(planned, isWhole);
  const baseline = baselineOf(planned);
  const steps = stepsAnswer(planned);
  const { supplies, loads } = suppliesAnswer(planned, steps, orders);
  const plan: Forecast = {
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
    parameters: parametersAnswer(build, quantities),
    uses: usesAnswer(build),
    limits: limitsAnswer(planned),
    uncertain,
    parts: partsAnswer(planned),
    steps: options.former === undefined ? steps : withAsked(steps, options.former, now),
    lots: lotsAnswer(planned),
    criticalPath: planned.dates.path.flatMap((lot) =>
      isMilestone(planned.work, lot) ? [] : [planned.work.lots[lot]!.id],
    ),
    missing,
    room,
    ...((room.readyBy.clock ?? 0) < 0 ? { freeUntil: freeUntilOf(planned) } : {}),
    lowerBound: lowerBoundAnswer(planned),
    why: isWhole ? whyAnswer(planned) : [],
    keptOrder: planned.proof?.forgone ?? null,
    capacity,
    orders,
    supplies,
    loads,
    money: moneyAnswer(planned, steps, supplies, spells),
    decisions,
    dues: duesAnswer(planned),
    days: daySheetsAnswer(planned, spells, orders, decisions),
    burn: burnAnswer(planned, baseline),
    firstPlan: firstPlanAnswer(planned),
    balance: balanceAnswer(planned, heldLinesOf(planned, baseline)),
    workHours: workHoursAnswer(planned, spells),
    problems: [...problems, ...showProblems(planned)],
    doubts: doubtsOf(planned),
    complete:
      isWhole && !errors && (planned.schedule !== null || planned.work.lots.length === 0) && planned.beyond.size === 0,
  };
  const withRisk = (drawn: ForecastRisk | null | undefined): Forecast => {
    const forecast = drawn === undefined ? plan : { ...plan, risk: drawn };
    const threatened = { ...forecast, threats: threatsOf(forecast, drawn ?? null, now, build.machines) };
    const sound = { ...threatened, soundness: soundnessOf({ planned, forecast: threatened }) };
    return { ...sound, show: showAnswer({ planned, spells, forecast: sound }) };
  };
  if (risk === undefined) return withRisk(undefined);
  if (!isWhole) return withRisk(null);
  onPlan?.(withRisk(undefined));
  return withRisk(riskOf(planned, risk, onFutures));
}

function isMilestone(work: BuildWork, lot: number): boolean {
  const { firstUnit, lastUnit } = work.lots[lot]!;
  return lastUnit < firstUnit;
}
