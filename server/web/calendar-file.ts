/** A forecast as a calendar file, for pages and the command line: whose, with which alarms, and its text. */
import { calendarEvents, calendarName } from '../../views/calendar/events.ts';
import { type CalendarEvent, calendarText } from '../../views/calendar/ics.ts';
import { calendarTexts as say } from '../../views/texts/paper/calendar.ts';
import { supplierName } from '../../views/words/marks.tsx';
import { type Build, type Forecast, type Result, wordedProblem } from '../model/index.ts';
import type { EventStamp, ToldEvent } from '../store/index.ts';
import { hashOf } from './secrets.ts';
import { wallClock } from './wall-clock.ts';

export interface CalendarChoice {
  /** Id of the person; null: everything. */
  readonly person: string | null;
  /** Minutes before last moments; null: no alarms. */
  readonly alarmMinutes: number | null;
}

const LONGEST_ALARM = 10_080;
/** Events that are gone through at once. */
const AT_ONCE = 100;

/** What was typed of a calendar; empty or left out: everything, and no alarm. A problem names what is not there. */
export function calendarChoice(
  build: Build,
  person: string | undefined,
  alarm: string | undefined,
): Result<CalendarChoice> {
  const ids = (build.people ?? []).map(({ id }) => id);
  if (person && !ids.includes(person)) {
    const message = say.noPerson(person, ids.join(', '));
    return { ok: false, problems: [wordedProblem('unknown-name', 'person', person, message)] };
  }
  const minutes = !alarm || alarm === 'none' ? null : /^\d{1,5}$/.test(alarm) ? Number(alarm) : LONGEST_ALARM + 1;
  if (minutes !== null && minutes > LONGEST_ALARM) {
    return { ok: false, problems: [wordedProblem('shape', 'alarm', alarm, say.noAlarm(String(alarm)))] };
  }
  return { ok: true, value: { person: person || null, alarmMinutes: minutes } };
}

/** Says of events, by their names and hashes, how often each has changed and when it did last. */
type Stamping = (events: readonly ToldEvent[]) => readonly EventStamp[];

/**
 * The calendar of a plan as an iCalendar file. Without `stamping` every event is of the plan's own instant; with it, of
 * when it changed last, whatever has been computed since.
 */
export function calendarFile(build: Build, forecast: Forecast, choice: CalendarChoice, stamping?: Stamping): string {
  return [...calendarParts(build, forecast, choice, stamping)].join('');
}

/** The same in parts; others may have a turn after each. */
export function* calendarParts(
  build: Build,
  forecast: Forecast,
  choice: CalendarChoice,
  stamping?: Stamping,
): Generator<string> {
  const collecting = calendarEvents(forecast, wallClock(forecast.build.zone), {
    ...choice,
    supplier: (supplier) => supplierName(build, supplier),
  });
  let collected = collecting.next();
  for (; collected.done !== true; collected = collecting.next()) yield '';
  const plain = collected.value;
  const told: ToldEvent[] = [];
  for (const event of stamping ? plain : []) {
    told.push({ uid: event.uid, told: hashOf(toldBy(event)) });
    if (told.length % AT_ONCE === 0) yield '';
  }
  yield '';
  const stamps = stamping?.(told) ?? [];
  yield '';
  const events = plain.map((event, i) => (stamps[i] === undefined ? event : { ...event, changed: stamps[i] }));
  const name = calendarName(forecast, choice.person === null ? null : calendarOwner(build, choice.person));
  yield '';
  yield* calendarText({ name, stamp: forecast.now, utc: wallClock('UTC'), events });
}

/** What a change of an event is a change of; when it rings is each calendar's own. */
function toldBy({ start, end, summary, description }: CalendarEvent): string {
  return JSON.stringify([start, end, summary, description]);
}

/** Whose calendar it is, by name. */
export function calendarOwner(build: Build, person: string | null): string {
  return person === null ? say.all : (build.people?.find(({ id }) => id === person)?.name ?? person);
}
