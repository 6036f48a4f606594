/**
 * The one place where minutes meet dates, clocks and zones.
 *
 * Everywhere else an instant is a number: whole minutes since 1970-01-01T00:00Z. A day is a number too (days since
 * 1970-01-01, of the calendar on the wall), so that arithmetic on days never meets a clock change. Here is what a
 * person reads and writes instead, in the time zone where the event is.
 *
 * One rule for the two odd nights of the year, used everywhere:
 * - A reading that comes twice (clocks go back) means the FIRST of the two.
 * - A reading that is left out (clocks go forward) is a problem when somebody types it, named with the gap and the next
 *   minute there is; where hours of work merely run across it, it means that next minute.
 *
 * Rules of the zones come from the runtime's IANA data through @date-fns/tz; each zone's changes are looked up once a
 * year and kept.
 */
import { tzOffset } from '@date-fns/tz';
import { type ProblemCode, problemTexts, type Said, type Sentence, saidOf } from '../../model/index.ts';
import type { Instant, Minutes } from '../types.ts';

/** A day of the wall calendar: days since 1970-01-01. */
export type Day = number;

/** What was wrong with a text, without the field, which only the caller knows. */
export interface TextProblem extends Said {
  readonly code: ProblemCode;
  /** The part of the text that offends. */
  readonly value: string;
}

export type Reading<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: TextProblem };

export const MINUTES_PER_DAY = 1440;
const FIRST_YEAR = 1970;
const LAST_YEAR = 2199;

/**
 * The instant of `YYYY-MM-DDTHH:MM` on the clock of the zone, or of the same with `Z` or `+hh:mm` at its end, which
 * needs no zone. Seconds may follow and are dropped: instants are whole minutes. For a reading that comes twice the
 * first is meant.
 *
 * Problems: `not-a-date` (of another form, or a day that no calendar has), `missing-hour`, `unknown-zone`.
 *
 *     readWall('2026-10-25T02:30', 'Europe/Berlin') // { ok: true, value: 29881470 }
 *     readWall('2026-13-01T08:00', 'UTC').problem.code // 'not-a-date'
 */
export function readWall(text: string, zone: string): Reading<Instant> {
  if (!isZone(zone)) return unknownZone(zone);
  const match = WALL.exec(text);
  if (!match) return wrong('not-a-date', text, problemTexts.dates.notATime(text));
  const day = readDate(match[1]!);
  if (!day.ok) return day;
  const [hour, minute] = [Number(match[2]), Number(match[3])];
  if (hour > 23 || minute > 59 || Number(match[4] ?? 0) > 59) {
    const time = text.slice(11, 16);
    return wrong('not-a-date', time, problemTexts.dates.notOfDay(time));
  }
  const wall = day.value * MINUTES_PER_DAY + hour * 60 + minute;
  if (match[5] !== undefined) return withOffset(wall, match[5]);
  const { instant, gap } = instantOf(zone, wall);
  if (gap === null) return { ok: true, value: instant };
  const [from, to] = [readingText(gap[0]), readingText(gap[1])];
  const sameDay = from.slice(0, 10) === to.slice(0, 10) && from.slice(0, 10) === match[1];
  const span = sameDay
    ? problemTexts.dates.clocksGo(from.slice(11), to.slice(11))
    : problemTexts.dates.clocksGo(from, to);
  return wrong(
    'missing-hour',
    text,
    problemTexts.dates.missingHour({ time: text.slice(11, 16), date: match[1]!, zone, span, next: to }),
  );
}

/** Days that were read: the entries of a log are of few. */
const daysRead = new Map<string, Reading<Day>>();
const MOST_DAYS_READ = 10_000;

/** The day of `YYYY-MM-DD`, or the problem `not-a-date`. Years 1970 to 2199. */
export function readDate(text: string): Reading<Day> {
  const known = daysRead.get(text);
  if (known !== undefined) return known;
  const read = readNewDate(text);
  if (!read.ok) return read;
  if (daysRead.size >= MOST_DAYS_READ) daysRead.clear();
  daysRead.set(text, read);
  return read;
}

function readNewDate(text: string): Reading<Day> {
  const match = DATE.exec(text);
  if (!match) return wrong('not-a-date', text, problemTexts.dates.notADate(text));
  const [year, month, date] = [Number(match[1]), Number(match[2]), Number(match[3])];
  if (year < FIRST_YEAR || year > LAST_YEAR) {
    return wrong('not-a-date', text, problemTexts.dates.year(year, FIRST_YEAR, LAST_YEAR));
  }
  const day = dayOf(year, month, date);
  if (dateText(day) === text) return { ok: true, value: day };
  const { noMonth, noDay } = problemTexts.dates;
  return wrong('not-a-date', text, month < 1 || month > 12 ? noMonth(text) : noDay(text, daysInMonth(year, month)));
}

