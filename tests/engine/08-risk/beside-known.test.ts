import { describe, expect, test } from 'vitest';
import { besideKnown, type Drawn } from '../../../server/engine/08-risk/index.ts';
import { levelOfSorted, quantileOfSorted } from '../../../server/engine/08-risk/statistics.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build } from '../../../server/model/index.ts';
import { bench, hands, NOW } from './_bench.ts';

const wall = (minutes: number): Build =>
  bench([hands('carve', minutes), hands('sand', 6 * 60)], {
    start: '2026-05-01T09:00',
    readyBy: '2026-12-02T20:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
  });

function drawn(build: Build, futures: number): Drawn {
  let ends: Drawn['ends'] = null;
  const forecast = planBuild(build, [], NOW, {
    levelling: { seed: 1, schedules: 1 },
    risk: { seed: 1, futures, exactness: 0 },
    onFutures: (those) => {
      ends = those;
    },
  });
  return { forecast, ends };
}

describe('few futures beside many', () => {
  const known = drawn(wall(20 * 60), 4_000).forecast;
  const present = drawn(wall(20 * 60), 100);
  const shorter = drawn(wall(17 * 60), 100);

  test('say of the plan as it is exactly what the many do', () => {
    const { readyBy, event, loadIn, readyAt, finishAt } = besideKnown(known, present, present).risk!;
    expect(present.forecast.risk!.readyBy.chance).not.toBe(known.risk!.readyBy.chance);
    expect({ readyBy, event, loadIn }).toEqual({
      readyBy: known.risk!.readyBy,
      event: known.risk!.event,
      loadIn: known.risk!.loadIn,
    });
    for (const p of ['p10', 'p50', 'p80', 'p90', 'p95'] as const) {
      expect(Math.abs(readyAt[p] - known.risk!.readyAt[p])).toBeLessThanOrEqual(1);
      expect(Math.abs(finishAt[p] - known.risk!.finishAt[p])).toBeLessThanOrEqual(1);
    }
  });

  test('differ from it by the difference that their own luck shows', () => {
    const found = besideKnown(known, present, shorter).risk!;
    const differs = shorter.forecast.risk!.readyBy.chance - present.forecast.risk!.readyBy.chance;
    expect(differs).toBeGreaterThan(0);
    expect(found.readyBy.chance).toBeCloseTo(known.risk!.readyBy.chance + differs, 10);
    expect(found.readyBy.error).toBeGreaterThan(known.risk!.readyBy.error);
    expect(found.futures).toBe(100);
  });

  test('are left as they are beside another plan or no more futures, or where there are no futures', () => {
    const other = drawn(wall(10 * 60), 100).forecast;
    expect(besideKnown(other, present, shorter)).toBe(shorter.forecast);
    expect(besideKnown({ ...known, risk: null }, present, shorter)).toBe(shorter.forecast);
    expect(besideKnown(present.forecast, present, shorter)).toBe(shorter.forecast);
    const none = { ...shorter, ends: null };
    expect(besideKnown(known, present, none)).toBe(none.forecast);
  });
});

test('the level of a value is its quantile turned round, ties at the nearest share', () => {
  const sorted = [10, 20, 20, 20, 40, 70];
  for (const p of [0, 0.1, 0.35, 0.5, 0.8, 0.95, 1]) {
    const value = quantileOfSorted(sorted, p);
    expect(quantileOfSorted(sorted, levelOfSorted(sorted, value, p))).toBeCloseTo(value, 10);
    expect(levelOfSorted(sorted, value, p)).toBeCloseTo(p, 10);
  }
  expect([levelOfSorted(sorted, 5, 0.5), levelOfSorted(sorted, 71, 0.5)]).toEqual([0, 1]);
  expect([levelOfSorted([20], 20, 0.3), levelOfSorted([20], 30, 0.3)]).toEqual([0.3, 1]);
});
