import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lengthened, peopleLevers } from '../../../server/engine/14-levers/people-levers.ts';
import { hoursText, readHours, type WeeklyHours, weeklyMinutes } from '../../../server/engine/calendar/index.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import { bench, NOW } from '../08-risk/_bench.ts';

const week = (text: string): WeeklyHours => {
  const read = readHours(text);
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
};
const longer = (text: string, minutes: number) => {
  const { week: made, days, limit } = lengthened(week(text), minutes);
  return { hours: hoursText(made), days, limit };
};

describe('more hours of somebody who is paid', () => {
  const build = bench([{ id: 'cut', name: 'cut', count: 40, phases: [{ kind: 'hands', perUnit: 30 }] }]);
  const people = [{ id: 'ria', name: 'Ria', hours: 'mon-fri 18:00-21:00' }];
  const costs = (rate: number) => {
    const paid = { ...build, people: people.map((it) => ({ ...it, rate })) };
    const found = peopleLevers(workThrough({ build: paid, log: [], now: NOW }, 'schedules'));
    return found.map(({ lever }) => ({ code: lever.code, ...lever.cost }));
  };

  test('cost their pay, of a second one like them and of longer evenings; helpers are asked for nothing', () => {
    const found = costs(15);
    expect(found.map(({ code }) => code)).toEqual(expect.arrayContaining(['one-more-person', 'longer-evenings']));
    for (const { code, money, handsMinutes } of found) {
      const isPaid = code === 'one-more-person' || code === 'longer-evenings';
      expect(money).toBeCloseTo(isPaid ? handsMinutes / 4 : 0, 9);
    }
    expect(costs(0).every(({ money }) => money === 0)).toBe(true);
  });
});

describe('longer evenings', () => {
  test('end an hour later on each day of work', () => {
    expect(longer('mon-fri 18:00-21:00', 60)).toEqual({ hours: 'mon-fri 18:00-22:00', days: 5, limit: null });
    expect(longer('mon-fri 08:00-12:00 13:00-16:00', 60).hours).toBe('mon-fri 08:00-12:00 13:00-17:00');
  });

  test('leave eleven hours of rest before the next morning', () => {
    expect(longer('sat-sun 09:00-21:30', 60)).toEqual({
      hours: 'sat 09:00-22:00; sun 09:00-22:30',
      days: 2,
      limit: 'rest',
    });
    expect(longer('mon-tue 07:00-20:00', 60).limit).toBe('rest');
  });

  test('end at midnight', () => {
    expect(longer('tue 19:00-23:30', 120)).toEqual({ hours: 'tue 19:00-24:00', days: 1, limit: 'midnight' });
    expect(longer('fri 20:00-02:00', 60)).toEqual({ hours: 'fri 20:00-02:00', days: 0, limit: null });
  });

  test('make no week of more than 48 hours', () => {
    const found = longer('mon-fri 09:00-18:00', 60);
    expect(found).toEqual({ hours: 'mon-wed 09:00-19:00; thu,fri 09:00-18:00', days: 3, limit: 'week' });
    expect(longer('mon-sat 09:00-17:00', 120)).toEqual({ hours: 'mon-sat 09:00-17:00', days: 0, limit: 'week' });
  });

  test('keep the limits whatever the week', () => {
    const span = fc.tuple(fc.integer({ min: 0, max: 1380 }), fc.integer({ min: 30, max: 500 }));
    const anyWeek = fc.array(fc.option(span, { nil: null }), { minLength: 7, maxLength: 7 });
    fc.assert(
      fc.property(anyWeek, fc.integer({ min: 1, max: 240 }), (days, minutes) => {
        const before = days.map((day) => (day === null ? [] : [{ from: day[0], to: Math.min(1440, day[0] + day[1]) }]));
        const { week: after } = lengthened(before, minutes);
        const added = after.map((spans, i) => (spans[0]?.to ?? 0) - (before[i]![0]?.to ?? 0));
        expect(Math.max(...added)).toBeLessThanOrEqual(minutes);
        expect(Math.min(...added)).toBeGreaterThanOrEqual(0);
        expect(weeklyMinutes(after)).toBeLessThanOrEqual(Math.max(48 * 60, weeklyMinutes(before)));
        after.forEach((spans, i) => {
          const next = after[(i + 1) % 7]![0];
          if (added[i] === 0) return;
          expect(spans[0]!.to).toBeLessThanOrEqual(1440);
          if (next !== undefined) expect(1440 + next.from - spans[0]!.to).toBeGreaterThanOrEqual(11 * 60);
        });
      }),
      { seed: 1 },
    );
  });
});
