/**
 * Hours of the week in one line, as they are typed in a form, kept in a file and sent to the API:
 *
 *     mon-fri 08:00-12:00 13:00-17:00; sat 09:00-13:00
 *     daily 18:00-22:00        fri 22:00-02:00        always        never
 *     Mon to Fri 18:00 to 22:30
 *     evenings 18-22, weekend 9-18        working days from 9 to 17 and sat 10am-2pm
 *
 * Evenings, mornings and working days are those of Monday to Friday, as a weekend is Saturday and Sunday. Days are
 * `off` by not being named; naming them both with hours and as off is refused.
 *
 * A span over midnight belongs to the day on which it begins, and 24:00 may stand at its end. Days may be listed (`tue
 * thu` or `tue,thu`) and run over the weekend (`fri-mon`); a later part adds to an earlier one for the same day.
 *
 * Hours are readings of the wall clock. A working day 09:00-17:00 has 8 hours on every date; a night 22:00-06:00 has 9
 * in the autumn night of the clock change and 7 in spring.
 */

import { hoursAndMinutes, problemTexts, type Sentence, saidOf } from '../../model/index.ts';
import type { Calendar, Instant, Minutes } from '../types.ts';
import { type Day, dayAt, instantOfWall, MINUTES_PER_DAY, type Reading, readDate, type TextProblem } from './clock.ts';
import { calendarFrom, clipOpenTime, subtractOpenTime } from './working-time.ts';

/** From and to in minutes after midnight of the day it begins on; `to` beyond 1440 is on the following day. */
export interface DaySpan {
  readonly from: Minutes;
  readonly to: Minutes;
}

/** The spans of Monday to Sunday: seven lists, each in order. */
export type WeeklyHours = readonly (readonly DaySpan[])[];

/** One day whose hours replace those of its weekday: a text of spans such as `09:00-13:00`, or `off`. */
export interface HoursException {
  readonly date: string;
  readonly hours: string;
}

/**
 * Weekly hours from their text; empty text is `never`. The problem, code `hours`, names the bit that offends and what
 * would be right.
 *
 * @example readHours('fri 22:00-02:00') has on Friday the span from 1320 to 1560
 */
export function readHours(text: string): Reading<WeeklyHours> {
  const whole = text.trim().toLowerCase();
  if (whole === '' || whole === 'never') return { ok: true, value: WEEKDAYS.map(() => []) };
  if (whole === 'always') return { ok: true, value: WEEKDAYS.map(() => [WHOLE_DAY]) };
  const week: DaySpan[][] = WEEKDAYS.map(() => []);
  const off = new Set<number>();
  const parts = asWritten(whole)
    .split(';')
    .map((part) => part.trim())
    .filter((part) => part !== '');
  for (const part of parts) {
    const problem = offPart(off, part, parts.length) ?? (isOffPart(part) ? null : addPart(week, part));
    if (problem) return { ok: false, problem };
  }
  const both = [...off].find((day) => week[day]!.length > 0);
  if (both !== undefined) return wrong(text, problemTexts.hours.bothOff(LONG_NAMES[both]!));
  return { ok: true, value: week.map(tidySpans) };
}

/**
 * What people say in the way in which it is read: parts behind a comma or an `and` begin with days, so a semicolon
 * parts them; `weekend days`, `from`, `until`, `pm` and `18h` are put as one writes them.
 */
