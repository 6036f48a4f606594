import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayAt, dayOf, minuteOfDayAt, readWall, weekdayOf } from '../../../server/engine/calendar/clock.ts';
import {
  type DaySpan,
  endlessNight,
  type HoursException,
  hoursText,
  openTimeOfHours,
  readDayHours,
  readHours,
  readWeekdays,
  type WeeklyHours,
  weeklyMinutes,
} from '../../../server/engine/calendar/hours.ts';
import {
  intervalsOf,
  isOpen,
  openMinutesBetween,
  totalOpenMinutes,
} from '../../../server/engine/calendar/working-time.ts';
import type { Calendar } from '../../../server/engine/types.ts';
import { englishOf } from '../../../server/model/index.ts';

const BERLIN = 'Europe/Berlin';

describe('reading hours', () => {
  it.each([
    ['mon-fri 08:00-12:00 13:00-17:00; sat 09:00-13:00', 'mon-fri 08:00-12:00 13:00-17:00; sat 09:00-13:00'],
    ['Mon – Fri 8-12 13:00–17:00', 'mon-fri 08:00-12:00 13:00-17:00'],
    ['daily 18:00-22:00', 'daily 18:00-22:00'],
    ['mon-sun 18:00-22:00;', 'daily 18:00-22:00'],
    ['fri 22:00-02:00', 'fri 22:00-02:00'],
    ['tue, thu 9:30-24:00', 'tue,thu 09:30-24:00'],
    ['tuesday thursday 18:00-20:00', 'tue,thu 18:00-20:00'],
    ['fri-mon 10:00-12:00', 'mon,fri-sun 10:00-12:00'],
    ['mon 08:00-12:00; mon 11:00-15:00', 'mon 08:00-15:00'],
    ['sat 09:00-10:00; mon-fri 18:00-20:00; sun 18:00-20:00', 'mon-fri,sun 18:00-20:00; sat 09:00-10:00'],
    ['daily 00:00-24:00', 'always'],
    ['always', 'always'],
    ['', 'never'],
    ['evenings 18-22, weekend 9-18', 'mon-fri 18:00-22:00; sat,sun 09:00-18:00'],
    ['Evenings from 18:00 to 22:30 and weekend days 10am to 4pm', 'mon-fri 18:00-22:30; sat,sun 10:00-16:00'],
    ['working days 9-5pm; every day 7-9pm', 'mon-fri 09:00-17:00 19:00-21:00; sat,sun 19:00-21:00'],
    ['sat 6:30-6pm; sun 6-6pm', 'sat 06:30-18:00; sun 06:00-18:00'],
    ['sat 5:15-5:45pm; sun 11:30-12pm', 'sat 17:15-17:45; sun 11:30-12:00'],
    ['mon 8-0', 'mon 08:00-24:00'],
    ['every evening 18h-22h30', 'mon-fri 18:00-22:30'],
    ['sat and sun 9 till 18, mon off', 'sat,sun 09:00-18:00'],
    ['Mon to Fri 18:00 to 22:00; Sat, Sun 09:00 to 18:00', 'mon-fri 18:00-22:00; sat,sun 09:00-18:00'],
    ['  NEVER ', 'never'],
  ])('takes %j for %j', (text, canonical) => {
    expect(hoursText(hours(text))).toBe(canonical);
  });

  it.each([
    ['mon-fri', 'mon-fri', 'no hours'],
    ['08:00-12:00', '08:00-12:00', 'no day'],
    ['mom 08:00-12:00', 'mom', 'not a day'],
    ['mon-tue-wed 08:00-12:00', 'mon-tue-wed', 'not a day'],
    ['mon- 08:00-12:00', 'mon-08:00-12:00', 'not a day'],
    ['mon 8.00-12.00', '8.00-12.00', 'not a span'],
    ['mon 08:00', '08:00', 'not a span'],
    ['mon 24:00-02:00', '24:00-02:00', 'not on the clock'],
    ['mon 08:00-24:30', '08:00-24:30', 'not on the clock'],
    ['mon 08:60-12:00', '08:60-12:00', 'not on the clock'],
    ['mon 08:00-08:00', '08:00-08:00', 'same minute'],
    ['mon 08:00-12:00 tue 09:00-10:00', 'tue', 'not a span'],
    ['evenings', 'evenings', 'write them like evenings 18:00 to 22:00'],
    ['mon-fri 18-22; wed off', 'mon-fri 18-22; wed off', 'Wednesday has hours and is off too'],
    ['always; mon 18-22', 'always', 'others follow'],
    ['mon 13pm-14pm', '13pm-14pm', 'not a span'],
  ])('refuses %j and names %j', (text, value, sentence) => {
    const read = readHours(text);
    expect(read).toMatchObject({ ok: false, problem: { code: 'hours', value } });
    expect(!read.ok && read.problem.message).toContain(sentence);
  });

  it('keeps a span over midnight on the day it begins', () => {
    expect(hours('fri 22:00-02:00')[4]).toEqual([{ from: 1320, to: 1560 }]);
    expect(hours('fri 22:00-02:00')[5]).toEqual([]);
  });

  it('reads the hours of a single day', () => {
    expect(must(readDayHours('off'))).toEqual([]);
    expect(must(readDayHours('always'))).toEqual([{ from: 0, to: 1440 }]);
    expect(must(readDayHours('13:00-17:00 09:00-12:00'))).toEqual([
      { from: 540, to: 720 },
      { from: 780, to: 1020 },
    ]);
    expect(readDayHours('').ok || readDayHours('free').ok).toBe(false);
  });

  it('reads weekdays with or without commas', () => {
    expect(must(readWeekdays('mon-fri'))).toEqual([1, 2, 3, 4, 5]);
    expect(must(readWeekdays('thu tue'))).toEqual([2, 4]);
    expect(must(readWeekdays('sat,sun, monday'))).toEqual([1, 6, 7]);
    expect(readWeekdays('')).toMatchObject({ ok: false, problem: { code: 'hours' } });
    expect(readWeekdays('mon fry')).toMatchObject({ ok: false, problem: { value: 'fry' } });
  });

  it('counts the minutes of a week, overlaps over midnight once', () => {
    expect(weeklyMinutes(hours('mon-fri 08:00-12:00 13:00-17:00; sat 09:00-13:00'))).toBe(44 * 60);
    expect(weeklyMinutes(hours('always'))).toBe(168 * 60);
    expect(weeklyMinutes(hours('sun 22:00-02:00; mon 01:00-03:00'))).toBe(5 * 60);
    expect(weeklyMinutes(hours('never'))).toBe(0);
  });
});

