import type { PlanTask } from '../../server/planner/index.ts';
import { simpleForecast } from './simple-forecast.ts';

/** What the pool's thread runs in the tests; `seed` marks that it came from here. */
export function plan({ task: { build, log, now } }: { readonly task: PlanTask }): object {
  return { ...simpleForecast(build, log, now), seed: 1 };
}
