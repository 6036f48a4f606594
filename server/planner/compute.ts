/** How deep the engine looks: a first answer while somebody waits, and the search that runs elsewhere. */
import { planBuild } from '../engine/index.ts';
import type { Forecast } from '../model/index.ts';
import type { ComputeForecast, SearchTask } from './tasks.ts';

/** The same build, log, now, former and first plan give the same forecast. */
const SEED = 1;
/** Passes of the schedule generator in the background's search: some tenths of a second for 300 lots. */
const SEARCHED_SCHEDULES = 2_000;
/** And for the first answer: with one alone it jumps by an evening where a sitting is missed by minutes. */
const QUICK_SCHEDULES = 20;
/** Futures of the background's first answer, so that a tap is soon followed by its chance: some tenths of a second for 300 lots. */
const QUICK_FUTURES = 500;

/** The first answer. */
export const computeQuick: ComputeForecast = (build, log, now, former, first) =>
  planBuild(build, log, now, {
    levelling: { seed: SEED, schedules: QUICK_SCHEDULES },
    ...(former ? { former } : {}),
    ...(first ? { first } : {}),
  });

/** A task of the background: the first answer again, or the one after the search; either with the chance to be ready. */
export function computeTask({ build, log, now, depth, former, first }: SearchTask): Forecast {
  const isQuick = depth === 'quick';
  const levelling = { seed: SEED, schedules: isQuick ? QUICK_SCHEDULES : SEARCHED_SCHEDULES };
  const risk = { seed: SEED, ...(isQuick ? { futures: QUICK_FUTURES } : {}) };
  return planBuild(build, log, now, { levelling, risk, ...(former ? { former } : {}), ...(first ? { first } : {}) });
}
