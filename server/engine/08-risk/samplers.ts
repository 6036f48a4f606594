/** From uniform numbers to draws of times, leads and counts. */
import type { LikelyPace } from '../03-pace/index.ts';
import {
  betaPertMoments,
  betaPertQuantile,
  gammaCdf,
  gammaQuantile,
  type ThreePoint,
  tabulateQuantile,
} from '../numbers/index.ts';

/**
 * A draw from a uniform p in (0, 1): the quantile at p, so that the same p gives the same luck whatever the
 * distribution.
 */
export type Sampler = (p: number) => number;

const CELLS = 256;
const MIXED_CELLS = 192;
/** The tables end at one draw in a thousand on either side; what is beyond is taken to be there. */
const TAIL = 0.001;

/** Samplers are made once for each distribution: their tables cost more than thousands of draws. */
const known = new Map<string, Sampler>();

function once(key: string, make: () => Sampler): Sampler {
  let sampler = known.get(key);
  if (sampler === undefined) {
    sampler = make();
    if (known.size > 500) known.clear();
    known.set(key, sampler);
  }
  return sampler;
}

/**
 * The factor on a step's minutes when its pace is a gamma belief of this shape: mean 1, inverse gamma ((shape - 1) /
 * G). Rises with p. Tabulated; the one draw in five hundred beyond the tables is cut.
 */
export function paceFactor(shape: number): Sampler {
  return once(`pace ${shape}`, () =>
    tabulateQuantile((p) => (shape - 1) / gammaQuantile(1 - clampTail(p), shape, 1), CELLS),
  );
}

/**
 * The same where the pace is one of several beliefs (see `learnPaceAndSpread`): mean 1 in all. How likely slower ones
 * are is worked out at this many paces, by equal ratios between the ends, with straight lines between.
 */
export function paceFactorAmong(paces: readonly LikelyPace[]): Sampler {
  if (paces.length === 1) return paceFactor(paces[0]!.shape);
  const key = paces.map(({ weight, shape, hours }) => `${weight} ${shape} ${hours}`).join();
  return once(`paces ${key}`, () => {
    const mean = paces.reduce((sum, { weight, shape, hours }) => sum + (weight * hours) / (shape - 1), 0);
    const parts = paces.map(({ weight, shape, hours }) => ({ weight, shape, rate: hours / mean }));
    const least = Math.min(...parts.map(({ shape, rate }) => gammaQuantile(TAIL, shape, rate)));
    const most = Math.max(...parts.map(({ shape, rate }) => gammaQuantile(1 - TAIL, shape, rate)));
    const paceAt = (place: number): number => least * (most / least) ** (place / MIXED_CELLS);
    const below = Float64Array.from({ length: MIXED_CELLS + 1 }, (_, i) =>
      parts.reduce((sum, { weight, shape, rate }) => sum + weight * gammaCdf(paceAt(i), shape, rate), 0),
    );
    return (p) => 1 / paceAt(placeIn(below, 1 - clampTail(p)));
  });
}

/** Where among rising values this one is, as an index with its fraction; at an end where it is beyond. */
function placeIn(rising: Float64Array, value: number): number {
  let [low, high] = [0, rising.length - 1];
  if (value <= rising[low]!) return low;
  if (value >= rising[high]!) return high;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rising[middle]! <= value) low = middle;
    else high = middle;
  }
  return low + (value - rising[low]!) / (rising[high]! - rising[low]!);
}

const certain: Sampler = () => 1;

/** The same by coefficient of variation (shape = 2 + 1 / cv^2). */
export function spreadFactor(coefficientOfVariation: number): Sampler {
  return coefficientOfVariation <= 0 ? certain : paceFactor(2 + 1 / coefficientOfVariation ** 2);
}

/** A beta-PERT over low, likely and high (the value itself). Tabulated. */
export function threePointSampler(estimate: ThreePoint): Sampler {
  const { low, likely, high } = estimate;
  return once(`range ${low} ${likely} ${high}`, () =>
    high > low ? tabulateQuantile((p) => betaPertQuantile(p, estimate), CELLS) : () => likely,
  );
}

/** The same as a factor of mean 1. */
export function threePointFactor(estimate: ThreePoint): Sampler {
  const { mean } = betaPertMoments(estimate);
  const sampler = threePointSampler(estimate);
  const { low, likely, high } = estimate;
  return once(`factor ${low} ${likely} ${high}`, () => (mean > 0 ? (p) => sampler(p) / mean : () => 1));
}

/**
 * The daily rate at which days are lost, when it is a gamma belief of `shape` days lost in `days`. Tabulated; the last
 * in a thousand is cut.
 */
export function lossSampler(shape: number, days: number): Sampler {
  return once(`loss ${shape} ${days}`, () =>
    tabulateQuantile((p) => gammaQuantile(Math.min(1 - TAIL, p), shape, days), CELLS),
  );
}

/** Values of a table, a power of two. */
const VALUES = 2048;
const tables = new WeakMap<Sampler, Float64Array>();

/**
 * The sampler's values at this many equally likely places, each in the middle of its share: a draw is then a look into
 * the table.
 */
export function tableOf(sampler: Sampler): Float64Array {
  let table = tables.get(sampler);
  if (table === undefined) {
    table = Float64Array.from({ length: VALUES }, (_, i) => sampler((i + 0.5) / VALUES));
    tables.set(sampler, table);
  }
  return table;
}

function clampTail(p: number): number {
  return Math.min(1 - TAIL, Math.max(TAIL, p));
}
