/** How many to start so that enough come out good. */
import { binomialTail, normalQuantile, poissonQuantile } from './distributions.ts';
import { ceilCount } from './rounding.ts';

/**
 * How many units to begin so that `need` good ones come out with the chance `confidence`: the least N with
 * P(Binomial(N, yieldShare) >= need) >= confidence, by the exact tail, each unit good or bad on its own. Parts that
 * fail together (a whole plate) are one unit here. Fast and exact for needs of 100,000 and more. Throws RangeError
 * unless need is a whole number of 0 or more, 0 < yieldShare <= 1 and 0 < confidence < 1. Example: unitsToStart(300,
 * 0.95) is 321; need / yieldShare rounded up, 316, would be enough in 59 of 100 cases only.
 *
 *     unitsToStart(90, 0.95, 0.9) // 98
 */
export function unitsToStart(need: number, yieldShare: number, confidence = 0.9): number {
  checkCount('need', need);
  checkShare('yieldShare', yieldShare, true);
  checkShare('confidence', confidence, false);
  if (need === 0 || yieldShare === 1) return need;
  const isEnough = (units: number) => binomialTail(need, units, yieldShare) >= confidence * (1 - 1e-12);
  const spread = normalQuantile(confidence) * Math.sqrt(need * (1 - yieldShare));
  const guess = Math.max(need, Math.round((need + spread) / yieldShare));
  return leastFrom(need, guess, Math.max(1, Math.round(Math.sqrt(guess) / 8)), isEnough);
}

/** Units along a route: how many have passed each of its steps, and the share of these that comes through the rest. */
interface Along {
  readonly passed: readonly number[];
  readonly rest: readonly number[];
  /** The share of new units that comes through the whole route. */
  readonly share: number;
}

/**
 * Units that must pass every step of a route so that `wanted` good ones come out with the chance `confidence`, those
 * that have passed included: the good ones so far and the least number more, the furthest on first and new ones after
 * them. Chances are binomial with the mean yield of the units counted, which is on the safe side for units of different
 * yields (Hoeffding 1956). A route with nothing on it: unitsToStart. Example: 10 wanted at 0.8, by 4 that have
 * passed both steps and 6 that have passed the first and come through the second with 0.9, are 12.
 *
 *     unitsAlong(10, { passed: [10, 4], rest: [0.9, 1], share: 0.8 }) // 12
 */
export function unitsAlong(wanted: number, { passed, rest, share }: Along, confidence = 0.9): number {
  const good = passed.at(-1) ?? 0;
  const need = wanted - good;
  if (need <= 0) return good;
  if (share === 1) return wanted;
  const waiting = passed.map((units, i) => Math.max(0, units - Math.max(0, ...passed.slice(i + 1)))).slice(0, -1);
  const meanYield = (units: number): number => {
    let [left, sum] = [units, 0];
    for (let stage = waiting.length - 1; stage >= 0; stage--) {
      const taken = Math.min(left, waiting[stage]!);
      sum += taken * rest[stage]!;
      left -= taken;
    }
    return Math.min(1, (sum + left * share) / units);
  };
  const isEnough = (units: number) => chanceOfEnough(units, need, meanYield(units)) >= confidence * (1 - 1e-12);
  return good + leastFrom(need, need, 1, isEnough);
}

/** Chance that at least `need` good units come out of `started`. Example: chanceOfEnough(316, 300, 0.95) is 0.5863. */
export function chanceOfEnough(started: number, need: number, yieldShare: number): number {
  return binomialTail(need, started, yieldShare);
}

/**
 * Spares to carry so that they last with the chance `confidence` when `expectedFailures` are to be expected: the least
 * s with P(Poisson(expectedFailures) <= s) >= confidence. Example: sparesFor(2, 0.9) is 4.
 */
export function sparesFor(expectedFailures: number, confidence = 0.9): number {
  if (!(expectedFailures >= 0 && expectedFailures < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`expectedFailures is ${expectedFailures}; it must be 0 or more`);
  }
  checkShare('confidence', confidence, false);
  return expectedFailures === 0 ? 0 : poissonQuantile(confidence, expectedFailures);
}

/**
 * The same where each of `inUse` units fails with the chance `share`, independently: the least s with
 * P(Binomial(inUse, share) <= s) >= confidence. Example: 20 units at 0.1 want 4 with the chance 0.9.
 *
 *     sparesForShare(20, 0.1) // 4
 */
export function sparesForShare(inUse: number, share: number, confidence = 0.9): number {
  checkCount('inUse', inUse);
  if (!(share >= 0 && share < 1)) throw new RangeError(`share is ${share}; it must be 0 or more and less than 1`);
  checkShare('confidence', confidence, false);
  const isEnough = (spares: number) => 1 - binomialTail(spares + 1, inUse, share) >= confidence * (1 - 1e-12);
  if (share === 0 || isEnough(0)) return 0;
  const guess = Math.min(inUse, Math.ceil(inUse * share + 2 * Math.sqrt(inUse * share * (1 - share))));
  return leastFrom(0, guess, Math.max(1, Math.round(Math.sqrt(guess) / 2)), isEnough);
}

/** `need` rounded up to whole packs, in units. Example: unitsToBuy(105, 50) is 150. */
export function unitsToBuy(need: number, packSize = 1): number {
  return packsToBuy(need, packSize) * packSize;
}

/**
 * Whole packs that hold `need`; packs may hold fractions, such as 0.75 litres. Example: packsToBuy(3, 0.75) is 4.
 *
 *     packsToBuy(90, 25) // 4
 */
export function packsToBuy(need: number, packSize: number): number {
  if (!(packSize > 0)) throw new RangeError(`packSize is ${packSize}; it must be more than 0`);
  return Math.max(0, ceilCount(need / packSize));
}

/**
 * How much to buy when a share is wasted: net / (1 - wasteShare), unrounded. Waste is a share of what is bought, not a
 * mark-up on what is needed. Example: 100 net at 0.3 is 142.857.
 */
export function grossForWaste(net: number, wasteShare: number): number {
  if (!(wasteShare >= 0 && wasteShare < 1)) {
    throw new RangeError(`wasteShare is ${wasteShare}; it must be 0 or more and less than 1`);
  }
  return net / (1 - wasteShare);
}

/** The least count from `floor` up that passes the rising test, searched outwards from a guess. */
function leastFrom(floor: number, guess: number, firstStride: number, isEnough: (count: number) => boolean): number {
  let high = guess;
  let low = floor - 1;
  let stride = firstStride;
  while (!isEnough(high)) {
    low = high;
    high += stride;
    stride *= 2;
  }
  for (let next = high - firstStride, step = firstStride; next > low; next -= step) {
    if (!isEnough(next)) {
      low = next;
      break;
    }
    high = next;
    step *= 2;
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (isEnough(middle)) high = middle;
    else low = middle;
  }
  return high;
}

function checkCount(name: string, value: number): void {
  if (!(Number.isSafeInteger(value) && value >= 0)) {
    throw new RangeError(`${name} is ${value}; it must be a whole number of 0 or more`);
  }
}

function checkShare(name: string, value: number, oneAllowed: boolean): void {
  if (!(value > 0 && (oneAllowed ? value <= 1 : value < 1))) {
    throw new RangeError(`${name} is ${value}; it must be more than 0 and ${oneAllowed ? 'at most' : 'less than'} 1`);
  }
}
