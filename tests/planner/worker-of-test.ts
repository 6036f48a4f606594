import type { SearchTask } from '../../server/planner/index.ts';
import { simpleForecast } from './simple-forecast.ts';

/** What the pool's thread runs in the tests; `seed` marks that it came from here. */
export default function work({ build, log, now }: SearchTask): object {
  return { ...simpleForecast(build, log, now), seed: 1 };
}
