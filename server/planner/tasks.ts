/** What is asked of the engine: a first answer while somebody waits, or a search elsewhere. */
import type { FirstPlan, FormerPlan } from '../engine/index.ts';
import type { Build, Forecast, LogEntry } from '../model/index.ts';
import type { Depth } from '../store/index.ts';

/**
 * A quick forecast, computed while somebody waits. `now` in minutes since the epoch; `former` is what stands on the sheets,
 * which is left alone unless changing it gains real time, `first` what the counts are held against.
 */
export type ComputeForecast = (
  build: Build,
  log: readonly LogEntry[],
  now: number,
  former?: FormerPlan,
  first?: FirstPlan,
) => Forecast;

/** The same elsewhere (a worker), as deep as asked for. */
export type SearchForecast = (task: SearchTask) => Promise<Forecast>;

export interface SearchTask {
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly now: number;
  readonly depth: Depth;
  readonly former?: FormerPlan;
  readonly first?: FirstPlan;
}
