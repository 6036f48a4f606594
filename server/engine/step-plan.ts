/** What each step of a build comes to: its units by set, what of them is left after the log, and its work pattern in minutes. */
import type { Build, Estimate, Gate, Hazard, Origin, Part, PhaseShape, Problem, Step } from '../model/index.ts';
import { problem, warning } from '../model/index.ts';
import type { Reckoner } from './amounts.ts';
import { lotMinutes } from './learning.ts';
import { emptyStep, type OpenStart, type StepTally, type Tally } from './log-tally.ts';
import { intersectionOf, openMinutesBetween, totalOpenMinutes } from './open-time.ts';
import type { Quantities } from './quantities.ts';
import { leadDaysOf, type Setting } from './setting.ts';
import type { Minutes, OpenTime, Phase } from './types.ts';
import { countUnits } from './unit-counts.ts';

export interface PlannedHands {
  readonly kind: 'hands';
  readonly fixedMinutes: number;
  readonly minutesPerUnit: number;
  readonly people: number;
  readonly eligible: readonly number[];
  readonly oneGo: boolean;
  readonly open: OpenTime;
}

export interface PlannedRun {
  readonly kind: 'run';
  readonly fixedMinutes: number;
  readonly minutesPerUnit: number;
  readonly machine: number;
  readonly attended: boolean;
  readonly people: number;
  readonly eligible: readonly number[];
  readonly open: OpenTime;
}

export interface PlannedWait {
  readonly kind: 'wait';
  readonly fixedMinutes: number;
  readonly minutesPerUnit: number;
}

export interface PlannedLead {
  readonly kind: 'lead';
  readonly supplier: string;
  readonly workingDays: number;
}

export type PlannedPhase = PlannedHands | PlannedRun | PlannedWait | PlannedLead;

/** The units of a step in one set (or in the whole). */
export interface SetPlan {
  readonly set: number | null;
  /** Absolute number of the unit before its first. */
  readonly offset: number;
  readonly total: number;
  /** Good units that have passed and still count; never more than `total`. */
  readonly net: number;
  readonly left: number;
  readonly done: number;
  readonly scrapped: number;
  readonly starts: readonly OpenStart[];
}

export interface StepPlan {
  readonly id: string;
  readonly name: string;
  readonly kind: 'step' | 'order' | 'gate';
  readonly part: string | null;
  readonly step: Step | null;
  readonly gate: Gate | null;
  readonly perSet: boolean;
  /** Whether its units are counted, as opposed to a single job. */
  readonly counted: boolean;
  readonly sets: readonly SetPlan[];
  readonly total: number;
  readonly left: number;
  readonly lotSize: number;
  readonly stations: number | null;
  readonly setupMinutes: Minutes;
  readonly setupEachLot: boolean;
  readonly learningRate: number;
  readonly phases: readonly PlannedPhase[];
  readonly onSite: boolean;
  readonly notBefore: string | null;
  readonly pinnedPeople: readonly number[] | null;
  readonly hazards: readonly Hazard[];
  readonly origin: Origin | null;
  readonly tally: StepTally;
}

export interface StepPlans {
  readonly steps: readonly StepPlan[];
  readonly problems: readonly Problem[];
}

/** What counting says of a step's pace, in place of the estimate: hands minutes of the first unit. */
export interface MeasuredPace {
  readonly firstUnitMinutes: number;
  readonly origin: Origin;
}

const ORDER_HANDS_MINUTES = 15;

/** Resolves every step, gate and implied order of a build, in the maker's order (the order of the route). */
export function stepPlansOf(
  build: Build,
  setting: Setting,
  quantities: Quantities,
  tally: Tally,
  paces: ReadonlyMap<string, MeasuredPace> = new Map(),
): StepPlans {
  const problems: Problem[] = [];
  const context: Context = {
    setting,
    quantities,
    tally,
    paces,
    problems,
    reckoner: quantities.reckoner,
    setName: build.sets?.name ?? 'set',
  };
  const before = quantities.reckoner.problems.length;
  const drafts: Draft[] = [];
  for (const part of build.parts ?? []) {
    const order = impliedOrder(part, build, context);
    if (order !== null) drafts.push(order);
  }
  const seen = new Set<string>(drafts.map((draft) => draft.id));
  for (const step of build.steps) {
    if (seen.has(step.id)) {
      problems.push(
        problem(
          'duplicate-id',
          `steps.${step.id}`,
          step.id,
          `"${step.id}" stands among the steps twice; each needs an id of its own.`,
        ),
      );
      continue;
    }
    seen.add(step.id);
    drafts.push(draftOfStep(step, context));
  }
  for (const gate of build.gates ?? []) {
    if (seen.has(gate.id)) {
      problems.push(
        problem(
          'duplicate-id',
          `gates.${gate.id}`,
          gate.id,
          `"${gate.id}" is the name of a step or of another gate; each needs an id of its own.`,
        ),
      );
      continue;
    }
    seen.add(gate.id);
    drafts.push(draftOfGate(gate, context));
  }
  const steps = countUnits(drafts, quantities);
  problems.push(...quantities.reckoner.problems.slice(before));
  for (const id of tally.steps.keys()) {
    if (!seen.has(id))
      problems.push(
        warning(
          'log',
          `log.${id}`,
          id,
          `The log counts units of "${id}", which is no step of this build any more; they are kept but not used.`,
        ),
      );
  }
  return { steps, problems };
}

