/**
 * What each step of a build comes to: its units by set, what of them is left after the log, and its work pattern in
 * minutes.
 */

import type { Build, Gate, Origin, Part, PhaseShape, Problem, Step } from '../../model/index.ts';
import { MOST_LOTS, MOST_SETS, problem, problemTexts, warning } from '../../model/index.ts';
import { hasLead, impliedOrderId, type Quantities } from '../01-quantities/index.ts';
import { accept, readWall, type Surroundings } from '../calendar/index.ts';
import { emptyStep, type Tally } from '../log/index.ts';
import type { Instant } from '../types.ts';
import { phaseBegun } from './phase-begun.ts';
import { pinnedPerson, pinProblems, plannedPins } from './pins.ts';
import type { Draft, PlannedStep, PlannedSteps } from './step.ts';
import {
  type MeasuredPace,
  type PhaseContext,
  type PlannedHands,
  type PlannedPhase,
  type PlannedRun,
  type PlannedWait,
  plannedPhases,
} from './step-phases.ts';
import { countUnits } from './unit-counts.ts';

const ORDER_HANDS_MINUTES = 15;

/** A phase that nobody's hands do. */
type PassivePhase = PlannedRun | PlannedWait;

/**
 * Resolves every step, gate and implied order of a build by its estimates, in the maker's order (the order of the
 * route).
 */
export function plannedStepsOf(
  build: Build,
  surroundings: Surroundings,
  quantities: Quantities,
  tally: Tally,
): PlannedSteps {
  const problems: Problem[] = [];
  const context: Context = {
    surroundings,
    parts: new Set(build.parts?.map(({ id }) => id)),
    quantities,
    tally,
    problems,
    evaluator: quantities.evaluator,
  };
  const before = quantities.evaluator.problems.length;
  const drafts: Draft[] = [];
  for (const part of build.parts ?? []) {
    const order = impliedOrder(part, build, context);
    if (order !== null) drafts.push(order);
  }
  const seen = new Set<string>(drafts.map((draft) => draft.id));
  for (const step of build.steps) {
    if (seen.has(step.id)) {
      problems.push(problem('duplicate-id', `steps.${step.id}`, step.id, problemTexts.steps.twice(step.id)));
      continue;
    }
    seen.add(step.id);
    drafts.push(draftOfStep(step, context));
  }
  for (const gate of build.gates ?? []) {
    if (seen.has(gate.id)) {
      problems.push(problem('duplicate-id', `gates.${gate.id}`, gate.id, problemTexts.steps.gateTwice(gate.id)));
      continue;
    }
    seen.add(gate.id);
    drafts.push(draftOfGate(gate, isOnSite(gate, build), context));
  }
  const tooManySets = setsProblem(quantities);
  const planned = tooManySets === null ? countUnits(drafts, quantities).map(withFewerLots) : [];
  const counted = planned.map((plan) => asItWasDone(plan, context));
  const oversize = tooManySets ?? oversizeProblem(counted);
  if (oversize !== null) problems.push(oversize);
  const steps = oversize === null ? counted : [];
  for (const { name, pins, sets } of steps) problems.push(...pinProblems(name, pins, sets));
  problems.push(...quantities.evaluator.problems.slice(before));
  for (const id of tally.steps.keys()) {
    if (!seen.has(id)) problems.push(warning('log', `log.${id}`, id, problemTexts.steps.loggedAndGone(id)));
  }
  return { steps, problems: problems.filter((one) => !isOfNobody(one, steps)) };
}

/** What is done and has nobody for it any more keeps the phases of those who did it. */
function asItWasDone(plan: PlannedStep, context: Context): PlannedStep {
  if (!isDone(plan) || plan.step === null || !plan.phases.some(isInstead)) return plan;
  return { ...plan, phases: plannedPhases(plan.step, { ...context, problems: [], isDone: true }) };
}

/** That nobody is there for a step is no fault of a step that is done. */
function isOfNobody({ code, field }: Problem, steps: readonly PlannedStep[]): boolean {
  return code === 'nobody' && steps.some((plan) => isDone(plan) && field.startsWith(`steps.${plan.id}.`));
}

function isDone({ total, left }: PlannedStep): boolean {
  return total > 0 && left === 0;
}

