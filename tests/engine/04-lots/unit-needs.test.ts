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

describe('of two steps one of which knows no sets', () => {
  /** Frames in two bays of four, of two bars each; bars sawn for both, or bay by bay. */
  function frames(perSet: { saw?: boolean; join?: boolean }, bars = 2): Build {
    return {
      id: 'frames',
      name: 'Frames',
      zone: 'UTC',
      event: '2026-12-20T19:00',
      sets: { count: 2, name: 'bay' },
      people: ['ada', 'ben', 'cleo'].map((id) => ({ id, name: id, hours: 'always' })),
      parts: [
        { id: 'frame', name: 'frame', source: 'make', count: 8 },
        { id: 'bar', name: 'bar', source: 'make', usedIn: [{ part: 'frame', count: bars }] },
      ],
      steps: [
        { id: 'saw', name: 'saw', part: 'bar', lotSize: 2, phases: [{ kind: 'hands', perUnit: 30 }] },
        { id: 'join', name: 'join', part: 'frame', lotSize: 1, phases: [{ kind: 'hands', perUnit: 10 }] },
      ].map((step) => ({ ...step, perSet: perSet[step.id as 'saw' | 'join'] ?? false })) as Build['steps'],
    };
  }
  const done = (step: string, n: number, set?: number): LogEntry => ({
    id: `entry-${step}-${set ?? 0}`,
    kind: 'done',
    step,
    n,
    at: '2026-12-01T09:30:00Z',
    ...(set === undefined ? {} : { set }),
  });
  const joinAt = (build: Build, log: LogEntry[], lot: string) =>
    planBuild(build, log, NOW).lots.find(({ id }) => id === lot)!.dates.earlyStart! - NOW;

  test('what a later set has taken is gone for the first', () => {
    expect(joinAt(frames({ join: true }), [done('saw', 2), done('join', 1, 2)], 'join/1/1')).toBe(60);
  });

  test('what a later set has made is there for whatever comes next', () => {
    expect(joinAt(frames({ saw: true }), [done('saw', 2, 2)], 'join/1')).toBe(0);
    expect(joinAt(frames({ saw: true }, 3), [done('saw', 2, 2)], 'join/1')).toBe(60);
  });

  test('nothing is begun before all that it and those before it take is there', () => {
    const drawn = fc.record({
      perSet: fc.constantFrom({ saw: true }, { join: true }, {}),
      bars: fc.integer({ min: 1, max: 3 }),
      sawn: fc.tuple(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 4 })),
      joined: fc.tuple(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 4 })),
    });
    fc.assert(
      fc.property(drawn, ({ perSet, bars, sawn, joined }) => {
        fc.pre((joined[0] + joined[1]) * bars <= sawn[0] + sawn[1]);
        const build = frames(perSet, bars);
        const log = ([1, 2] as const).flatMap((set) =>
          [done('saw', sawn[set - 1]!, set), done('join', joined[set - 1]!, set)].filter(({ n }) => n! > 0),
        );
        const { lots } = planBuild(build, log, NOW, { levelling: { seed: 1, schedules: 20 } });
        const [sawing, joining] = ['saw', 'join'].map((step) => lots.filter((lot) => lot.step === step));
        let taken = (joined[0] + joined[1]) * bars;
        for (const { id, levelled } of joining!.sort((a, b) => a.levelled!.start - b.levelled!.start)) {
          const made = sawing!.filter((lot) => lot.levelled!.finish <= levelled!.start);
          const there = made.reduce((sum, lot) => sum + lot.lastUnit - lot.firstUnit + 1, sawn[0] + sawn[1]);
          taken += bars;
          expect(there, id).toBeGreaterThanOrEqual(taken);
        }
      }),
      { numRuns: 60, seed: 7 },
    );
  });
});

describe('a part that goes into two others', () => {
  test('is said to go into each of them as often as it does, whatever they wait for', () => {
    const build: Build = {
      id: 'screws',
      name: 'Screws',
      zone: 'UTC',
      event: '2026-12-20T19:00',
      people: [{ id: 'ada', name: 'Ada', hours: 'daily 09:00-22:00' }],
      suppliers: [{ id: 'shop', name: 'Shop', lead: 2 }],
      parts: [
        { id: 'panel', name: 'panel', source: 'make', count: 4 },
        { id: 'rib', name: 'rib', source: 'make', usedIn: [{ part: 'panel', count: 2 }] },
        {
          id: 'screw',
          name: 'screw',
          source: 'buy',
          supplier: 'shop',
          usedIn: [
            { part: 'rib', count: 2 },
            { part: 'panel', count: 6 },
          ],
        },
      ],
      steps: ['rib', 'panel'].map((part) => ({ id: part, name: part, part, phases: [{ kind: 'hands', perUnit: 5 }] })),
    };
    const { feeds } = planBuild(build, [], NOW).steps.find(({ id }) => id === 'order-screw')!;
    // Of 40 screws half of the ribs and half of the panels each ask for half.
    expect(feeds).toMatchObject([
      { step: 'rib', each: 2, ratio: 5 },
      { step: 'panel', each: 6, ratio: 10 },
    ]);
  });
});
