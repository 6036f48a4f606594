/** A build, its log and an instant in; everything the tool says of it out. The stages in their order. */

import type {
  Build,
  Forecast,
  ForecastParameter,
  ForecastPart,
  ForecastRisk,
  LogEntry,
  Parameter,
  ParameterUse,
} from '../model/index.ts';
import { type PartCount, parseFormula, type Quantities, readDuration } from './01-quantities/index.ts';
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
  firstPlanAnswer,
  latestLinesOf,
  lotsAnswer,
  lowerBoundAnswer,
  missingOf,
  ordersAnswer,
  roomAnswer,
  spellsOf,
  stepsAnswer,
  whyAnswer,
  workHoursAnswer,
} from './10-answers/index.ts';
import { doubtsOf, soundnessOf } from './12-soundness/index.ts';
import { arrivalOf, isInstant, latestOrderFor, type Setting } from './calendar/index.ts';
import { type Planned, problemsOf, type Replaced, workThrough } from './stages/index.ts';
import type { Instant } from './types.ts';

/** What a forecast is given besides a build, its log and an instant. */
export interface PlanOptions extends Replaced {
  /** Draws futures of the schedule too; left out unless given. */
  readonly risk?: RiskOptions;
  /** Hears of the forecast as it is before its futures are drawn, where that is asked for. */
  readonly onPlan?: (planned: Forecast) => void;
  /** Hears how the futures ended, where any were drawn: by that two cases are compared. */
  readonly onFutures?: (ends: FutureEnds) => void;
}

/**
 * The forecast of a build at `now` (whole minutes since the epoch, UTC). Works the case through (see `workThrough`): what the log
 * says, the calendars, quantities, steps at the paces that counting says, lots and links, dates with hands and machines unlimited,
 * and schedules that they can do. Then come the futures, where `risk` asks for them, the answers that the pages show, what threatens the
 * dates, and whether the plan is sound as a plan. Bad input is never thrown: what is wrong stands in `problems`, is left out of
 * the plan, and the rest is computed; `complete` says whether anything had to be left out or could not be placed. Depends on its
 * arguments alone; deterministic.
 */
export function planBuild(build: Build, log: readonly LogEntry[], now: Instant, options: PlanOptions = {}): Forecast {
  const { risk, onPlan, onFutures, ...replaced } = options;
  const planned = workThrough({ build, log, now, ...replaced }, 'schedules');
  const problems = problemsOf(planned);
  const { setting, quantities } = planned;
  const capacity = capacityAnswer(planned);
  const orders = ordersAnswer(planned);
  const decisions = decisionsAnswer(planned);
  const spells = spellsOf(planned);
  const errors = problems.some((found) => found.severity === 'error' && found.code !== 'event-past');
  // A plan without some of the work is no ground for a date, and a chance made from it would promise too much.
  const missing = missingOf(planned.plans, quantities, problems);
  const isWhole = missing.length === 0;
  const plan: Forecast = {
    build: { id: build.id, name: build.name, zone: setting.zone },
    now,
    start: setting.start,
    event: setting.event,
    loadIn: setting.loadIn,
    readyBy: setting.readyBy,
    setCount: quantities.setCount,
    setName: build.sets?.name ?? 'set',
    currency: build.currency ?? '',
    confidence: quantities.confidence,
    parameters: (build.parameters ?? []).map((parameter) => parameterAnswer(parameter, quantities)),
    uses: usesAnswer(build),
    parts: partsAnswer(planned),
    steps: options.former === undefined ? stepsAnswer(planned) : withAsked(stepsAnswer(planned), options.former, now),
    lots: lotsAnswer(planned),
    criticalPath: planned.dates.path.flatMap((lot) =>
      isMilestone(planned.work, lot) ? [] : [planned.work.lots[lot]!.id],
    ),
    missing,
    room: roomAnswer(planned, isWhole),
    lowerBound: lowerBoundAnswer(planned),
    why: isWhole ? whyAnswer(planned) : [],
    keptOrder: planned.proof?.forgone ?? null,
    capacity,
    orders,
    decisions,
    days: daySheetsAnswer(planned, spells, orders, decisions),
    burn: burnAnswer(planned, baselineOf(planned)),
    firstPlan: firstPlanAnswer(planned),
    balance: balanceAnswer(planned, latestLinesOf(planned)),
    workHours: workHoursAnswer(planned, spells),
    problems,
    doubts: doubtsOf(planned),
    complete:
      isWhole && !errors && (planned.schedule !== null || planned.work.lots.length === 0) && planned.beyond.size === 0,
  };
  const withRisk = (drawn: ForecastRisk | null | undefined): Forecast => {
    const forecast = drawn === undefined ? plan : { ...plan, risk: drawn };
    const threatened = { ...forecast, threats: threatsOf(forecast, drawn ?? null, now, build.machines) };
    return { ...threatened, soundness: soundnessOf({ planned, forecast: threatened }) };
  };
  if (risk === undefined) return withRisk(undefined);
  if (!isWhole) return withRisk(null);
  onPlan?.(withRisk(undefined));
  return withRisk(riskOf(planned, risk, onFutures));
}

