/**
 * Learning curves: each doubling of the units made multiplies the minutes by `rate` (0.85: 15 % less). In the model
 * here, Crawford's, the minutes of the *single unit* fall; figures for Wright's (1936), where the *average of all units
 * so far* falls, do not fit it. Rates lie above 0 and, where nobody tires, at most at 1 (nothing is learnt). Common
 * values, rule of thumb without source: hand assembly 0.80 to 0.85, hands with a machine 0.85 to 0.90, machine-paced
 * 0.95 to 1. A printer does not learn; people around it do.
 */

/**
 * log2 of the rate: the power of the unit number that its minutes follow. Example: 0.8 gives -0.321928.
 *
 *     learningExponent(0.5) // -1
 */
export function learningExponent(rate: number): number {
  checkPositive('rate', rate);
  return Math.log2(rate);
}

/**
 * Minutes of units first..last (1-based, inclusive) by Crawford's unit model; 0 when last < first. Costs the same for
 * any run: what is beyond the first 32 units is summed by the Euler-Maclaurin formula, to about 1e-14 of the sum.
 * Example: lotMinutes(19.4526, 0.9, 25, 300) is 2550.31.
 */
export function lotMinutes(firstUnitMinutes: number, rate: number, first: number, last: number): number {
  if (!(first >= 1)) throw new RangeError(`first is ${first}; units are counted from 1`);
  if (last < first) return 0;
  return firstUnitMinutes * (rate === 1 ? last - first + 1 : sumOfPowers(learningExponent(rate), first, last));
}

/**
 * The first unit's minutes when units first..last together took this long: how a timed trial ("18 in 45 minutes") is
 * read. Example: firstUnitMinutesFromLot(1, 18, 45, 1) is 45 / 18.
 */
export function firstUnitMinutesFromLot(first: number, last: number, minutesOfLot: number, rate: number): number {
  if (!(last >= first)) throw new RangeError(`last is ${last}; it must not be less than first, ${first}`);
  return minutesOfLot / lotMinutes(1, rate, first, last);
}

interface LearningFit {
  readonly rate: number;
  readonly firstUnitMinutes: number;
  /** Standard error of log2(rate); infinite with fewer than three units. */
  readonly exponentError: number;
}

/**
 * Least-squares line through the logarithms of unit number and minutes, each of its weight (1 unless given); null when
 * fewer than two different units are given.
 */
export function fitLearning(
  units: readonly { readonly unit: number; readonly minutes: number; readonly weight?: number }[],
): LearningFit | null {
  const points = units.map(({ unit, minutes, weight = 1 }) => [Math.log(unit), Math.log(minutes), weight] as const);
  const n = points.length;
  const weights = points.reduce((sum, [, , w]) => sum + w, 0);
  const meanX = points.reduce((sum, [x, , w]) => sum + w * x, 0) / weights;
  const meanY = points.reduce((sum, [, y, w]) => sum + w * y, 0) / weights;
  const spread = points.reduce((sum, [x, , w]) => sum + w * (x - meanX) ** 2, 0);
  if (!(spread > 0)) return null;
  const slope = points.reduce((sum, [x, y, w]) => sum + w * (x - meanX) * (y - meanY), 0) / spread;
  const residual = points.reduce((sum, [x, y, w]) => sum + w * (y - meanY - slope * (x - meanX)) ** 2, 0);
  const exponentError = n > 2 ? Math.sqrt(residual / (n - 2) / spread) : Number.POSITIVE_INFINITY;
  return { rate: 2 ** slope, firstUnitMinutes: Math.exp(meanY - slope * meanX), exponentError };
}

const SUMMED_ONE_BY_ONE = 32;

function sumOfPowers(exponent: number, first: number, last: number): number {
  let sum = 0;
  let n = first;
  for (; n <= last && n < SUMMED_ONE_BY_ONE; n++) sum += n ** exponent;
  if (last - n < 8) {
    for (; n <= last; n++) sum += n ** exponent;
    return sum;
  }
  return sum + eulerMaclaurin(exponent, n, last);
}

/** Sum of n^s for n = a..b: integral, half ends, and three derivative terms (Abramowitz & Stegun 23.1.30). */
function eulerMaclaurin(s: number, a: number, b: number): number {
  const integral = Math.abs(s + 1) < 1e-12 ? Math.log(b / a) : (b ** (s + 1) - a ** (s + 1)) / (s + 1);
  const derivatives = (n: number) => {
    const one = s * n ** (s - 1);
    const three = (one * (s - 1) * (s - 2)) / (n * n);
    const five = (three * (s - 3) * (s - 4)) / (n * n);
    return one / 12 - three / 720 + five / 30240;
  };
  return integral + (a ** s + b ** s) / 2 + derivatives(b) - derivatives(a);
}

function checkPositive(name: string, value: number): void {
  if (!(value > 0 && value < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`${name} is ${value}; it must be more than 0`);
  }
}
