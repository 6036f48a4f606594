import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { openTimeOfHours, readHours } from '../../../server/engine/calendar/hours.ts';
import { exceptionsWithout } from '../../../server/engine/index.ts';

const at = (text: string) => Date.parse(`${text}Z`) / 60_000;
const without = (hours: string, from: string, until: string, exceptions: { date: string; hours: string }[] = []) =>
  exceptionsWithout({ hours, exceptions }, at(from), at(until), 'UTC');

describe('the days that differ once a stretch is lost', () => {
  it.each([
    ['daily 18:00-22:00', '2026-12-03T20:00', '2026-12-03T23:59', [{ date: '2026-12-03', hours: '18:00-20:00' }]],
    ['daily 18:00-22:00', '2026-12-03T12:00', '2026-12-04T00:00', [{ date: '2026-12-03', hours: 'off' }]],
    [
      'mon-fri 08:00-12:00 13:00-17:00',
      '2026-12-03T10:00',
      '2026-12-03T15:00',
      [{ date: '2026-12-03', hours: '08:00-10:00 15:00-17:00' }],
    ],
    [
      'daily 22:00-02:00',
      '2026-12-03T00:00',
      '2026-12-04T01:00',
      [
        { date: '2026-12-02', hours: '22:00-24:00' },
        { date: '2026-12-03', hours: 'off' },
        { date: '2026-12-04', hours: '01:00-02:00 22:00-02:00' },
      ],
    ],
    ['mon-fri 09:00-17:00', '2026-12-05T00:00', '2026-12-07T00:00', []],
  ])('%s, lost from %s to %s', (hours, from, until, days) => {
    expect(without(hours, from, until)).toEqual(days);
  });

  it('keep what differed before, with its note', () => {
    const before = [
      { date: '2026-12-01', hours: 'off' },
      { date: '2026-12-03', hours: '10:00-16:00', note: 'half a day' },
    ];
    expect(without('mon-fri 09:00-17:00', '2026-12-03T14:00', '2026-12-03T20:00', before)).toEqual([
      before[0],
      { ...before[1], hours: '10:00-14:00' },
    ]);
  });

  it('leave open what was open outside of the stretch, and nothing within it', () => {
    const hours = fc.constantFrom(
      'daily 18:00-22:00',
      'mon-fri 09:00-12:30 13:00-17:00',
      'fri-sun 20:00-03:00',
      'never',
    );
    fc.assert(
      fc.property(
        hours,
        fc.integer({ min: 0, max: 9000 }),
        fc.integer({ min: 1, max: 4000 }),
        (text, begin, length) => {
          const from = at('2026-12-01T00:00') + begin;
          const until = from + length;
          const horizon = [at('2026-11-28T00:00'), at('2026-12-20T00:00')] as const;
          const exceptions = exceptionsWithout({ hours: text }, from, until, 'UTC');
          const open = (days: { date: string; hours: string }[]) => {
            const week = readHours(text);
            const made = week.ok ? openTimeOfHours(week.value, 'UTC', ...horizon, days) : week;
            if (!made.ok) throw new Error(made.problem.message);
            const calendar = made.value;
            return (t: number) => calendar.opens.some((opens, i) => opens <= t && t < calendar.closes[i]!);
          };
          const [before, after] = [open([]), open(exceptions)];
          for (let t = horizon[0]; t < horizon[1]; t += 7) {
            if (after(t) !== (before(t) && !(from <= t && t < until))) throw new Error(`${t - from} of ${length}`);
          }
        },
      ),
      { numRuns: 30 },
    );
  });
});
