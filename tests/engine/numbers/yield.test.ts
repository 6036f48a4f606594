import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { poissonCdf } from '../../../server/engine/numbers/distributions.ts';
import { binomialWeight } from '../../../server/engine/numbers/special-functions.ts';
import {
  chanceOfEnough,
  grossForWaste,
  packsToBuy,
  sparesFor,
  sparesForShare,
  unitsAlong,
  unitsToBuy,
  unitsToStart,
} from '../../../server/engine/numbers/yield.ts';

// Computed twice: from the binomial tail and from the negative binomial quantile. "Need over yield" is Groover's
// expectation rule. need, yield, need / yield rounded up, chance that this is enough, units for 50, 80, 90, 95, 99 %.
const UNITS_TO_START = [
  [20, 0.98, 21, 0.9347, 20, 21, 21, 22, 22],
  [20, 0.95, 22, 0.9052, 21, 22, 22, 23, 24],
  [20, 0.9, 23, 0.8073, 22, 23, 24, 25, 27],
  [20, 0.8, 25, 0.6167, 25, 27, 28, 29, 32],
  [50, 0.95, 53, 0.7271, 52, 54, 55, 56, 57],
  [50, 0.9, 56, 0.6738, 55, 58, 59, 60, 62],
  [50, 0.8, 63, 0.6226, 62, 66, 68, 69, 73],
  [100, 0.98, 103, 0.8479, 102, 103, 104, 105, 106],
  [100, 0.95, 106, 0.72, 105, 107, 108, 109, 111],
  [100, 0.9, 112, 0.6715, 111, 114, 116, 117, 120],
  [100, 0.8, 125, 0.5533, 125, 130, 132, 135, 139],
  [300, 0.98, 307, 0.7257, 306, 308, 309, 310, 313],
  [300, 0.95, 316, 0.5863, 316, 319, 321, 323, 326],
  [300, 0.9, 334, 0.5886, 333, 338, 341, 344, 348],
  [300, 0.8, 375, 0.5308, 375, 383, 388, 391, 399],
] as const;

describe('units to start', () => {
  test.each(UNITS_TO_START)('for %d good at a yield of %d', (need, share, byExpectation, chance, ...units) => {
    expect(Math.ceil(need / share)).toBe(byExpectation);
    expect(Math.abs(chanceOfEnough(byExpectation, need, share) - chance)).toBeLessThanOrEqual(5e-5);
    expect([0.5, 0.8, 0.9, 0.95, 0.99].map((confidence) => unitsToStart(need, share, confidence))).toEqual(units);
  });

  test('aims at nine cases in ten unless told otherwise', () => {
    expect(unitsToStart(300, 0.95)).toBe(321);
  });

  test('counts a chance that is met exactly as met', () => {
    expect(unitsToStart(1, 0.9, 0.9)).toBe(1);
    expect(unitsToStart(2, 0.9, 0.81)).toBe(2);
    expect(unitsToStart(1, 0.5, 0.875)).toBe(3);
  });

  // An order that pays only if all are good: 3,000 for at least 20 good ones, 40 for each that is started, at a yield
  // of 0.9. Figures from a table that was made outside with R.
  test('weighs an order that pays for all or nothing as it was worked out outside', () => {
    const profit = (started: number) => 3000 * chanceOfEnough(started, 20, 0.9) - 40 * started;
    for (const [started, wanted] of [
      [25, 1899.8],
      [26, 1924.39],
      [27, 1908.39],
    ] as const) {
      expect(Math.abs(profit(started) - wanted)).toBeLessThanOrEqual(0.005);
    }
    const best = Array.from({ length: 41 }, (_, i) => 20 + i).sort((a, b) => profit(b) - profit(a))[0];
    expect(best).toBe(26);
  });

  test('is the need itself when nothing is lost', () => {
    expect([unitsToStart(300, 1), unitsToStart(0, 0.5)]).toEqual([300, 0]);
  });

  test('are those of a route with nothing on it, and fewer the further its units are', () => {
    const of = (...passed: number[]) => unitsAlong(10, { passed, rest: [0.9, 1], share: 0.8 });
    expect([of(), of(0, 0), of(6, 0), of(10, 4), of(10, 10), of(14, 13)]).toEqual([15, 15, 14, 12, 10, 13]);
    expect(unitsAlong(10, { passed: [9, 2], rest: [1, 1], share: 1 })).toBe(10);
  });

  test('is exact at a need of 100,000', () => {
    const units = unitsToStart(100_000, 0.9);
    expect(units).toBe(111_254);
    const shortfall = (n: number) => {
      let sum = 0;
      for (let k = 99_999; k > 98_000; k--) sum += binomialWeight(k, n - k, 0.9);
      return sum;
    };
    expect(shortfall(units)).toBeLessThanOrEqual(0.1);
    expect(shortfall(units - 1)).toBeGreaterThan(0.1);
  });

  test('is the least that is enough, for any need, yield and confidence', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 3000 }),
        fc.double({ min: 0.05, max: 0.999, noNaN: true }),
        fc.double({ min: 0.05, max: 0.999, noNaN: true }),
        (need, share, confidence) => {
          const units = unitsToStart(need, share, confidence);
          expect(chanceOfEnough(units, need, share)).toBeGreaterThanOrEqual(confidence - 1e-9);
          expect(chanceOfEnough(units - 1, need, share)).toBeLessThan(confidence + 1e-9);
        },
      ),
    );
  });

  test('refuses what makes no sense, naming the argument', () => {
    expect(() => unitsToStart(-1, 0.9)).toThrow('need is -1; it must be a whole number of 0 or more');
    expect(() => unitsToStart(1.5, 0.9)).toThrow('need is 1.5');
    expect(() => unitsToStart(10, 0)).toThrow('yieldShare is 0; it must be more than 0 and at most 1');
    expect(() => unitsToStart(10, 1.2)).toThrow('yieldShare is 1.2');
    expect(() => unitsToStart(10, 0.9, 1)).toThrow('confidence is 1; it must be more than 0 and less than 1');
  });
});