describe('hours of somebody that run over midnight', () => {
  const said = (text: string) => {
    const week = readHours(text);
    if (!week.ok) return week.problem.message;
    const asked = endlessNight(week.value);
    return asked === null ? null : englishOf(asked);
  };

  it.each(['fri 22:00-02:00', 'daily 20:00-08:00', 'sat 00:00-24:00', 'mon 8:30-17:00'])('are believed: %s', (text) => {
    expect(said(text)).toBeNull();
  });

  it('for more than twelve hours are asked about', () => {
    expect(said('mon-fri 22:30-18:30')).toBe(
      '"22:30-18:30" runs over midnight for 20 h; write 18:30-22:30, or, if you mean it, 22:30-24:00 and on the next day 00:00-18:30.',
    );
  });
});

describe('hours on the clock', () => {
  it('makes the night shift 9 h in autumn and 7 h in spring', () => {
    const night = hours('daily 22:00-06:00');
    expect(openBetween(night, '2026-10-24T12:00', '2026-10-25T12:00')).toBe(9 * 60);
    expect(openBetween(night, '2026-03-28T12:00', '2026-03-29T12:00')).toBe(7 * 60);
    expect(openBetween(night, '2026-06-28T12:00', '2026-06-29T12:00')).toBe(8 * 60);
  });

  it('makes a working day from nine to five 8 h on every date', () => {
    const open = compiled(hours('daily 09:00-17:00'), '2026-01-01T00:00', '2028-01-01T00:00');
    expect(open.opens.length).toBe(730);
    for (const [from, to] of intervalsOf(open)) expect(to - from).toBe(8 * 60);
  });

  it('is open 25 h on the autumn day of a machine that always runs', () => {
    expect(openBetween(hours('always'), '2026-10-25T00:00', '2026-10-26T00:00')).toBe(25 * 60);
    expect(compiled(hours('always'), '2026-10-20T00:00', '2026-11-20T00:00').opens.length).toBe(1);
  });

  it('begins with the night that began the day before the range', () => {
    const open = compiled(hours('fri 22:00-02:00'), '2026-10-10T00:00', '2026-10-12T00:00');
    expect(totalOpenMinutes(open)).toBe(120);
  });

  it('puts the hours of an exception in place of that day', () => {
    const week = hours('mon-fri 08:00-12:00; sat 20:00-02:00');
    const exceptions = [
      { date: '2026-10-05', hours: 'off' },
      { date: '2026-10-06', hours: '18:00-20:00' },
      { date: '2026-10-11', hours: '10:00-11:00' },
    ];
    const at = (text: string) => must(readWall(text, BERLIN));
    const open = compiled(week, '2026-10-05T00:00', '2026-10-12T00:00', exceptions);
    expect(openMinutesBetween(open, at('2026-10-05T00:00'), at('2026-10-06T00:00'))).toBe(0);
    expect(openMinutesBetween(open, at('2026-10-06T00:00'), at('2026-10-07T00:00'))).toBe(120);
    expect(isOpen(open, at('2026-10-06T08:00'))).toBe(false);
    // Saturday's evening still runs into the Sunday that has hours of its own.
    expect(openMinutesBetween(open, at('2026-10-11T00:00'), at('2026-10-12T00:00'))).toBe(180);
  });

  it('takes a lost evening away', () => {
    const at = (text: string) => must(readWall(text, BERLIN));
    const lost: [number, number] = [at('2026-10-06T19:00'), at('2026-10-06T23:00')];
    const open = must(
      openTimeOfHours(hours('daily 18:00-22:00'), BERLIN, at('2026-10-05T00:00'), at('2026-10-08T00:00'), [], [lost]),
    );
    expect(totalOpenMinutes(open)).toBe(3 * 240 - 180);
  });

  it('names the exception that is wrong', () => {
    const week = hours('daily 18:00-22:00');
    const read = (exception: HoursException, ...more: HoursException[]) =>
      openTimeOfHours(week, BERLIN, 0, 1440, [exception, ...more]);
    expect(read({ date: '2026-02-30', hours: 'off' })).toMatchObject({ problem: { code: 'not-a-date' } });
    expect(read({ date: '2026-02-20', hours: '9 to 5' })).toMatchObject({ problem: { code: 'hours', value: '9-5' } });
    const off = { date: '2026-02-20', hours: 'off' };
    expect(read(off, off)).toMatchObject({ problem: { code: 'hours', value: '2026-02-20' } });
  });
});

