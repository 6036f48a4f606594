import fc from 'fast-check';
import jStat from 'jstat';
import { describe, expect, test } from 'vitest';
import {
  betaCdf,
  betaPrimeCdf,
  betaPrimeQuantile,
  betaQuantile,
  binomialCdf,
  binomialPmf,
  binomialQuantile,
  binomialTail,
  gammaCdf,
  gammaQuantile,
  lognormalCdf,
  lognormalFromMoments,
  lognormalMoments,
  lognormalQuantile,
  negativeBinomialCdf,
  negativeBinomialPmf,
  negativeBinomialQuantile,
  normalCdf,
  normalQuantile,
  poissonCdf,
  poissonPmf,
  poissonQuantile,
  studentTCdf,
  studentTQuantile,
} from '../../../server/engine/numbers/distributions.ts';
import { lnGamma, regularizedBeta, regularizedGamma } from '../../../server/engine/numbers/special-functions.ts';

const expectNear = (actual: number, expected: number, relative = 1e-9) => {
  const size = Math.max(Math.abs(expected), 1e-300);
  expect(Math.abs(actual - expected) / size, `${actual} against ${expected}`).toBeLessThanOrEqual(relative);
};
const open = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const chance = open(0.001, 0.999);

describe('the normal distribution', () => {
  // Tables of the standard normal; the far tails recomputed with 30 digits.
  test.each([
    [0, 0.5],
    [1, 0.841344746068543],
    [1.96, 0.97500210485178],
    [-3, 0.00134989803163009],
    [-8, 6.22096057427178e-16],
    [-30, 4.90671392714819e-198],
    [6, 0.999999999013412],
  ])('has P(Z <= %d) = %d', (z, p) => {
    expectNear(normalCdf(z), p, 1e-12);
  });

  // The 99 % point of the published tables, and Wichura's own check values of AS 241.
  test.each([
    [0.99, 2.3263478740408408],
    [0.25, -0.6744897501960817],
    [0.001, -3.090232306167814],
    [1e-20, -9.26234008979841],
  ])('has its quantile of %d at %d', (p, z) => {
    expectNear(normalQuantile(p), z, 1e-13);
  });

  test('has quantiles that undo the distribution', () => {
    fc.assert(fc.property(open(-7, 5), (z) => expectNear(normalQuantile(normalCdf(z)) + 10, z + 10, 1e-10)));
  });

  test('ends at infinity and knows no other chances', () => {
    expect([normalQuantile(0), normalQuantile(1), normalQuantile(-0.1)]).toEqual([
      Number.NEGATIVE_INFINITY,
      Number.POSITIVE_INFINITY,
      Number.NaN,
    ]);
  });
});

describe('special functions', () => {
  // Abramowitz & Stegun tables 6.1, and 10! and 1/2.
  test('have the known logarithms of gamma', () => {
    expectNear(lnGamma(0.5), Math.log(Math.sqrt(Math.PI)), 1e-13);
    expectNear(lnGamma(11), Math.log(3_628_800), 1e-14);
    expect(Math.abs(lnGamma(1)) + Math.abs(lnGamma(2))).toBeLessThan(1e-14);
  });

  test('have complements that add to 1 and are exact where small', () => {
    expectNear(regularizedGamma(3, 60).upper, Math.exp(-60) * (1 + 60 + 1800), 1e-12);
    expectNear(regularizedBeta(2, 3, 1e-8).lower, 6e-16, 1e-7);
    expectNear(regularizedBeta(1, 5, 0.9).upper, 0.1 ** 5, 1e-12);
    expect(regularizedGamma(-1, 2).lower).toBeNaN();
    expect(regularizedBeta(1, 0, 0.5).lower).toBeNaN();
  });
});

