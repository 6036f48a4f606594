/** A build, its log and an instant in; everything the tool says of it out. The stages in their order. */
import type {
  Build,
  Forecast,
  ForecastParameter,
  ForecastPart,
  LogEntry,
  Parameter,
  ParameterUse,
  Problem,
} from '../model/index.ts';
import { problem, warning } from '../model/index.ts';
import { readDuration } from './amounts.ts';
import { balanceAnswer } from './answers/balance.ts';
import { burnAnswer } from './answers/burn.ts';
import { capacityAnswer } from './answers/capacity.ts';
import { datesOfLots } from './answers/dates.ts';
import { daySheetsAnswer } from './answers/day-sheets.ts';
import { lotsAnswer } from './answers/lots.ts';
import { decisionsAnswer, ordersAnswer } from './answers/orders.ts';
import { latePins } from './answers/pins.ts';
import type { Planned } from './answers/planned.ts';
import { lowerBoundAnswer, roomAnswer } from './answers/room.ts';
import { spellsOf } from './answers/spells.ts';
import { stepsAnswer } from './answers/steps.ts';
import { whyAnswer } from './answers/why.ts';
import { workHoursAnswer } from './answers/work-hours.ts';
import { baselineOf, type FirstPlan, firstPlanAnswer, latestLinesOf } from './first-plan.ts';
import { type FormerPlan, previousPlanIn } from './former-plan.ts';
import { parseFormula } from './formula.ts';
import { doubtsOf } from './ground-doubts.ts';
import {
  compile,
  DRIFT_MINUTES,
  type Levelled,
  type LevelOptions,
  level,
  levelBackwards,
  type PreviousPlan,
  remembered,
  withChoices,
} from './levelling/index.ts';
import { tallyLog, timedEntries } from './log-tally.ts';
import type { Network } from './network.ts';
import { measuredPaces, pacesOf } from './pace.ts';
import { type Quantities, quantitiesOf } from './quantities.ts';
import { type RiskOptions, riskOf } from './risk/index.ts';
import { type Setting, settingOf } from './setting.ts';
import { soundnessOf } from './soundness.ts';
import { stepFeedsOf } from './step-feeds.ts';
import { orphanProblems } from './step-graph.ts';
import type { MeasuredPace } from './step-phases.ts';
import { type StepPlan, stepPlansOf, withPaces } from './step-plan.ts';
import { arrivalOf } from './supplier-days.ts';
import { threatsOf } from './threats.ts';
import type { Instant } from './types.ts';
import { untangledWork } from './untangled-work.ts';
import type { BuildWork } from './work.ts';
import { withWorkInHand } from './work-in-hand.ts';

export interface PlanOptions {
  /** Seed and budget of the levelling search; seed 1 and the levelling's own budget unless given. */
  readonly levelling?: LevelOptions;
  /** What stood on the sheets before (`formerPlanOf`): kept unless changing it gains real time. */
  readonly former?: FormerPlan;
  /** The plan that the counts are held against, as it was kept; made from the build as it is unless given. */
  readonly first?: FirstPlan;
  /** Paces that replace the estimates, by step; from the log unless given. */
  readonly paces?: ReadonlyMap<string, MeasuredPace>;
  /** Values that replace parameters, by name. */
  readonly given?: ReadonlyMap<string, number>;
  /** Draws futures of the schedule too; left out unless given. */
  readonly risk?: RiskOptions;
}

/**
 * The forecast of a build at `now` (whole minutes since the epoch, UTC). Runs quantities, work, network, critical path and
 * levelling in that order, and risk where it is asked for. Bad input is never thrown: what is wrong stands in `problems`, is left out of the plan, and the rest
 * is computed; `complete` says whether anything had to be left out or could not be placed. Deterministic.
 */
export function planBuild(build: Build, log: readonly LogEntry[], now: Instant, options: PlanOptions = {}): Forecast {
  const stages = runStages(build, log, now, options);
  const { planned, problems } = stages;
  const { setting, quantities } = planned;
  const capacity = capacityAnswer(planned);
  const orders = ordersAnswer(planned);
  const decisions = decisionsAnswer(planned);
  const spells = spellsOf(planned);
  const errors = problems.some((found) => found.severity === 'error' && found.code !== 'event-past');
  // A step that nobody may do is planned as if it needed nobody: a chance made from that would promise too much.
  const nobody = problems.some(({ severity, code }) => severity === 'error' && code === 'nobody');
  const risk = options.risk === undefined ? undefined : nobody ? null : riskOf(planned, options.risk);
  const forecast: Forecast = {
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
    steps: stepsAnswer(planned),
    lots: lotsAnswer(planned),
    criticalPath: planned.dates.path.flatMap((lot) =>
      isMilestone(planned.work, lot) ? [] : [planned.work.lots[lot]!.id],
    ),
    room: roomAnswer(planned),
    lowerBound: lowerBoundAnswer(planned),
    why: whyAnswer(planned),
    keptOrder: planned.proof?.forgone ?? null,
    capacity,
    orders,
    decisions,
    days: daySheetsAnswer(planned, spells, orders, decisions),
    burn: burnAnswer(planned, baselineOf(planned, options)),
    firstPlan: firstPlanAnswer(planned, options.first),
    balance: balanceAnswer(planned, latestLinesOf(planned, options)),
    workHours: workHoursAnswer(planned, spells),
    problems,
    doubts: doubtsOf(planned),
    ...(risk === undefined ? {} : { risk }),
    complete: !errors && (planned.schedule !== null || planned.work.lots.length === 0) && planned.beyond.size === 0,
  };
  const threatened = { ...forecast, threats: threatsOf(forecast, risk ?? null, now, build.machines) };
  return { ...threatened, soundness: soundnessOf({ planned, forecast: threatened }) };
}

