/**
 * Warnings about single shifts: no break in a long one, too long a shift, too much work in shifts at night, too many
 * nights in a row.
 */
import type { WorkHoursWarning } from '../../../model/index.ts';
import {
  calendarFrom,
  dayAt,
  daysBetween,
  instantOfWall,
  intervalsOf,
  nextOpen,
  openMinutesBetween,
} from '../../calendar/index.ts';
import type { Calendar, Instant, Minutes } from '../../types.ts';

/** Article 4: longer than this, a working day has a break. */
const UNBROKEN_MINUTES = 6 * 60;
/**
 * Article 4 leaves its length to the law of the place; 20 minutes in the UK (Working Time Regulations 1998; from
 * memory).
 */
const BREAK_MINUTES = 20;
/** HSG256 (from memory): a shift with its overtime. */
const SHIFT_MINUTES = 12 * 60;
/** Article 8: hours of a night worker in 24, on average. */
const NIGHT_SHIFT_MINUTES = 8 * 60;
/** Article 2 (from memory): who works as much of the night as this is a night worker. */
const NIGHT_WORK_MINUTES = 3 * 60;
/** HSG256 (from memory): nights in a row. */
const NIGHTS_IN_A_ROW = 3;
/** A pause as long as this ends a shift: our own choice, for the directive does not say. */
const SHIFT_ENDS_AFTER_MINUTES = 8 * 60;
/** Article 2: night time includes at least midnight to five, minutes after midnight. */
const NIGHT_UNTIL_MINUTE = 5 * 60;

/** What is warned of, without whose hours they are. */
export type Warned = Pick<WorkHoursWarning, 'code' | 'at' | 'minutes'> & Partial<WorkHoursWarning>;

/** What the shifts of one person give to warn of, each kind once. Linear in the spells, and in the nights. */
export function shiftFindings(worked: Calendar, zone: string): Warned[] {
  const shifts = joinedOver(worked, SHIFT_ENDS_AFTER_MINUTES);
  return [
    ...breakFindings(worked),
    ...longShiftFindings(worked, shifts),
    ...nightShiftFindings(worked, shifts, zone),
    ...rowFindings(worked, zone),
  ];
}

/** The nights, midnight to five, in which something is open. */
export function nightsTouched(open: Calendar, zone: string): [Instant, Instant][] {
  if (open.opens.length === 0) return [];
  const days = daysBetween(open.opens[0]!, open.closes.at(-1)!, zone);
  const hours = days.map(({ day, start }): [Instant, Instant] => [start, instantOfWall(day, NIGHT_UNTIL_MINUTE, zone)]);
  return hours.filter(([from, to]) => openMinutesBetween(open, from, to) > 0);
}

/** The longest stretch without a break, where it is too long; it begins at the first that is. */
function breakFindings(worked: Calendar): Warned[] {
  const unbroken = joinedOver(worked, BREAK_MINUTES).map((shift) => workIn(worked, shift));
  return worstOf('break', unbroken, UNBROKEN_MINUTES);
}

function longShiftFindings(worked: Calendar, shifts: readonly Span[]): Warned[] {
  const all = shifts.map((shift) => workIn(worked, shift));
  return worstOf('long-shift', all, SHIFT_MINUTES);
}

/** The average of the shifts with much of their time in the night. */
function nightShiftFindings(worked: Calendar, shifts: readonly Span[], zone: string): Warned[] {
  const nights = calendarFrom(nightsTouched(worked, zone));
  const atNight = shifts
    .filter(([from, to]) => {
      const inNights = intervalsOf(nights).map(([start, end]) => [Math.max(start, from), Math.min(end, to)] as const);
      return sum(inNights.map(([a, b]) => (b > a ? openMinutesBetween(worked, a, b) : 0))) >= NIGHT_WORK_MINUTES;
    })
    .map((shift) => workIn(worked, shift));
  const average = sum(atNight.map(({ minutes }) => minutes)) / Math.max(1, atNight.length);
  if (average <= NIGHT_SHIFT_MINUTES) return [];
  return [{ code: 'night-hours', at: atNight[0]!.at, minutes: Math.round(average), nights: atNight.length }];
}

/** Each row of worked nights, one after the other, that is too long. */
function rowFindings(worked: Calendar, zone: string): Warned[] {
  const rows: [Instant, Instant][][] = [];
  const nights = nightsTouched(worked, zone).filter(
    ([from, to]) => openMinutesBetween(worked, from, to) >= NIGHT_WORK_MINUTES,
  );
  for (const night of nights) {
    const row = rows.at(-1);
    const before = row?.at(-1)?.[0];
    if (row !== undefined && dayAt(night[0], zone) - dayAt(before!, zone) === 1) row.push(night);
    else rows.push([night]);
  }
  return rows
    .filter(({ length }) => length > NIGHTS_IN_A_ROW)
    .map((row) => ({
      code: 'nights-in-a-row',
      at: nextOpen(worked, row[0]![0]),
      minutes: sum(row.map(([from, to]) => openMinutesBetween(worked, from, to))),
      nights: row.length,
    }));
}

type Span = readonly [from: Instant, to: Instant];

/** Work from beginning to end, over pauses shorter than this. */
function joinedOver(worked: Calendar, pause: Minutes): Span[] {
  const spans: [Instant, Instant][] = [];
  for (const [from, to] of intervalsOf(worked)) {
    const last = spans.at(-1);
    if (last !== undefined && from - last[1] < pause) last[1] = to;
    else spans.push([from, to]);
  }
  return spans;
}

interface Stretch {
  readonly at: Instant;
  readonly minutes: Minutes;
}

function workIn(worked: Calendar, [from, to]: Span): Stretch {
  return { at: from, minutes: openMinutesBetween(worked, from, to) };
}

/** Once for all that are longer than this, with the longest of them; none where none is. */
function worstOf(code: Warned['code'], stretches: readonly Stretch[], most: Minutes): Warned[] {
  const over = stretches.filter(({ minutes }) => minutes > most);
  if (over.length === 0) return [];
  return [{ code, at: over[0]!.at, minutes: Math.max(...over.map(({ minutes }) => minutes)) }];
}

function sum(minutes: readonly Minutes[]): Minutes {
  return minutes.reduce((all, one) => all + one, 0);
}