/** A wait that stands for hands which nobody has, or a run without its machine. */
function isInstead(phase: PlannedPhase): boolean {
  return phase.kind === 'wait' && phase.insteadOf !== undefined;
}

/** More sets than an entry of the log can name. */
function setsProblem({ setCount }: Quantities): Problem | null {
  if (setCount <= MOST_SETS) return null;
  return problem('too-large', 'sets.count', setCount, problemTexts.steps.tooManySets(setCount, MOST_SETS));
}

/** More lots than a plan can place, said of the step that has most of them; null where there are not. */
function oversizeProblem(steps: readonly PlannedStep[]): Problem | null {
  const sized = steps.map((plan) => ({ plan, lots: lotsOf(plan) })).sort((a, b) => b.lots - a.lots);
  const lots = sized.reduce((sum, one) => sum + one.lots, 0);
  const [largest] = sized;
  if (largest === undefined || lots <= MOST_LOTS) return null;
  const { plan } = largest;
  const message = problemTexts.steps.tooManyLots(plan.name, {
    left: plan.left,
    lotSize: plan.lotSize,
    lots: largest.lots,
    allLots: lots,
    most: MOST_LOTS,
  });
  return problem('too-large', `steps.${plan.id}.lotSize`, plan.lotSize, message);
}

function lotsOf(plan: PlannedStep): number {
  return plan.sets.reduce((sum, { left }) => sum + Math.ceil(left / Math.max(1, plan.lotSize)), 0);
}

/**
 * The steps at these paces: the phase that is timed (see `pacedPhase`) takes the pace in place of its estimate. A step
 * that is not in `paces` stays as it is. O(steps).
 */
export function withPaces(
  steps: readonly PlannedStep[],
  paces: ReadonlyMap<string, MeasuredPace>,
): readonly PlannedStep[] {
  if (paces.size === 0) return steps;
  return steps.map((plan) => {
    const pace = plan.step === null ? undefined : paces.get(plan.id);
    const timed = pacedPhase(plan);
    if (pace === undefined || timed === null) return plan;
    const { firstUnitMinutes, origin, learningRate = plan.learningRate } = pace;
    const measured = isPacedByLot(plan) ? { fixedMinutes: firstUnitMinutes } : { firstUnitMinutes };
    const phases = plan.phases.map((phase) => (phase === timed ? { ...timed, ...measured } : phase));
    return { ...plan, phases, origin, learningRate };
  });
}

/**
 * The steps with their machine runs, and their waits in the middle of work, as many times as long as `factors` says by
 * step. A wait after the last work stays as it is: its units are counted before it. O(steps).
 */
export function withRunFactors(
  steps: readonly PlannedStep[],
  factors: ReadonlyMap<string, number>,
): readonly PlannedStep[] {
  if (factors.size === 0) return steps;
  return steps.map((plan) => {
    const factor = factors.get(plan.id);
    if (factor === undefined) return plan;
    const own = new Set<PlannedPhase>(phasesByThemselves(plan));
    const phases = plan.phases.map((phase) => (own.has(phase) ? scaled(phase, factor) : phase));
    return { ...plan, phases };
  });
}

/** The phases from the one that is begun on that nobody's hands do, up to the last work. */
export function phasesByThemselves({ phases }: Pick<PlannedStep, 'phases'>): PassivePhase[] {
  const from = phaseBegun(phases, { kind: 'loaded' });
  const last = phases.findLastIndex((phase) => phase.kind !== 'wait');
  return phases.filter(
    (phase, i): phase is PassivePhase => from >= 0 && i >= from && (i <= last || last < 0) && isPassive(phase),
  );
}

function isPassive(phase: PlannedPhase): phase is PassivePhase {
  return phase.kind === 'run' || (phase.kind === 'wait' && !isInstead(phase));
}

function scaled(phase: PlannedPhase, factor: number): PlannedPhase {
  if (phase.kind !== 'run' && phase.kind !== 'wait') return phase;
  return { ...phase, fixedMinutes: phase.fixedMinutes * factor, minutesPerUnit: phase.minutesPerUnit * factor };
}

/**
 * The phase whose pace is counted: the first of hands with minutes a unit, else the longest of hands with minutes a
 * lot. Null where there is none, and where nothing but loading and unloading a machine is done by hand: its counts time
 * the machine.
 */
