import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addClockMinutes,
  addOpenMinutes,
  alwaysOpen,
  atLeastOpen,
  calendarFrom,
  clipOpenTime,
  earliestStartInOneGo,
  intersectionOf,
  intervalsOf,
  isOpen,
  LONG_AGO,
  latestStartInOneGo,
  NEVER,
  NEVER_OPEN,
  nextOpen,
  openMinutesBetween,
  previousOpen,
  subtractOpenMinutes,
  subtractOpenTime,
  totalOpenMinutes,
  unionOf,
} from '../../../server/engine/calendar/working-time.ts';
import type { Calendar } from '../../../server/engine/types.ts';

const at = (hour: number, minute = 0, day = 0) => day * 1440 + hour * 60 + minute;
const week = calendarFrom(
  [0, 1, 2, 3, 4].flatMap((day): [number, number][] => [
    [at(8, 0, day), at(12, 0, day)],
    [at(13, 0, day), at(17, 0, day)],
  ]),
);

describe('adding open minutes', () => {
  it('finishes at the end of an interval, not at the start of the next', () => {
    expect(addOpenMinutes(week, at(11), 60)).toBe(at(12));
    expect(addOpenMinutes(week, at(11), 61)).toBe(at(13, 1));
    expect(addOpenMinutes(week, at(16), 60)).toBe(at(17));
    expect(addOpenMinutes(week, at(8), 8 * 60)).toBe(at(17));
    expect(addOpenMinutes(week, at(8), 8 * 60 + 1)).toBe(at(8, 1, 1));
  });

  it('begins at the next opening when asked while closed', () => {
    expect(addOpenMinutes(week, at(6), 30)).toBe(at(8, 30));
    expect(addOpenMinutes(week, at(12, 20), 30)).toBe(at(13, 30));
    expect(addOpenMinutes(week, at(20), 30)).toBe(at(8, 30, 1));
  });

  it('leaves a start without minutes where it is, open or not', () => {
    expect(addOpenMinutes(week, at(12, 30), 0)).toBe(at(12, 30));
    expect(subtractOpenMinutes(week, at(12, 30), 0)).toBe(at(12, 30));
  });

  it('says never when the calendar runs out', () => {
    expect(addOpenMinutes(week, at(16, 0, 4), 60)).toBe(at(17, 0, 4));
    expect(addOpenMinutes(week, at(16, 0, 4), 61)).toBe(NEVER);
    expect(addOpenMinutes(NEVER_OPEN, at(8), 1)).toBe(NEVER);
    expect(addOpenMinutes(week, NEVER, 5)).toBe(NEVER);
    expect(addClockMinutes(NEVER, -5)).toBe(NEVER);
    expect(addClockMinutes(LONG_AGO, 5)).toBe(LONG_AGO);
    expect(addClockMinutes(2_147_483_000, 1000)).toBe(NEVER);
  });

  it('counts a negative number of minutes backwards', () => {
    expect(addOpenMinutes(week, at(14), -61)).toBe(at(11, 59));
    expect(subtractOpenMinutes(week, at(11), -61)).toBe(at(13, 1));
  });
});

describe('subtracting open minutes', () => {
  it('gives the latest start, at an opening where two would do', () => {
    expect(subtractOpenMinutes(week, at(14), 60)).toBe(at(13));
    expect(subtractOpenMinutes(week, at(14), 61)).toBe(at(11, 59));
    expect(subtractOpenMinutes(week, at(22), 60)).toBe(at(16));
  });

  it('says long ago when there is not that much before', () => {
    expect(subtractOpenMinutes(week, at(9), 60)).toBe(at(8));
    expect(subtractOpenMinutes(week, at(9), 61)).toBe(LONG_AGO);
    expect(subtractOpenMinutes(week, LONG_AGO, 1)).toBe(LONG_AGO);
  });
});