function parameterAnswer(parameter: Parameter, quantities: Quantities): ForecastParameter {
  return {
    name: parameter.name,
    value: quantities.values.get(parameter.name) ?? null,
    low: parameter.range?.low ?? null,
    high: parameter.range?.high ?? null,
    formula: parameter.formula ?? null,
    unit: parameter.unit ?? null,
    origin: parameter.origin ?? (parameter.range === undefined ? null : 'guessed'),
  };
}

/** For each parameter, the parts whose drawing depends on it and the steps whose counts or minutes use it, through formulas too. */
function usesAnswer(build: Build): ParameterUse[] {
  const needs = new Map((build.parameters ?? []).map((parameter) => [parameter.name, namesIn(parameter.formula)]));
  const reach = (names: readonly string[]): Set<string> => {
    const reached = new Set<string>();
    const queue = [...names];
    for (let name = queue.pop(); name !== undefined; name = queue.pop()) {
      if (reached.has(name)) continue;
      reached.add(name);
      queue.push(...(needs.get(name) ?? []));
    }
    return reached;
  };
  const parts = (build.parts ?? []).map((part) => ({
    id: part.id,
    names: reach([
      ...(part.dependsOn ?? []),
      ...namesIn(part.count),
      ...namesIn(part.spares),
      ...(part.usedIn ?? []).flatMap((use) => namesIn(use.count)),
    ]),
  }));
  const steps = build.steps.map((step) => ({ id: step.id, names: reach(namesInStep(step)) }));
  return (build.parameters ?? []).map(({ name }) => ({
    parameter: name,
    parts: parts.filter((part) => part.names.has(name)).map((part) => part.id),
    steps: steps.filter((step) => step.names.has(name)).map((step) => step.id),
  }));
}

function namesInStep(step: Build['steps'][number]): string[] {
  const texts: unknown[] = [step.count, step.takes, step.setup, step.lotSize];
  for (const phase of step.phases ?? []) {
    if ('minutes' in phase) texts.push(phase.minutes);
    if ('perUnit' in phase) texts.push(phase.perUnit);
  }
  return texts.flatMap(namesIn);
}

function namesIn(text: unknown): readonly string[] {
  if (typeof text !== 'string' || readDuration(text) !== null) return [];
  const parsed = parseFormula(text);
  return parsed.ok ? parsed.formula.names : [];
}

function partsAnswer({ quantities, plans, setting, now }: Planned): ForecastPart[] {
  return [...quantities.parts.values()].map((count) => {
    const route = plans.filter((plan) => plan.part === count.part.id);
    const last = route.at(-1);
    return {
      id: count.part.id,
      name: count.part.name,
      source: count.part.source,
      need: count.need,
      spares: count.spares,
      ownNeed: count.ownNeed,
      onHand: count.onHand,
      yield: count.yield,
      ...yieldAnswer(count),
      toMake: count.toMake,
      packs: count.packs,
      toBuy: count.toBuy,
      cost: count.cost,
      supplier: count.part.supplier ?? null,
      revision: count.part.revision ?? null,
      dependsOn: count.part.dependsOn ?? [],
      usedIn: count.usedIn,
      good: last === undefined ? 0 : last.total - last.left,
      scrapped: route.reduce((total, plan) => total + plan.tally.scrapped, 0),
      againAt: againAtOf(count.part.supplier, setting, now),
      spareBy: spareByOf(count.part.supplier, setting, now),
    };
  });
}

function yieldAnswer({ learnt }: PartCount): Pick<ForecastPart, 'yieldLearnt'> {
  if (learnt === undefined) return {};
  const { given, tried, scrapped } = learnt;
  return { yieldLearnt: { given, tried, scrapped, origin: 'measured' } };
}

function againAtOf(supplier: string | undefined, { suppliers }: Setting, now: Instant): Instant | null {
  const known = supplier === undefined ? undefined : suppliers.get(supplier);
  return known === undefined ? null : arrivalOf(known.arrivals(known.expressDays ?? known.leadDays), now);
}

function spareByOf(supplier: string | undefined, { suppliers, readyBy }: Setting, now: Instant): Instant | null {
  const known = supplier === undefined ? undefined : suppliers.get(supplier);
  if (known === undefined) return null;
  const last = latestOrderFor(known.arrivals(known.expressDays ?? known.leadDays), readyBy);
  return isInstant(last) && last >= now ? last : null;
}

function isMilestone(work: BuildWork, lot: number): boolean {
  const { firstUnit, lastUnit } = work.lots[lot]!;
  return lastUnit < firstUnit;
}