describe('continuous distributions', () => {
  test('agree with a second library as far as it is exact', () => {
    // It ends its fractions at 3e-7.
    fc.assert(
      fc.property(open(0.5, 200), open(0.5, 200), chance, (a, b, p) => {
        const x = jStat.gamma.inv(p, a, 1 / b);
        expectNear(gammaCdf(x, a, b), jStat.gamma.cdf(x, a, 1 / b), 1e-8);
        expectNear(betaCdf(p, a, b) + 1e-3, jStat.beta.cdf(p, a, b) + 1e-3, 1e-6);
        expectNear(studentTCdf(3 * p, a) + 1e-3, jStat.studentt.cdf(3 * p, a) + 1e-3, 1e-6);
        expect(Math.abs(lognormalCdf(b, 2, p) - jStat.lognormal.cdf(b, 2, p))).toBeLessThan(1e-6);
      }),
    );
  });

  test('have quantiles that undo them', () => {
    fc.assert(
      fc.property(open(0.05, 5000), open(0.05, 5000), chance, (a, b, p) => {
        expectNear(gammaCdf(gammaQuantile(p, a, b), a, b), p, 1e-10);
        expectNear(betaCdf(betaQuantile(p, a + 0.5, b + 0.5), a + 0.5, b + 0.5), p, 1e-9);
        expectNear(betaPrimeCdf(betaPrimeQuantile(p, a, b), a, b), p, 1e-9);
        expectNear(studentTCdf(studentTQuantile(p, a), a), p, 1e-9);
        expectNear(lognormalCdf(lognormalQuantile(p, 1, 0.5), 1, 0.5), p, 1e-10);
      }),
    );
  });

  // Recomputed with a third library.
  test('hold for extreme shapes', () => {
    expectNear(gammaQuantile(0.9, 0.05, 3), 0.02543903796972968, 1e-11);
    expectNear(betaQuantile(0.99, 0.1, 100_000), 1.588472349740202e-5, 1e-10);
    expectNear(studentTQuantile(0.01, 10_000), -2.3267208386694755, 1e-12);
    expectNear(betaCdf(0.999, 10_000, 3), 0.0027557999713298327, 1e-11);
  });

  test('have the quantiles of the t tables', () => {
    // Published t tables: 7 degrees of freedom at 0.9 and 0.975, 1 at 0.95.
    expect(studentTQuantile(0.9, 7)).toBeCloseTo(1.415, 3);
    expect(studentTQuantile(0.975, 7)).toBeCloseTo(2.365, 3);
    expect(studentTQuantile(0.95, 1)).toBeCloseTo(6.314, 3);
    expect(studentTQuantile(0.5, 3)).toBe(0);
    expect(studentTQuantile(0.1, 7)).toBeCloseTo(-studentTQuantile(0.9, 7), 12);
  });

  test('end at the ends of their range', () => {
    expect([gammaQuantile(0, 2, 1), betaQuantile(1, 2, 3), betaPrimeQuantile(1, 2, 3)]).toEqual([
      0,
      1,
      Number.POSITIVE_INFINITY,
    ]);
    expect([gammaCdf(-1, 2, 1), betaCdf(2, 2, 3), lognormalCdf(0, 0, 1)]).toEqual([0, 1, 0]);
    expect([gammaQuantile(0.5, -1, 1), betaQuantile(0.5, 0, 1), gammaQuantile(1.5, 1, 1)]).toEqual([
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ]);
  });
});

describe('lognormal times', () => {
  // Recomputed.
  test.each([
    [0, 0.5, 1.133148, 1, 0.778801, 0.364696, 1.523196, 1.897953],
    [Math.log(10), 0.4, 10.832871, 10, 8.521438, 20.361689, 14.002468, 16.69661],
  ])('with logs of mean %d and sd %d', (mu, sigma, mean, median, mode, variance, p80, p90) => {
    const moments = lognormalMoments(mu, sigma);
    expect([moments.mean, moments.median, moments.mode, moments.variance]).toEqual(
      [mean, median, mode, variance].map((value) => expect.closeTo(value, 6)),
    );
    expect(lognormalQuantile(0.8, mu, sigma)).toBeCloseTo(p80, 6);
    expect(lognormalQuantile(0.9, mu, sigma)).toBeCloseTo(p90, 6);
  });

  test('are found from mean 10 and standard deviation 4', () => {
    expect(lognormalFromMoments(10, 4)).toEqual({
      mu: expect.closeTo(2.228375, 6),
      sigma: expect.closeTo(0.385253, 6),
    });
  });
});