function asWritten(text: string): string {
  return text
    .replace(/\b(?:every|each|all) days?\b/g, 'daily')
    .replace(/\b(?:every|each) (evening|morning|afternoon|weekend)s?\b/g, '$1s')
    .replace(/\bweekend days\b/g, 'weekend')
    .replace(/\b(?:working|work|week) days\b/g, 'weekdays')
    .replace(/\b(?:from|o'clock)\b/g, ' ')
    .replace(TWELVES, (whole, from, fromMinute, ownHalf, to, toMinute, half) => {
      const isSameHalf = sinceTwelve(from, fromMinute) < sinceTwelve(to, toMinute);
      const first = ownHalf ?? (isSameHalf ? half : otherHalf(half));
      const span = [inTwenty(from, fromMinute, first), inTwenty(to, toMinute, half)];
      return span.includes(null) ? whole : span.join('-');
    })
    .replace(/(\d)\s?h(\d\d)\b/g, '$1:$2')
    .replace(/(\d)\s?h\b/g, '$1')
    .replace(/(?<=\d)\s*(?:,\s*and|,|\band\b)\s*(?=[a-z])/g, '; ')
    .replace(/\band\b/g, ' ');
}

const TWELVES =
  /\b(\d{1,2})(?::(\d\d))?\s*(am|pm)?\s*(?:[-–—]|\b(?:to|until|till)\b)\s*(\d{1,2})(?::(\d\d))?\s*(am|pm)\b/g;

function sinceTwelve(hour: string, minute = '0'): Minutes {
  return (Number(hour) % 12) * 60 + Number(minute);
}

function otherHalf(half: string): string {
  return half === 'pm' ? 'am' : 'pm';
}

/** A time of the twelve-hour clock on that of twenty-four; null where it is none. */
function inTwenty(hour: string, minute: string | undefined, half: string): string | null {
  const twelve = Number(hour);
  if (twelve < 1 || twelve > 12) return null;
  const at = (twelve % 12) + (half === 'pm' ? 12 : 0);
  return `${String(at).padStart(2, '0')}:${minute ?? '00'}`;
}

/** `sun off`: days without hours, said aloud. */
function isOffPart(part: string): boolean {
  return /\s(?:off|never)$/.test(part);
}

/** Notes days that are off; the problem where all hours of the week are said beside others. */
function offPart(off: Set<number>, part: string, parts: number): TextProblem | null {
  if (/^(?:always|never|off)$/.test(part) && parts > 1) {
    return hoursProblem(part, problemTexts.hours.wholeWeek(part));
  }
  if (!isOffPart(part)) return null;
  for (const word of wordsOf(part).slice(0, -1)) {
    const days = readDays(word);
    if (!days.ok) return days.problem;
    for (const day of days.value) off.add(day);
  }
  return null;
}

const LONGEST_NIGHT: Minutes = 12 * 60;

/**
 * A span of somebody's week that runs over midnight for more than twelve hours: most likely its ends are the wrong way
 * round. The sentence says both ways of writing it; null where there is none. Code `hours`.
 */
export function endlessNight(week: WeeklyHours): Sentence | null {
  const span = week.flat().find(({ from, to }) => to > MINUTES_PER_DAY && to - from > LONGEST_NIGHT);
  if (span === undefined) return null;
  const [from, to] = [clockText(span.from), clockText(span.to - MINUTES_PER_DAY)];
  return problemTexts.hours.endlessNight(from, to, hoursAndMinutes(span.to - span.from));
}

/**
 * The hours of one day from their text: spans, `off` (or `never`), or `always` for the whole of it. Problem code
 * `hours`.
 */
export function readDayHours(text: string): Reading<readonly DaySpan[]> {
  const whole = text.trim().toLowerCase();
  if (whole === 'off' || whole === 'never') return { ok: true, value: [] };
  if (whole === 'always') return { ok: true, value: [WHOLE_DAY] };
  const words = wordsOf(asWritten(whole));
  if (words.length === 0) return wrong(text, problemTexts.hours.noSpans);
  const spans: DaySpan[] = [];
  for (const word of words) {
    const span = readSpan(word);
    if (!span.ok) return span;
    spans.push(span.value);
  }
  return { ok: true, value: tidySpans(spans) };
}

/**
 * Weekdays from their text, ISO numbers 1 (Monday) to 7 in rising order: `mon-fri`, `tue thu`, `daily`. Problem code
 * `hours`.
 */
export function readWeekdays(text: string): Reading<readonly number[]> {
  const days = new Set<number>();
  for (const word of wordsOf(text.trim().toLowerCase())) {
    const read = readDays(word);
    if (!read.ok) return read;
    for (const day of read.value) days.add(day + 1);
  }
  if (days.size === 0) return wrong(text, problemTexts.hours.noDays);
  return { ok: true, value: [...days].sort((a, b) => a - b) };
}

/** The shortest usual text of weekly hours: what `readHours` reads back as the same. */
export function hoursText(week: WeeklyHours): string {
  const texts = week.map((spans) => tidySpans(spans).map(spanText).join(' '));
  if (texts.every((text) => text === '')) return 'never';
  if (texts.every((text) => text === spanText(WHOLE_DAY))) return 'always';
  const parts: string[] = [];
  for (const text of new Set(texts)) {
    if (text !== '') parts.push(`${daysText(texts.map((other) => other === text))} ${text}`);
  }
  return parts.join('; ');
}

/** The hours of one day as `readDayHours` reads them back; `off` for none. */
export function dayHoursText(spans: readonly DaySpan[]): string {
  const tidy = tidySpans(spans);
  return tidy.length === 0 ? 'off' : tidy.map(spanText).join(' ');
}

/** Open minutes in a week without clock changes; spans that run into the next day's are counted once. */
export function weeklyMinutes(week: WeeklyHours): Minutes {
  const spans = week.flatMap((list, day): [Minutes, Minutes][] =>
    list.map(({ from, to }) => [day * MINUTES_PER_DAY + from, day * MINUTES_PER_DAY + to]),
  );
  const wrapped = spans.flatMap(([from, to]): [Minutes, Minutes][] =>
    to <= WEEK
      ? [[from, to]]
      : [
          [from, WEEK],
          [0, to - WEEK],
        ],
  );
  const open = calendarFrom(wrapped);
  return open.opens.reduce((sum, from, i) => sum + open.closes[i]! - from, 0);
}

/**
 * The open time of weekly hours in a zone, from `from` to `to` (instants), with the hours of `exceptions` in place of
 * their day's, and `lost` intervals [from, to) taken away. A span that began the evening before an exception still runs
 * into it.
 *
 * Hours must come from `readHours`. Problems: `not-a-date` or `hours` of an exception, and `hours` for two on one date.
 */
export function openTimeOfHours(
  week: WeeklyHours,
  zone: string,
  from: Instant,
  to: Instant,
  exceptions: readonly HoursException[] = [],
  lost: readonly (readonly [Instant, Instant])[] = [],
): Reading<Calendar> {
  const replaced = readExceptions(exceptions);
  if (!replaced.ok) return replaced;
  const intervals: [Instant, Instant][] = [];
  // A day earlier, for a span that runs over midnight into the first.
  for (let day = dayAt(from, zone) - 1; day <= dayAt(to, zone); day++) {
    for (const span of replaced.value.get(day) ?? week[weekdayIndex(day)]!) {
      intervals.push([instantOfWall(day, span.from, zone), instantOfWall(day, span.to, zone)]);
    }
  }
  const open = clipOpenTime(calendarFrom(intervals), from, to);
  return { ok: true, value: lost.length === 0 ? open : subtractOpenTime(open, calendarFrom(lost)) };
}

const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];
const LONG_NAMES = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'];
const FIVE_DAYS: readonly number[] = [0, 1, 2, 3, 4];
const TWO_DAYS: readonly number[] = [5, 6];
/** Days as people say them. */
const SAID_DAYS: ReadonlyMap<string, readonly number[]> = new Map<string, readonly number[]>([
  ['daily', [0, 1, 2, 3, 4, 5, 6]],
  ...['weekdays', 'weekday', 'evenings', 'evening', 'mornings', 'morning', 'afternoons', 'afternoon'].map(
    (word) => [word, FIVE_DAYS] as const,
  ),
  ...['weekend', 'weekends'].map((word) => [word, TWO_DAYS] as const),
]);
const WEEK = 7 * MINUTES_PER_DAY;
const WHOLE_DAY: DaySpan = { from: 0, to: MINUTES_PER_DAY };
const SPAN = /^(\d{1,2})(?::(\d{2}))?-(\d{1,2})(?::(\d{2}))?$/;

function addPart(week: DaySpan[][], part: string): TextProblem | null {
  const words = wordsOf(part);
  const firstSpan = words.findIndex((word) => /^\d/.test(word));
  const dayWords = firstSpan < 0 ? words : words.slice(0, firstSpan);
  if (dayWords.length === 0) return hoursProblem(part, problemTexts.hours.noDay(part, words[0]!));
  if (firstSpan < 0) return lacksHours(part, dayWords);
  const spans: DaySpan[] = [];
  for (const word of words.slice(firstSpan)) {
    const span = readSpan(word);
    if (!span.ok) return span.problem;
    spans.push(span.value);
  }
  for (const word of dayWords) {
    const days = readDays(word);
    if (!days.ok) return days.problem;
    for (const day of days.value) week[day]!.push(...spans);
  }
  return null;
}

/** A part without a span: a misspelt day is the likelier mistake, so it is named first. */
function lacksHours(part: string, dayWords: readonly string[]): TextProblem {
  for (const word of dayWords) {
    const days = readDays(word);
    if (!days.ok) return days.problem;
  }
  return hoursProblem(
    part,
    /^evenings?$/.test(part) ? problemTexts.hours.evenings(part) : problemTexts.hours.noHours(part),
  );
}

function readDays(word: string): Reading<readonly number[]> {
  const said = SAID_DAYS.get(word);
  if (said !== undefined) return { ok: true, value: said };
  const ends = word.split('-');
  const days = ends.map((end) => Math.max(WEEKDAYS.indexOf(end), LONG_NAMES.indexOf(end)));
  const unknown = ends[days.indexOf(-1)];
  if (unknown !== undefined || ends.length > 2) {
    return wrong(word, problemTexts.hours.notADay(unknown || word, WEEKDAYS));
  }
  const [first, last] = [days[0]!, days[1] ?? days[0]!];
  return { ok: true, value: Array.from({ length: ((last - first + 7) % 7) + 1 }, (_, i) => (first + i) % 7) };
}

function readSpan(word: string): Reading<DaySpan> {
  const match = SPAN.exec(word);
  if (!match) return wrong(word, problemTexts.hours.notASpan(word));
  const [fromHour, fromMinute, toHour, toMinute] = [1, 2, 3, 4].map((i) => Number(match[i] ?? 0)) as [
    number,
    number,
    number,
    number,
  ];
  const [from, to] = [fromHour * 60 + fromMinute, toHour * 60 + toMinute];
  if (fromMinute > 59 || toMinute > 59 || from >= MINUTES_PER_DAY || to > MINUTES_PER_DAY) {
    return wrong(word, problemTexts.hours.offTheClock(word));
  }
  if (match[2] === undefined && match[4] === undefined && 0 < to && to < from && fromHour < 13) {
    const meant = `${String(fromHour).padStart(2, '0')}:00-${toHour + 12}:00`;
    return wrong(word, problemTexts.hours.noMinutes(word, meant));
  }
  if (from === to) return wrong(word, problemTexts.hours.emptySpan(word));
  return { ok: true, value: { from, to: to > from ? to : to + MINUTES_PER_DAY } };
}

function readExceptions(exceptions: readonly HoursException[]): Reading<Map<Day, readonly DaySpan[]>> {
  const byDay = new Map<Day, readonly DaySpan[]>();
  for (const { date, hours } of exceptions) {
    const day = readDate(date);
    if (!day.ok) return day;
    const spans = readDayHours(hours);
    if (!spans.ok) return spans;
    if (byDay.has(day.value)) return wrong(date, problemTexts.hours.dateTwice(date));
    byDay.set(day.value, spans.value);
  }
  return { ok: true, value: byDay };
}

/**
 * In order, with overlapping and touching spans made one where the text can still say it: up to 24 hours, whole days
 * from 00:00.
 */
function tidySpans(spans: readonly DaySpan[]): DaySpan[] {
  const tidy: DaySpan[] = [];
  for (const span of [...spans].sort((a, b) => a.from - b.from)) {
    const last = tidy.at(-1);
    const to = last ? Math.max(last.to, span.to) : span.to;
    const sayable = last && (to - last.from < MINUTES_PER_DAY || to === MINUTES_PER_DAY);
    if (last && span.from <= last.to && sayable) tidy[tidy.length - 1] = { from: last.from, to };
    else tidy.push(span);
  }
  return tidy;
}

function daysText(chosen: readonly boolean[]): string {
  if (chosen.every(Boolean)) return 'daily';
  const texts: string[] = [];
  for (let day = 0; day < 7; day++) {
    if (!chosen[day]) continue;
    let last = day;
    while (chosen[last + 1]) last++;
    texts.push(last - day >= 2 ? `${WEEKDAYS[day]}-${WEEKDAYS[last]}` : WEEKDAYS.slice(day, last + 1).join(','));
    day = last;
  }
  return texts.join(',');
}

function spanText({ from, to }: DaySpan): string {
  return `${clockText(from)}-${clockText(to === MINUTES_PER_DAY ? to : to % MINUTES_PER_DAY)}`;
}

function clockText(minutes: Minutes): string {
  return `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

/** People also write a long dash, spaces around it, or the word: `Mon to Fri 18:00 to 22:30`. */
function wordsOf(text: string): string[] {
  return text
    .replace(/\s+(?:to|until|till)\s+|\s*[-–—]\s*/g, '-')
    .split(/[\s,]+/)
    .filter((word) => word !== '');
}

function weekdayIndex(day: Day): number {
  return (((day + 3) % 7) + 7) % 7;
}

function hoursProblem(value: string, what: Sentence): TextProblem {
  return { code: 'hours', value, ...saidOf(what) };
}

function wrong(value: string, what: Sentence): Reading<never> {
  return { ok: false, problem: hoursProblem(value, what) };
}
