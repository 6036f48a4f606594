import type { DaySpell, WorkHoursWarning } from '../../model/index.ts';
import { workHoursWarnings } from '../work-hours.ts';
import type { Planned } from './planned.ts';
import type { Spells } from './spells.ts';

/** Where the schedule leans on nights, leaves too little rest, or leaves somebody alone at something dangerous. */
export function workHoursAnswer({ plans, setting, work, now }: Planned, spells: Spells): WorkHoursWarning[] {
  const names = new Map(plans.map((plan) => [plan.id, plan.name]));
  const worded = (spell: DaySpell) => ({
    start: spell.start,
    finish: spell.finish,
    step: names.get(spell.step) ?? spell.step,
    hazards: spell.hazards,
  });
  const people = [...setting.people.values()].map(({ id, name, resource }) => ({
    id,
    name,
    spells: (spells.people.get(resource) ?? []).map(worded),
  }));
  const attended = new Set(
    work.lots.flatMap((lot) => (lot.phases.some((phase) => phase.kind === 'run' && phase.attended) ? [lot.id] : [])),
  );
  const runs = [...spells.machines].flatMap(([key, list]) => {
    const machine = work.resources[Number(key.split('/')[0])]!.name;
    // A night that is over warns of nothing.
    const ahead = list.filter((spell) => !attended.has(spell.lot) && spell.finish > now);
    return ahead.map(({ start, finish }) => ({ machine, start: Math.max(start, now), finish }));
  });
  return workHoursWarnings(people, runs, setting.zone);
}