describe('spares, packs and waste', () => {
  // Poisson quantiles, recomputed: expected failures, then spares for 80, 90, 95, 99 %.
  test.each([
    [0.5, 1, 1, 2, 3],
    [1, 2, 2, 3, 4],
    [2, 3, 4, 5, 6],
    [3, 4, 5, 6, 8],
    [5, 7, 8, 9, 11],
  ])('%d expected failures need these spares', (expected, ...spares) => {
    expect([0.8, 0.9, 0.95, 0.99].map((confidence) => sparesFor(expected, confidence))).toEqual(spares);
  });

  test('spares are the least that last, for many expected failures too', () => {
    const spares = sparesFor(10_000, 0.95);
    expect(poissonCdf(spares, 10_000)).toBeGreaterThanOrEqual(0.95);
    expect(poissonCdf(spares - 1, 10_000)).toBeLessThan(0.95);
    expect(sparesFor(0)).toBe(0);
    expect(() => sparesFor(-1)).toThrow('expectedFailures is -1');
  });

  test('spares by a share that fails are the least that the binomial distribution has covered, and near Poisson for few of many', () => {
    const chance = (n: number, p: number, most: number) => {
      let [term, sum] = [(1 - p) ** n, 0];
      for (let k = 0; k <= most; k++) {
        sum += term;
        term *= ((n - k) / (k + 1)) * (p / (1 - p));
      }
      return sum;
    };
    const cases = [
      [20, 0.1],
      [10, 0.12],
      [300, 0.01],
      [6, 0.97],
      [50, 0.5],
      [1, 0.05],
    ] as const;
    for (const [n, p] of cases) {
      for (const confidence of [0.8, 0.9, 0.99]) {
        const spares = sparesForShare(n, p, confidence);
        expect(chance(n, p, spares)).toBeGreaterThanOrEqual(confidence - 1e-9);
        if (spares > 0) expect(chance(n, p, spares - 1)).toBeLessThan(confidence);
      }
    }
    expect([1, 2, 3, 5].map((failures) => sparesForShare(20_000, failures / 20_000, 0.95))).toEqual([3, 5, 6, 9]);
    expect([sparesForShare(40, 0), sparesForShare(0, 0.3)]).toEqual([0, 0]);
    expect(() => sparesForShare(3, 1)).toThrow('share is 1');
  });

  test('what is bought comes in whole packs', () => {
    expect([unitsToBuy(105, 50), unitsToBuy(100, 50), unitsToBuy(0, 50)]).toEqual([150, 100, 0]);
    expect([packsToBuy(3, 0.75), packsToBuy(3.01, 0.75), packsToBuy(0.1 * 3, 0.1)]).toEqual([4, 5, 3]);
    expect(() => packsToBuy(3, 0)).toThrow('packSize is 0; it must be more than 0');
  });

  // From a woodworkers' forum and a wood magazine, recomputed.
  test('a waste share is not a mark-up', () => {
    expect(grossForWaste(100, 0.3)).toBeCloseTo(142.857, 3);
    expect(1 - 100 / 130).toBeCloseTo(0.2308, 4);
    expect(grossForWaste(100, 1 / 3)).toBeCloseTo(150, 9);
    expect(() => grossForWaste(100, 1)).toThrow('wasteShare is 1');
  });
});
