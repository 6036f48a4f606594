/** Lots that the maker fixed to a time or to people: what a step's pins come to, and what is wrong with them. */
import type { Pin, Problem, Step } from '../../model/index.ts';
import { problem, warning } from '../../model/index.ts';
import { accept, readWall, type Setting, totalOpenMinutes } from '../calendar/index.ts';
import type { PinnedUnits, PlannedPin, SetPlan } from './step.ts';
import type { PlannedPhase } from './step-phases.ts';

/** The pins of a step; what is wrong with one is a problem, and that pin is left out. */
export function plannedPins(
  step: Step,
  phases: readonly PlannedPhase[],
  setting: Setting,
  problems: Problem[],
): PlannedPin[] {
  const planned: PlannedPin[] = [];
  for (const [i, pin] of (step.pins ?? []).entries()) {
    const field = `steps.${step.id}.pins.${i + 1}`;
    const found = plannedPin(step, pin, field, phases, setting, problems);
    if (found === null) continue;
    const other = planned.find((one) => overlap(one, found));
    if (other === undefined) planned.push(found);
    else
      problems.push(
        problem(
          'conflict',
          field,
          unitsText(found),
          `Of "${step.name}", ${unitsText(found)} are pinned twice; take one of the two pins out, or part their units.`,
        ),
      );
  }
  return planned;
}

/** Pins whose set or units are not there once all is counted: they pin nothing, or, as a warning, no more than there are. */
export function pinProblems(name: string, pins: readonly PlannedPin[], sets: readonly SetPlan[]): Problem[] {
  const perSet = sets.some(({ set }) => set !== null);
  const total = sets.reduce((sum, set) => sum + set.total, 0);
  return pins.flatMap(({ field, set, firstUnit, lastUnit }): Problem[] => {
    const own = set === null ? null : sets.find((one) => one.set === set);
    if (set !== null && own == null) {
      const message = perSet
        ? `"${name}" has ${sets.length} sets, so there is no set ${set} to pin; name one of them.`
        : `"${name}" is for the whole and not for each set; leave the set of the pin empty.`;
      return [problem('unknown-name', `${field}.set`, set, message)];
    }
    const units = own?.total ?? total;
    const has = `"${name}" has ${units} units${set === null ? '' : ` in set ${set}`}`;
    if (lastUnit < ALL_UNITS && firstUnit <= units && units < lastUnit) {
      const cut = `${has}, so the pin on ${unitsText({ firstUnit, lastUnit })} ends at unit ${units}; let it end there.`;
      return [warning('pin', `${field}.to`, lastUnit, cut)];
    }
    if (firstUnit <= units || units === 0) return [];
    const message = `${has}, so unit ${firstUnit} cannot be pinned; begin at ${units} or before.`;
    return [problem('unknown-name', `${field}.from`, firstUnit, message)];
  });
}

/** The pins that lie on a set's units. */
export function pinsOf(pins: readonly PlannedPin[], { set, offset, total }: SetPlan): PinnedUnits[] {
  return pins.flatMap((pin) => {
    if (pin.set !== null && pin.set !== set) return [];
    const before = pin.set === null ? 0 : offset;
    const from = Math.max(offset + 1, before + pin.firstUnit);
    const to = Math.min(offset + total, before + pin.lastUnit);
    return from <= to ? [{ ...pin, from, to }] : [];
  });
}

/** `unit 3`, `units 13 to 24`, `all units`. */
function unitsText({ firstUnit, lastUnit }: Pick<PlannedPin, 'firstUnit' | 'lastUnit'>): string {
  if (firstUnit === lastUnit) return `unit ${firstUnit}`;
  if (lastUnit >= ALL_UNITS) return firstUnit === 1 ? 'all units' : `units from ${firstUnit} on`;
  return `units ${firstUnit} to ${lastUnit}`;
}

/** More units than any step has. */
const ALL_UNITS = 1_000_000_000;

function plannedPin(
  step: Step,
  pin: Pin,
  field: string,
  phases: readonly PlannedPhase[],
  setting: Setting,
  problems: Problem[],
): PlannedPin | null {
  const [firstUnit, lastUnit] = [pin.from ?? 1, pin.to ?? ALL_UNITS];
  if (firstUnit > lastUnit) {
    const message = `The pin on "${step.name}" ends at unit ${lastUnit}, before it begins at unit ${firstUnit}; turn the two round.`;
    problems.push(problem('range', `${field}.to`, lastUnit, message));
    return null;
  }
  if (pin.start === undefined && pin.people === undefined) {
    const message = `The pin on "${step.name}" says neither when it begins nor who does it; give one of the two, or take the pin out.`;
    problems.push(problem('shape', `${field}.start`, 'nothing', message));
    return null;
  }
  const people = (pin.people ?? []).flatMap((id) => {
    const found = pinnedPerson(step, id, `${field}.people`, phases, setting);
    if (typeof found === 'number') return [found];
    problems.push(found);
    return [];
  });
  const start = pin.start === undefined ? null : accept(readWall(pin.start, setting.zone), `${field}.start`, problems);
  if (start === null && people.length === 0) return null;
  return { field, set: pin.set ?? null, firstUnit, lastUnit, start, people: people.length === 0 ? null : people };
}

/** Somebody to whom work of a step is pinned; what is wrong where they are nobody, never there, or may do nothing of it. */
export function pinnedPerson(
  step: Step,
  id: string,
  field: string,
  phases: readonly PlannedPhase[],
  setting: Setting,
): number | Problem {
  const person = setting.people.get(id);
  if (person === undefined)
    return problem('unknown-name', field, id, `"${id}" is nobody of this build; name one of its people.`);
  if (totalOpenMinutes(person.open) === 0) {
    const message = `${person.name} has no hours, so "${step.name}" cannot be pinned to them; give them hours or pin it to somebody else.`;
    return problem('no-hours', field, id, message);
  }
  const crews = phases.flatMap((phase) => ('eligible' in phase && phase.eligible.length > 0 ? [phase.eligible] : []));
  if (crews.length === 0 || crews.some((eligible) => eligible.includes(person.resource))) return person.resource;
  const message = `${person.name} may not do "${step.name}", so it cannot be pinned to them; pin it to somebody who may, or let ${person.name} do it.`;
  return problem('conflict', field, id, message);
}

function overlap(a: PlannedPin, b: PlannedPin): boolean {
  // A pin over all units may meet one within a set where the sets lie; then the first that is given holds.
  return a.set === b.set && a.firstUnit <= b.lastUnit && b.firstUnit <= a.lastUnit;
}