/** The phases of a lot of units first..last (absolute numbers); `firstOfStep` adds the setup that is made once. */
export function phasesOfLot(
  plan: StepPlan,
  first: number,
  last: number,
  firstOfStep: boolean,
  setting: Setting,
): Phase[] {
  const phases: Phase[] = [];
  let setup = plan.setupEachLot || firstOfStep ? plan.setupMinutes : 0;
  const hasHands = plan.phases.some((phase) => phase.kind === 'hands');
  for (const phase of plan.phases) {
    if (phase.kind === 'lead') {
      const supplier = setting.suppliers.get(phase.supplier)!;
      phases.push({ kind: 'lead', workingDays: phase.workingDays, arrivals: supplier.arrivals(phase.workingDays) });
      continue;
    }
    const takesSetup = setup > 0 && (phase.kind === 'hands' || (!hasHands && phase.kind === 'run'));
    const minutes = phaseMinutes(phase, plan, first, last) + (takesSetup ? setup : 0);
    if (takesSetup) setup = 0;
    if (minutes > 0) phases.push(sized(phase, minutes));
  }
  return phases;
}

/** Minutes of one phase for units first..last: the fixed part and the units', rounded so that lots add up to the whole. */
export function phaseMinutes(
  phase: Exclude<PlannedPhase, PlannedLead>,
  plan: StepPlan,
  first: number,
  last: number,
): Minutes {
  const rate = phase.kind === 'hands' ? plan.learningRate : 1;
  const upTo = (unit: number): number => (unit < 1 ? 0 : Math.round(lotMinutes(phase.minutesPerUnit, rate, 1, unit)));
  const units = phase.minutesPerUnit === 0 ? 0 : upTo(last) - upTo(first - 1);
  return Math.round(phase.fixedMinutes) + units;
}

function sized(phase: Exclude<PlannedPhase, PlannedLead>, minutes: Minutes): Phase {
  if (phase.kind === 'wait') return { kind: 'wait', minutes };
  const { people, eligible, open } = phase;
  if (phase.kind === 'hands') return { kind: 'hands', minutes, people, eligible, oneGo: phase.oneGo, open };
  return { kind: 'run', minutes, machine: phase.machine, attended: phase.attended, people, eligible, open };
}

interface Context {
  readonly setting: Setting;
  readonly quantities: Quantities;
  readonly tally: Tally;
  readonly paces: ReadonlyMap<string, MeasuredPace>;
  readonly problems: Problem[];
  readonly reckoner: Reckoner;
  readonly setName: string;
}

export type Counted = Omit<StepPlan, 'sets' | 'total' | 'left'>;

export type Draft = Counted & {
  /** Units in each set (or in the whole) for what has a count of its own; null for the units of its part. */
  readonly ownCount: number | null;
};

function impliedOrder(part: Part, build: Build, context: Context): Draft | null {
  if (part.source === 'make' || part.supplier === undefined) {
    if (part.source !== 'make' && !hasLead(part, build)) {
      context.problems.push(
        warning(
          'late-order',
          `parts.${part.id}.supplier`,
          'nothing',
          `${part.name} comes from outside, but no supplier is named: it is taken to be here already. Name a supplier, or a step with a lead time.`,
        ),
      );
    }
    return null;
  }
  if (hasLead(part, build)) return null;
  const supplier = context.setting.suppliers.get(part.supplier);
  if (supplier === undefined) {
    context.problems.push(
      problem(
        'unknown-name',
        `parts.${part.id}.supplier`,
        part.supplier,
        `"${part.supplier}" is no supplier of this build; name one of its suppliers.`,
      ),
    );
    return null;
  }
  const id = `order-${part.id}`.slice(0, 60);
  const hands: PhaseShape = { kind: 'hands', minutes: ORDER_HANDS_MINUTES };
  const step: Step = {
    id,
    name: `order ${part.name}`,
    part: part.id,
    phases: [hands, { kind: 'lead', supplier: part.supplier }],
  };
  return { ...draftOfStep({ ...step, lotSize: 1_000_000, origin: 'supplier' }, context), kind: 'order', step: null };
}

