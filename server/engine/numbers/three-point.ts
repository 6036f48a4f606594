/** Three-point estimates: means, variances and the beta-PERT distribution. */
import { betaQuantile } from './distributions.ts';

/** An estimate in three numbers, low <= likely <= high, in any unit. */
export interface ThreePoint {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

interface Moments {
  readonly mean: number;
  readonly variance: number;
}

/**
 * Mean of the classic three-point estimate, (low + 4 likely + high) / 6 (Malcolm and others 1959, PERT).
 *
 *     threePointMean({ low: 2, likely: 4, high: 12 }) // 5
 */
export function threePointMean({ low, likely, high }: ThreePoint): number {
  return (low + 4 * likely + high) / 6;
}

/**
 * Shapes of the beta between low and high that has the classic mean: 1 + 4 (m - a) / (b - a) and 1 + 4 (b - m) / (b -
 * a).
 */
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

/**
 * Also the sampler: with a uniform p in (0, 1) it gives a draw. Where thousands are drawn see {@link tabulateQuantile}.
 */
export function betaPertQuantile(p: number, estimate: ThreePoint): number {
  if (isCertain(estimate)) return estimate.low;
  const { alpha, beta } = betaPertShapes(estimate);
  return estimate.low + (estimate.high - estimate.low) * betaQuantile(p, alpha, beta);
}

/**
 * A fast stand-in for a quantile between finite ends: its values at places that crowd towards both ends, p = sin^2,
 * with straight lines between. For the beta-PERT with 1,024 cells the error is below 0.0005 % of the range in the
 * middle 98 %, and below 0.03 % in all but one draw in ten thousand.
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

function isCertain({ low, high }: ThreePoint): boolean {
  return !(high > low);
}
