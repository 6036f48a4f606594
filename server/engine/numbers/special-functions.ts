/**
 * The special functions under the distributions, to about 1e-13 of their value. The factor in front of the incomplete
 * gamma and beta is taken in saddle-point form (Loader, "Fast and accurate computation of binomial probabilities",
 * 2000), so that it stays exact for parameters of a hundred thousand, where differences of log-gammas lose digits.
 */

/**
 * Natural logarithm of the gamma function, x > 0: Stirling's series after shifting x to 15 or more (Abramowitz & Stegun
 * 6.1.41).
 */
export function lnGamma(x: number): number {
  let shifted = x;
  let product = 1;
  while (shifted < 15) product *= shifted++;
  return (shifted - 0.5) * Math.log(shifted) - shifted + HALF_LN_TWO_PI + stirlingSeries(shifted) - Math.log(product);
}

/** Second derivative of `lnGamma`, x > 0: its asymptotic series after shifting x to 15 or more (6.4.6 and 6.4.12). */
export function trigamma(x: number): number {
  let shifted = x;
  let sum = 0;
  for (; shifted < 15; shifted++) sum += shifted ** -2;
  const y = shifted ** -2;
  return sum + 1 / shifted + y / 2 + (y / shifted) * (1 / 6 - y * (1 / 30 - y * (1 / 42 - y / 30)));
}

/**
 * exp(x²) erfc(x), to 1.2e-7 of its value: for x >= 0 a Chebyshev fit (Numerical Recipes 6.2, `erfcc`), below it by
 * erfc(-x) = 2 - erfc(x). Infinite below about -26.
 */
export function scaledErfc(x: number): number {
  const z = Math.abs(x);
  const t = 1 / (1 + z / 2);
  const fit = ERFC_FIT.reduceRight((sum, factor) => sum * t + factor, 0);
  const tail = t * Math.exp(fit);
  return x >= 0 ? tail : 2 * Math.exp(x * x) - tail;
}

const ERFC_FIT = [
  -1.26551223, 1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398, 1.48851587, -0.82215223,
  0.17087277,
];

/**
 * Regularized lower incomplete gamma P(a, x) and its complement Q(a, x), a > 0, x >= 0. Series below a + 1, continued
 * fraction above (Numerical Recipes 6.2). Costs about sqrt(a) terms.
 */
