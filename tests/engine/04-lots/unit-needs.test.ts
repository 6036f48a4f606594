import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { unitsFedBy, unitsNeeded } from '../../../server/engine/04-lots/unit-needs.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T10:00Z') / 60_000;

/** Shafts of forty cams each, printed at a yield of 92 in a hundred. */
function shafts(more: { cams?: number; yield?: number; shafts?: number; spares?: number } = {}): Build {
  const part = { id: 'cam', name: 'cam', source: 'make' as const, yield: more.yield ?? 0.92, spares: more.spares ?? 4 };
  return {
    id: 'shafts',
    name: 'Shafts',
    zone: 'UTC',
    event: '2026-12-20T19:00',
    people: [{ id: 'ada', name: 'Ada', hours: 'daily 09:00-22:00' }],
    parts: [
      { id: 'shaft', name: 'shaft', source: 'make', count: more.shafts ?? 4 },
      { ...part, usedIn: [{ part: 'shaft', count: more.cams ?? 40 }] },
    ],
    steps: [
      { id: 'clean', name: 'clean cams', part: 'cam', lotSize: 20, phases: [{ kind: 'hands', perUnit: 2 }] },
      { id: 'slide', name: 'slide cams', part: 'shaft', lotSize: 1, phases: [{ kind: 'hands', minutes: 45 }] },
    ],
  };
}

function cleaned(n: number): LogEntry[] {
  return n === 0 ? [] : [{ id: 'entry-cleaned', kind: 'done', step: 'clean', n, at: '2026-12-01T09:30:00Z' }];
}

describe('a part that comes out good in 92 of 100', () => {
  test('is enough for a shaft of forty when forty good ones are counted', () => {
    const { steps, lots } = planBuild(shafts(), cleaned(40), NOW);
    expect(steps.find(({ id }) => id === 'slide')).toMatchObject({
      readyNow: 1,
      fedBy: [{ step: 'clean', ratio: 40 }],
    });
    expect(lots.find(({ id }) => id === 'slide/1')!.dates.earlyStart).toBe(NOW);
  });

  test('is waited for in as many units as give forty good ones, less what is counted', () => {
    const feed = { ratio: 40, yield: 0.92, headStart: 0 };
    expect([0, 30, 40, 60].map((passed) => unitsNeeded(feed, 1, passed, 0))).toEqual([44, 41, 40, 40]);
  });

  test('lets as many be begun as the good ones counted are enough for, whatever the yield', () => {
    const drawn = fc.record({
      cams: fc.integer({ min: 1, max: 9 }),
      yield: fc.double({ min: 0.5, max: 1, noNaN: true }),
      shafts: fc.integer({ min: 1, max: 6 }),
      spares: fc.integer({ min: 0, max: 3 }),
      good: fc.integer({ min: 0, max: 40 }),
    });
    fc.assert(
      fc.property(drawn, ({ good, ...more }) => {
        const { steps } = planBuild(shafts(more), cleaned(good), NOW);
        const enoughFor = Math.min(more.shafts, Math.floor(good / more.cams));
        expect(steps.find(({ id }) => id === 'slide')!.readyNow).toBe(enoughFor);
      }),
      { seed: 3, numRuns: 100 },
    );
  });
});

test('units needed and units fed are each other’s reverse for what is counted', () => {
  const feed = fc.record({
    ratio: fc.double({ min: 0.1, max: 50, noNaN: true }),
    yield: fc.double({ min: 0.3, max: 1, noNaN: true }),
    headStart: fc.integer({ min: 0, max: 5 }),
  });
  fc.assert(
    fc.property(feed, fc.integer({ min: 0, max: 500 }), fc.integer({ min: 0, max: 20 }), (given, passed, stock) => {
      const fed = unitsFedBy(given, passed, stock);
      if (passed >= given.headStart) expect(unitsNeeded(given, fed, passed, stock)).toBeLessThanOrEqual(passed);
      expect(unitsNeeded(given, fed + 1, passed, stock)).toBeGreaterThan(passed);
    }),
    { seed: 4, numRuns: 1000 },
  );
});
