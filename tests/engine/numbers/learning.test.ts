import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  firstUnitMinutesFrom,
  firstUnitMinutesFromLot,
  fitLearning,
  learningExponent,
  lotMinutes,
  rateFromTwoUnits,
  unitMinutes,
  wrightAverageMinutes,
  wrightLotMinutes,
} from '../../../server/engine/numbers/learning.ts';

// For a first unit of 1: rate, n, unit n, total, average (unit model), then average, total, unit n (Wright). Recomputed; the unit and
// total columns at 80, 85 and 90 % are those printed in the tables of Heizer & Render and of Krajewski (from memory).
const TABLE = [
  [80, 1, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0],
  [80, 2, 0.8, 1.8, 0.9, 0.8, 1.6, 0.6],
  [80, 3, 0.7021, 2.5021, 0.834, 0.7021, 2.1063, 0.5063],
  [80, 4, 0.64, 3.1421, 0.7855, 0.64, 2.56, 0.4537],
  [80, 5, 0.5956, 3.7377, 0.7475, 0.5956, 2.9782, 0.4182],
  [80, 8, 0.512, 5.3459, 0.6682, 0.512, 4.096, 0.3546],
  [80, 10, 0.4765, 6.3154, 0.6315, 0.4765, 4.7651, 0.3286],
  [80, 20, 0.3812, 10.4849, 0.5242, 0.3812, 7.6242, 0.2606],
  [80, 50, 0.2838, 20.1217, 0.4024, 0.2838, 14.1914, 0.1931],
  [80, 100, 0.2271, 32.6508, 0.3265, 0.2271, 22.7062, 0.1542],
  [85, 2, 0.85, 1.85, 0.925, 0.85, 1.7, 0.7],
  [85, 3, 0.7729, 2.6229, 0.8743, 0.7729, 2.3187, 0.6187],
  [85, 4, 0.7225, 3.3454, 0.8364, 0.7225, 2.89, 0.5713],
  [85, 5, 0.6857, 4.0311, 0.8062, 0.6857, 3.4284, 0.5384],
  [85, 10, 0.5828, 7.1161, 0.7116, 0.5828, 5.8282, 0.4516],
  [85, 20, 0.4954, 12.4023, 0.6201, 0.4954, 9.9079, 0.3815],
  [85, 50, 0.3996, 25.5131, 0.5103, 0.3996, 19.9812, 0.3066],
  [85, 100, 0.3397, 43.7539, 0.4375, 0.3397, 33.968, 0.2603],
  [90, 2, 0.9, 1.9, 0.95, 0.9, 1.8, 0.8],
  [90, 3, 0.8462, 2.7462, 0.9154, 0.8462, 2.5386, 0.7386],
  [90, 4, 0.81, 3.5562, 0.8891, 0.81, 3.24, 0.7014],
  [90, 5, 0.783, 4.3392, 0.8678, 0.783, 3.9149, 0.6749],
  [90, 10, 0.7047, 7.9945, 0.7994, 0.7047, 7.0469, 0.6023],
  [90, 20, 0.6342, 14.6078, 0.7304, 0.6342, 12.6844, 0.5399],
  [90, 50, 0.5518, 32.142, 0.6428, 0.5518, 27.5881, 0.4686],
  [90, 100, 0.4966, 58.141, 0.5814, 0.4966, 49.6585, 0.4214],
  [95, 10, 0.8433, 8.9545, 0.8954, 0.8433, 8.4333, 0.7839],
  [95, 100, 0.7112, 76.5864, 0.7659, 0.7112, 71.1212, 0.6588],
] as const;

// Half of the last digit printed; the table's rounding may lie on the edge.
const within = (expected: number, tolerance = 5.01e-5) => ({
  asymmetricMatch: (actual: unknown) => Math.abs((actual as number) - expected) <= tolerance,
  toString: () => `${expected} within ${tolerance}`,
});

