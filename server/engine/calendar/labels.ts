/**
 * Instants and lengths of time as people at the bench say them. English, short, the same width wherever they stand.
 */

import type { Month, Day as Weekday } from 'date-fns';
import { enGB } from 'date-fns/locale/en-GB';
import type { Instant, Minutes } from '../types.ts';
import { calendarOf, type Day, dayAt, timeAt, weekdayOf } from './clock.ts';

/** The words of the language: its weekdays from Sunday on, its months from January on. */
const { localize } = enGB;
const SHORT = { width: 'abbreviated' } as const;

/** A day as `Thu 3 Dec`. */
export function dayLabel(day: Day): string {
  const { month, date } = calendarOf(day);
  const [weekday, monthName] = [
    localize.day((weekdayOf(day) % 7) as Weekday, SHORT),
    localize.month((month - 1) as Month, SHORT),
  ];
  return `${weekday} ${date} ${monthName}`;
}

/** An instant as `Thu 3 Dec 14:00` on the clock of the zone. */
export function momentLabel(t: Instant, zone: string): string {
  return `${dayLabel(dayAt(t, zone))} ${timeAt(t, zone)}`;
}

/**
 * Working minutes as `28 h 30 min`, never in days: a working day is as long as somebody's hours. Fractions count as a
 * whole minute.
 */
export function hoursLabel(minutes: Minutes): string {
  if (minutes < 0) return `−${hoursLabel(-minutes)}`;
  const whole = Math.ceil(minutes);
  const [hours, rest] = [Math.floor(whole / 60), whole % 60];
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}
