import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Forecast, LogEntry } from '../../../server/model/index.ts';
import { findingsIn, paceWords } from '../../support/words.ts';
import { at, filing, log, NOW, type Told } from '../_filing.ts';

/** Futures too: they must bear whatever the plan bears. */
const forecastOf = (build: Build, entries: readonly LogEntry[], now = NOW): Forecast =>
  planBuild(build, entries, now, { levelling: { seed: 1, schedules: 1 }, risk: { seed: 1, futures: 50 } });
const sentences = (forecast: Forecast): string => findingsIn(forecast).join('\n');
const file = (forecast: Forecast) => forecast.steps.find(({ id }) => id === 'file')!;

/** Every figure that a page shows is a number, whatever was logged. */
function expectSensible(forecast: Forecast): void {
  for (const { pace, left, total } of forecast.steps) {
    expect(left).toBeGreaterThanOrEqual(0);
    expect(left).toBeLessThanOrEqual(total);
    for (const value of pace ? [pace.minutesPerUnit, pace.low, pace.high, pace.minutes] : []) {
      expect(Number.isFinite(value)).toBe(true);
      expect(value).toBeGreaterThanOrEqual(0);
    }
  }
  expect(forecast.room.readyBy.finish).toBeGreaterThanOrEqual(forecast.now);
  expect(forecast.risk!.readyAt.p50).toBeGreaterThanOrEqual(forecast.now);
}

describe('a log that is bad or thin is planned with, and said to be so', () => {
  test('none at all, though the build has begun', () => {
    const forecast = forecastOf(filing(3), []);
    expectSensible(forecast);
    expect(file(forecast)).toMatchObject({ left: 200, origin: 'guessed' });
    expect(sentences(forecast)).toContain('Nothing is logged yet, and the build started Sun 1 Nov 09:00');
    expect(sentences(forecastOf(filing(3), [], at('2026-11-01T12:00')))).not.toContain('Nothing is logged');
  });

  test('one entry', () => {
    const forecast = forecastOf(filing(3), log(['09T18:00', 'done', 20]));
    expectSensible(forecast);
    expect(file(forecast)).toMatchObject({ left: 180, pace: { minutesPerUnit: 3, units: 0 } });
    expect(paceWords(file(forecast).pace!.notes)).toContain('20 counted, in an unknown time');
  });

  test('a gap of weeks', () => {
    const entries = log(['01T18:00', 'done', 20], ['01T19:00', 'done', 20]);
    const late = [...entries, { ...entries[0]!, id: 'entry-late', at: '2026-12-20T18:00:00Z', seq: 9 }];
    const now = at('2026-12-20T18:00');
    const forecast = forecastOf(filing(3), late, now);
    expectSensible(forecast);
    expect(file(forecast).pace).toMatchObject({ units: 20, minutes: 60 });
    expect(sentences(forecast)).toContain(
      'Nothing is logged from Tue 1 Dec 19:00 to Sun 20 Dec 18:00 (18 days 23 h). The plan takes that time neither as work nor',
    );
    expect(sentences(forecastOf(filing(3), entries))).not.toContain('Nothing is logged from');
  });

  test('all units on one instant', () => {
    const forecast = forecastOf(
      filing(3),
      log(['09T18:00', 'began'], ['09T18:00', 'done', 90], ['09T18:00', 'done', 60]),
    );
    expectSensible(forecast);
    expect(file(forecast)).toMatchObject({ left: 50, pace: { minutesPerUnit: 3, origin: 'guessed' } });
    expect(paceWords(file(forecast).pace!.notes)).toContain('150 counted, in an unknown time');
  });

  test('entries by a clock that was ahead, or years behind', () => {
    const [good, ahead] = log(['09T18:00', 'done', 20], ['12T18:00', 'done', 20]);
    const behind = { ...good!, id: 'entry-behind', at: '2021-01-01T00:00:00Z', seq: 9 };
    const forecast = forecastOf(filing(3), [good!, ahead!, behind]);
    expectSensible(forecast);
    expect(file(forecast).left).toBe(140);
    expect(sentences(forecast)).toContain('One entry (Sat 12 Dec 18:00, “done”) is ahead of now:');
    expect(sentences(forecast)).toContain(
      'One entry (Fri 1 Jan 2021 00:00, “done”) is from more than 30 days before the build starts:',
    );
    expect(sentences(forecast)).toContain('The last log entry is from Sat 12 Dec 18:00, 2 days after this plan');
  });

  test('a clock that is ahead keeps nothing wet, nor does one that is begun again', () => {
    const drying = (...told: Told[]) => {
      const dries = { kind: 'wait', minutes: '4 h' } as const;
      const [cut, oil] = filing(3).steps.map(({ count: _, ...step }) => ({ ...step, part: 'hook' }));
      const wet: Build = {
        ...filing(3),
        parts: [{ id: 'hook', name: 'hook', source: 'make', count: 200 }],
        steps: [{ ...cut!, phases: [...cut!.phases!, dries] }, oil!],
      };
      return forecastOf(wet, log(...told)).lots.find(({ step }) => step === 'oil')!.dates.earlyStart;
    };
    const dry = drying(['09T18:00', 'done', 20]);
    expect(dry).toBe(NOW);
    expect(drying(['09T18:00', 'done', 20], ['10T17:50', 'began'])).toBe(dry);
    expect(drying(['09T18:00', 'done', 20], ['14T18:00', 'paused'])).toBe(dry);
    expect(drying(['14T18:00', 'done', 20])).toBe(at('2026-12-11T09:00'));
  });

  test('a pace twenty times the estimate', () => {
    const forecast = forecastOf(
      filing(1),
      log(['09T13:00', 'began'], ['09T17:00', 'done', 12], ['09T21:00', 'done', 12]),
    );
    expectSensible(forecast);
    expect(file(forecast).pace!.minutesPerUnit).toBeGreaterThan(15);
    expect(sentences(forecast)).toContain('(20 times as long). The plan uses what was counted.');
    expect(sentences(forecast)).toContain('pause the clock when nobody works.');
  });
});

