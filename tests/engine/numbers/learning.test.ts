import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  firstUnitMinutesFromLot,
  fitLearning,
  learningExponent,
  lotMinutes,
} from '../../../server/engine/numbers/learning.ts';

// For a first unit of 1: rate, n, unit n, total, average. Recomputed; the unit and total columns at 80, 85 and 90 % are
// those printed in the tables of Heizer & Render and of Krajewski (from memory).
const TABLE = [
  [80, 1, 1.0, 1.0, 1.0],
  [80, 2, 0.8, 1.8, 0.9],
  [80, 3, 0.7021, 2.5021, 0.834],
  [80, 4, 0.64, 3.1421, 0.7855],
  [80, 5, 0.5956, 3.7377, 0.7475],
  [80, 8, 0.512, 5.3459, 0.6682],
  [80, 10, 0.4765, 6.3154, 0.6315],
  [80, 20, 0.3812, 10.4849, 0.5242],
  [80, 50, 0.2838, 20.1217, 0.4024],
  [80, 100, 0.2271, 32.6508, 0.3265],
  [85, 2, 0.85, 1.85, 0.925],
  [85, 3, 0.7729, 2.6229, 0.8743],
  [85, 4, 0.7225, 3.3454, 0.8364],
  [85, 5, 0.6857, 4.0311, 0.8062],
  [85, 10, 0.5828, 7.1161, 0.7116],
  [85, 20, 0.4954, 12.4023, 0.6201],
  [85, 50, 0.3996, 25.5131, 0.5103],
  [85, 100, 0.3397, 43.7539, 0.4375],
  [90, 2, 0.9, 1.9, 0.95],
  [90, 3, 0.8462, 2.7462, 0.9154],
  [90, 4, 0.81, 3.5562, 0.8891],
  [90, 5, 0.783, 4.3392, 0.8678],
  [90, 10, 0.7047, 7.9945, 0.7994],
  [90, 20, 0.6342, 14.6078, 0.7304],
  [90, 50, 0.5518, 32.142, 0.6428],
  [90, 100, 0.4966, 58.141, 0.5814],
  [95, 10, 0.8433, 8.9545, 0.8954],
  [95, 100, 0.7112, 76.5864, 0.7659],
] as const;

// Half of the last digit printed; the table's rounding may lie on the edge.
const within = (expected: number, tolerance = 5.01e-5) => ({
  asymmetricMatch: (actual: unknown) => Math.abs((actual as number) - expected) <= tolerance,
  toString: () => `${expected} within ${tolerance}`,
});

describe('learning curves', () => {
  test.each(TABLE)('at %d %% unit %d is as tabled', (percent, n, unit, total, average) => {
    const rate = percent / 100;
    expect(lotMinutes(1, rate, n, n)).toEqual(within(unit));
    expect(lotMinutes(1, rate, 1, n)).toEqual(within(total));
    expect(lotMinutes(1, rate, 1, n) / n).toEqual(within(average));
  });

  test('have the published exponents', () => {
    expect([0.8, 0.85, 0.9, 0.95].map((rate) => Number(learningExponent(rate).toFixed(6)))).toEqual([
      -0.321928, -0.234465, -0.152003, -0.074001,
    ]);
  });

  // Recomputed.
  test('carry on from unit 24 to unit 300', () => {
    const first = firstUnitMinutesFromLot(24, 24, 12, 0.9);
    expect(first).toBeCloseTo(19.4526, 4);
    expect(lotMinutes(first, 0.9, 25, 300)).toBeCloseTo(2550.31, 2);
  });

  test('read a timed trial as the minutes of its lot', () => {
    expect(firstUnitMinutesFromLot(1, 18, 45, 1)).toBeCloseTo(45 / 18, 12);
    expect(lotMinutes(firstUnitMinutesFromLot(1, 18, 45, 0.85), 0.85, 1, 18)).toBeCloseTo(45, 12);
  });

  test('are flat at a rate of 1 and empty for no units', () => {
    expect([lotMinutes(5, 1, 25, 300), lotMinutes(5, 0.9, 8, 7)]).toEqual([1380, 0]);
  });

  test('sum long runs as exactly as one by one', () => {
    for (const [rate, first, last] of [
      [0.8, 1, 20_000],
      [0.5, 20, 5_000],
      [0.9, 25, 60],
      [0.95, 31, 100_000],
      [1.1, 7, 2_000],
    ] as const) {
      let sum = 0;
      for (let n = last; n >= first; n--) sum += n ** Math.log2(rate);
      expect(Math.abs(lotMinutes(1, rate, first, last) / sum - 1)).toBeLessThan(1e-12);
    }
  });

  test('give the same total however a run is cut into lots', () => {
    const rates = fc.double({ min: 0.55, max: 1, noNaN: true });
    fc.assert(
      fc.property(rates, fc.integer({ min: 1, max: 500 }), fc.nat(500), fc.nat(500), (rate, first, a, b) => {
        const whole = lotMinutes(10, rate, first, first + a + b);
        const cut = lotMinutes(10, rate, first, first + a - 1) + lotMinutes(10, rate, first + a, first + a + b);
        expect(Math.abs(cut - whole)).toBeLessThanOrEqual(1e-10 * whole);
      }),
    );
  });

  test('are fitted through many units, with the error of the exponent', () => {
    const exact = [1, 5, 20, 80].map((unit) => ({ unit, minutes: lotMinutes(30, 0.85, unit, unit) }));
    const fit = fitLearning(exact)!;
    expect([fit.rate, fit.firstUnitMinutes, fit.exponentError]).toEqual([within(0.85), within(30), within(0)]);
    expect(fitLearning(exact.slice(0, 2))!.exponentError).toBe(Number.POSITIVE_INFINITY);
    expect(fitLearning(exact.slice(0, 1))).toBeNull();
    expect(fitLearning([exact[0]!, exact[0]!])).toBeNull();
  });

  test('are fitted to a unit of weight two as to that unit twice', () => {
    const at = (unit: number, minutes: number) => ({ unit, minutes });
    const [one, two, three] = [at(1, 30), at(5, 26), at(20, 19)] as const;
    const weighed = fitLearning([one, { ...two, weight: 2 }, three])!;
    const twice = fitLearning([one, two, two, three])!;
    expect([weighed.rate, weighed.firstUnitMinutes]).toEqual([within(twice.rate), within(twice.firstUnitMinutes)]);
    expect(weighed.rate).not.toBeCloseTo(fitLearning([one, two, three])!.rate, 3);
  });

  test('refuse a rate of 0 and units before the first', () => {
    expect(() => learningExponent(0)).toThrow('rate is 0; it must be more than 0');
    expect(() => lotMinutes(1, 0.9, 0, 5)).toThrow('first is 0; units are counted from 1');
  });
});
