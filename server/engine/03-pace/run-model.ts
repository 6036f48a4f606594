/** How long runs really take, where all that is known of each is when somebody came and found it done. */
import { lnGamma, scaledErfc } from '../numbers/index.ts';
import type { LikelyPace, Pace } from './pace-model.ts';

/** One load: from its begin until somebody counted it, as a multiple of its minutes as thought. */
interface CountedLoad {
  readonly ratio: number;
  /** How far it is believed, 1 at most. */
  readonly weight: number;
  /** Nobody was there to see it end: it was over by then, and nothing else is known. */
  readonly isBound: boolean;
}

/**
 * Coefficients of variation of single runs of one machine around its own minutes, and how likely each is: they are
 * steady, and so is what dries or sets (common practice, no source).
 */
const STEADY = [
  { spread: 0.03, weight: 8 },
  { spread: 0.06, weight: 3 },
  { spread: 0.12, weight: 0.75 },
  { spread: 0.2, weight: 0.25 },
] as const;

/** Shares of the loads that somebody counts when they end, and how likely each is (common sense, no source). */
const AT_ONCE = [
  { share: 0.97, weight: 1 },
  { share: 0.7, weight: 1 },
  { share: 0.3, weight: 1 },
  { share: 0.02, weight: 4 },
] as const;

/** Means of how much later the others are counted, as a multiple of the minutes as thought; each as likely. */
const LATER = [0.06, 0.12, 0.24, 0.5, 1] as const;

/** The last loads that are looked at. */
const MOST_LOADS = 60;

/** At how many lengths the run is looked at: first over all that it may be, then where it is likely. */
const POINTS = { wide: 64, near: 96 } as const;

/** What is this many times less likely than the likeliest, as a logarithm, is left out. */
const UNLIKELY = 22;

/** A gamma with less of the belief than this is left out. */
const LEAST_SHARE = 0.002;

/** What was worked out, by what was asked: each set of values of a build's parameters asks the same. */
const known = new Map<string, readonly LikelyPace[]>();
const MOST_KNOWN = 1_000;

/**
 * What is believed of a step's runs after these loads, the last one last: gammas of the inverse of the multiple.
 * `priors`: before them. At least one load. `unsure`: by what share all of them may be off alike, as a coefficient of
 * variation, however many there are.
 *
 * A load is counted when somebody comes: a share of them at their end, the others later by an exponential time. So the
 * time up to a count is normal, or a normal and an exponential one together, whose density is the exponentially
 * modified Gaussian (E. Grushka, "Characterization of exponentially modified Gaussian peaks in chromatography",
 * Analytical Chemistry 44, 1972, from memory). A bound is a censored reading, which counts by the chance that the run
 * was over (A. Gelman and others, "Bayesian Data Analysis", 3rd ed., chapter 8, from memory). The multiple, how steady
 * the runs are, the share and the mean of the later time are summed over a grid (there, chapter 3). Each prior with
 * each mean of the later time becomes a gamma of the same mean and variance. O(loads).
 */
export function learnRuns(
  priors: readonly LikelyPace[],
  loads: readonly CountedLoad[],
  unsure: number,
): readonly LikelyPace[] {
  const last = loads.slice(-MOST_LOADS);
  const asked = JSON.stringify([priors, last, unsure]);
  const there = known.get(asked);
  if (there !== undefined) return there;
  const found = gammasOf(priors, likelyPoints(priors, last)).map((pace) => widened(pace, unsure));
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(asked, found);
  return found;
}

/** A length of the run, as a multiple, with the logarithm of how likely it makes the loads, by each of `LATER`. */
interface Point {
  readonly run: number;
  readonly logs: readonly number[];
}

/** The lengths where the belief is, each as likely in logarithms as the next by the grid alone. */
function likelyPoints(priors: readonly LikelyPace[], loads: readonly CountedLoad[]): Point[] {
  const ratios = loads.map(({ ratio }) => ratio);
  const [least, most] = [Math.min(0.2, Math.min(...ratios) / 2), Math.max(3, 1.2 * Math.max(...ratios))];
  const wide = evenly(Math.log(least), Math.log(most), POINTS.wide);
  // Only the wider spreads: a narrow one could fall between two points.
  const rough = wide.map((x) => {
    const { run, logs } = pointAt(Math.exp(x), loads, STEADY.slice(2));
    return Math.max(...logs) + Math.max(...priors.map((prior) => logDensity(run, prior)));
  });
  const enough = Math.max(...rough) - UNLIKELY;
  const first = rough.findIndex((log) => log > enough);
  const last = rough.findLastIndex((log) => log > enough);
  const step = wide[1]! - wide[0]!;
  return evenly(wide[first]! - step, wide[last]! + step, POINTS.near).map((x) => pointAt(Math.exp(x), loads, STEADY));
}

