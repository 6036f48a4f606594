import { type PlanParcel, unwrapTask } from '../../server/planner/background/parcel.ts';
import type { Planned } from '../../server/planner/background/pool.ts';
import { piecesOf } from '../../server/store/forecast-pieces.ts';
import { simpleForecast } from './simple-forecast.ts';

/** What the pool's thread runs in the tests; `seed` marks that it came from here. */
export function plan({ task }: { readonly task: PlanParcel }): Planned {
  const { build, log, now } = unwrapTask(task);
  return { pieces: piecesOf({ ...simpleForecast(build, log, now), ...{ seed: 1 } }) };
}