export function pacedPhase({ phases }: Pick<PlannedStep, 'phases'>): PlannedHands | null {
  const hands = phases.filter((phase) => phase.kind === 'hands');
  const byUnit = hands.find((phase) => phase.firstUnitMinutes > 0);
  if (byUnit !== undefined || phases.some(({ kind }) => kind === 'run')) return byUnit ?? null;
  const longest = hands.reduce((most, { fixedMinutes }) => Math.max(most, fixedMinutes), 0);
  return hands.find(({ fixedMinutes }) => fixedMinutes > 0 && fixedMinutes === longest) ?? null;
}

/** Whether what is timed of a step is its lots: no unit takes minutes of its own. */
export function isPacedByLot(plan: Pick<PlannedStep, 'phases'>): boolean {
  return pacedPhase(plan)?.firstUnitMinutes === 0;
}

interface Context extends PhaseContext {
  /** The parts there are, those that could not be counted too. */
  readonly parts: ReadonlySet<string>;
  readonly quantities: Quantities;
  readonly tally: Tally;
}

function impliedOrder(part: Part, build: Build, context: Context): Draft | null {
  if (part.source === 'make' || part.supplier === undefined) {
    if (part.source !== 'make' && !hasLead(part, build)) {
      context.problems.push(
        warning('late-order', `parts.${part.id}.supplier`, 'nothing', problemTexts.parts.noSupplier(part.name)),
      );
    }
    return null;
  }
  if (hasLead(part, build)) return null;
  const supplier = context.surroundings.suppliers.get(part.supplier);
  if (supplier === undefined) {
    context.problems.push(
      problem(
        'unknown-name',
        `parts.${part.id}.supplier`,
        part.supplier,
        problemTexts.parts.unknownSupplier(part.supplier),
      ),
    );
    return null;
  }
  const id = impliedOrderId(part);
  const hands: PhaseShape = { kind: 'hands', minutes: ORDER_HANDS_MINUTES };
  const step: Step = {
    id,
    name: `order ${part.name}`,
    part: part.id,
    phases: [hands, { kind: 'lead', supplier: part.supplier }],
  };
  return { ...draftOfStep({ ...step, lotSize: 1_000_000, origin: 'supplier' }, context), kind: 'order', step: null };
}

function draftOfStep(step: Step, context: Context): Draft {
  const { evaluator, problems } = context;
  const field = `steps.${step.id}`;
  // A part that is there and could not be counted has its own problem, which is the one to mend.
  if (step.part !== undefined && !context.parts.has(step.part)) {
    const message = problemTexts.steps.unknownPart(step.name, step.part);
    problems.push(problem('unknown-name', `${field}.part`, step.part, message));
  }
  const ownCount =
    step.part !== undefined
      ? null
      : step.count === undefined
        ? 1
        : (evaluator.count(step.count, `${field}.count`) ?? 0);
  const lotSize = step.lotSize === undefined ? null : evaluator.count(step.lotSize, `${field}.lotSize`, 1);
  const phases = plannedPhases(step, context);
  const lead = phases.some((phase) => phase.kind === 'lead');
  return {
    id: step.id,
    name: step.name,
    kind: lead ? 'order' : 'step',
    part: step.part ?? null,
    step,
    gate: null,
    perSet: step.perSet ?? false,
    counted: step.part !== undefined || step.count !== undefined,
    ownCount,
    lotSize: lotSize ?? assumedLotSize(phases, step.setupEach === 'lot'),
    isLotAssumed: step.lotSize === undefined && !lead,
    stations: step.stations ?? null,
    setupMinutes: step.setup === undefined ? 0 : (evaluator.span(step.setup, `${field}.setup`) ?? 0),
    setupEachLot: step.setupEach === 'lot',
    learningRate: step.learning ?? 1,
    phases,
    onSite: step.onSite ?? false,
    notBefore: step.notBefore ?? null,
    due: dueOf(step, context),
    pinnedPeople: pinnedPeople(step, phases, context),
    pins: plannedPins(step, phases, context.surroundings, context.problems),
    hazards: step.hazards ?? [],
    origin: step.origin ?? originOf(phases),
    tally: context.tally.steps.get(step.id) ?? emptyStep(),
  };
}

/**
 * The most units, the most minutes of hands, and the most lots of one step, where nobody has sized its lots (common
 * practice, no source).
 */
