import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dateText, dayAt, readDate, readWall, wallText, weekdayOf } from '../../../server/engine/calendar/clock.ts';
import {
  addWorkingDays,
  arrivalOf,
  arrivalTable,
  latestOrderFor,
  noDayBefore,
  type SupplierDaysInput,
  supplierDays,
} from '../../../server/engine/calendar/supplier-days.ts';
import { LONG_AGO, NEVER } from '../../../server/engine/calendar/working-time.ts';

const BERLIN = 'Europe/Berlin';
const days = (input: SupplierDaysInput = {}) => must(supplierDays(input));
const day = (text: string) => must(readDate(text));
const at = (text: string) => must(readWall(text, BERLIN));
const sixDays = [1, 2, 3, 4, 5, 6];

// Values computed with numpy's busday functions (numpy.org, busday_offset and busday_count).
describe('counting working days', () => {
  it('adds 5 and 10 working days to a Friday', () => {
    expect(dateText(addWorkingDays(days(), day('2026-10-02'), 5))).toBe('2026-10-09');
    expect(dateText(addWorkingDays(days(), day('2026-10-02'), 10))).toBe('2026-10-16');
  });

  it('adds 10 working days in a week of six', () => {
    const six = days({ workingWeekdays: sixDays });
    expect(dateText(addWorkingDays(six, day('2026-10-02'), 10))).toBe('2026-10-14');
  });

  it('rolls a Saturday back or forward before it counts', () => {
    expect(dateText(addWorkingDays(days(), day('2026-10-31'), -10, 'back'))).toBe('2026-10-16');
    expect(dateText(addWorkingDays(days(), day('2026-10-31'), -10, 'forward'))).toBe('2026-10-19');
    expect(dateText(addWorkingDays(days(), day('2026-10-31'), 0))).toBe('2026-11-02');
  });

  it('leaves out holidays', () => {
    const holidays = ['2026-12-25', '2027-01-01'];
    expect(dateText(addWorkingDays(days({ holidays }), day('2026-12-14'), 15))).toBe('2027-01-06');
    expect(dateText(addWorkingDays(days(), day('2026-12-14'), 15))).toBe('2027-01-04');
  });
});

describe('days left before an event', () => {
  const from = at('2026-12-21T15:00'); // a Monday
  const left = (input: SupplierDaysInput, until: string) => {
    const noDay = noDayBefore(days(input), BERLIN, from, at(until));
    return noDay && [noDay.kind, wallText(noDay.next, BERLIN)];
  };

  it('are none where all are holidays, or the cut-off of the last has passed, or no delivery comes before it', () => {
    const closed = ['2026-12-21', '2026-12-22', '2026-12-23'];
    expect(left({ holidays: closed }, '2026-12-23T19:00')).toEqual(['working', '2026-12-24T00:00']);
    expect(left({ holidays: closed }, '2026-12-24T19:00')).toBeNull();
    expect(left({ cutOffMinute: 14 * 60, workingWeekdays: [1] }, '2026-12-27T19:00')).toEqual([
      ...['working', '2026-12-28T00:00'],
    ]);
    expect(left({ cutOffMinute: 16 * 60, workingWeekdays: [1] }, '2026-12-27T19:00')).toEqual([
      ...['delivery', '2026-12-28T12:00'],
    ]);
    expect(left({ deliveryWeekdays: [2], holidays: ['2026-12-22'] }, '2026-12-24T19:00')).toEqual([
      ...['delivery', '2026-12-29T12:00'],
    ]);
  });

  it('are none only where nothing that is ordered now can come before it, over random suppliers', () => {
    const weekdays = fc.subarray([1, 2, 3, 4, 5, 6, 7], { minLength: 1 });
    const input = fc.record({
      workingWeekdays: weekdays,
      deliveryWeekdays: weekdays,
      holidays: fc.subarray(['2026-12-21', '2026-12-22', '2026-12-23', '2026-12-25', '2026-12-28']),
      cutOffMinute: fc.constantFrom(9 * 60, 16 * 60, 24 * 60),
    });
    fc.assert(
      fc.property(input, fc.integer({ min: 1, max: 14 * 1440 }), (told, length) => {
        const noDay = noDayBefore(days(told), BERLIN, from, from + length);
        const next = arrivalOf(arrivalTable(days(told), 0, BERLIN, from, from + 60 * 1440), from);
        const isNone = next >= from + length;
        if (noDay === null) expect(next).toBeGreaterThan(from);
        else expect([isNone, noDay.next >= from + length]).toEqual([true, true]);
      }),
    );
  });
});

