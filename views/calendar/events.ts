/** A plan as the events of a calendar: for all, or for one person. */
import type { DaySheet, DaySpell, Forecast, ForecastLot } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { cautionsFor, cautionTexts } from '../texts/cautions.ts';
import { calendarTexts as say } from '../texts/paper/calendar.ts';
import type { WallClock } from '../wall-clock.ts';
import { stepName } from '../words/marks.tsx';
import { nameOfMachine } from '../words/names.ts';
import { noDayText, orderedText, unitsOfStep } from '../words/supply-words.ts';
import { lengthText } from '../words/wording.ts';
import type { CalendarEvent } from './ics.ts';

/** `person` null: all. `alarmMinutes` before last moments; null: none. `clock` is that of the place. */
interface CalendarAsked {
  readonly person: string | null;
  readonly alarmMinutes: number | null;
  readonly supplier: (id: string) => string;
}

/** Lots that are looked at in one turn. */
const AT_ONCE = 500;

/** What a calendar is called. */
export function calendarName({ build }: Forecast, person: string | null): string {
  return person === null ? say.ofAll(build.name) : say.ofPerson(build.name, person);
}

/**
 * Last moments to order and decide, deliveries, machine loads, days of people, checks, load-in, ready-by and event, by
 * time. One person's calendar has that person's days, loads and checks, and the hours that all share. A thing keeps its
 * UID from forecast to forecast, however it moves. Linear in the plan; yields wherever others may have a turn.
 */
export function* calendarEvents(
  forecast: Forecast,
  clock: WallClock,
  asked: CalendarAsked,
): Generator<undefined, CalendarEvent[]> {
  const all: CalendarEvent[] = [];
  const add = (events: readonly CalendarEvent[]) => {
    for (const event of events) all.push({ ...event, uid: `${event.uid}.${forecast.build.id}@daywright` });
  };
  if (asked.person === null) add([...orderEvents(forecast, clock, asked), ...decisionEvents(forecast, asked)]);
  for (let first = 0; first < forecast.lots.length; first += AT_ONCE) {
    add(loadEvents(forecast, forecast.lots.slice(first, first + AT_ONCE), asked));
    yield;
  }
  add(gateEvents(forecast, asked));
  for (const day of forecast.days) {
    add(dayEvents(forecast, clock, day, asked));
    yield;
  }
  add(fixedEvents(forecast, asked));
  return withOwnUids(all).sort((a, b) => a.start - b.start || (a.uid < b.uid ? -1 : 1));
}

function instant(uid: string, start: number, summary: string, alarmMinutes: number | null): CalendarEvent {
  return { uid, start, end: null, summary, description: '', alarmMinutes };
}

function orderEvents(forecast: Forecast, clock: WallClock, { alarmMinutes, supplier }: CalendarAsked): CalendarEvent[] {
  const { orders, now } = forecast;
  return orders.flatMap((order) => {
    const { step, state, orderBy, soonest, arrives, supplier: from } = order;
    if (state === 'received') return [];
    const what = orderedText(order);
    const delivery = instant(`delivery.${step}`, arrives, say.delivery(what, supplier(from)), null);
    if (state === 'ordered') return [delivery];
    // An event of a day that has passed nobody sees: what is late is there at the supplier's next cut-off.
    const [by, summary] = state === 'late' ? [soonest ?? now, say.orderLate(what)] : [orderBy, say.orderBy(what)];
    const description = [noDayText(forecast, clock, step), say.moves].filter((text) => text !== null).join('\n');
    return [{ ...instant(`order-by.${step}`, by, summary, alarmMinutes), description }, delivery];
  });
}

function decisionEvents({ decisions }: Forecast, { alarmMinutes }: CalendarAsked): CalendarEvent[] {
  return decisions.flatMap(({ id, question, decideBy, decided }) =>
    decideBy === null || decided !== null
      ? []
      : [{ ...instant(`decide-by.${id}`, decideBy, say.decideBy(question), alarmMinutes), description: say.moves }],
  );
}

/**
 * When somebody loads a machine; of one person, what that person loads. A run under way keeps the instant that was
 * logged.
 */
