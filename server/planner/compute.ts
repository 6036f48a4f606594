/** How deep the engine looks: a first answer while somebody waits, and the search that runs elsewhere. */
import { planBuild } from '../engine/plan.ts';
import type { Forecast } from '../model/index.ts';
import type { ComputeForecast, SearchTask } from './forecasts.ts';

/** The same build, log, now and former plan give the same forecast. */
const SEED = 1;
/** Passes of the schedule generator in the background's search: some tenths of a second for 300 lots. */
const SEARCHED_SCHEDULES = 1_000;
/** And for the first answer. */
const QUICK_SCHEDULES = 1;

/** The first answer. */
export const computeQuick: ComputeForecast = (build, log, now, former) =>
  planBuild(build, log, now, { levelling: { seed: SEED, schedules: QUICK_SCHEDULES }, ...(former ? { former } : {}) });

/** A task of the background: the first answer again, or the one after the search, with the chance to be ready. */
export function computeTask({ build, log, now, depth, former }: SearchTask): Forecast {
  if (depth === 'quick') return computeQuick(build, log, now, former);
  const levelling = { seed: SEED, schedules: SEARCHED_SCHEDULES };
  return planBuild(build, log, now, { levelling, risk: { seed: SEED }, ...(former ? { former } : {}) });
}
