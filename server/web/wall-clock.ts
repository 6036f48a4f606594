/** Instants as a wall shows them, remembered for one rendering. */
import type { WallClock, WallDay } from '../../views/wall-clock.ts';
import { calendarOf, dateText, dayAt, daysBetween, instantOfWall, timeAt, weekdayOf } from '../engine/index.ts';

const MORNING = 6 * 60;
const EVENING = 22 * 60;
/** A page asks for the same days many times, once for each of its pictures. */
const SPANS_KEPT = 40;

/** The clock on the wall of a zone, as the views want it. Instants are whole minutes since the epoch (UTC). */
export function wallClock(zone: string): WallClock {
  const known = new Map<string, readonly WallDay[]>();
  return {
    zone,
    read: (instant) => {
      const day = dayAt(instant, zone);
      const { year, month, date } = calendarOf(day);
      return { date: dateText(day), year, month, day: date, weekday: weekdayOf(day), time: timeAt(instant, zone) };
    },
    days: (from, to) => {
      const key = `${from} ${to}`;
      const found =
        known.get(key) ?? daysBetween(from, to, zone).map(({ day, start, end }) => wallDay(day, start, end, zone));
      if (known.size < SPANS_KEPT) known.set(key, found);
      return found;
    },
    daysApart: (from, to) => dayAt(to, zone) - dayAt(from, zone),
  };
}

function wallDay(day: number, start: number, end: number, zone: string): WallDay {
  const { year, month, date } = calendarOf(day);
  const morning = instantOfWall(day, MORNING, zone);
  const evening = instantOfWall(day, EVENING, zone);
  return { date: dateText(day), year, month, day: date, weekday: weekdayOf(day), start, end, morning, evening };
}