describe('learning curves', () => {
  test.each(TABLE)('at %d %% unit %d is as tabled in both models', (percent, n, unit, total, average, ...wright) => {
    const rate = percent / 100;
    expect(unitMinutes(1, rate, n)).toEqual(within(unit));
    expect(lotMinutes(1, rate, 1, n)).toEqual(within(total));
    expect(lotMinutes(1, rate, 1, n) / n).toEqual(within(average));
    expect([
      wrightAverageMinutes(1, rate, n),
      wrightLotMinutes(1, rate, 1, n),
      wrightLotMinutes(1, rate, n, n),
    ]).toEqual(wright.map((value) => within(value)));
  });

  test('have the published exponents', () => {
    expect([0.8, 0.85, 0.9, 0.95].map((rate) => Number(learningExponent(rate).toFixed(6)))).toEqual([
      -0.321928, -0.234465, -0.152003, -0.074001,
    ]);
  });

  // An accounting text (it misprints the last lot as 254.76).
  test('by Wright at 80 % from 100 hours average 40.96 over 16 units', () => {
    const counts = [1, 2, 4, 8, 16];
    counts.forEach((n, i) => {
      expect(wrightAverageMinutes(100, 0.8, n)).toBeCloseTo([100, 80, 64, 51.2, 40.96][i]!, 9);
      expect(wrightLotMinutes(100, 0.8, 1, n)).toBeCloseTo([100, 160, 256, 409.6, 655.36][i]!, 9);
    });
    expect(wrightLotMinutes(100, 0.8, 9, 16)).toBeCloseTo(245.76, 9);
  });

  // Wideman, appendix on learning curves.
  test('by Wright at 80 % make the second unit 60 % of the first', () => {
    expect(wrightLotMinutes(1, 0.8, 2, 2)).toBeCloseTo(0.6, 12);
  });

  // Inputs from a published exercise, outputs recomputed: the two models differ by 24 %.
  test('of 85 % over 15 units differ between the models', () => {
    expect(unitMinutes(250, 0.85, 15)).toBeCloseTo(132.4913, 4);
    expect(lotMinutes(250, 0.85, 1, 15)).toBeCloseTo(2465.264, 3);
    expect(wrightLotMinutes(250, 0.85, 1, 15)).toBeCloseTo(1987.37, 3);
  });

  test('are found from two units', () => {
    expect(rateFromTwoUnits({ unit: 10, minutes: 30 }, { unit: 40, minutes: 24.3 })).toBeCloseTo(0.9, 12);
    expect(() => rateFromTwoUnits({ unit: 10, minutes: 30 }, { unit: 10, minutes: 20 })).toThrow(
      'both units are number 10',
    );
  });

  // Recomputed.
  test('carry on from unit 24 to unit 300', () => {
    const first = firstUnitMinutesFrom(24, 12, 0.9);
    expect(first).toBeCloseTo(19.4526, 4);
    expect(lotMinutes(first, 0.9, 25, 300)).toBeCloseTo(2550.31, 2);
    expect(12 * 276).toBe(3312);
  });

  test('read a timed trial as the minutes of its lot', () => {
    expect(firstUnitMinutesFromLot(1, 14, 38, 1)).toBeCloseTo(38 / 14, 12);
    expect(lotMinutes(firstUnitMinutesFromLot(1, 14, 38, 0.85), 0.85, 1, 14)).toBeCloseTo(38, 12);
  });

  test('are flat at a rate of 1 and empty for no units', () => {
    expect([lotMinutes(5, 1, 25, 300), lotMinutes(5, 0.9, 8, 7), wrightLotMinutes(5, 0.9, 8, 7)]).toEqual([1380, 0, 0]);
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
    const exact = [1, 5, 20, 80].map((unit) => ({ unit, minutes: unitMinutes(30, 0.85, unit) }));
    const fit = fitLearning(exact)!;
    expect([fit.rate, fit.firstUnitMinutes, fit.exponentError]).toEqual([within(0.85), within(30), within(0)]);
    expect(fitLearning(exact.slice(0, 2))!.exponentError).toBe(Number.POSITIVE_INFINITY);
    expect(fitLearning(exact.slice(0, 1))).toBeNull();
    expect(fitLearning([exact[0]!, exact[0]!])).toBeNull();
  });

  test('refuse a rate of 0 and units before the first', () => {
    expect(() => learningExponent(0)).toThrow('rate is 0; it must be more than 0');
    expect(() => lotMinutes(1, 0.9, 0, 5)).toThrow('first is 0; units are counted from 1');
  });
});
