/** Probability distributions: densities, cumulative chances, quantiles. */
import {
  binomialWeight,
  invertRising,
  lnGamma,
  poissonWeight,
  regularizedBeta,
  regularizedGamma,
} from './special-functions.ts';

/**
 * Distributions as plain functions, exact to about 1e-12. A cdf is P(X <= x); a quantile takes p in (0, 1). For
 * whole-numbered X the quantile is the least k with P(X <= k) >= p, where a probability short of p by rounding noise
 * (one part in 10^12) counts as p. Nothing is drawn at random here: a sample is the quantile of a uniform number that
 * the caller brings. Arguments outside their domain give NaN. Formulas: Johnson, Kotz, Balakrishnan, "Univariate
 * Distributions"; Abramowitz & Stegun, chapters 6 and 26.
 */

/**
 * Quantile of the standard normal: Wichura, algorithm AS 241 (1988), PPND16. Example: normalQuantile(0.99) is 2.326348.
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) return p === 0 ? Number.NEGATIVE_INFINITY : p === 1 ? Number.POSITIVE_INFINITY : Number.NaN;
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) return q * rational(CENTRAL, 0.180625 - q * q);
  const r = Math.sqrt(-Math.log(q < 0 ? p : 1 - p));
  const z = r <= 5 ? rational(MIDDLE, r - 1.6) : rational(TAIL, r - 5);
  return q < 0 ? -z : z;
}

/** Gamma with this shape and rate (mean shape / rate). */
export function gammaCdf(x: number, shape: number, rate: number): number {
  return x <= 0 ? 0 : regularizedGamma(shape, rate * x).lower;
}

/** Quantile of the gamma with this shape and rate: Wilson and Hilferty for a guess, then refined against the cdf. */
export function gammaQuantile(p: number, shape: number, rate: number): number {
  if (!(p > 0 && p < 1 && shape > 0 && rate > 0)) return edge(p, Number.POSITIVE_INFINITY);
  const z = normalQuantile(p);
  const root = 1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape));
  const guess = root > 0.1 ? Math.log(shape * root ** 3) : (Math.log(p) + lnGamma(shape + 1)) / shape;
  const logarithm = invertRising(
    (u) => regularizedGamma(shape, Math.exp(u)).lower,
    (u) => shape * poissonWeight(shape, Math.exp(u)),
    p,
    Math.min(-700, guess - 1),
    Math.max(1, guess + 2, Math.log(shape) + 40),
    guess,
  );
  return Math.exp(logarithm) / rate;
}

/** A gamma, and its share of a mixture; the shares of all come to 1. */
interface GammaPart {
  readonly weight: number;
  readonly shape: number;
  readonly rate: number;
}

/**
 * Quantile of a mixture of gammas: where the weighed cdfs come to p.
 *
 *     gammaMixtureQuantile(0.5, [{ weight: 1, shape: 1, rate: 1 }]).toFixed(4) // '0.6931'
 */
export function gammaMixtureQuantile(p: number, parts: readonly GammaPart[]): number {
  const [only] = parts;
  if (only === undefined || !(p > 0 && p < 1)) return edge(p, Number.POSITIVE_INFINITY);
  const ends = parts.map(({ shape, rate }) => gammaQuantile(p, shape, rate));
  if (parts.length === 1) return ends[0]!;
  const sumOf = (of: (part: GammaPart, x: number) => number) => (u: number) =>
    parts.reduce((sum, part) => sum + part.weight * of(part, part.rate * Math.exp(u)), 0);
  return Math.exp(
    invertRising(
      sumOf(({ shape }, x) => regularizedGamma(shape, x).lower),
      sumOf(({ shape }, x) => shape * poissonWeight(shape, x)),
      p,
      Math.log(Math.min(...ends)),
      Math.log(Math.max(...ends)),
      Math.log(parts.reduce((sum, { weight }, i) => sum + weight * ends[i]!, 0)),
    ),
  );
}

