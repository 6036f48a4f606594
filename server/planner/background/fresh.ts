/** Whether what is at hand is still true of a build. */
import type { Forecast } from '../../model/index.ts';
import type { KeptForecast } from '../../store/index.ts';
import type { Version } from '../types.ts';

/** A plan made a quarter of an hour ago is computed again: what has not been begun has moved on. */
const FRESH_MINUTES = 15;

/** Whether a forecast is of the present version and of this quarter of an hour. `now` in minutes since the epoch. */
export function isFresh(one: KeptForecast | null, version: Version, now: number): one is KeptForecast {
  if (one === null || !sameVersion(one, version)) return false;
  return Math.floor(one.computedAt / FRESH_MINUTES) === Math.floor(now / FRESH_MINUTES);
}

/** Whether two versions are one. */
export function sameVersion(a: Version, b: Version): boolean {
  return a.revision === b.revision && a.logSeq === b.logSeq;
}

/** `a` has seen something that `b` has not; both only ever grow. */
export function isNewer(a: Version, b: Version): boolean {
  return a.revision > b.revision || a.logSeq > b.logSeq;
}

/** A forecast without futures shows those of the one before, said to be old, until its own are drawn. */
export function withLastRisk(forecast: Forecast, before: KeptForecast | null): Forecast {
  const risk = before?.forecast.risk;
  if (forecast.risk !== undefined || before === null || risk === undefined || risk === null) return forecast;
  const { revision, logSeq, computedAt } = before;
  return { ...forecast, risk, riskFrom: before.forecast.riskFrom ?? { revision, logSeq, computedAt } };
}

/**
 * Whether a forecast has drawn futures of its own: it shows none of an earlier one, and found out whether there are
 * any.
 */
export function hasOwnChance({ risk, riskFrom }: Forecast): boolean {
  return risk !== undefined && riskFrom === undefined;
}
