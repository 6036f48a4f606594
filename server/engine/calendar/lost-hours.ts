/** Hours of days to come that somebody loses: the days that differ because of it. */

import type { Instant } from '../types.ts';
import { dateText, dayAt, MINUTES_PER_DAY, minuteOfDayAt, readDate, weekdayOf } from './clock.ts';
import { type DaySpan, type HoursException, readDayHours, readHours } from './hours.ts';

/** Somebody's hours as they are typed. */
interface TypedHours {
  readonly hours: string;
  readonly exceptions?: readonly HoursException[] | undefined;
}

/**
 * The days that differ once the stretch from `from` to `until` is lost: those of before, with the hours of the stretch
 * taken out of each day that had any; `off` where none are left. Hours are readings of the wall clock, as everywhere in
 * hours. A day whose hours cannot be read stays as it is. O(days of the stretch + days that differ).
 *
 * @example daily 18:00-22:00, lost from 20:00 on the 3rd: { date: '2026-12-03', hours: '18:00-20:00' }
 */
export function exceptionsWithout(own: TypedHours, from: Instant, until: Instant, zone: string): HoursException[] {
  const week = readHours(own.hours);
  const kept = new Map((own.exceptions ?? []).map((it) => [it.date, it]));
  const [first, last] = [dayAt(from, zone), dayAt(until, zone)];
  // What is left of a span after midnight, when its begin is lost, belongs to the day after.
  let rest: DaySpan[] = [];
  // What was begun the evening before may still go on.
  for (let day = first - 1; day <= last; day++) {
    const date = dateText(day);
    const there = kept.get(date);
    const spans = spansOf(there, week.ok ? week.value[weekdayOf(day) - 1]! : []);
    const lost = {
      from: (first - day) * MINUTES_PER_DAY + minuteOfDayAt(from, zone),
      to: (last - day) * MINUTES_PER_DAY + minuteOfDayAt(until, zone),
    };
    const left = spans.flatMap((span) => without(span, lost));
    const own = [...rest, ...left.filter((span) => span.from < MINUTES_PER_DAY)];
    rest = left.filter((span) => span.from >= MINUTES_PER_DAY).map(dayLater);
    if (isSame(own, spans)) continue;
    kept.set(date, { ...there, date, hours: own.length === 0 ? 'off' : own.map(spanText).join(' ') });
  }
  return [...kept.values()].sort((a, b) => a.date.localeCompare(b.date));
}

/** The number of a day that is written as `2026-12-03`; null for what is no date. */
export function dayNumber(date: string): number | null {
  const read = readDate(date);
  return read.ok ? read.value : null;
}

/** The hours of a day, by what differs on it or else by its weekday; none of what cannot be read. */
function spansOf(there: HoursException | undefined, weekday: readonly DaySpan[]): readonly DaySpan[] {
  if (there === undefined) return weekday;
  const read = readDayHours(there.hours);
  return read.ok ? read.value : [];
}

function isSame(one: readonly DaySpan[], other: readonly DaySpan[]): boolean {
  return one.length === other.length && one.every(({ from, to }, i) => from === other[i]!.from && to === other[i]!.to);
}

function dayLater({ from, to }: DaySpan): DaySpan {
  return { from: from - MINUTES_PER_DAY, to: to - MINUTES_PER_DAY };
}

function without(span: DaySpan, lost: DaySpan): DaySpan[] {
  const before = { from: span.from, to: Math.min(span.to, lost.from) };
  const after = { from: Math.max(span.from, lost.to), to: span.to };
  return lost.to <= span.from || lost.from >= span.to ? [span] : [before, after].filter((it) => it.to > it.from);
}

/** A span over midnight is written with the hour of the day after. */
function spanText({ from, to }: DaySpan): string {
  return `${clockText(from % MINUTES_PER_DAY)}-${clockText(to > MINUTES_PER_DAY ? to - MINUTES_PER_DAY : to)}`;
}

function clockText(minutes: number): string {
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return `${String(hours).padStart(2, '0')}:${String(rest).padStart(2, '0')}`;
}
