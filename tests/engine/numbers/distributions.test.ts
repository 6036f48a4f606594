import fc from 'fast-check';
import jStat from 'jstat';
import { describe, expect, test } from 'vitest';
import {
  betaQuantile,
  binomialCdf,
  binomialTail,
  gammaCdf,
  gammaMixtureQuantile,
  gammaQuantile,
  normalQuantile,
  poissonCdf,
  poissonQuantile,
} from '../../../server/engine/numbers/distributions.ts';
import {
  lnGamma,
  regularizedBeta,
  regularizedGamma,
  scaledErfc,
  trigamma,
} from '../../../server/engine/numbers/special-functions.ts';

const expectNear = (actual: number, expected: number, relative = 1e-9) => {
  const size = Math.max(Math.abs(expected), 1e-300);
  expect(Math.abs(actual - expected) / size, `${actual} against ${expected}`).toBeLessThanOrEqual(relative);
};
const open = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const chance = open(0.001, 0.999);

describe('the normal distribution', () => {
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
    const below = (z: number) => {
      const { lower, upper } = regularizedGamma(0.5, 0.5 * z * z);
      return z < 0 ? 0.5 * upper : 0.5 + 0.5 * lower;
    };
    expectNear(below(-8), 6.22096057427178e-16, 1e-12);
    fc.assert(fc.property(open(-7, 5), (z) => expectNear(normalQuantile(below(z)) + 10, z + 10, 1e-10)));
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

  // Abramowitz & Stegun table 7.1: erf 0.5 = 0.52049 98778, erf 1 = 0.84270 07929; and Q(1/2, x²) = erfc x.
  test('have the known error function, scaled', () => {
    expectNear(Math.exp(-0.25) * scaledErfc(0.5), 1 - 0.5204998778, 2e-7);
    expectNear(Math.exp(-1) * scaledErfc(1), 1 - 0.8427007929, 2e-7);
    expectNear(Math.exp(-1) * scaledErfc(-1), 1 + 0.8427007929, 2e-7);
    fc.assert(
      fc.property(open(0, 12), (x) =>
        expectNear(scaledErfc(x), Math.exp(x * x) * regularizedGamma(0.5, x * x).upper, 2e-7),
      ),
    );
  });

  // Abramowitz & Stegun 6.4.2 and 6.4.4: at 1 it is pi²/6, at a half pi²/2.
  test('have the known second derivatives of that logarithm', () => {
    expectNear(trigamma(1), Math.PI ** 2 / 6, 1e-13);
    expectNear(trigamma(0.5), Math.PI ** 2 / 2, 1e-13);
    expectNear(trigamma(40), trigamma(39) - 1 / 39 ** 2, 1e-13);
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
        expectNear(regularizedBeta(a, b, p).lower + 1e-3, jStat.beta.cdf(p, a, b) + 1e-3, 1e-6);
      }),
    );
  });

  test('have quantiles that undo them', () => {
    fc.assert(
      fc.property(open(0.05, 5000), open(0.05, 5000), chance, (a, b, p) => {
        expectNear(gammaCdf(gammaQuantile(p, a, b), a, b), p, 1e-10);
        expectNear(regularizedBeta(a + 0.5, b + 0.5, betaQuantile(p, a + 0.5, b + 0.5)).lower, p, 1e-9);
      }),
    );
  });

  // Recomputed with a third library.
  test('hold for extreme shapes', () => {
    expectNear(gammaQuantile(0.9, 0.05, 3), 0.02543903796972968, 1e-11);
    expectNear(betaQuantile(0.99, 0.1, 100_000), 1.588472349740202e-5, 1e-10);
    expectNear(regularizedBeta(10_000, 3, 0.999).lower, 0.0027557999713298327, 1e-11);
  });

  test('of a mixture are where its parts together come to as much', () => {
    // Two exponentials, one twice as fast, half and half: e^-x + e^-2x = 1 at the logarithm of the golden ratio.
    const two = [1, 2].map((rate) => ({ weight: 0.5, shape: 1, rate }));
    expectNear(gammaMixtureQuantile(0.5, two), Math.log((1 + Math.sqrt(5)) / 2), 1e-12);
    expectNear(gammaMixtureQuantile(0.3, [{ weight: 1, shape: 4, rate: 2 }]), gammaQuantile(0.3, 4, 2), 1e-12);
    const parts = [0.7, 0.2, 0.1].map((weight, i) => ({ weight, shape: 500 / 4 ** i, rate: 100 / 4 ** i }));
    for (const p of [0.001, 0.1, 0.5, 0.9, 0.999]) {
      const x = gammaMixtureQuantile(p, parts);
      const below = parts.reduce((sum, { weight, shape, rate }) => sum + weight * gammaCdf(x, shape, rate), 0);
      expectNear(below, p, 1e-9);
    }
    expect(gammaMixtureQuantile(0, two)).toBe(0);
    expect(gammaMixtureQuantile(0.5, [])).toBeNaN();
  });

  test('end at the ends of their range', () => {
    expect([gammaQuantile(0, 2, 1), betaQuantile(1, 2, 3), gammaQuantile(1, 2, 3)]).toEqual([
      0,
      1,
      Number.POSITIVE_INFINITY,
    ]);
    expect(gammaCdf(-1, 2, 1)).toBe(0);
    expect([gammaQuantile(0.5, -1, 1), betaQuantile(0.5, 0, 1), gammaQuantile(1.5, 1, 1)]).toEqual([
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ]);
  });
});

