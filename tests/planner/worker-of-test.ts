import { type PlanParcel, unwrapTask } from '../../server/planner/background/parcel.ts';
import { type Piece, piecesOf } from '../../server/store/forecast-pieces.ts';
import { simpleForecast } from './simple-forecast.ts';

/** What the pool's thread runs in the tests; `seed` marks that it came from here. */
export function plan({ task }: { readonly task: PlanParcel }): Piece[] {
  const { build, log, now } = unwrapTask(task);
  return piecesOf({ ...simpleForecast(build, log, now), ...{ seed: 1 } });
}
