import { describe, expect, test } from 'vitest';
import { failChanceOf, triesOf } from '../../../server/engine/02-steps/gate-tries.ts';
import { leadRangeOf } from '../../../server/engine/08-risk/draws/leads.ts';
import { emptyStep } from '../../../server/engine/log/index.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T18:00Z') / 60_000;
const RISK = { risk: { seed: 1, futures: 500 } };

const build: Build = {
  id: 'tree',
  name: 'Tree',
  zone: 'UTC',
  event: '2026-12-30T19:00',
  people: [{ id: 'me', name: 'Me', hours: 'daily 18:00-22:00' }],
  suppliers: [{ id: 'mill', name: 'Mill', lead: 4 }],
  parts: [{ id: 'axle', name: 'Axle', source: 'buy', count: 9, supplier: 'mill' }],
  sets: { count: 4, name: 'bough' },
  steps: [{ id: 'fit', name: 'fit', perSet: true, after: ['order-axle'], phases: [{ kind: 'hands', minutes: 20 }] }],
  gates: [{ id: 'look', name: 'look', perSet: true, after: ['fit'], minutes: 60, failChance: 0.2 }],
};

function tried(...kinds: ('passed' | 'failed')[]): LogEntry[] {
  return kinds.map((kind, i) => ({
    id: `entry-look-${i}`,
    kind,
    step: 'look',
    set: i + 1,
    at: `2026-12-01T1${i}:00:00Z`,
  }));
}

describe('a lead time of one number', () => {
  test('varies in the futures, later more than sooner', () => {
    expect([1, 2, 3, 4, 10].map(leadRangeOf)).toEqual([
      { low: 1, likely: 1, high: 2 },
      { low: 1, likely: 2, high: 3 },
      { low: 2, likely: 3, high: 5 },
      { low: 3, likely: 4, high: 6 },
      { low: 8, likely: 10, high: 15 },
    ]);
    expect(leadRangeOf(0)).toBeNull();
    const given = { low: 2, likely: 3, high: 9 };
    expect(leadRangeOf(given)).toBe(given);
  });

  test('no longer gives one date for half, 80 and 95 of a hundred', () => {
    const orders: Build = { ...build, steps: [], gates: [], parts: build.parts! };
    const { p10, p50, p95 } = planBuild(orders, [], NOW, RISK).risk!.readyAt;
    expect(p95 - p50).toBeGreaterThanOrEqual(1440);
    expect(p50).toBeGreaterThan(p10 - 1);
  });
});

describe('the chance of a gate to fail', () => {
  const gateOf = (log: LogEntry[]) => planBuild(build, log, NOW).steps.find(({ id }) => id === 'look')!.gate;

  test('is as given until it is tried', () => {
    expect(gateOf([])).toEqual({ failChance: 0.2, tries: 0, failures: 0 });
  });

  test('learns from tries: 0.2 given, two of four failed', () => {
    expect(gateOf(tried('failed', 'passed', 'failed', 'passed'))).toEqual({
      failChance: (0.2 * 4 + 2) / 8,
      tries: 4,
      failures: 2,
    });
    expect(gateOf(tried('passed', 'passed'))!.failChance).toBeCloseTo(0.8 / 6, 12);
  });

  test('is some once it has failed, though none was given', () => {
    const tally = { ...emptyStep(), failures: 1 };
    expect(failChanceOf({ gate: null, tally })).toBeCloseTo(1 / 5, 12);
    expect(triesOf({ tally })).toEqual({ tries: 1, failures: 1 });
  });
});