describe('counting distributions', () => {
  // A published worked example, recomputed.
  test('leave two rejects or fewer among ten with chance 0.8913', () => {
    expect(binomialCdf(2, 10, 0.12)).toBeCloseTo(0.8913, 4);
    expect(binomialTail(2, 10, 0.12)).toBeCloseTo(0.3417, 4);
  });

  // Recomputed with whole fractions, which lose nothing.
  test('are exact where a chance is next to nothing', () => {
    expectNear(binomialCdf(9, 195, 0.9797349538413167), 8.80325127125048e-301, 1e-11);
  });

  // With more than 170 tries it goes by logarithms, which cost it its last digits.
  test('are the sums of the chances that a second library gives', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.integer({ min: 60, max: 170 }), open(0.02, 0.98), (k, n, p) => {
        const counts = Array.from({ length: k + 1 }, (_, i) => i);
        const sum = (chanceOf: (i: number) => number) => counts.reduce((total, i) => total + chanceOf(i), 0);
        const [tries, arrivals] = [sum((i) => jStat.binomial.pdf(i, n, p)), sum((i) => jStat.poisson.pdf(i, n * p))];
        expectNear(binomialCdf(k, n, p), tries, 1e-9);
        expectNear(poissonCdf(k, n * p), arrivals, 1e-9);
        expect(binomialCdf(k, n, p) + binomialTail(k + 1, n, p)).toBeCloseTo(1, 12);
      }),
    );
  });

  test('have quantiles that are the least count with enough chance', () => {
    fc.assert(
      fc.property(chance, open(0.2, 3000), (p, mean) => {
        const quantile = poissonQuantile(p, mean);
        expect(poissonCdf(quantile, mean)).toBeGreaterThanOrEqual(p * (1 - 1e-12));
        expect(poissonCdf(quantile - 1, mean)).toBeLessThan(p);
      }),
    );
  });

  test('take a chance that is met exactly as met', () => {
    expect(poissonQuantile(Math.exp(-1), 1)).toBe(0);
  });

  test('give nothing outside their range', () => {
    expect([binomialCdf(-1, 5, 0.5), binomialCdf(5, 5, 0.5), binomialTail(0, 5, 0.5), binomialTail(6, 5, 0.5)]).toEqual(
      [0, 1, 1, 0],
    );
    expect(poissonCdf(-1, 2)).toBe(0);
  });
});
