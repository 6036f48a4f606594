import type { WallClock } from '../../views/wall-clock.ts';
import { calendarOf, dateText, dayAt, daysBetween, instantOfWall, timeAt, weekdayOf } from '../engine/clock.ts';

const MORNING = 6 * 60;
const EVENING = 22 * 60;

/** The clock on the wall of a zone, as the views want it. Instants are whole minutes since the epoch (UTC). */
export function wallClock(zone: string): WallClock {
  return {
    zone,
    read: (instant) => {
      const day = dayAt(instant, zone);
      const { year, month, date } = calendarOf(day);
      return { date: dateText(day), year, month, day: date, weekday: weekdayOf(day), time: timeAt(instant, zone) };
    },
    days: (from, to) =>
      daysBetween(from, to, zone).map(({ day, start, end }) => {
        const { year, month, date } = calendarOf(day);
        const morning = instantOfWall(day, MORNING, zone);
        const evening = instantOfWall(day, EVENING, zone);
        return {
          date: dateText(day),
          year,
          month,
          day: date,
          weekday: weekdayOf(day),
          start,
          end,
          morning,
          evening,
        };
      }),
    daysApart: (from, to) => dayAt(to, zone) - dayAt(from, zone),
  };
}
