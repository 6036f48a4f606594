import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ceilCount, floorCount, isNearlyEqual, isNearlyWhole } from '../../../server/engine/numbers/rounding.ts';

describe('rounding of counts', () => {
  test('does not turn the noise of binary fractions into a unit', () => {
    expect(0.1 * 3 * 10).toBeGreaterThan(3);
    expect(ceilCount(0.1 * 3 * 10)).toBe(3);
    expect(0.3 / 0.1).toBeLessThan(3);
    expect(floorCount(0.3 / 0.1)).toBe(3);
  });

  test('rounds real fractions up or down as asked', () => {
    expect([ceilCount(3.01), floorCount(2.99), ceilCount(-3.5), floorCount(-3.5)]).toEqual([4, 2, -3, -4]);
    expect(ceilCount(-0.2)).toBe(0);
  });

  test('keeps a half unit of a ten-figure count', () => {
    expect(ceilCount(10_000_000_000.5)).toBe(10_000_000_001);
    expect(floorCount(10_000_000_000.5)).toBe(10_000_000_000);
  });

  test('never lies more than one unit or noise away from the value', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
        expect(ceilCount(value) - value).toBeLessThan(1);
        expect(ceilCount(value) - value).toBeGreaterThan(-1e-6);
        expect(ceilCount(value)).toBe(-floorCount(-value) + 0);
      }),
    );
  });

  test('takes numbers as equal only within the noise', () => {
    expect(isNearlyEqual(0.1 + 0.2, 0.3)).toBe(true);
    expect(isNearlyEqual(0.3, 0.3001)).toBe(false);
    expect(isNearlyEqual(Number.POSITIVE_INFINITY, 1)).toBe(false);
    expect([isNearlyWhole(2.9999999999), isNearlyWhole(2.9999)]).toEqual([true, false]);
  });
});