describe('when an order arrives', () => {
  const supplier = days({ cutOffMinute: 14 * 60, deliveryWeekdays: [2, 4], holidays: ['2026-10-08'] });
  const table = arrivalTable(supplier, 2, BERLIN, at('2026-09-28T00:00'), at('2026-11-30T00:00'));

  it('counts an order after the cut-off to the next day', () => {
    // Ordered Friday by 14:00: sent on Tuesday, a delivery day. A minute later: sent Wednesday, arrives Tuesday, as
    // Thursday is a holiday.
    expect(wallText(arrivalOf(table, at('2026-10-02T14:00')), BERLIN)).toBe('2026-10-06T12:00');
    expect(wallText(arrivalOf(table, at('2026-10-02T14:01')), BERLIN)).toBe('2026-10-13T12:00');
  });

  it('gives the latest order with its cut-off', () => {
    expect(wallText(latestOrderFor(table, at('2026-10-06T12:00')), BERLIN)).toBe('2026-10-02T14:00');
    expect(wallText(latestOrderFor(table, at('2026-10-13T11:59')), BERLIN)).toBe('2026-10-02T14:00');
    expect(wallText(latestOrderFor(table, at('2026-10-13T12:00')), BERLIN)).toBe('2026-10-09T14:00');
  });

  it('keeps the arrival hour on the wall when the clocks change', () => {
    const daily = arrivalTable(days(), 1, BERLIN, at('2026-10-20T00:00'), at('2026-10-30T00:00'));
    expect(wallText(arrivalOf(daily, at('2026-10-23T18:00')), BERLIN)).toBe('2026-10-26T12:00');
    expect(daily.cutoffs[3]! - daily.cutoffs[2]!).toBe(1440);
    expect(daily.cutoffs[5]! - daily.cutoffs[4]!).toBe(3 * 1440 + 60);
  });

  it('never lets an order arrive before it is placed', () => {
    const sameDay = arrivalTable(
      days({ cutOffMinute: 14 * 60 }),
      0,
      BERLIN,
      at('2026-10-05T00:00'),
      at('2026-10-09T00:00'),
    );
    expect(wallText(arrivalOf(sameDay, at('2026-10-05T09:00')), BERLIN)).toBe('2026-10-06T12:00');
    const early = arrivalTable(
      days({ cutOffMinute: 9 * 60 }),
      0,
      BERLIN,
      at('2026-10-05T00:00'),
      at('2026-10-09T00:00'),
    );
    expect(wallText(arrivalOf(early, at('2026-10-05T09:00')), BERLIN)).toBe('2026-10-05T12:00');
  });

  it('brings on a day what was ordered before it began, where nothing needs a working day', () => {
    const usual = arrivalTable(days(), 0, BERLIN, at('2026-10-01T00:00'), at('2026-10-12T00:00'));
    expect(wallText(arrivalOf(usual, at('2026-10-04T18:00')), BERLIN)).toBe('2026-10-05T12:00');
    expect(wallText(arrivalOf(usual, at('2026-10-05T18:00')), BERLIN)).toBe('2026-10-06T12:00');
    const noon = arrivalTable(
      days({ cutOffMinute: 14 * 60 }),
      0,
      BERLIN,
      at('2026-10-01T00:00'),
      at('2026-10-12T00:00'),
    );
    // After the cut-off it is the next day's, and there at noon.
    expect(wallText(arrivalOf(noon, at('2026-10-05T15:00')), BERLIN)).toBe('2026-10-06T12:00');
    expect(wallText(latestOrderFor(noon, at('2026-10-06T12:00')), BERLIN)).toBe('2026-10-06T00:00');
  });

  it('says never and long ago beyond the table', () => {
    expect(arrivalOf(table, at('2027-06-01T00:00'))).toBe(NEVER);
    expect(arrivalOf(table, at('2026-11-30T00:00'))).toBeLessThan(NEVER);
    expect(latestOrderFor(table, at('2026-09-01T00:00'))).toBe(LONG_AGO);
    expect([arrivalOf(table, NEVER), latestOrderFor(table, LONG_AGO)]).toEqual([NEVER, LONG_AGO]);
  });

  it('mirrors orders and arrivals exactly for any supplier', () => {
    const weekdays = fc.uniqueArray(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 7 });
    const instant = fc.integer({ min: at('2026-10-01T00:00'), max: at('2026-11-20T00:00') });
    const minute = fc.integer({ min: 0, max: 1440 });
    fc.assert(
      fc.property(
        weekdays,
        weekdays,
        minute,
        minute,
        fc.integer({ min: 0, max: 9 }),
        instant,
        instant,
        (w, d, c, a, n, s, t) => {
          const one = days({ workingWeekdays: w, deliveryWeekdays: d, cutOffMinute: c, arrivalMinute: a });
          const rows = arrivalTable(one, n, BERLIN, at('2026-09-01T00:00'), at('2026-12-01T00:00'));
          expect(arrivalOf(rows, s)).toBeGreaterThanOrEqual(s);
          expect(d).toContain(weekdayOf(dayAt(arrivalOf(rows, s) - (a === 1440 ? 1 : 0), BERLIN)));
          expect(arrivalOf(rows, s) <= t).toBe(s <= latestOrderFor(rows, t));
          expect([...rows.cutoffs.keys()].slice(1).every((i) => rows.cutoffs[i]! > rows.cutoffs[i - 1]!)).toBe(true);
          expect([...rows.arrivals.keys()].slice(1).every((i) => rows.arrivals[i]! > rows.arrivals[i - 1]!)).toBe(true);
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });
});

it('refuses a supplier who never works and a holiday that is no date', () => {
  expect(supplierDays({ workingWeekdays: [] })).toMatchObject({ ok: false, problem: { code: 'no-hours' } });
  expect(supplierDays({ holidays: ['2026-02-30'] })).toMatchObject({ ok: false, problem: { code: 'not-a-date' } });
});

function must<T>(read: { ok: true; value: T } | { ok: false; problem: { message: string } }): T {
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

it('refuses a supplier whose holidays leave no day for ten years, and answers any order of one whom they nearly do', () => {
  const first = Date.parse('2027-01-01');
  const daily = (days: number) =>
    Array.from({ length: days }, (_, i) => new Date(first + i * 86_400_000).toISOString().slice(0, 10));
  const mondays = daily(4000).filter((date) => new Date(date).getUTCDay() === 1);
  for (const [holidays, workingWeekdays] of [
    [daily(4000), [1, 2, 3, 4, 5, 6, 7]],
    [mondays, [1]],
  ] as const) {
    expect(supplierDays({ holidays, workingWeekdays })).toMatchObject({
      ok: false,
      problem: {
        code: 'no-hours',
        message: expect.stringMatching(/for ten years from (2027-01-01|2026-12-29) on; leave out some of the holidays/),
      },
    });
  }
  const long = supplierDays({ holidays: daily(3600), workingWeekdays: [1, 2, 3, 4, 5, 6, 7] });
  if (!long.ok) throw new Error(long.problem.message);
  const now = first / 60_000 - 1440;
  const opens = first / 60_000 + 3600 * 1440;
  expect(arrivalOf(arrivalTable(long.value, 2, 'UTC', now, now + 1440), now + 1440)).toBeGreaterThan(opens);
});