describe('one go', () => {
  it('starts where the whole of it fits before the break', () => {
    expect(earliestStartInOneGo(week, at(9), 180)).toBe(at(9));
    expect(earliestStartInOneGo(week, at(9), 181)).toBe(at(13));
    expect(earliestStartInOneGo(week, at(14), 240)).toBe(at(8, 0, 1));
    expect(earliestStartInOneGo(week, at(14), 241)).toBe(NEVER);
  });

  it('starts as late as the whole of it still fits', () => {
    expect(latestStartInOneGo(week, at(16), 180)).toBe(at(13));
    expect(latestStartInOneGo(week, at(16), 181)).toBe(at(8, 59));
    expect(latestStartInOneGo(week, at(23), 60)).toBe(at(16));
    expect(latestStartInOneGo(week, at(12), 241)).toBe(LONG_AGO);
  });

  it('finds the one long interval behind a thousand short ones', () => {
    const short = Array.from({ length: 1000 }, (_, i): [number, number] => [i * 10, i * 10 + 5]);
    const open = calendarFrom([[-100, -90], ...short, [20_000, 20_009]]);
    expect(earliestStartInOneGo(open, 0, 6)).toBe(20_000);
    expect(earliestStartInOneGo(open, 0, 10)).toBe(NEVER);
    expect(latestStartInOneGo(open, 19_000, 6)).toBe(-96);
    expect(latestStartInOneGo(open, 19_000, 11)).toBe(LONG_AGO);
  });
});

describe('counting and looking', () => {
  it('counts open minutes with a sign', () => {
    expect(openMinutesBetween(week, at(11), at(14))).toBe(120);
    expect(openMinutesBetween(week, at(14), at(11))).toBe(-120);
    expect(openMinutesBetween(week, at(18), at(7, 0, 1))).toBe(0);
    expect(totalOpenMinutes(week)).toBe(5 * 480);
    expect(totalOpenMinutes(NEVER_OPEN)).toBe(0);
  });

  it('finds the next and the previous open moment', () => {
    expect(nextOpen(week, at(9))).toBe(at(9));
    expect(nextOpen(week, at(12))).toBe(at(13));
    expect(nextOpen(week, at(17, 0, 4))).toBe(NEVER);
    expect(previousOpen(week, at(9))).toBe(at(9));
    expect(previousOpen(week, at(13))).toBe(at(12));
    expect(previousOpen(week, at(8))).toBe(LONG_AGO);
    expect([isOpen(week, at(12)), isOpen(week, at(11, 59)), isOpen(week, at(8))]).toEqual([false, true, true]);
  });
});

describe('building', () => {
  it('joins overlapping and touching intervals and drops empty ones', () => {
    const open = calendarFrom([
      [10, 20],
      [0, 5],
      [20, 30],
      [25, 28],
      [40, 40],
    ]);
    expect(intervalsOf(open)).toEqual([
      [0, 5],
      [10, 30],
    ]);
    expect([...open.openBefore]).toEqual([0, 5]);
  });

  it('refuses an interval that ends before it begins', () => {
    expect(() => calendarFrom([[5, 4]])).toThrow(RangeError);
    expect(() => calendarFrom([[0.5, 4]])).toThrow(RangeError);
    expect(() => atLeastOpen(0, [week])).toThrow(RangeError);
    expect(() => intersectionOf([])).toThrow(RangeError);
  });

  it('lets one person take over from another without a gap', () => {
    expect(intervalsOf(unionOf([alwaysOpen(0, 10), alwaysOpen(10, 20)]))).toEqual([[0, 20]]);
    const two = atLeastOpen(2, [alwaysOpen(0, 10), alwaysOpen(0, 20), alwaysOpen(10, 30)]);
    expect(intervalsOf(two)).toEqual([[0, 20]]);
  });
});