/** Whether the runtime knows the zone's name, such as `Europe/Berlin`; offsets such as `+02:00` are no zones. */
export function isZone(zone: string): boolean {
  const known = zones.get(zone);
  if (known) return true;
  if (!/^[A-Za-z]/.test(zone) || Number.isNaN(tzOffset(zone, new Date(0)))) return false;
  zones.set(zone, new Map());
  return true;
}

/** Wall text `YYYY-MM-DDTHH:MM` of an instant in the zone. */
export function wallText(t: Instant, zone: string): string {
  return readingText(t + offsetAt(zone, t));
}

/**
 * The day on the wall at an instant in the zone.
 *
 *     dayAt(1439, 'UTC') // 0
 *     dayAt(1439, 'Europe/Berlin') // 1
 */
export function dayAt(t: Instant, zone: string): Day {
  return Math.floor((t + offsetAt(zone, t)) / MINUTES_PER_DAY);
}

/** Minutes since midnight that the clock of the zone shows, 0 to 1439. */
export function minuteOfDayAt(t: Instant, zone: string): Minutes {
  const wall = t + offsetAt(zone, t);
  return wall - Math.floor(wall / MINUTES_PER_DAY) * MINUTES_PER_DAY;
}

/**
 * `YYYY-MM-DD` of an instant in the zone.
 *
 *     dateAt(0, 'America/New_York') // '1969-12-31'
 */
export function dateAt(t: Instant, zone: string): string {
  return dateText(dayAt(t, zone));
}

/**
 * `HH:MM` of an instant in the zone.
 *
 *     timeAt(0, 'America/New_York') // '19:00'
 */
export function timeAt(t: Instant, zone: string): string {
  return wallText(t, zone).slice(11);
}

/** The instant at which a day begins in the zone; where midnight is left out, its first minute. */
export function startOfDay(day: Day, zone: string): Instant {
  return instantOfWall(day, 0, zone);
}

/**
 * The instant at which the clock of the zone shows `minuteOfDay` on `day`: of two the first, of none the next minute
 * there is. `minuteOfDay` may be 1440 and more (the following day). The zone must be one that `isZone` knows.
 */
export function instantOfWall(day: Day, minuteOfDay: Minutes, zone: string): Instant {
  return instantOf(zone, day * MINUTES_PER_DAY + minuteOfDay).instant;
}

/** The days that [from, to) touches, each with where it begins and ends; the day boundaries of charts and sums. */
export function daysBetween(from: Instant, to: Instant, zone: string): { day: Day; start: Instant; end: Instant }[] {
  const days: { day: Day; start: Instant; end: Instant }[] = [];
  if (to <= from) return days;
  for (let day = dayAt(from, zone); day <= dayAt(to - 1, zone); day++) {
    days.push({ day, start: startOfDay(day, zone), end: startOfDay(day + 1, zone) });
  }
  return days;
}

/** `YYYY-MM-DD` of a day. */
export function dateText(day: Day): string {
  const { year, month, date } = calendarOf(day);
  return `${String(year).padStart(4, '0')}-${pad(month)}-${pad(date)}`;
}

/** The day of a year, month (1 to 12) and date; dates past the month's end run on into the next. */
export function dayOf(year: number, month: number, date: number): Day {
  return Math.floor(Date.UTC(year, month - 1, date) / 86_400_000);
}

/** Year, month (1 to 12) and date of a day. */
export function calendarOf(day: Day): { year: number; month: number; date: number } {
  const utc = new Date(day * 86_400_000);
  return { year: utc.getUTCFullYear(), month: utc.getUTCMonth() + 1, date: utc.getUTCDate() };
}

/**
 * Weekday of a day as ISO 8601 counts: Monday 1 to Sunday 7.
 *
 *     weekdayOf(0) // 4
 */
export function weekdayOf(day: Day): number {
  return ((((day + 3) % 7) + 7) % 7) + 1;
}

/**
 * The clock changes of a zone in [from, to): when, and the offsets from UTC in minutes before and after.
 * Checked against the IANA data for 2026 and 2027 in the tests.
 */
export function clockChanges(
  zone: string,
  from: Instant,
  to: Instant,
): { at: Instant; before: Minutes; after: Minutes }[] {
  const changes: { at: Instant; before: Minutes; after: Minutes }[] = [];
  for (let year = yearOf(from); year <= yearOf(to); year++) {
    let before = changesOf(zone, year).first;
    for (const change of changesOf(zone, year).changes) {
      if (change.at >= from && change.at < to) changes.push({ at: change.at, before, after: change.offset });
      before = change.offset;
    }
  }
  return changes;
}

/**
 * Offset of the zone from UTC at an instant, in minutes, east positive. Throws a RangeError for what is no instant,
 * such as Infinity.
 */
function offsetAt(zone: string, t: Instant): Minutes {
  const { first, changes } = changesOf(zone, yearOf(t));
  let offset = first;
  for (const change of changes) if (change.at <= t) offset = change.offset;
  return offset;
}

