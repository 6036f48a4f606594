/** How deep the engine looks: a first answer while somebody waits, and the search that runs elsewhere. */
import { planBuild } from '../engine/plan.ts';
import type { Forecast } from '../model/index.ts';
import type { ComputeForecast, SearchTask } from './forecasts.ts';

/** The same build, log and now give the same forecast. */
const SEED = 1;
/** Passes of the schedule generator in the background's search: some tenths of a second for 300 lots. */
const SEARCHED_SCHEDULES = 1_000;
/** And for the first answer. */
const QUICK_SCHEDULES = 1;

/** The first answer. */
export const computeQuick: ComputeForecast = (build, log, now) =>
  planBuild(build, log, now, { levelling: { seed: SEED, schedules: QUICK_SCHEDULES } });

/** A task of the background: the first answer again, or the one after the search, with the chance to be ready. */
export function computeTask({ build, log, now, depth }: SearchTask): Forecast {
  return depth === 'quick'
    ? computeQuick(build, log, now)
    : planBuild(build, log, now, { levelling: { seed: SEED, schedules: SEARCHED_SCHEDULES }, risk: { seed: SEED } });
}