describe('against counting minute by minute', () => {
  const span = 60;
  const calendar = fc
    .array(fc.tuple(fc.integer({ min: 0, max: span }), fc.integer({ min: 0, max: 12 })), { maxLength: 20 })
    .map((pairs) => calendarFrom(pairs.map(([from, length]): [number, number] => [from, from + length])));
  const minutes = (open: Calendar) => Array.from({ length: 80 }, (_, t) => isOpen(open, t));
  const options = { seed: 20261024, numRuns: 500 };

  it('combines calendars as sets of minutes', () => {
    fc.assert(
      fc.property(calendar, calendar, calendar, fc.integer({ min: 1, max: 3 }), (a, b, c, count) => {
        const [x, y, z] = [minutes(a), minutes(b), minutes(c)];
        expect(minutes(unionOf([a, b, c]))).toEqual(x!.map((_, t) => x![t]! || y![t]! || z![t]!));
        expect(minutes(intersectionOf([a, b]))).toEqual(x!.map((_, t) => x![t]! && y![t]!));
        expect(minutes(subtractOpenTime(a, b))).toEqual(x!.map((_, t) => x![t]! && !y![t]!));
        expect(minutes(atLeastOpen(count, [a, b, c]))).toEqual(x!.map((_, t) => +x![t]! + +y![t]! + +z![t]! >= count));
        expect(minutes(clipOpenTime(a, 10, 40))).toEqual(x!.map((open, t) => open && t >= 10 && t < 40));
      }),
      options,
    );
  });

  it('keeps intervals apart, in order and counted', () => {
    fc.assert(
      fc.property(calendar, calendar, (a, b) => {
        for (const open of [a, unionOf([a, b]), intersectionOf([a, b]), subtractOpenTime(a, b)]) {
          const intervals = intervalsOf(open);
          intervals.forEach(([from, to], i) => {
            expect(from).toBeLessThan(to);
            if (i > 0) expect(from).toBeGreaterThan(intervals[i - 1]![1]);
          });
          expect(totalOpenMinutes(open)).toBe(minutes(open).filter(Boolean).length);
        }
      }),
      options,
    );
  });

  it('adds and subtracts as counting on the fingers does', () => {
    fc.assert(
      fc.property(
        calendar,
        fc.integer({ min: -5, max: 85 }),
        fc.integer({ min: 1, max: 30 }),
        fc.boolean(),
        (open, t, m, inOneGo) => {
          if (inOneGo) {
            expect(earliestStartInOneGo(open, t, m)).toBe(slowEarliest(open, t, m));
            expect(latestStartInOneGo(open, t, m)).toBe(slowLatest(open, t, m));
          } else {
            expect(addOpenMinutes(open, t, m)).toBe(slowAdd(open, t, m));
            expect(subtractOpenMinutes(open, t, m)).toBe(slowSubtract(open, t, m));
          }
        },
      ),
      options,
    );
  });

  it('mirrors forwards and backwards exactly', () => {
    const instant = fc.integer({ min: -5, max: 85 });
    fc.assert(
      fc.property(calendar, instant, instant, fc.integer({ min: 0, max: 30 }), (open, s, t, m) => {
        expect(addOpenMinutes(open, s, m) <= t).toBe(s <= subtractOpenMinutes(open, t, m));
        const finish = addClockMinutes(earliestStartInOneGo(open, s, m), m);
        expect(finish <= t).toBe(s <= latestStartInOneGo(open, t, m));
      }),
      options,
    );
  });
});

function slowAdd(open: Calendar, t: number, m: number): number {
  let left = m;
  for (let u = t; u < 200; u++) if (isOpen(open, u) && --left === 0) return u + 1;
  return NEVER;
}

function slowSubtract(open: Calendar, t: number, m: number): number {
  let left = m;
  for (let u = t - 1; u > -200; u--) if (isOpen(open, u) && --left === 0) return u;
  return LONG_AGO;
}

function slowEarliest(open: Calendar, t: number, m: number): number {
  for (let s = t; s < 200; s++) if (allOpen(open, s, m)) return s;
  return NEVER;
}

function slowLatest(open: Calendar, t: number, m: number): number {
  for (let s = t - m; s > -200; s--) if (allOpen(open, s, m)) return s;
  return LONG_AGO;
}

function allOpen(open: Calendar, s: number, m: number): boolean {
  for (let u = s; u < s + m; u++) if (!isOpen(open, u)) return false;
  return true;
}
