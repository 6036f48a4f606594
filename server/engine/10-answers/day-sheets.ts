/** Day sheets: what each person and machine does on each day. */
import type { DaySheet, DaySpell, ForecastDecision, ForecastOrder } from '../../model/index.ts';
import { clipOpenTime, dateText, daysBetween, intervalsOf, openMinutesBetween } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import { calendarsOf } from './capacity.ts';
import type { Spells } from './spells.ts';

const MOST_DAYS = 60;

/**
 * A sheet for each day from now to the event: who does what when, when machines are loaded, what to order and to
 * decide.
 */
export function daySheetsAnswer(
  planned: Planned,
  spells: Spells,
  orders: readonly ForecastOrder[],
  decisions: readonly ForecastDecision[],
): DaySheet[] {
  const { surroundings, now } = planned;
  const last = Math.max(surroundings.event, planned.schedule?.finishAt ?? surroundings.event) + 1;
  const days = daysBetween(now, last, surroundings.zone).slice(0, MOST_DAYS);
  const people = new Map([...spells.people].map(([person, list]) => [person, byDay(list, days)]));
  const machines = new Map([...spells.machines].map(([machine, list]) => [machine, byDay(list, days)]));
  const machineHours = [...surroundings.machines.values()].map((machine) => {
    const { out = [] } = planned.work.resources[machine.resource]!;
    return { machine, calendars: calendarsOf(machine.open, machine.count, out) };
  });
  return days.map(({ day, start, end }, i) => {
    const on = (at: number): boolean => at >= start && at < end;
    return {
      date: dateText(day),
      start,
      end,
      people: [...surroundings.people.values()].map((person) => ({
        id: person.id,
        name: person.name,
        open: intervalsOf(clipOpenTime(person.open, start, end)),
        spells: people.get(person.resource)?.[i] ?? [],
      })),
      machines: machineHours.flatMap(({ machine, calendars }) =>
        calendars.map((open, unit) => ({
          id: machine.id,
          name: machine.name,
          unit,
          open: openMinutesBetween(open, Math.max(start, now), end),
          spells: machines.get(`${machine.resource}/${unit}`)?.[i] ?? [],
        })),
      ),
      orders: orders
        .filter((order) => order.state !== 'received' && order.state !== 'ordered' && on(Math.max(order.orderBy, now)))
        .map((order) => ({ step: order.step, name: order.name, by: order.orderBy })),
      decisions: decisions
        .filter(
          (decision) => decision.decided === null && decision.decideBy !== null && on(Math.max(decision.decideBy, now)),
        )
        .map(({ id, question, settles, decideBy }) => ({
          id,
          question,
          ...(settles === undefined ? {} : { settles }),
          by: decideBy!,
        })),
      arrivals: orders
        .filter((order) => order.state !== 'received' && on(order.arrives))
        .map((order) => ({ step: order.step, name: order.name, at: order.arrives })),
    };
  });
}

/**
 * What of these spells is on each of the days, by its start; each spell is looked at once, and again for each day that
 * it reaches into.
 */
function byDay(
  spells: readonly DaySpell[],
  days: readonly { readonly start: number; readonly end: number }[],
): DaySpell[][] {
  const sheets: DaySpell[][] = days.map(() => []);
  for (const spell of spells) {
    let [low, high] = [0, days.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (days[middle]!.end <= spell.start) low = middle + 1;
      else high = middle;
    }
    for (let i = low; i < days.length && days[i]!.start < spell.finish; i++) {
      const { start, end } = days[i]!;
      sheets[i]!.push({ ...spell, start: Math.max(spell.start, start), finish: Math.min(spell.finish, end) });
    }
  }
  for (const sheet of sheets) sheet.sort((a, b) => a.start - b.start);
  return sheets;
}
