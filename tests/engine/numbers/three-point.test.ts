import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { regularizedBeta } from '../../../server/engine/numbers/special-functions.ts';
import {
  betaPertMoments,
  betaPertQuantile,
  betaPertShapes,
  type ThreePoint,
  tabulateQuantile,
  threePointMean,
} from '../../../server/engine/numbers/three-point.ts';

const at = ([low, likely, high]: readonly [number, number, number]): ThreePoint => ({ low, likely, high });
const estimates = fc
  .tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0.1, max: 100, noNaN: true }))
  .map(([place, width]) => ({ low: 5, likely: 5 + place * width, high: 5 + width }));

const FOURTEEN_ACTIVITIES = {
  A: [1, 2, 3],
  B: [2, 3.5, 8],
  C: [6, 9, 18],
  D: [4, 5.5, 10],
  E: [1, 4.5, 5],
  F: [4, 4, 10],
  G: [5, 6.5, 11],
  H: [5, 8, 17],
  I: [3, 7.5, 9],
  J: [3, 9, 9],
  K: [4, 4, 4],
  L: [1, 5.5, 7],
  M: [1, 2, 3],
  N: [5, 5.5, 9],
} as const;
const EIGHT_ACTIVITIES = {
  A: [1, 2, 3],
  B: [2, 3, 4],
  C: [1, 2, 3],
  D: [2, 4, 6],
  E: [1, 4, 7],
  F: [1, 2, 9],
  G: [3, 4, 11],
  H: [1, 2, 3],
} as const;
const TWELVE_ACTIVITIES = {
  A: [20, 30, 40],
  C: [50, 60, 100],
  D: [30, 50, 100],
  G: [25, 30, 35],
  H: [10, 20, 30],
  I: [20, 25, 60],
  L: [20, 25, 60],
} as const;

// Hillier and Lieberman, fourteen activities (inputs from memory); Heizer and Render, eight (inputs from memory) and
// twelve (a published solution).
describe('the classic three-point path', () => {
  test.each([
    ['fourteen activities', FOURTEEN_ACTIVITIES, 'ABCEFJLN', 44],
    ['eight activities', EIGHT_ACTIVITIES, 'ACEGH', 15],
    ['twelve activities', TWELVE_ACTIVITIES, 'ACDGHIL', 260],
  ] as const)('of %s has its published mean', (_, activities, path, mean) => {
    const means = [...path].map((name) => threePointMean(at(activities[name as keyof typeof activities])));
    expect(means.reduce((total, one) => total + one, 0)).toBeCloseTo(mean, 9);
  });
});

// Published formulas, recomputed: a, m, b; shapes; mean, sd, variance; quantiles at 10, 50, 80, 90 %.
describe('the beta-PERT distribution', () => {
  test.each([
    [
      [1, 2, 3],
      [3, 3],
      [2, 0.377964, 0.142857],
      [1.4933, 2, 2.3468, 2.5067],
    ],
    [
      [2, 3, 8],
      [1.6667, 4.3333],
      [3.666667, 1.015749, 1.031746],
      [2.456, 3.5117, 4.5375, 5.1116],
    ],
    [
      [3, 4, 11],
      [1.5, 4.5],
      [5, 1.309307, 1.714286],
      [3.4785, 4.769, 6.1028, 6.8712],
    ],
    [
      [2, 3.5, 8],
      [2, 4],
      [4, 1.069045, 1.142857],
      [2.6734, 3.8829, 4.9412, 5.5033],
    ],
    [
      [6, 9, 18],
      [2, 4],
      [10, 2.13809, 4.571429],
      [7.3468, 9.7657, 11.8823, 13.0067],
    ],
    [
      [10, 14, 30],
      [1.8, 4.2],
      [16, 3.464102, 12],
      [11.798, 15.5334, 19.0052, 20.9067],
    ],
  ] as const)('of %j', (values, shapes, [mean, sd, variance], quantiles) => {
    const estimate = at(values);
    const { alpha, beta } = betaPertShapes(estimate);
    expect([alpha, beta]).toEqual(shapes.map((v) => expect.closeTo(v, 4)));
    const moments = betaPertMoments(estimate);
    expect(moments.mean).toBeCloseTo(mean, 6);
    expect(Math.sqrt(moments.variance)).toBeCloseTo(sd, 6);
    expect(moments.variance).toBeCloseTo(variance, 6);
    [0.1, 0.5, 0.8, 0.9].forEach((p, i) => {
      expect(Math.abs(betaPertQuantile(p, estimate) - quantiles[i]!)).toBeLessThan(5.1e-5);
    });
  });

  test('is a single value when low and high are the same', () => {
    expect(betaPertQuantile(0.3, { low: 4, likely: 4, high: 4 })).toBe(4);
    expect(betaPertMoments({ low: 4, likely: 4, high: 4 })).toEqual({ mean: 4, variance: 0 });
  });

  test('has quantiles that rise, stay between low and high and undo it', () => {
    fc.assert(
      fc.property(estimates, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (estimate, p) => {
        const x = betaPertQuantile(p, estimate);
        expect(x).toBeGreaterThanOrEqual(estimate.low);
        expect(x).toBeLessThanOrEqual(estimate.high);
        const { alpha, beta } = betaPertShapes(estimate);
        const place = (x - estimate.low) / (estimate.high - estimate.low);
        expect(regularizedBeta(alpha, beta, place).lower).toBeCloseTo(p, 8);
      }),
    );
  });

  test('drawn by even chances has the mean and variance of its formula', () => {
    const estimate = { low: 3, likely: 4, high: 11 };
    for (const quantile of [
      (p: number) => betaPertQuantile(p, estimate),
      tabulateQuantile((p) => betaPertQuantile(p, estimate)),
    ]) {
      const draws = Array.from({ length: 20_000 }, (_, i) => quantile((i + 0.5) / 20_000));
      const mean = draws.reduce((sum, x) => sum + x, 0) / draws.length;
      const variance = draws.reduce((sum, x) => sum + (x - mean) ** 2, 0) / draws.length;
      expect(mean).toBeCloseTo(5, 3);
      expect(variance).toBeCloseTo(1.714286, 2);
    }
  });

  test('is tabulated closely, save for one draw in ten thousand', () => {
    for (const values of [
      [2, 3, 8],
      [3, 4, 11],
      [0, 0, 1],
      [0, 10, 10],
    ] as const) {
      const estimate = at(values);
      const table = tabulateQuantile((p) => betaPertQuantile(p, estimate));
      const width = estimate.high - estimate.low;
      for (let p = 5e-5; p < 1 - 5e-5; p += 1 / 3001) {
        const error = Math.abs(table(p) - betaPertQuantile(p, estimate)) / width;
        expect(error).toBeLessThan(p > 0.01 && p < 0.99 ? 5e-6 : 3e-4);
      }
      expect([table(0), table(1)]).toEqual([estimate.low, estimate.high]);
    }
  });
});
