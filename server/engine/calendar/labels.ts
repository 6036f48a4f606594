/** Instants as people at the bench say them: short, the same width wherever they are. */

import { problemTexts, type Sentence } from '../../model/index.ts';
import type { Instant } from '../types.ts';
import { calendarOf, dayAt, timeAt, weekdayOf } from './clock.ts';

/** An instant as `Thu 3 Dec 14:00` on the clock of the zone, to be said in the reader's language. */
export function momentText(t: Instant, zone: string): Sentence {
  const day = dayAt(t, zone);
  const { month, date } = calendarOf(day);
  return problemTexts.dates.moment({ weekday: weekdayOf(day), date, month, time: timeAt(t, zone) });
}