const WALL = /^(\d{4}-\d{2}-\d{2})T(\d{2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?(Z|[+-]\d{2}:\d{2})?$/;
const DATE = /^(\d{4})-(\d{2})-(\d{2})$/;

interface YearOfChanges {
  /** The offset in the last minute before the year (UTC). */
  readonly first: Minutes;
  readonly changes: readonly { readonly at: Instant; readonly offset: Minutes }[];
}

/** What has been looked up already, by zone and UTC year. */
const zones = new Map<string, Map<number, YearOfChanges>>();

function changesOf(zone: string, year: number): YearOfChanges {
  let years = zones.get(zone);
  if (!years) {
    if (!isZone(zone)) throw new RangeError(`unknown time zone ${zone}`);
    years = zones.get(zone)!;
  }
  let known = years.get(year);
  if (!known) {
    known = lookUpChanges(zone, year);
    years.set(year, known);
  }
  return known;
}

/** Two changes within a week that undo each other would go unseen; the IANA data since 1970 has none. */
const STEP = 7 * MINUTES_PER_DAY;

function lookUpChanges(zone: string, year: number): YearOfChanges {
  const start = dayOf(year, 1, 1) * MINUTES_PER_DAY - 1;
  const last = dayOf(year + 1, 1, 1) * MINUTES_PER_DAY - 1;
  const first = askOffset(zone, start);
  const changes: { at: Instant; offset: Minutes }[] = [];
  let offset = first;
  for (let from = start; from < last; from += STEP) {
    const to = Math.min(from + STEP, last);
    const after = askOffset(zone, to);
    if (after === offset) continue;
    changes.push({ at: firstWith(zone, from, to, offset), offset: after });
    offset = after;
  }
  return { first, changes };
}

/** The first minute in (from, to] at which the offset is no longer `before`. */
function firstWith(zone: string, from: Instant, to: Instant, before: Minutes): Instant {
  let [low, high] = [from, to];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (askOffset(zone, middle) === before) low = middle;
    else high = middle;
  }
  return high;
}

function askOffset(zone: string, t: Instant): Minutes {
  return Math.round(tzOffset(zone, new Date(t * 60_000)));
}

function yearOf(t: Instant): number {
  if (t < lastYear.from || t >= lastYear.to) {
    const year = new Date(t * 60_000).getUTCFullYear();
    if (Number.isNaN(year)) throw new RangeError(`${t} is no instant`);
    lastYear = { year, from: Date.UTC(year, 0) / 60_000, to: Date.UTC(year + 1, 0) / 60_000 };
  }
  return lastYear.year;
}

/** The year asked for last, from and to which minute: the days of a calendar are asked for in their order. */
let lastYear = { year: 1970, from: 0, to: 525_600 };

/**
 * The first instant with this reading, or, where the clocks leave it out, the change itself and the gap in readings.
 */
function instantOf(zone: string, wall: Minutes): { instant: Instant; gap: readonly [Minutes, Minutes] | null } {
  const before = offsetAt(zone, wall - MINUTES_PER_DAY);
  const after = offsetAt(zone, wall + MINUTES_PER_DAY);
  if (offsetAt(zone, wall - before) === before) return { instant: wall - before, gap: null };
  if (offsetAt(zone, wall - after) === after) return { instant: wall - after, gap: null };
  const [change] = clockChanges(zone, wall - Math.max(before, after), wall - Math.min(before, after) + 1);
  if (!change) throw new RangeError(`no instant for reading ${readingText(wall)} in ${zone}`);
  return { instant: change.at, gap: [change.at + change.before, change.at + change.after] };
}

function withOffset(wall: Minutes, text: string): Reading<Instant> {
  if (text === 'Z') return { ok: true, value: wall };
  const [hours, minutes] = [Number(text.slice(1, 3)), Number(text.slice(4, 6))];
  if (hours > 14 || minutes > 59) {
    return wrong('not-a-date', text, problemTexts.dates.offset(text));
  }
  const offset = (text.startsWith('-') ? -1 : 1) * (hours * 60 + minutes);
  return { ok: true, value: wall - offset };
}

function readingText(wall: Minutes): string {
  const day = Math.floor(wall / MINUTES_PER_DAY);
  const minute = wall - day * MINUTES_PER_DAY;
  return `${dateText(day)}T${pad(Math.floor(minute / 60))}:${pad(minute % 60)}`;
}

function daysInMonth(year: number, month: number): number {
  return dayOf(year, month + 1, 1) - dayOf(year, month, 1);
}

function unknownZone(zone: string): Reading<never> {
  return wrong('unknown-zone', zone, problemTexts.dates.zone(zone));
}

function wrong(code: ProblemCode, value: string, what: Sentence): Reading<never> {
  return { ok: false, problem: { code, value, ...saidOf(what) } };
}

function pad(value: number): string {
  return String(value).padStart(2, '0');
}