function hasLead(part: Part, build: Build): boolean {
  return build.steps.some((step) => step.part === part.id && step.phases?.some((phase) => phase.kind === 'lead'));
}

function draftOfStep(step: Step, context: Context): Draft {
  const { reckoner, problems } = context;
  const field = `steps.${step.id}`;
  if (step.part !== undefined && !context.quantities.parts.has(step.part)) {
    problems.push(
      problem(
        'unknown-name',
        `${field}.part`,
        step.part,
        `"${step.part}" is no part that can be counted; name a part of this build, or leave it out for a single job.`,
      ),
    );
  }
  const ownCount =
    step.part !== undefined ? null : step.count === undefined ? 1 : (reckoner.count(step.count, `${field}.count`) ?? 0);
  const lotSize = step.lotSize === undefined ? null : reckoner.count(step.lotSize, `${field}.lotSize`, 1);
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
    lotSize: lotSize ?? (lead ? 1_000_000 : DEFAULT_LOT_SIZE),
    stations: step.stations ?? null,
    setupMinutes: step.setup === undefined ? 0 : (reckoner.span(step.setup, `${field}.setup`) ?? 0),
    setupEachLot: step.setupEach === 'lot',
    learningRate: step.learning ?? 1,
    phases,
    onSite: step.onSite ?? false,
    notBefore: step.notBefore ?? null,
    pinnedPeople: pinnedPeople(step, context),
    hazards: step.hazards ?? [],
    origin: context.paces.get(step.id)?.origin ?? step.origin ?? originOf(step),
    tally: context.tally.steps.get(step.id) ?? emptyStep(),
  };
}

/** A lot nobody has sized: as much as is usual to do in one go without making the schedule coarse (common practice, no source). */
const DEFAULT_LOT_SIZE = 12;

function originOf(step: Step): Origin {
  const estimates = (step.phases ?? []).flatMap((phase) =>
    'perUnit' in phase && phase.perUnit !== undefined ? [phase.perUnit] : [],
  );
  return estimates.some((estimate: Estimate) => typeof estimate === 'object' && 'units' in estimate)
    ? 'trial'
    : 'guessed';
}

function pinnedPeople(step: Step, { setting, problems }: Context): number[] | null {
  if (step.pinnedTo === undefined) return null;
  const pinned: number[] = [];
  for (const id of step.pinnedTo) {
    const person = setting.people.get(id);
    if (person !== undefined) pinned.push(person.resource);
    else
      problems.push(
        problem(
          'unknown-name',
          `steps.${step.id}.pinnedTo`,
          id,
          `"${id}" is nobody of this build; name one of its people.`,
        ),
      );
  }
  return pinned.length > 0 ? pinned : null;
}

function draftOfGate(gate: Gate, context: Context): Draft {
  const hands: PhaseShape = {
    kind: 'hands',
    minutes: gate.minutes,
    people: gate.people ?? 1,
    ...(gate.who ? { who: gate.who } : {}),
  };
  const step: Step = { id: gate.id, name: gate.name, perSet: gate.perSet ?? false, phases: [hands] };
  const draft = draftOfStep(step, { ...context, problems: context.problems });
  return { ...draft, kind: 'gate', step: null, gate, counted: false };
}

function plannedPhases(step: Step, context: Context): PlannedPhase[] {
  const { reckoner, problems } = context;
  const field = `steps.${step.id}`;
  if (step.takes !== undefined) {
    const minutes = reckoner.span(step.takes, `${field}.takes`) ?? 0;
    if (step.phases === undefined) return [{ kind: 'wait', fixedMinutes: minutes, minutesPerUnit: 0 }];
    problems.push(
      problem(
        'conflict',
        `${field}.takes`,
        step.takes,
        `"${field}" has both "takes" and "phases"; "takes" is the short form of one wait, so keep one of the two.`,
      ),
    );
  }
  let pace = context.paces.get(step.id);
  return (step.phases ?? []).map((shape, i) => {
    const planned = plannedPhase(step, shape, `${field}.phases.${i + 1}`, pace, context);
    if (shape.kind === 'hands' && shape.perUnit !== undefined) pace = undefined;
    return planned;
  });
}

