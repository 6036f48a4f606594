/** Instants and lengths of time as people at the bench say them: short, the same width wherever they are. */

import { problemTexts, type Sentence } from '../../model/index.ts';
import type { Instant, Minutes } from '../types.ts';
import { calendarOf, dayAt, timeAt, weekdayOf } from './clock.ts';

/** An instant as `Thu 3 Dec 14:00` on the clock of the zone, to be said in the reader's language. */
export function momentText(t: Instant, zone: string): Sentence {
  const day = dayAt(t, zone);
  const { month, date } = calendarOf(day);
  return problemTexts.dates.moment({ weekday: weekdayOf(day), date, month, time: timeAt(t, zone) });
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