describe('counting distributions', () => {
  // A published worked example, recomputed.
  test('leave two rejects or fewer among ten with chance 0.8913', () => {
    expect(binomialCdf(2, 10, 0.12)).toBeCloseTo(0.8913, 4);
    expect(binomialTail(2, 10, 0.12)).toBeCloseTo(0.3417, 4);
  });

  test('agree with a second library', () => {
    fc.assert(
      fc.property(fc.nat(40), fc.integer({ min: 40, max: 120 }), open(0.02, 0.98), (k, n, p) => {
        expectNear(binomialPmf(k, n, p), jStat.binomial.pdf(k, n, p), 1e-9);
        expectNear(poissonPmf(k, n * p), jStat.poisson.pdf(k, n * p), 1e-9);
        expectNear(negativeBinomialPmf(k, n, p), jStat.negbin.pdf(k, n, p), 1e-9);
      }),
    );
  });

  test('have distributions that are the sums of their chances', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.integer({ min: 60, max: 200 }), open(0.02, 0.98), (k, n, p) => {
        const counts = Array.from({ length: k + 1 }, (_, i) => i);
        const sum = (chanceOf: (i: number) => number) => counts.reduce((total, i) => total + chanceOf(i), 0);
        expectNear(
          binomialCdf(k, n, p),
          sum((i) => binomialPmf(i, n, p)),
          1e-10,
        );
        expectNear(
          poissonCdf(k, n * p),
          sum((i) => poissonPmf(i, n * p)),
          1e-10,
        );
        expectNear(
          negativeBinomialCdf(k, n / 7, p),
          sum((i) => negativeBinomialPmf(i, n / 7, p)),
          1e-10,
        );
        expect(binomialCdf(k, n, p) + binomialTail(k + 1, n, p)).toBeCloseTo(1, 12);
      }),
    );
  });

  test('have quantiles that are the least count with enough chance', () => {
    fc.assert(
      fc.property(chance, open(0.2, 3000), open(0.02, 0.98), (p, mean, share) => {
        for (const [quantile, cdf] of [
          [poissonQuantile(p, mean), (k: number) => poissonCdf(k, mean)],
          [negativeBinomialQuantile(p, mean, share), (k: number) => negativeBinomialCdf(k, mean, share)],
          [binomialQuantile(p, Math.ceil(mean), share), (k: number) => binomialCdf(k, Math.ceil(mean), share)],
        ] as const) {
          expect(cdf(quantile)).toBeGreaterThanOrEqual(p * (1 - 1e-12));
          expect(cdf(quantile - 1)).toBeLessThan(p);
        }
      }),
    );
  });

  // P(X <= 33) is exactly one half for 34 failures against 34 successes of a fair coin.
  test('take a chance that is met exactly as met', () => {
    expect(negativeBinomialQuantile(0.5, 34, 0.5)).toBe(33);
    expect(binomialQuantile(0.5, 1, 0.5)).toBe(0);
  });

  test('give nothing outside their range', () => {
    expect([
      binomialPmf(-1, 5, 0.5),
      binomialPmf(6, 5, 0.5),
      poissonPmf(-1, 2),
      negativeBinomialPmf(-1, 2, 0.5),
    ]).toEqual([0, 0, 0, 0]);
    expect([binomialCdf(-1, 5, 0.5), binomialCdf(5, 5, 0.5), binomialTail(0, 5, 0.5), binomialTail(6, 5, 0.5)]).toEqual(
      [0, 1, 1, 0],
    );
    expect([poissonPmf(0, 0), poissonPmf(1, 0), binomialPmf(0, 5, 0), binomialPmf(5, 5, 1)]).toEqual([1, 0, 1, 1]);
  });
});
