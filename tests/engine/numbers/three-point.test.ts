import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { normalCdf, normalQuantile } from '../../../server/engine/numbers/distributions.ts';
import {
  betaPertCdf,
  betaPertMoments,
  betaPertQuantile,
  betaPertShapes,
  classicPertMoments,
  greaterOfNormals,
  type ThreePoint,
  tabulateQuantile,
  triangularCdf,
  triangularMoments,
  triangularQuantile,
} from '../../../server/engine/numbers/three-point.ts';

const at = ([low, likely, high]: readonly [number, number, number]): ThreePoint => ({ low, likely, high });
const estimates = fc
  .tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0.1, max: 100, noNaN: true }))
  .map(([place, width]) => ({ low: 5, likely: 5 + place * width, high: 5 + width }));

const RELIABLE = {
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
const MILWAUKEE = {
  A: [1, 2, 3],
  B: [2, 3, 4],
  C: [1, 2, 3],
  D: [2, 4, 6],
  E: [1, 4, 7],
  F: [1, 2, 9],
  G: [3, 4, 11],
  H: [1, 2, 3],
} as const;
const SOUTHWESTERN = {
  A: [20, 30, 40],
  C: [50, 60, 100],
  D: [30, 50, 100],
  G: [25, 30, 35],
  H: [10, 20, 30],
  I: [20, 25, 60],
  L: [20, 25, 60],
} as const;

// Hillier & Lieberman (inputs from memory); Heizer & Render, Milwaukee Paper (inputs from memory) and Southwestern University (a published
// solution). Chances recomputed with the exact normal: the books round z to two digits and differ by up to 0.0011.
describe('the classic three-point path', () => {
  test.each([
    ['Reliable', RELIABLE, 'ABCEFJLN', 44, 9, 47, 1, 0.841345],
    ['Milwaukee', MILWAUKEE, 'ACEGH', 15, 28 / 9, 16, 0.566947, 0.714625],
    ['Southwestern', SOUTHWESTERN, 'ACDGHIL', 260, 319.444444, 270, 0.559503, 0.712091],
  ] as const)('of %s', (_, activities, path, mean, variance, target, z, chance) => {
    const moments = [...path].map((name) => classicPertMoments(at(activities[name as keyof typeof activities])));
    const sum = (of: 'mean' | 'variance') => moments.reduce((total, m) => total + m[of], 0);
    expect(sum('mean')).toBeCloseTo(mean, 9);
    expect(sum('variance')).toBeCloseTo(variance, 6);
    const distance = (target - sum('mean')) / Math.sqrt(sum('variance'));
    expect(distance).toBeCloseTo(z, 6);
    expect(normalCdf(distance)).toBeCloseTo(chance, 6);
  });

  // What the books print, with z rounded to two digits: 0.7157 (Milwaukee) and 0.7123 (Southwestern).
  test.each([
    [1 / Math.sqrt(28 / 9), 0.57, 0.715661],
    [10 / Math.sqrt(319.444444), 0.56, 0.71226],
  ])('keeps all digits of z = %d where a book takes %d', (z, rounded, printed) => {
    expect(Number(z.toFixed(2))).toBe(rounded);
    expect(normalCdf(rounded)).toBeCloseTo(printed, 6);
    expect(printed - normalCdf(z)).toBeGreaterThan(1.5e-4);
  });

  test('has the published variances of its activities', () => {
    const variances = (activities: Record<string, readonly [number, number, number]>) =>
      Object.values(activities).map((values) => classicPertMoments(at(values)).variance * 9);
    expect(variances(RELIABLE)).toEqual([1, 9, 36, 9, 4, 9, 9, 36, 9, 9, 0, 9, 1, 4].map((v) => expect.closeTo(v, 9)));
    expect(variances(MILWAUKEE)).toEqual([1, 1, 1, 4, 9, 16, 16, 1].map((v) => expect.closeTo(v, 9)));
  });

  test('names the date that is met 99 times in 100', () => {
    expect(15 + normalQuantile(0.99) * Math.sqrt(28 / 9)).toBeCloseTo(19.1033, 4);
  });
});

// Published formulas, recomputed: a, m, b; shapes; mean, sd, variance, classic variance; quantiles at 10, 50, 80, 90 %.
describe('the beta-PERT distribution', () => {
  test.each([
    [
      [1, 2, 3],
      [3, 3],
      [2, 0.377964, 0.142857, 0.111111],
      [1.4933, 2, 2.3468, 2.5067],
    ],
    [
      [2, 3, 8],
      [1.6667, 4.3333],
      [3.666667, 1.015749, 1.031746, 1],
      [2.456, 3.5117, 4.5375, 5.1116],
    ],
    [
      [3, 4, 11],
      [1.5, 4.5],
      [5, 1.309307, 1.714286, 1.777778],
      [3.4785, 4.769, 6.1028, 6.8712],
    ],
    [
      [2, 3.5, 8],
      [2, 4],
      [4, 1.069045, 1.142857, 1],
      [2.6734, 3.8829, 4.9412, 5.5033],
    ],
    [
      [6, 9, 18],
      [2, 4],
      [10, 2.13809, 4.571429, 4],
      [7.3468, 9.7657, 11.8823, 13.0067],
    ],
    [
      [10, 14, 30],
      [1.8, 4.2],
      [16, 3.464102, 12, 11.111111],
      [11.798, 15.5334, 19.0052, 20.9067],
    ],
  ] as const)('of %j', (values, shapes, [mean, sd, variance, classic], quantiles) => {
    const estimate = at(values);
    const { alpha, beta } = betaPertShapes(estimate);
    expect([alpha, beta]).toEqual(shapes.map((v) => expect.closeTo(v, 4)));
    const moments = betaPertMoments(estimate);
    expect(moments.mean).toBeCloseTo(mean, 6);
    expect(Math.sqrt(moments.variance)).toBeCloseTo(sd, 6);
    expect(moments.variance).toBeCloseTo(variance, 6);
    expect(classicPertMoments(estimate).variance).toBeCloseTo(classic, 6);
    [0.1, 0.5, 0.8, 0.9].forEach((p, i) => {
      expect(Math.abs(betaPertQuantile(p, estimate) - quantiles[i]!)).toBeLessThan(5.1e-5);
    });
  });

  test('is a single value when low and high are the same', () => {
    expect(betaPertQuantile(0.3, { low: 4, likely: 4, high: 4 })).toBe(4);
    expect(betaPertMoments({ low: 4, likely: 4, high: 4 })).toEqual({ mean: 4, variance: 0 });
    expect([3.9, 4].map((x) => betaPertCdf(x, { low: 4, likely: 4, high: 4 }))).toEqual([0, 1]);
  });

  test('has quantiles that rise, stay between low and high and undo it', () => {
    fc.assert(
      fc.property(estimates, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (estimate, p) => {
        const x = betaPertQuantile(p, estimate);
        expect(x).toBeGreaterThanOrEqual(estimate.low);
        expect(x).toBeLessThanOrEqual(estimate.high);
        expect(betaPertCdf(x, estimate)).toBeCloseTo(p, 8);
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

// Recomputed: a, m, b; mean, variance, F(m); quantiles at 10, 50, 80, 90 %.
describe('the triangular distribution', () => {
  test.each([
    [
      [1, 2, 3],
      [2, 0.166667, 0.5],
      [1.4472, 2, 2.3675, 2.5528],
    ],
    [
      [2, 3, 8],
      [4.333333, 1.722222, 0.166667],
      [2.7746, 4.127, 5.5505, 6.2679],
    ],
    [
      [3, 4, 11],
      [6, 3.166667, 0.125],
      [3.8944, 5.7085, 7.6534, 8.6336],
    ],
    [
      [10, 14, 30],
      [18, 18.666667, 0.2],
      [12.8284, 17.3509, 22, 24.3431],
    ],
  ] as const)('of %j', (values, [mean, variance, atLikely], quantiles) => {
    const estimate = at(values);
    const moments = triangularMoments(estimate);
    expect(moments.mean).toBeCloseTo(mean, 6);
    expect(moments.variance).toBeCloseTo(variance, 6);
    expect(triangularCdf(estimate.likely, estimate)).toBeCloseTo(atLikely, 6);
    [0.1, 0.5, 0.8, 0.9].forEach((p, i) => {
      expect(Math.abs(triangularQuantile(p, estimate) - quantiles[i]!)).toBeLessThan(5.1e-5);
    });
  });

  test('has quantiles that undo it', () => {
    fc.assert(
      fc.property(estimates, fc.double({ min: 0, max: 1, noNaN: true }), (estimate, p) => {
        expect(triangularCdf(triangularQuantile(p, estimate), estimate)).toBeCloseTo(p, 9);
      }),
    );
    expect([4, 12].map((x) => triangularCdf(x, { low: 5, likely: 7, high: 11 }))).toEqual([0, 1]);
    expect(triangularQuantile(0.7, { low: 4, likely: 4, high: 4 })).toBe(4);
  });
});

// Clark (1961), formula from memory; every row without correlation checked by numerical integration.
describe('the greater of two normals', () => {
  test.each([
    [[0, 1], [0, 1], 0, 0.56419, 0.825645],
    [[10, 2], [10, 2], 0, 11.128379, 1.651291],
    [[20, 3], [18, 4], 0, 21.152194, 2.789284],
    [[20, 3], [20, 3], 0, 21.692569, 2.476936],
    [[30, 2], [25, 5], 0, 30.513188, 2.208819],
    [[10, 2], [10, 2], 0.5, 10.797885, 1.833952],
  ] as const)('%j and %j with correlation %d', ([meanA, sdA], [meanB, sdB], correlation, mean, sd) => {
    const greater = greaterOfNormals({ mean: meanA, sd: sdA }, { mean: meanB, sd: sdB }, correlation);
    expect(greater.mean).toBeCloseTo(mean, 6);
    expect(greater.sd).toBeCloseTo(sd, 6);
    const swapped = greaterOfNormals({ mean: meanB, sd: sdB }, { mean: meanA, sd: sdA }, correlation);
    expect(swapped.mean).toBeCloseTo(greater.mean, 12);
  });

  test('is the later one when nothing is uncertain between them', () => {
    expect(greaterOfNormals({ mean: 3, sd: 0 }, { mean: 5, sd: 0 })).toEqual({ mean: 5, sd: 0 });
    expect(greaterOfNormals({ mean: 5, sd: 2 }, { mean: 3, sd: 2 }, 1)).toEqual({ mean: 5, sd: 2 });
    expect(greaterOfNormals({ mean: 1e9 + 10, sd: 2 }, { mean: 1e9 + 10, sd: 2 }).sd).toBeCloseTo(1.651291, 6);
  });

  // Recomputed.
  test('is below a deadline only when both are', () => {
    expect(normalCdf((22 - 20) / 3)).toBeCloseTo(0.747507, 6);
    expect(normalCdf((22 - 20) / 3) * normalCdf((22 - 18) / 4)).toBeCloseTo(0.628911, 6);
  });

  // The expected greatest of n standard normals, recomputed: n = 2 is Clark's, more by integrating 1 - F^n - F(-x)^n.
  test.each([
    [2, 0.56419],
    [3, 0.846284],
    [4, 1.029375],
    [5, 1.162964],
    [10, 1.538753],
  ])('of %d alike grows to %d', (n, expected) => {
    const step = 0.01;
    let integral = 0;
    for (let x = step / 2; x < 9; x += step) integral += (1 - normalCdf(x) ** n - normalCdf(-x) ** n) * step;
    expect(integral).toBeCloseTo(expected, 5);
  });
});
