/** Three-point estimates: means, variances and the beta-PERT distribution. */
import { betaCdf, betaQuantile, normalCdf, normalPdf } from './distributions.ts';

/** An estimate in three numbers, low <= likely <= high, in any unit. */
export interface ThreePoint {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

export interface Moments {
  readonly mean: number;
  readonly variance: number;
}

/**
 * The classic three-point reading: mean (a + 4m + b) / 6, variance ((b - a) / 6)^2 (Malcolm, Roseboom, Clark, Fazar 1959). Its
 * variance is not that of the beta distribution that is sampled: see {@link betaPertMoments}.
 */
export function classicPertMoments({ low, likely, high }: ThreePoint): Moments {
  return { mean: (low + 4 * likely + high) / 6, variance: ((high - low) / 6) ** 2 };
}

/**
 * Mean of the classic three-point estimate, (low + 4 likely + high) / 6 (Malcolm and others 1959, PERT).
 *
 *     threePointMean({ low: 2, likely: 4, high: 12 }) // 5
 */
export function threePointMean({ low, likely, high }: ThreePoint): number {
  return (low + 4 * likely + high) / 6;
}

/** Shapes of the beta between low and high that has the classic mean: 1 + 4 (m - a) / (b - a) and 1 + 4 (b - m) / (b - a). */
export function betaPertShapes({ low, likely, high }: ThreePoint): { alpha: number; beta: number } {
  const width = high - low;
  return { alpha: 1 + (4 * (likely - low)) / width, beta: 1 + (4 * (high - likely)) / width };
}

/**
 * Mean (a + 4m + b) / 6 and true variance (mean - a)(b - mean) / 7 of the beta-PERT distribution.
 *
 *     betaPertMoments({ low: 2, likely: 4, high: 12 }) // { mean: 5, variance: 3 }
 */
export function betaPertMoments({ low, likely, high }: ThreePoint): Moments {
  const mean = (low + 4 * likely + high) / 6;
  return { mean, variance: ((mean - low) * (high - mean)) / 7 };
}

/** P(X <= x) of the beta-PERT; a step where low and high are the same. */
export function betaPertCdf(x: number, estimate: ThreePoint): number {
  if (isCertain(estimate)) return Number(x >= estimate.low);
  const { alpha, beta } = betaPertShapes(estimate);
  return betaCdf((x - estimate.low) / (estimate.high - estimate.low), alpha, beta);
}

/** Also the sampler: with a uniform p in (0, 1) it gives a draw. Where thousands are drawn see {@link tabulateQuantile}. */
export function betaPertQuantile(p: number, estimate: ThreePoint): number {
  if (isCertain(estimate)) return estimate.low;
  const { alpha, beta } = betaPertShapes(estimate);
  return estimate.low + (estimate.high - estimate.low) * betaQuantile(p, alpha, beta);
}

/** Mean (a + m + b) / 3, variance (a^2 + b^2 + m^2 - ab - am - bm) / 18. */
export function triangularMoments({ low, likely, high }: ThreePoint): Moments {
  const [left, right] = [likely - low, high - likely];
  return { mean: (low + likely + high) / 3, variance: (left * left + left * right + right * right) / 18 };
}

/** P(X <= x) of the triangular distribution; a step where low and high are the same. */
export function triangularCdf(x: number, estimate: ThreePoint): number {
  const { low, likely, high } = estimate;
  if (isCertain(estimate)) return Number(x >= low);
  if (x <= low) return 0;
  if (x >= high) return 1;
  if (x < likely) return (x - low) ** 2 / ((high - low) * (likely - low));
  return 1 - (high - x) ** 2 / ((high - low) * (high - likely));
}

/** Also the sampler: with a uniform p in (0, 1) it gives a draw. */
export function triangularQuantile(p: number, estimate: ThreePoint): number {
  const { low, likely, high } = estimate;
  if (isCertain(estimate)) return low;
  const atLikely = (likely - low) / (high - low);
  if (p <= atLikely) return low + Math.sqrt(p * (high - low) * (likely - low));
  return high - Math.sqrt((1 - p) * (high - low) * (high - likely));
}

/**
 * A fast stand-in for a quantile between finite ends: its values at places that crowd towards both ends, p = sin^2, with straight lines between. For
 * the beta-PERT with 1,024 cells the error is below 0.0005 % of the range in the middle 98 %, and below 0.03 % in all but one draw in ten thousand.
 */
export function tabulateQuantile(quantile: (p: number) => number, cells = 1024): (p: number) => number {
  const values = Float64Array.from({ length: cells + 1 }, (_, i) => {
    return quantile(i === cells ? 1 : Math.sin((Math.PI / 2) * (i / cells)) ** 2);
  });
  const cellsPerRadian = cells / (Math.PI / 2);
  return (p) => {
    const place = Math.asin(Math.sqrt(Math.min(Math.max(p, 0), 1))) * cellsPerRadian;
    const cell = Math.min(cells - 1, Math.floor(place));
    return values[cell]! + (place - cell) * (values[cell + 1]! - values[cell]!);
  };
}

/**
 * Mean and standard deviation of the greater of two normal variables with this correlation (Clark, "The greatest of a finite set of
 * random variables", 1961): why two paths of mean 10 that meet are finished later than 10.
 * Example: two N(10, 2) without correlation give mean 11.128379, sd 1.651291.
 */
export function greaterOfNormals(
  a: { readonly mean: number; readonly sd: number },
  b: { readonly mean: number; readonly sd: number },
  correlation = 0,
): { mean: number; sd: number } {
  const spread = Math.sqrt(Math.max(0, a.sd ** 2 + b.sd ** 2 - 2 * correlation * a.sd * b.sd));
  if (spread === 0) return a.mean >= b.mean ? { ...a } : { ...b };
  const distance = (a.mean - b.mean) / spread;
  const [aWins, bWins, density] = [normalCdf(distance), normalCdf(-distance), normalPdf(distance)];
  const mean = a.mean * aWins + b.mean * bWins + spread * density;
  // Second moment about the mean, not about zero: means far from zero would cancel.
  const [aOff, bOff] = [a.mean - mean, b.mean - mean];
  const variance =
    (aOff * aOff + a.sd ** 2) * aWins + (bOff * bOff + b.sd ** 2) * bWins + (aOff + bOff) * spread * density;
  return { mean, sd: Math.sqrt(Math.max(0, variance)) };
}

function isCertain({ low, high }: ThreePoint): boolean {
  return !(high > low);
}