/** Quantile of the beta with shapes a and b. */
export function betaQuantile(p: number, a: number, b: number): number {
  return p > 0 && p < 1 ? 1 / (1 + Math.exp(-betaLogit(p, a, b))) : edge(p, 1);
}

/**
 * The shares of a beta with shapes a and b below x and above it, each exact where it is tiny.
 *
 *     betaShares(0.25, 1, 1).upper.toFixed(4) // '0.7500'
 */
export function betaShares(x: number, a: number, b: number): { lower: number; upper: number } {
  return regularizedBeta(a, b, x);
}

/** P(X <= k) for X of n tries. Example: binomialCdf(2, 10, 0.12) is 0.8913. */
export function binomialCdf(k: number, n: number, p: number): number {
  return k < 0 ? 0 : k >= n ? 1 : regularizedBeta(k + 1, n - k, p).upper;
}

/** P(X >= k) for X of n tries, exact also where it is tiny. */
export function binomialTail(k: number, n: number, p: number): number {
  return k <= 0 ? 1 : k > n ? 0 : regularizedBeta(k, n - k + 1, p).lower;
}

/** P(X <= k) of the Poisson with this mean. */
export function poissonCdf(k: number, mean: number): number {
  return k < 0 ? 0 : regularizedGamma(k + 1, mean).upper;
}

/** The least k with P(X <= k) >= p of the Poisson with this mean. */
export function poissonQuantile(p: number, mean: number): number {
  return leastCount((k) => poissonCdf(k, mean), p, mean + normalQuantile(p) * Math.sqrt(mean));
}

/** Logarithm of x / (1 - x) at the quantile of a beta: neither end loses digits. */
function betaLogit(p: number, a: number, b: number): number {
  if (!(a > 0 && b > 0)) return Number.NaN;
  const below = (u: number) => 1 / (1 + Math.exp(-u));
  const guess = Math.log(a / b) + normalQuantile(p) * Math.sqrt(1 / a + 1 / b);
  return invertRising(
    (u) => regularizedBeta(a, b, below(u), below(-u)).lower,
    (u) => (binomialWeight(a, b, below(u), below(-u)) * a * b) / (a + b),
    p,
    -700,
    700,
    guess,
  );
}

/** The least count k >= 0 with cdf(k) >= p: strides of doubling length from a guess, then halving. */
function leastCount(cdf: (k: number) => number, p: number, guess: number, most = Number.POSITIVE_INFINITY): number {
  if (!(p > 0 && p < 1) || Number.isNaN(guess)) return p === 0 ? 0 : edge(p, most);
  const enough = (k: number) => cdf(k) >= p * (1 - 1e-12);
  let high = Math.min(most, Math.max(0, Math.round(guess)));
  for (let stride = 1; high < most && !enough(high); stride *= 2) high = Math.min(most, high + stride);
  let low = high - 1;
  for (let stride = 1; low >= 0 && enough(low); stride *= 2) {
    high = low;
    low -= stride;
  }
  low = Math.max(-1, low);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (enough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function edge(p: number, top: number): number {
  return p === 0 ? 0 : p === 1 ? top : Number.NaN;
}

function rational([over, under]: readonly [readonly number[], readonly number[]], x: number): number {
  return horner(over, x) / horner(under, x);
}

function horner(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (let i = coefficients.length - 1; i >= 0; i--) sum = sum * x + coefficients[i]!;
  return sum;
}

const CENTRAL = [
  [
    3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987, 67265.7709270087,
    33430.57558358813, 2509.0809287301227,
  ],
  [
    1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
    28729.085735721943, 5226.495278852546,
  ],
] as const;
const MIDDLE = [
  [
    1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
    0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
  ],
  [
    1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008, 0.015198666563616457,
    0.0005475938084995345, 1.0507500716444169e-9,
  ],
] as const;
const TAIL = [
  [
    6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
    0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
  ],
  [
    1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 1.8463183175100548e-5,
    1.421511758316446e-7, 2.0442631033899397e-15,
  ],
] as const;
