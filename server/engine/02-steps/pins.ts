/** Lots that the maker fixed to a time or to people: what a step's pins come to, and what is wrong with them. */
import type { Pin, Problem, Step } from '../../model/index.ts';
import { problem, problemTexts, type Sentence, warning } from '../../model/index.ts';
import { accept, readWall, type Surroundings, totalOpenMinutes } from '../calendar/index.ts';
import type { PinnedUnits, PlannedPin, PlannedSet } from './step.ts';
import type { PlannedPhase } from './step-phases.ts';

/** The pins of a step; what is wrong with one is a problem, and that pin is left out. */
export function plannedPins(
  step: Step,
  phases: readonly PlannedPhase[],
  surroundings: Surroundings,
  problems: Problem[],
): PlannedPin[] {
  const planned: PlannedPin[] = [];
  for (const [i, pin] of (step.pins ?? []).entries()) {
    const field = `steps.${step.id}.pins.${i + 1}`;
    const found = plannedPin(step, pin, field, phases, surroundings, problems);
    if (found === null) continue;
    const other = planned.find((one) => overlap(one, found));
    if (other === undefined) planned.push(found);
    else
      problems.push(problem('conflict', field, unitsText(found), problemTexts.pins.twice(step.name, unitsText(found))));
  }
  return planned;
}

/**
 * Pins whose set or units are not there once all is counted: they pin nothing, or, as a warning, no more than there
 * are.
 */
export function pinProblems(name: string, pins: readonly PlannedPin[], sets: readonly PlannedSet[]): Problem[] {
  const perSet = sets.some(({ set }) => set !== null);
  const total = sets.reduce((sum, set) => sum + set.total, 0);
  return pins.flatMap(({ field, set, firstUnit, lastUnit }): Problem[] => {
    const own = set === null ? null : sets.find((one) => one.set === set);
    if (set !== null && own == null) {
      const message = perSet ? problemTexts.pins.noSet(name, sets.length, set) : problemTexts.pins.notBySet(name);
      return [problem('unknown-name', `${field}.set`, set, message)];
    }
    const units = own?.total ?? total;
    const there = { step: name, units, set };
    if (lastUnit < ALL_UNITS && firstUnit <= units && units < lastUnit) {
      const cut = problemTexts.pins.endsLate(there, unitsText({ firstUnit, lastUnit }));
      return [warning('pin', `${field}.to`, lastUnit, cut)];
    }
    if (firstUnit <= units || units === 0) return [];
    const message = problemTexts.pins.beginsLate(there, firstUnit);
    return [problem('unknown-name', `${field}.from`, firstUnit, message)];
  });
}

/** The pins that lie on a set's units. */
export function pinsOf(pins: readonly PlannedPin[], { set, offset, total }: PlannedSet): PinnedUnits[] {
  return pins.flatMap((pin) => {
    if (pin.set !== null && pin.set !== set) return [];
    const before = pin.set === null ? 0 : offset;
    const from = Math.max(offset + 1, before + pin.firstUnit);
    const to = Math.min(offset + total, before + pin.lastUnit);
    return from <= to ? [{ ...pin, from, to }] : [];
  });
}

/** `unit 3`, `units 13 to 24`, `all units`. */
function unitsText({ firstUnit, lastUnit }: Pick<PlannedPin, 'firstUnit' | 'lastUnit'>): Sentence {
  return problemTexts.pins.units(firstUnit, lastUnit >= ALL_UNITS ? null : lastUnit);
}

/** More units than any step has. */
const ALL_UNITS = 1_000_000_000;

function plannedPin(
  step: Step,
  pin: Pin,
  field: string,
  phases: readonly PlannedPhase[],
  surroundings: Surroundings,
  problems: Problem[],
): PlannedPin | null {
  const [firstUnit, lastUnit] = [pin.from ?? 1, pin.to ?? ALL_UNITS];
  if (firstUnit > lastUnit) {
    const message = problemTexts.pins.turned(step.name, lastUnit, firstUnit);
    problems.push(problem('range', `${field}.to`, lastUnit, message));
    return null;
  }
  if (pin.start === undefined && pin.people === undefined) {
    const message = problemTexts.pins.empty(step.name);
    problems.push(problem('shape', `${field}.start`, 'nothing', message));
    return null;
  }
  const people = (pin.people ?? []).flatMap((id) => {
    const found = pinnedPerson(step, id, `${field}.people`, phases, surroundings);
    if (typeof found === 'number') return [found];
    problems.push(found);
    return [];
  });
  const start =
    pin.start === undefined ? null : accept(readWall(pin.start, surroundings.zone), `${field}.start`, problems);
  if (start === null && people.length === 0) return null;
  return { field, set: pin.set ?? null, firstUnit, lastUnit, start, people: people.length === 0 ? null : people };
}

/**
 * Somebody to whom work of a step is pinned; what is wrong where they are nobody, never there, or may do nothing of it.
 */
export function pinnedPerson(
  step: Step,
  id: string,
  field: string,
  phases: readonly PlannedPhase[],
  surroundings: Surroundings,
): number | Problem {
  const person = surroundings.people.get(id);
  if (person === undefined) return problem('unknown-name', field, id, problemTexts.steps.unknownPerson(id));
  if (totalOpenMinutes(person.open) === 0) {
    const message = problemTexts.pins.noHours(person.name, step.name);
    return problem('no-hours', field, id, message);
  }
  const crews = phases.flatMap((phase) => ('eligible' in phase && phase.eligible.length > 0 ? [phase.eligible] : []));
  if (crews.length === 0 || crews.some((eligible) => eligible.includes(person.resource))) return person.resource;
  const message = problemTexts.pins.mayNot(person.name, step.name);
  return problem('conflict', field, id, message);
}

function overlap(a: PlannedPin, b: PlannedPin): boolean {
  // A pin over all units may meet one within a set where the sets lie; then the first that is given holds.
  return a.set === b.set && a.firstUnit <= b.lastUnit && b.firstUnit <= a.lastUnit;
}