describe('what is wrong in the build is said, and the rest is planned', () => {
  test('a range whose low is above its high', () => {
    const forecast = forecastOf(filing({ low: 9, likely: 3, high: 1 }), []);
    const found = forecast.problems.find(({ code }) => code === 'range')!;
    expect(found).toMatchObject({ severity: 'error', field: 'steps.file.phases.1.perUnit', value: '9 / 3 / 1' });
    expect(found.message).toContain('must rise from low over likely to high');
    expect(forecast.steps).toHaveLength(2);
  });

  test.each([
    [0, 'is set never to fail'],
    [1, 'is set to fail every time'],
  ])('a gate that fails with chance %d', (failChance, said) => {
    const gates = [{ id: 'soak', name: 'soak test', after: ['file'], minutes: 60, failChance }];
    const forecast = forecastOf({ ...filing(3), gates }, []);
    expectSensible(forecast);
    expect(sentences(forecast)).toContain(said);
    const even = forecastOf({ ...filing(3), gates: [{ ...gates[0]!, failChance: 0.5 }] }, []);
    expect(sentences(even)).not.toContain('is set');
    const { p50 } = forecast.risk!.readyAt;
    if (failChance === 0) expect(p50).toBeLessThanOrEqual(even.risk!.readyAt.p50);
    else expect(p50).toBeGreaterThan(even.risk!.readyAt.p50);
  });

  test('zero hours left: the event is over', () => {
    const forecast = forecastOf(filing(3), log(['09T18:00', 'done', 20]), at('2026-12-26T10:00'));
    expectSensible(forecast);
    expect(forecast.room.event.clock).toBeLessThan(0);
    expect(forecast.risk!.event.chance).toBe(0);
    expect(sentences(forecast)).toContain('The event, Thu 24 Dec 19:00, has passed');
  });

  test('zero hours left: nobody is there before the event', () => {
    const hours = 'daily 09:00-10:00';
    const build = { ...filing(3), event: '2026-12-11T08:00', people: [{ id: 'ria', name: 'Ria', hours }] };
    const forecast = forecastOf(build, []);
    expectSensible(forecast);
    expect(sentences(forecast)).toContain('Nobody has hours between now and the ready-by (Fri 11 Dec 08:00)');
    expect(sentences(forecast)).toContain('There are not enough hours left for it.');
  });

  test('no hours at all before what must be ordered and decided: moments that can be told, or now', () => {
    const build: Build = {
      ...filing(3),
      people: [{ id: 'ria', name: 'Ria', hours: 'sun 03:00-03:05' }],
      suppliers: [{ id: 'mill', name: 'Mill', workingDays: 'daily', cutOff: '20:00', lead: 3 }],
      parts: [{ id: 'wire', name: 'wire', source: 'buy', count: 5, supplier: 'mill' }],
      decisions: [{ id: 'colour', question: 'Which colour?', waits: ['oil'] }],
    };
    const { orders, decisions } = forecastOf({ ...build, steps: [...build.steps.map(usingWire)] }, []);
    expect(decisions[0]!.decideBy).toBe(NOW);
    // She is last there on the Sunday before.
    expect(orders[0]!.orderBy).toBe(at('2026-12-20T03:05'));
  });
});

const usingWire = (step: Build['steps'][number]): Build['steps'][number] =>
  step.id === 'oil' ? { ...step, uses: ['wire'], phases: [{ kind: 'hands', minutes: '40 h' }] } : step;
