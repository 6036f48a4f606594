/** Single unit times and what their spread says. */
import { lognormalMoments, lognormalQuantile, normalQuantile, studentTQuantile } from '../numbers/index.ts';

/** Sums over the logarithms of unit times: all that the lognormal reading needs. */
export interface LogSummary {
  readonly count: number;
  readonly mean: number;
  /** Sample standard deviation (divisor count - 1); 0 for a single one. */
  readonly sd: number;
}

/** Summary of the logarithms of unit times (any unit, all above 0). */
export function summarizeLogs(times: readonly number[]): LogSummary {
  const logs = times.map(Math.log);
  const mean = logs.reduce((sum, x) => sum + x, 0) / logs.length;
  const squares = logs.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  return { count: logs.length, mean, sd: logs.length > 1 ? Math.sqrt(squares / (logs.length - 1)) : 0 };
}

/** A belief about the mean of the logarithms: normal with this mean and standard deviation. */
export interface LogMeanBelief {
  readonly mean: number;
  readonly sd: number;
}

/**
 * The belief after counting, the scatter `sigma` of single logarithms taken as known: precisions add up (Gelman and others, "Bayesian Data
 * Analysis", 2.5).
 */
export function learnLogMean(prior: LogMeanBelief, counted: LogSummary, sigma: number): LogMeanBelief {
  const priorPrecision = 1 / prior.sd ** 2;
  const countedPrecision = counted.count / sigma ** 2;
  const precision = priorPrecision + countedPrecision;
  const mean = (prior.mean * priorPrecision + counted.mean * countedPrecision) / precision;
  return { mean, sd: Math.sqrt(1 / precision) };
}

/** The time of the next single unit: a lognormal whose spread joins the belief's and the scatter. */
export function nextUnitTime(
  belief: LogMeanBelief,
  sigma: number,
): { median: number; mean: number; quantile: (p: number) => number } {
  const spread = Math.hypot(belief.sd, sigma);
  const { median, mean } = lognormalMoments(belief.mean, spread);
  return { median, mean, quantile: (p) => lognormalQuantile(p, belief.mean, spread) };
}

/**
 * Quantile of the next unit's time from the counts alone (reference prior): Student's t with count - 1 degrees of freedom on the logarithms.
 * Needs two counts or more, else NaN.
 */
export function nextUnitTimeQuantile(p: number, { count, mean, sd }: LogSummary): number {
  if (count < 2) return Number.NaN;
  return Math.exp(mean + studentTQuantile(p, count - 1) * sd * Math.sqrt(1 + 1 / count));
}

/**
 * The sum of independent unit times as a normal: mean and standard deviation of the total, and its quantile. A cause that all units share (a
 * tired Sunday) does not average out and is no part of this.
 */
export function totalOfUnits(
  units: number,
  unitMean: number,
  unitSd: number,
): { mean: number; sd: number; quantile: (p: number) => number } {
  const [mean, sd] = [units * unitMean, Math.sqrt(units) * unitSd];
  return { mean, sd, quantile: (p) => mean + sd * normalQuantile(p) };
}
