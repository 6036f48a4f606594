/** Days that people lose after a work was compiled. */
import type { Instance } from './instance.ts';

/**
 * Takes the first `count` of these days out of all people's hours, in place of those taken out before: work under way
 * pauses over them as over any hours in which nobody is there. The instance was compiled with these days.
 * Forgets the schedule of the last pass where any hours change.
 */
export function loseDays(instance: Instance, starts: Int32Array, ends: Int32Array, count: number): void {
  const { calendars, people, ownCalendar } = instance;
  if (!calendars.takeOut(starts, ends, count)) return;
  people.clear();
  for (let r = 0; r < ownCalendar.length; r++) {
    if (ownCalendar[r]! >= 0) people.shorten(r, calendars.openMinutes(ownCalendar[r]!));
  }
}
