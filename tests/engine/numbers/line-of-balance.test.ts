import { describe, expect, test } from 'vitest';
import {
  stationsForTakt,
  taktMinutes,
  unitsThatShouldHavePassed,
} from '../../../server/engine/numbers/line-of-balance.ts';

// Recomputed.
test('takt sets how many stations are needed', () => {
  const takt = taktMinutes(10 * 8 * 60 * 0.85, 300);
  expect(takt).toBeCloseTo(13.6, 12);
  expect(stationsForTakt(38, takt)).toBe(3);
  expect(stationsForTakt(27.2, takt)).toBe(2);
});

// US Navy, Office of Naval Material, "Line of Balance Technology", 1962 (reading rule from memory; numbers invented).
describe('the status line', () => {
  const plan = { times: [0, 1, 2, 3, 4, 5, 6], units: [0, 5, 12, 22, 36, 50, 60] };

  test.each([
    [0, 12],
    [0.5, 17],
    [1, 22],
    [1.5, 29],
    [2, 36],
    [3, 50],
    [4, 60],
  ])('%d weeks before delivery, %d units should have passed', (lead, units) => {
    expect(unitsThatShouldHavePassed(plan, 2, lead)).toBeCloseTo(units, 12);
  });

  test('is flat outside the plan', () => {
    expect([unitsThatShouldHavePassed(plan, -3, 1), unitsThatShouldHavePassed(plan, 6, 9)]).toEqual([0, 60]);
    expect(unitsThatShouldHavePassed({ times: [], units: [] }, 0, 0)).toBe(0);
  });
});
