/** The work pattern of a step in minutes: its phases with the hands, machines and suppliers they need. */
import type { Estimate, Origin, PhaseShape, Problem, Range, Step } from '../../model/index.ts';
import { problem, problemTexts } from '../../model/index.ts';
import type { Evaluator } from '../01-quantities/index.ts';
import {
  intersectionOf,
  openMinutesBetween,
  plannedLead,
  type Surroundings,
  totalOpenMinutes,
} from '../calendar/index.ts';
import { firstUnitMinutesFromLot } from '../numbers/index.ts';
import type { Calendar } from '../types.ts';

/** What minutes a unit rest on, as the build gives them: a number or formula, units timed together, or a range. */
type UnitEstimate =
  | { readonly kind: 'figure' }
  | { readonly kind: 'trial'; readonly units: number }
  | { readonly kind: 'range'; readonly range: Range };

export interface PlannedHands {
  readonly kind: 'hands';
  readonly fixedMinutes: number;
  /**
   * The very first unit's of the step; the step's learning rate makes those after it faster. 0 where a unit takes
   * nothing of its own.
   */
  readonly firstUnitMinutes: number;
  /** null where a unit takes nothing of its own. */
  readonly estimate: UnitEstimate | null;
  readonly people: number;
  readonly eligible: readonly number[];
  readonly oneGo: boolean;
  readonly open: Calendar;
}

export interface PlannedRun {
  readonly kind: 'run';
  readonly fixedMinutes: number;
  /** Every unit's: a machine learns nothing. */
  readonly minutesPerUnit: number;
  readonly estimate: UnitEstimate | null;
  readonly machine: number;
  readonly attended: boolean;
  readonly people: number;
  readonly eligible: readonly number[];
  readonly open: Calendar;
}

export interface PlannedWait {
  readonly kind: 'wait';
  readonly fixedMinutes: number;
  /** Those of a phase that nobody can do are planned as a wait; those of hands are the first unit's. */
  readonly minutesPerUnit: number;
  readonly estimate: UnitEstimate | null;
  /** What it would be if anybody or anything could do it: it takes as long, with its setup and its learning. */
  readonly insteadOf?: 'hands' | 'run';
}

export interface PlannedLead {
  readonly kind: 'lead';
  readonly supplier: string;
  readonly workingDays: number;
}

export type PlannedPhase = PlannedHands | PlannedRun | PlannedWait | PlannedLead;

/**
 * A step's pace in place of its estimate, from counting or as somebody gives it: hands minutes of the first unit, or of
 * each lot where no unit has its own.
 */
export interface MeasuredPace {
  readonly firstUnitMinutes: number;
  readonly origin: Origin;
  /** Left out: as the step has it. */
  readonly learningRate?: number;
  /** How sure it is, as the shape of a gamma belief (see `Pace`); left out: as sure as counts and estimate make it. */
  readonly shape?: number;
}

/** What the phases of a step are read against; what is wrong with them is added to `problems`. */
export interface PhaseContext {
  readonly surroundings: Surroundings;
  readonly problems: Problem[];
  readonly evaluator: Evaluator;
  /** Whether the step is done: then it has been done by whoever was there, whoever is there from now on. */
  readonly isDone?: boolean;
}

/** The phases of a step in their order, by its estimates. A phase that nobody can do becomes a wait, with a problem. */
export function plannedPhases(step: Step, context: PhaseContext): PlannedPhase[] {
  const { evaluator, problems } = context;
  const field = `steps.${step.id}`;
  if (step.takes !== undefined) {
    const minutes = evaluator.span(step.takes, `${field}.takes`) ?? 0;
    if (step.phases === undefined) return [waitOf(minutes)];
    problems.push(problem('conflict', `${field}.takes`, step.takes, problemTexts.steps.takesAndPhases(field)));
  }
  return (step.phases ?? []).map((shape, i) => plannedPhase(step, shape, `${field}.phases.${i + 1}`, context));
}

function waitOf(minutes: number): PlannedWait {
  return { kind: 'wait', fixedMinutes: minutes, minutesPerUnit: 0, estimate: null };
}

