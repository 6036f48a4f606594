/** Working hours in the forecast: nights, rest and lone work. */

import type { DaySpell, WorkHoursWarning } from '../../../model/index.ts';
import { lotsOfStep } from '../../04-lots/index.ts';
import { isInstant } from '../../calendar/index.ts';
import type { Planned } from '../../stages/index.ts';
import { placementsByLot } from '../lots.ts';
import type { Spells } from '../spells.ts';
import { type Unattended, workHoursWarnings } from './findings.ts';

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
  return workHoursWarnings(people, [...unattendedOf(planned), ...lagsOf(planned)], surroundings.zone);
}

/** What dries or cures between two steps, as a lag on the clock behind the first of them: nobody is there either. */
function lagsOf({ schedule, work, plans, feeds, now }: Planned): Unattended[] {
  if (schedule === null) return [];
  return plans.flatMap(({ id, hazards }, step): Unattended[] => {
    const lags = feeds.filter((feed) => feed.from === id && !feed.lagWorking && LAGS_BEHIND.has(feed.type));
    const longest = Math.max(0, ...lags.map(({ lagMinutes }) => lagMinutes));
    if (longest === 0 || hazards.length === 0) return [];
    const lots = lotsOfStep(work, step);
    return lots
      .map((lot) => ({ start: Math.max(now, schedule.finishes[lot]!), finish: schedule.finishes[lot]! + longest }))
      .filter(({ start, finish }) => isInstant(finish) && finish > start)
      .map((span) => ({ step: id, machine: null, hazards, ...span }));
  });
}

const LAGS_BEHIND: ReadonlySet<string> = new Set(['units', 'finish-start']);

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