/** What a build comes to before its answers are worded; the risk stage and the options begin here too. */
export function runStages(
  build: Build,
  log: readonly LogEntry[],
  now: Instant,
  options: PlanOptions = {},
): { readonly planned: Planned; readonly network: Network; readonly problems: readonly Problem[] } {
  const { entries, problems } = timedEntries(log);
  const tally = tallyLog(entries);
  const setting = settingOf(build, now, tally.lost);
  const quantities = quantitiesOf(build, options.given);
  const { steps: estimated, problems: stepProblems } = stepPlansOf(build, setting, quantities, tally);
  const paces = options.paces === undefined ? pacesOf(estimated, tally, setting) : new Map();
  const plans = withPaces(estimated, options.paces ?? measuredPaces(paces));
  const { feeds: allFeeds, holds, problems: feedProblems } = stepFeedsOf(build, plans, quantities);
  const made = untangledWork(build, setting, plans, allFeeds, holds);
  const { feeds, network } = made;
  problems.push(
    ...setting.problems.filter(({ code }) => code !== 'event-past' || !isOver(plans)),
    ...quantities.problems,
    ...stepProblems,
    ...feedProblems,
    ...made.problems,
    ...orphanProblems(plans, feeds),
    ...made.work.problems,
  );
  if (made.work.lots.length === 0 && plans.length === 0) {
    problems.push(
      warning('orphan', 'steps', 'none', 'There are no steps yet; add the first kind of work to see dates.'),
    );
  }
  const previous = options.former === undefined ? undefined : previousPlanIn(options.former, plans, made.work);
  const inHand = withWorkInHand(made.work, plans, tally.standing, setting, previous);
  const dates = datesOfLots(inHand, network, setting);
  const { work, forwards, backwards } = levelled(inHand, options, previous);
  const beyond = new Set(forwards?.beyond ?? []);
  if (beyond.size > 0) problems.push(beyondProblem(plans, work, beyond));
  const planned: Planned = {
    build,
    now,
    setting,
    quantities,
    tally,
    plans,
    paces,
    feeds,
    work,
    dates,
    schedule: forwards?.schedule ?? null,
    proof: forwards,
    backwards: backwards?.schedule ?? null,
    beyond,
    keepsDeadlines:
      forwards !== null &&
      work.lots.every((lot, l) => lot.spare === true || forwards.schedule.finishes[l]! <= lot.deadline),
  };
  problems.push(...latePins(planned));
  return { planned, network, problems: distinct(problems) };
}

/** Nothing is left to do: no other event is asked for where this one is past, and no spares for what was scrapped. */
function isOver(plans: readonly StepPlan[]): boolean {
  return plans.length > 0 && plans.every(({ left }) => left === 0);
}

interface BothWays {
  /** With the people that lots keep from the plan before, where they do. */
  readonly work: BuildWork;
  readonly forwards: Levelled | null;
  readonly backwards: Levelled | null;
}

function levelled(work: BuildWork, options: PlanOptions, previous: PreviousPlan | undefined): BothWays {
  if (work.lots.length === 0) return { work, forwards: null, backwards: null };
  const levelling = { ...(options.levelling ?? { seed: 1 }), ...(previous === undefined ? {} : { previous }) };
  const keeping = remembered(work, previous);
  const compiled = compile(keeping);
  const forwards = level(keeping, levelling, compiled);
  return {
    // What comes of a future is not waited for as patiently as what is on the sheet.
    work: {
      ...keeping,
      lots: withChoices(keeping.lots, compiled.forward, forwards.choices),
      graceMinutes: Math.min(forwards.graceMinutes, DRIFT_MINUTES),
    },
    forwards,
    backwards: levelBackwards(keeping, levelling, compiled, forwards),
  };
}

function distinct(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>();
  return problems.filter((found) => {
    const key = `${found.code} ${found.field} ${found.message}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function beyondProblem(plans: readonly StepPlan[], work: BuildWork, beyond: ReadonlySet<number>): Problem {
  const names = [...new Set([...beyond].map((lot) => plans[work.lots[lot]!.step]!.name))];
  const list = names.slice(0, 5).join(', ');
  return problem(
    'beyond-horizon',
    'steps',
    list,
    `No time was found for ${list} within 200 days after the event: a sitting or a machine's hours are shorter than what must be done in one go, or the hours run out. Give longer hours or smaller lots.`,
  );
}

function parameterAnswer(parameter: Parameter, quantities: Quantities): ForecastParameter {
  return {
    name: parameter.name,
    value: quantities.values.get(parameter.name) ?? null,
    low: parameter.range?.low ?? null,
    high: parameter.range?.high ?? null,
    formula: parameter.formula ?? null,
    unit: parameter.unit ?? null,
    origin: parameter.origin ?? (parameter.formula === undefined ? 'guessed' : null),
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
      onHand: count.onHand,
      yield: count.yield,
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
    };
  });
}

function againAtOf(supplier: string | undefined, { suppliers }: Setting, now: Instant): Instant | null {
  const known = supplier === undefined ? undefined : suppliers.get(supplier);
  return known === undefined ? null : arrivalOf(known.arrivals(known.expressDays ?? known.leadDays), now);
}

function isMilestone(work: BuildWork, lot: number): boolean {
  const { firstUnit, lastUnit } = work.lots[lot]!;
  return lastUnit < firstUnit;
}