function loadEvents(forecast: Forecast, lots: Forecast['lots'], { person }: CalendarAsked): CalendarEvent[] {
  return lots.flatMap((lot) => {
    const run = lot.placements.find(({ kind }) => kind === 'run');
    const isOver = run !== undefined && run.start < forecast.now && !(lot.begun && run.finish > forecast.now);
    if (run === undefined || isOver) return [];
    const by = lot.placements.filter(({ start }) => start <= run.start).flatMap(({ people }) => people);
    if (person !== null && !by.includes(person)) return [];
    const summary = say.load(nameOfMachine(forecast, run.machine ?? ''), lotText(forecast, lot));
    const description = say.runs(lengthText(run.finish - run.start));
    return [{ ...instant(uidOfLot('load', lot), run.start, summary, null), description }];
  });
}

function gateEvents(forecast: Forecast, { person }: CalendarAsked): CalendarEvent[] {
  const gates = new Set(forecast.steps.filter(({ kind }) => kind === 'gate').map(({ id }) => id));
  return forecast.lots.flatMap((lot) => {
    const [start, finish] = [lot.levelled?.start, lot.levelled?.finish];
    if (!gates.has(lot.step) || start === undefined || finish === undefined) return [];
    if (person !== null && !lot.placements.some(({ people }) => people.includes(person))) return [];
    const end = finish > start ? finish : null;
    return [{ ...instant(uidOfLot('check', lot), start, say.gate(stepName(forecast, lot.step)), null), end }];
  });
}

/** From the first to the last thing that somebody does on a day, with what it is and its cautions. */
function dayEvents(forecast: Forecast, clock: WallClock, day: DaySheet, { person }: CalendarAsked): CalendarEvent[] {
  return day.people.flatMap(({ id, name, open, spells }) => {
    const its = spells
      .map((spell) => ({
        ...spell,
        start: Math.max(spell.start, day.start),
        finish: Math.min(spell.finish, day.end),
      }))
      .filter(({ start, finish }) => finish > start)
      .sort((a, b) => a.start - b.start);
    if (its.length === 0 || (person !== null && person !== id)) return [];
    const steps = [...new Set(its.map(({ step }) => stepName(forecast, step)))].join(', ');
    return [
      {
        ...instant(`day.${day.date}.${id}`, begunAt(open, its[0]!.start, forecast.now), say.day(name, steps), null),
        end: Math.max(...its.map(({ finish }) => finish)),
        description: [...its.map((spell) => spellText(forecast, clock, spell)), ...cautionLines(its)].join('\n'),
      },
    ];
  });
}

/** A day that is under way begins where its hours do: what is left of it begins later with every minute. */
function begunAt(open: readonly (readonly [number, number])[], start: number, now: number): number {
  return start > now ? start : (open.find(([from, to]) => from <= start && start < to)?.[0] ?? start);
}

function spellText(forecast: Forecast, clock: WallClock, { start, finish, step, units }: DaySpell): string {
  const { total = 0 } = byId(forecast.steps, step) ?? {};
  const what =
    units > 0 && total > 1
      ? `${stepName(forecast, step)}, ${unitsOfStep(forecast, step, units)}`
      : stepName(forecast, step);
  return say.line(clock.read(start).time, clock.read(finish).time, what);
}

function cautionLines(spells: readonly DaySpell[]): string[] {
  const lines = cautionsFor(spells.flatMap(({ hazards }) => hazards)).map(({ title, line }) => `${title}: ${line}`);
  return lines.length === 0 ? [] : [...lines, cautionTexts.footer];
}

function fixedEvents({ readyBy, loadIn, event }: Forecast, { alarmMinutes }: CalendarAsked): CalendarEvent[] {
  return [
    instant('ready-by', readyBy, say.readyBy, alarmMinutes),
    ...(loadIn === null ? [] : [instant('load-in', loadIn, say.loadIn, null)]),
    instant('event', event, say.event, null),
  ];
}

function lotText(forecast: Forecast, { step, firstUnit, lastUnit }: ForecastLot): string {
  return `${stepName(forecast, step)}, ${unitsOfStep(forecast, step, lastUnit - firstUnit + 1)}`;
}

function uidOfLot(kind: string, { step, set, firstUnit }: ForecastLot): string {
  return `${kind}.${step}.${set ?? 0}.${firstUnit}`;
}

/** Two orders of one step are two events: those after the first get a number. */
function withOwnUids(events: readonly CalendarEvent[]): CalendarEvent[] {
  const seen = new Map<string, number>();
  return events.map((event) => {
    const n = (seen.get(event.uid) ?? 0) + 1;
    seen.set(event.uid, n);
    return n === 1 ? event : { ...event, uid: `${n}.${event.uid}` };
  });
}