const ASSUMED_LOT = { units: 12, minutes: 60, lots: 100 };

/**
 * Units in a lot that nobody has sized: a dozen, or as many as hands do in about an hour where that is fewer, so that
 * what follows need not wait for a day's work. A machine's plate, a lot that is set up again and one with minutes of
 * its own are a dozen; an order is one lot. Example: 5 boughs at 150 minutes each are five lots, hooks at 3 minutes are
 * lots of twelve.
 */
function assumedLotSize(phases: readonly PlannedPhase[], setupEachLot: boolean): number {
  if (phases.some(({ kind }) => kind === 'lead')) return 1_000_000;
  const minutes = phases.reduce((sum, phase) => sum + (phase.kind === 'hands' ? phase.firstUnitMinutes : 0), 0);
  if (setupEachLot || minutes <= 0 || phases.some(({ kind }) => kind === 'run')) return ASSUMED_LOT.units;
  return Math.min(ASSUMED_LOT.units, Math.max(1, Math.floor(ASSUMED_LOT.minutes / minutes)));
}

/** The earlier of the step's own due instant and that of its part; one that cannot be read is none. */
function dueOf(step: Step, { quantities, surroundings, problems }: Context): Instant | null {
  const { id, name, part } = step;
  const ofPart = part === undefined ? undefined : quantities.parts.get(part)?.part.due;
  const read = [
    ...(step.due === undefined ? [] : [accept(readWall(step.due, surroundings.zone), `steps.${id}.due`, problems)]),
    ...(ofPart === undefined ? [] : [accept(readWall(ofPart, surroundings.zone), `parts.${part}.due`, problems)]),
  ].filter((it) => it !== null);
  const due = read.length === 0 ? null : Math.min(...read);
  if (due !== null && due > surroundings.event) {
    const field = ofPart === undefined ? `steps.${id}.due` : `parts.${part}.due`;
    problems.push(warning('order-of-dates', field, ofPart ?? step.due, problemTexts.dates.dueAfter(name)));
  }
  return due;
}

/** Assumed lots are no smaller than a step of many units needs to be planned in a hundred of them. */
function withFewerLots(plan: PlannedStep): PlannedStep {
  if (!plan.isLotAssumed) return plan;
  const least = Math.min(ASSUMED_LOT.units, Math.ceil(plan.total / ASSUMED_LOT.lots));
  return least <= plan.lotSize ? plan : { ...plan, lotSize: least };
}

function originOf(phases: readonly PlannedPhase[]): Origin {
  return phases.some((phase) => phase.kind !== 'lead' && phase.estimate?.kind === 'trial') ? 'trial' : 'guessed';
}

function pinnedPeople(
  step: Step,
  phases: readonly PlannedPhase[],
  { surroundings, problems }: Context,
): number[] | null {
  const pinned = (step.pinnedTo ?? []).flatMap((id) => {
    const found = pinnedPerson(step, id, `steps.${step.id}.pinnedTo`, phases, surroundings);
    if (typeof found === 'number') return [found];
    problems.push(found);
    return [];
  });
  return pinned.length > 0 ? pinned : null;
}

/** A check of what is done on site is made there. O(gates) for each that it comes after. */
function isOnSite(gate: Gate, build: Build, seen: readonly string[] = []): boolean {
  if (gate.onSite !== undefined) return gate.onSite;
  return gate.after.some((id) => {
    if (seen.includes(id)) return false;
    const other = build.gates?.find((one) => one.id === id);
    if (other !== undefined) return isOnSite(other, build, [...seen, gate.id]);
    return build.steps.some((step) => step.id === id && step.onSite === true);
  });
}

function draftOfGate(gate: Gate, onSite: boolean, context: Context): Draft {
  const hands: PhaseShape = {
    kind: 'hands',
    minutes: gate.minutes,
    people: gate.people ?? 1,
    ...(gate.who ? { who: gate.who } : {}),
  };
  const step: Step = { id: gate.id, name: gate.name, perSet: gate.perSet ?? false, phases: [hands], onSite };
  const draft = draftOfStep(step, { ...context, problems: context.problems });
  return { ...draft, kind: 'gate', step: null, gate, counted: false, hazards: gate.hazards ?? [] };
}