export function regularizedGamma(a: number, x: number): { lower: number; upper: number } {
  if (!(a > 0) || !(x >= 0)) return { lower: Number.NaN, upper: Number.NaN };
  if (x === 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const weight = poissonWeight(a, x);
  if (x < a + 1) {
    const lower = Math.min(1, weight * gammaSeries(a, x));
    return { lower, upper: 1 - lower };
  }
  const upper = Math.min(1, weight * a * gammaFraction(a, x));
  return { lower: 1 - upper, upper };
}

/**
 * Regularized incomplete beta I_x(a, b) and its complement, a > 0, b > 0, 0 <= x <= 1, by its continued fraction
 * (Numerical Recipes 6.4). `y` is 1 - x, given apart where the caller knows it more exactly. Costs about sqrt(max(a,
 * b)) terms.
 */
export function regularizedBeta(a: number, b: number, x: number, y = 1 - x): { lower: number; upper: number } {
  if (!(a > 0) || !(b > 0) || !(x >= 0) || !(y >= 0)) return { lower: Number.NaN, upper: Number.NaN };
  if (x === 0) return { lower: 0, upper: 1 };
  if (y === 0) return { lower: 1, upper: 0 };
  if (x > (a + 1) / (a + b + 2)) {
    const { lower, upper } = regularizedBeta(b, a, y, x);
    return { lower: upper, upper: lower };
  }
  const weight = (binomialWeight(a, b, x, y) * b) / (a + b);
  const lower = Math.min(1, weight * betaFraction(a, b, x));
  return { lower, upper: 1 - lower };
}

/** x^a e^-x / Gamma(a + 1): the Poisson probability of a at mean x, for any a >= 0, x > 0. */
export function poissonWeight(a: number, x: number): number {
  if (a === 0) return Math.exp(-x);
  return Math.exp(-stirlingError(a) - deviance(a, x)) / Math.sqrt(2 * Math.PI * a);
}

/** Gamma(a+b+1) / (Gamma(a+1) Gamma(b+1)) x^a y^b: the binomial probability of a among a + b, for any a, b >= 0. */
export function binomialWeight(a: number, b: number, x: number, y = 1 - x): number {
  if (a === 0) return powerOfComplement(y, x, b);
  if (b === 0) return powerOfComplement(x, y, a);
  const n = a + b;
  const exponent = stirlingError(n) - stirlingError(a) - stirlingError(b) - deviance(a, n * x) - deviance(b, n * y);
  return Math.exp(exponent) * Math.sqrt(n / (2 * Math.PI * a * b));
}

/**
 * The x in (low, high) where the rising `cdf` reaches p, by Newton steps kept inside a shrinking bracket. `low` and
 * `high` must bracket it; `slope` is the derivative of `cdf`. Exact to about 1e-15, absolute below 1 and relative
 * above: solve for a logarithm where x may be tiny.
 */
export function invertRising(
  cdf: (x: number) => number,
  slope: (x: number) => number,
  p: number,
  low: number,
  high: number,
  guess = (low + high) / 2,
): number {
  let x = guess > low && guess < high ? guess : (low + high) / 2;
  for (let i = 0; i < 400; i++) {
    const excess = cdf(x) - p;
    if (excess === 0) return x;
    if (excess < 0) low = x;
    else high = x;
    let next = x - excess / slope(x);
    if (!(next > low && next < high)) next = (low + high) / 2;
    const step = Math.abs(next - x);
    x = next;
    if (step <= 1e-15 * Math.max(1, Math.abs(x))) break;
  }
  return x;
}

const HALF_LN_TWO_PI = 0.5 * Math.log(2 * Math.PI);
const TINY = 1e-300;
const MOST_TERMS = 1_000_000;

/** ln(Gamma(n+1)) minus Stirling's formula. */
function stirlingError(n: number): number {
  return n >= 15 ? stirlingSeries(n) : lnGamma(n + 1) - (n + 0.5) * Math.log(n) + n - HALF_LN_TWO_PI;
}

function stirlingSeries(n: number): number {
  const s = 1 / (n * n);
  return (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s / 1188)))) / n;
}

/** x ln(x / mean) + mean - x, without cancellation where x is near the mean. */
function deviance(x: number, mean: number): number {
  const difference = x - mean;
  if (Math.abs(difference) >= 0.1 * (x + mean)) return x * Math.log(x / mean) - difference;
  const v = difference / (x + mean);
  let sum = difference * v;
  let term = 2 * x * v;
  for (let j = 3; ; j += 2) {
    term *= v * v;
    const next = sum + term / j;
    if (next === sum) return sum;
    sum = next;
  }
}

/** base^exponent where base = 1 - complement, exact also when the complement is tiny. */
function powerOfComplement(base: number, complement: number, exponent: number): number {
  return complement < 0.5 ? Math.exp(exponent * Math.log1p(-complement)) : base ** exponent;
}

function gammaSeries(a: number, x: number): number {
  let sum = 1;
  let term = 1;
  for (let n = 1; n < MOST_TERMS; n++) {
    term *= x / (a + n);
    sum += term;
    if (term < sum * 1e-17) break;
  }
  return sum;
}

/** Lentz's method for Gamma(a, x) e^x x^-a. */
function gammaFraction(a: number, x: number): number {
  let b = x + 1 - a;
  let c = 1 / TINY;
  let d = 1 / (b || TINY);
  let h = d;
  for (let i = 1; i < MOST_TERMS; i++) {
    const an = -i * (i - a);
    b += 2;
    d = 1 / (an * d + b || TINY);
    c = b + an / c || TINY;
    const factor = d * c;
    h *= factor;
    if (Math.abs(factor - 1) < 4e-16) break;
  }
  return h;
}

/** Lentz's method for the fraction of I_x(a, b). */
function betaFraction(a: number, b: number, x: number): number {
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1) || TINY);
  let h = d;
  for (let m = 1; m < MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d || TINY);
    c = 1 + even / c || TINY;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d || TINY);
    c = 1 + odd / c || TINY;
    const factor = d * c;
    h *= factor;
    if (Math.abs(factor - 1) < 4e-16) break;
  }
  return h;
}