function plannedPhase(step: Step, shape: PhaseShape, field: string, context: PhaseContext): PlannedPhase {
  const { evaluator, surroundings, problems } = context;
  if (shape.kind === 'lead') {
    const supplier = surroundings.suppliers.get(shape.supplier);
    if (supplier === undefined) {
      problems.push(
        problem(
          'unknown-name',
          `${field}.supplier`,
          shape.supplier,
          problemTexts.parts.unknownSupplier(shape.supplier),
        ),
      );
      return waitOf(0);
    }
    const own = shape.days === undefined ? supplier.leadDays : plannedLead(supplier, shape.days);
    return { kind: 'lead', supplier: shape.supplier, workingDays: shape.express ? (supplier.expressDays ?? own) : own };
  }
  const fixedMinutes = shape.minutes === undefined ? 0 : (evaluator.span(shape.minutes, `${field}.minutes`) ?? 0);
  if (shape.kind === 'wait') return waitOf(fixedMinutes);
  const minutesPerUnit = shape.perUnit === undefined ? 0 : (evaluator.estimate(shape.perUnit, `${field}.perUnit`) ?? 0);
  const estimate = shape.perUnit === undefined ? null : estimateOf(shape.perUnit);
  const first = shape.kind === 'hands' ? firstOf(minutesPerUnit, estimate, step) : minutesPerUnit;
  const asWait: PlannedWait = { kind: 'wait', fixedMinutes, minutesPerUnit: first, estimate, insteadOf: shape.kind };
  if (shape.kind === 'hands') {
    if (isNobody(step, shape)) return waitOf(0);
    const crew = crewOf(step, shape, field, context);
    if (crew === null) return asWait;
    return { kind: 'hands', fixedMinutes, firstUnitMinutes: first, estimate, oneGo: shape.oneGo ?? false, ...crew };
  }
  const machine = surroundings.machines.get(shape.machine);
  if (machine === undefined) {
    problems.push(
      problem('unknown-name', `${field}.machine`, shape.machine, problemTexts.steps.unknownMachine(shape.machine)),
    );
    return asWait;
  }
  if (totalOpenMinutes(machine.open) === 0) return asWait;
  const run = { kind: 'run' as const, fixedMinutes, minutesPerUnit, estimate, machine: machine.resource };
  if (!(shape.attended ?? false) && machine.unattended)
    return { ...run, attended: false, people: 0, eligible: [], open: machine.open };
  const crew = crewOf(step, shape, field, context);
  if (crew === null) return { ...run, attended: false, people: 0, eligible: [], open: machine.open };
  return { ...run, attended: true, ...crew, open: intersectionOf([machine.open, crew.open]) };
}

/** Hands of no minutes beside a run: nobody loads or unloads it, on purpose. */
function isNobody({ phases = [] }: Step, { minutes, perUnit }: Extract<PhaseShape, { kind: 'hands' }>): boolean {
  return minutes === 0 && perUnit === undefined && phases.some(({ kind }) => kind === 'run');
}

function estimateOf(given: Estimate): UnitEstimate {
  if (typeof given !== 'object') return { kind: 'figure' };
  return 'units' in given ? { kind: 'trial', units: given.units } : { kind: 'range', range: given };
}

/**
 * A trial timed the first units together: with a learning rate the very first of them took longer than their average.
 */
function firstOf(minutes: number, estimate: UnitEstimate | null, { learning }: Step): number {
  if (estimate?.kind !== 'trial' || learning === undefined || learning >= 1 || minutes <= 0) return minutes;
  const units = Math.max(1, Math.round(estimate.units));
  return firstUnitMinutesFromLot(1, units, minutes * units, learning);
}

interface Crew {
  readonly people: number;
  readonly eligible: readonly number[];
  readonly open: Calendar;
}

/** Who may do it, and when enough of them are there together; null (with a problem) when that is never. */
function crewOf(
  step: Step,
  shape: { people?: number; who?: readonly string[] },
  field: string,
  { surroundings, problems, isDone }: PhaseContext,
): Crew | null {
  const people = shape.people ?? 1;
  for (const id of shape.who ?? []) {
    if (!surroundings.people.has(id))
      problems.push(problem('unknown-name', `${field}.who`, id, problemTexts.steps.unknownPerson(id)));
  }
  const able = [...surroundings.people.values()].filter(
    (person) =>
      (shape.who === undefined || shape.who.includes(person.id)) &&
      (person.can === null || person.can.has(step.id) || (step.skill !== undefined && person.can.has(step.skill))) &&
      totalOpenMinutes(person.open) > 0,
  );
  const open = surroundings.together(
    people,
    able.map((person) => person.resource),
  );
  const from = isDone === true ? surroundings.horizonStart : surroundings.from;
  if (able.length >= people && openMinutesBetween(open, from, surroundings.horizonEnd) > 0) {
    return { people, eligible: able.map((person) => person.resource), open };
  }
  const names = able.map((person) => person.name);
  problems.push(
    problem('nobody', field, shape.who ?? step.skill ?? step.id, problemTexts.steps.nobody(step.name, people, names)),
  );
  return null;
}
