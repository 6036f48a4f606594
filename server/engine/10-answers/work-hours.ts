/** Working hours in the forecast: nights, rest and lone work. */
import type { DaySpell, WorkHoursWarning } from '../../model/index.ts';
import type { Planned } from '../stages/index.ts';
import { placementsByLot } from './lots.ts';
import type { Spells } from './spells.ts';
import { type Unattended, workHoursWarnings } from './work-hours-findings.ts';

/**
 * Where the schedule leans on nights, leaves too little rest, or leaves somebody alone at something dangerous, or that
 * by itself.
 */
export function workHoursAnswer(planned: Planned, spells: Spells): WorkHoursWarning[] {
  const { surroundings } = planned;
  const spell = ({ start, finish, step, hazards }: DaySpell) => ({ start, finish, step, hazards });
  const people = [...surroundings.people.values()].map(({ id, resource }) => ({
    id,
    spells: (spells.people.get(resource) ?? []).map(spell),
  }));
  return workHoursWarnings(people, unattendedOf(planned), surroundings.zone);
}

/** Runs that nobody attends, and waits, of what is still to come: what is over warns of nothing. */
function unattendedOf(planned: Planned): Unattended[] {
  const { work, plans, now } = planned;
  return [...placementsByLot(planned)].flatMap(([index, placements]) => {
    const lot = work.lots[index]!;
    const { id, hazards } = plans[lot.step]!;
    return placements.flatMap(({ phase: p, start, finish, machine }): Unattended[] => {
      const phase = lot.phases[p]!;
      const alone = phase.kind === 'wait' || (phase.kind === 'run' && !phase.attended);
      if (!alone || finish <= now) return [];
      const name = machine === null ? null : work.resources[machine]!.id;
      return [{ step: id, machine: name, hazards, start: Math.max(start, now), finish }];
    });
  });
}