function pointAt(
  run: number,
  loads: readonly CountedLoad[],
  spreads: readonly { readonly spread: number; readonly weight: number }[],
): Point {
  const bySpread = spreads.map(({ spread, weight }) => {
    const atEnd = loads.map((load) => endDensity(load, run, spread * run));
    return { sigma: spread * run, log: Math.log(weight), atEnd };
  });
  const logs = LATER.map((mean) =>
    logOfSum(
      bySpread.flatMap(({ sigma, log, atEnd }) => {
        const after = loads.map((load, i) => (load.isBound ? atEnd[i]! : laterDensity(load.ratio, run, sigma, mean)));
        return AT_ONCE.map(({ share, weight }) => log + Math.log(weight) + logOfAll(loads, atEnd, after, share));
      }),
    ),
  );
  return { run, logs };
}

/** The logarithm of how likely all loads are where this share of them is counted at the end. */
function logOfAll(
  loads: readonly CountedLoad[],
  atEnd: readonly number[],
  after: readonly number[],
  share: number,
): number {
  let log = 0;
  let product = 1;
  for (let i = 0; i < loads.length; i++) {
    const density = share * atEnd[i]! + (1 - share) * after[i]! + 1e-200;
    product *= loads[i]!.weight === 1 ? density : density ** loads[i]!.weight;
    if (product > 1e-100 && product < 1e100) continue;
    log += Math.log(product);
    product = 1;
  }
  return log + Math.log(product);
}

/** The density of a count at the very end of a run; of a bound, the chance that the run was over by then. */
function endDensity({ ratio, isBound }: CountedLoad, run: number, sigma: number): number {
  const z = (ratio - run) / sigma;
  if (isBound) return z > 0 ? 1 - tailOf(z) : tailOf(-z);
  return Math.exp((-z * z) / 2) / (sigma * Math.sqrt(2 * Math.PI));
}

/** How often a standard normal is above z, z >= 0. */
function tailOf(z: number): number {
  return (Math.exp((-z * z) / 2) * scaledErfc(z / Math.SQRT2)) / 2;
}

/** The density of a normal time with this mean and deviation and an exponential one after it. */
function laterDensity(ratio: number, run: number, sigma: number, mean: number): number {
  const z = (ratio - run) / sigma;
  const x = (sigma / mean - z) / Math.SQRT2;
  if (x > 0) return (Math.exp((-z * z) / 2) * scaledErfc(x)) / (2 * mean);
  const erfc = 2 - Math.exp(-x * x) * scaledErfc(-x);
  return (Math.exp((sigma / mean) ** 2 / 2 - (ratio - run) / mean) * erfc) / (2 * mean);
}

/** The logarithm of the density of the logarithm of a run whose inverse is this gamma. */
function logDensity(run: number, { shape, hours }: Pace): number {
  return shape * Math.log(hours / run) - hours / run - lnGamma(shape);
}

function gammasOf(priors: readonly LikelyPace[], points: readonly Point[]): LikelyPace[] {
  const beliefs = priors.flatMap((prior) =>
    LATER.map((_, m) => points.map(({ run, logs }) => Math.log(prior.weight) + logDensity(run, prior) + logs[m]!)),
  );
  const most = Math.max(...beliefs.map((logs) => Math.max(...logs)));
  const gammas = beliefs.map((logs) => {
    let [weight, pace, square] = [0, 0, 0];
    logs.forEach((log, i) => {
      const share = Math.exp(log - most);
      weight += share;
      pace += share / points[i]!.run;
      square += share / points[i]!.run ** 2;
    });
    return { weight, ...gammaOf(pace / weight, square / weight) };
  });
  const all = gammas.reduce((sum, { weight }) => sum + weight, 0);
  const kept = gammas.filter(({ weight }) => weight > LEAST_SHARE * all);
  const total = kept.reduce((sum, { weight }) => sum + weight, 0);
  return kept.map(({ weight, ...pace }) => ({ weight: weight / total, ...pace }));
}

/** The gamma with this mean and mean square, and never so wide that its inverse has no mean. */
function gammaOf(mean: number, square: number): Pace {
  const variance = Math.max(square - mean ** 2, 1e-9 * mean ** 2);
  const shape = Math.max(2, mean ** 2 / variance);
  return { shape, hours: shape / mean };
}

/** The gamma whose inverse has the same mean, with this much added to the coefficient of variation of its pace. */
function widened({ weight, shape, hours }: LikelyPace, unsure: number): LikelyPace {
  const wider = Math.max(2, 1 / (1 / shape + unsure ** 2));
  return { weight, shape: wider, hours: (hours / (shape - 1)) * (wider - 1) };
}

function logOfSum(logs: readonly number[]): number {
  const most = Math.max(...logs);
  return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0));
}

function evenly(from: number, to: number, points: number): number[] {
  return Array.from({ length: points }, (_, i) => from + ((to - from) * i) / (points - 1));
}