function plannedPhase(
  step: Step,
  shape: PhaseShape,
  field: string,
  pace: MeasuredPace | undefined,
  context: Context,
): PlannedPhase {
  const { reckoner, setting, problems } = context;
  if (shape.kind === 'lead') {
    const supplier = setting.suppliers.get(shape.supplier);
    if (supplier === undefined) {
      problems.push(
        problem(
          'unknown-name',
          `${field}.supplier`,
          shape.supplier,
          `"${shape.supplier}" is no supplier of this build; name one of its suppliers.`,
        ),
      );
      return { kind: 'wait', fixedMinutes: 0, minutesPerUnit: 0 };
    }
    const own = shape.days === undefined ? supplier.leadDays : leadDaysOf(shape.days);
    return { kind: 'lead', supplier: shape.supplier, workingDays: shape.express ? (supplier.expressDays ?? own) : own };
  }
  const fixedMinutes = shape.minutes === undefined ? 0 : (reckoner.span(shape.minutes, `${field}.minutes`) ?? 0);
  if (shape.kind === 'wait') return { kind: 'wait', fixedMinutes, minutesPerUnit: 0 };
  const given = shape.perUnit === undefined ? 0 : (reckoner.estimate(shape.perUnit, `${field}.perUnit`) ?? 0);
  const measured = shape.kind === 'hands' && shape.perUnit !== undefined && pace !== undefined;
  const minutesPerUnit = measured ? pace!.firstUnitMinutes : given;
  const asWait: PlannedWait = { kind: 'wait', fixedMinutes, minutesPerUnit };
  if (shape.kind === 'hands') {
    const crew = crewOf(step, shape, field, context);
    return crew === null
      ? asWait
      : { kind: 'hands', fixedMinutes, minutesPerUnit, oneGo: shape.oneGo ?? false, ...crew };
  }
  const machine = setting.machines.get(shape.machine);
  if (machine === undefined) {
    problems.push(
      problem(
        'unknown-name',
        `${field}.machine`,
        shape.machine,
        `"${shape.machine}" is no machine of this build; name one of its machines.`,
      ),
    );
    return asWait;
  }
  if (totalOpenMinutes(machine.open) === 0) return asWait;
  const run = { kind: 'run' as const, fixedMinutes, minutesPerUnit, machine: machine.resource };
  if (!(shape.attended ?? false) && machine.unattended)
    return { ...run, attended: false, people: 0, eligible: [], open: machine.open };
  const crew = crewOf(step, shape, field, context);
  if (crew === null) return { ...run, attended: false, people: 0, eligible: [], open: machine.open };
  return { ...run, attended: true, ...crew, open: intersectionOf([machine.open, crew.open]) };
}

interface Crew {
  readonly people: number;
  readonly eligible: readonly number[];
  readonly open: OpenTime;
}

/** Who may do it, and when enough of them are there together; null (with a problem) when that is never. */
function crewOf(
  step: Step,
  shape: { people?: number; who?: readonly string[] },
  field: string,
  { setting, problems }: Context,
): Crew | null {
  const people = shape.people ?? 1;
  for (const id of shape.who ?? []) {
    if (!setting.people.has(id))
      problems.push(
        problem('unknown-name', `${field}.who`, id, `"${id}" is nobody of this build; name one of its people.`),
      );
  }
  const able = [...setting.people.values()].filter(
    (person) =>
      (shape.who === undefined || shape.who.includes(person.id)) &&
      (person.can === null || person.can.has(step.id) || (step.skill !== undefined && person.can.has(step.skill))) &&
      totalOpenMinutes(person.open) > 0,
  );
  const open = setting.together(
    people,
    able.map((person) => person.resource),
  );
  if (able.length >= people && openMinutesBetween(open, setting.from, setting.horizonEnd) > 0) {
    return { people, eligible: able.map((person) => person.resource), open };
  }
  const needs = people === 1 ? 'somebody' : `${people} people together`;
  const found =
    able.length === 0
      ? 'nobody here may do it'
      : `only ${able.map((person) => person.name).join(', ')} may, never ${people} at once`;
  problems.push(
    problem(
      'nobody',
      field,
      shape.who ?? step.skill ?? step.id,
      `"${step.name}" needs ${needs}, but ${found}. Add people, hours or leave; until then it is planned as if it needed nobody.`,
    ),
  );
  return null;
}
