import { describe, expect, test } from 'vitest';
import { Calendars } from '../../../server/engine/07-levelling/instance/calendars.ts';
import { calendarFrom } from '../../../server/engine/calendar/working-time.ts';
import { Random } from '../../../server/engine/numbers/random.ts';

const DAY = 1440;
const DAYS = 40;

/** Minute by minute: whether somebody is there. */
type Minutes = Uint8Array;

function hours(random: Random): Minutes {
  const open = new Uint8Array(DAYS * DAY);
  const kind = random.below(4);
  if (kind === 0) return open.fill(1);
  const from = 300 + random.below(900);
  // Shifts of every length, over midnight too.
  const length = 60 + random.below(kind === 1 ? 2000 : 500);
  for (let day = 0; day < DAYS; day++) {
    if (random.below(4) > 0) open.fill(1, day * DAY + from, Math.min(DAYS * DAY, day * DAY + from + length));
  }
  return open;
}

function openTime(open: Minutes) {
  const intervals: [number, number][] = [];
  open.forEach((is, t) => {
    if (is === 0) return;
    if (intervals.at(-1)?.[1] === t) intervals.at(-1)![1]++;
    else intervals.push([t, t + 1]);
  });
  return calendarFrom(intervals);
}

describe('calendars that lose days', () => {
  test('answer as calendars that were made without those days, and again as before when nothing is lost', () => {
    for (let seed = 1; seed <= 25; seed++) {
      const random = new Random(seed);
      const open = [hours(random), hours(random), hours(random)];
      const all = DAYS * DAY;
      const days = Int32Array.from({ length: DAYS }, (_, day) => day * DAY);
      // The last of the three is a machine's and loses nothing.
      const changing = new Calendars(open.map(openTime), 0, all, { days, concerns: (k) => k < 2 });
      for (let round = 0; round < 4; round++) {
        const lost = [...days].filter(() => random.below(round === 3 ? 1000 : 4) === 0);
        changing.takeOut(
          Int32Array.from(lost),
          Int32Array.from(lost, (start) => start + DAY),
          lost.length,
        );
        const left = open.map((minutes, k) => {
          const without = minutes.slice();
          for (const start of k < 2 ? lost : []) without.fill(0, start, start + DAY);
          return without;
        });
        const plain = new Calendars(left.map(openTime), 0, all);
        for (let question = 0; question < 60; question++) {
          const k = random.below(3);
          const t = random.below(all);
          const minutes = 1 + random.below(900);
          const name = `seed ${seed}, round ${round}, calendar ${k}, ${minutes} from ${t}`;
          expect(changing.nextOpen(k, t), name).toBe(plain.nextOpen(k, t));
          expect(changing.worked(k, t), name).toBe(plain.worked(k, t));
          expect(changing.add(k, t, minutes), name).toBe(plain.add(k, t, minutes));
          expect(changing.subtract(k, t, minutes), name).toBe(plain.subtract(k, t, minutes));
          expect(changing.stretch(k, t, minutes), name).toBe(plain.stretch(k, t, minutes));
          expect([changing.finish(k, t, minutes), changing.start], name).toEqual([
            plain.finish(k, t, minutes),
            plain.start,
          ]);
          const work = plain.worked(k, t);
          expect([changing.span(k, work, minutes), changing.start], name).toEqual([
            plain.span(k, work, minutes),
            plain.start,
          ]);
          expect(changing.endOf(k, work + 1), name).toBe(plain.endOf(k, work + 1));
          const later = changing.worked(k, t) + random.below(random.below(3) === 0 ? 5000 : 300);
          expect([changing.spanAfter(later, minutes), changing.start], name).toEqual([
            plain.span(k, later, minutes),
            plain.start,
          ]);
        }
      }
      const none = new Int32Array(0);
      changing.takeOut(none, none, 0);
      expect(changing.takeOut(none, none, 0)).toBe(false);
    }
  });
});