describe('for any hours', () => {
  const span = fc
    .tuple(fc.integer({ min: 0, max: 95 }), fc.integer({ min: 1, max: 96 }))
    .map(([from, length]): DaySpan => ({ from: from * 15, to: from * 15 + length * 15 }))
    .filter(({ from, to }) => to - from < 1440 || from === 0);
  const week = fc.array(fc.array(span, { maxLength: 3 }), { minLength: 7, maxLength: 7 });

  it('reads back what it writes', () => {
    fc.assert(
      fc.property(week, (spans) => {
        const text = hoursText(spans);
        const read = hours(text);
        expect(hoursText(read)).toBe(text);
        expect(weeklyMinutes(read)).toBe(weeklyMinutes(spans));
      }),
      { seed: 3, numRuns: 300 },
    );
  });

  it('is open exactly when the clock on the wall says so', () => {
    // Away from the two odd nights the wall clock itself is the other way of computing it.
    const [from, to] = [at('2026-11-02T00:00'), at('2026-11-12T00:00')];
    fc.assert(
      fc.property(week, (spans) => {
        const open = must(openTimeOfHours(spans, BERLIN, from, to));
        for (let t = from; t < to; t += 15) expect(isOpen(open, t)).toBe(onTheWall(spans, t));
      }),
      { seed: 4, numRuns: 30 },
    );
  });

  function at(text: string) {
    return must(readWall(text, BERLIN));
  }

  function onTheWall(spans: WeeklyHours, t: number): boolean {
    const [day, minute] = [dayAt(t, BERLIN), minuteOfDayAt(t, BERLIN)];
    const today = spans[weekdayOf(day) - 1]!;
    const yesterday = spans[weekdayOf(day - 1) - 1]!;
    return (
      today.some(({ from, to }) => from <= minute && minute < to) ||
      yesterday.some(({ from, to }) => from <= minute + 1440 && minute + 1440 < to)
    );
  }
});

it('compiles eight years of a workshop in one go', () => {
  const open = must(
    openTimeOfHours(
      hours('mon-fri 08:00-12:00 13:00-17:00'),
      BERLIN,
      dayOf(2026, 1, 1) * 1440,
      dayOf(2034, 1, 1) * 1440,
    ),
  );
  expect(totalOpenMinutes(open)).toBe(2087 * 480);
});

function hours(text: string): WeeklyHours {
  return must(readHours(text));
}

function compiled(week: WeeklyHours, from: string, to: string, exceptions: readonly HoursException[] = []): Calendar {
  return must(openTimeOfHours(week, BERLIN, must(readWall(from, BERLIN)), must(readWall(to, BERLIN)), exceptions));
}

function openBetween(week: WeeklyHours, from: string, to: string): number {
  return totalOpenMinutes(compiled(week, from, to));
}

function must<T>(read: { ok: true; value: T } | { ok: false; problem: { message: string } }): T {
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}
