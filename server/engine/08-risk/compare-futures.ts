/** Whether one case is better than another, and how sure that is. */
import type { Difference, FuturesCompared } from '../../model/index.ts';
import type { Instant } from '../types.ts';
import type { Futures } from './run-futures.ts';

/**
 * The ends of futures and the instants by which they are judged: all that two cases are compared by, and little to send
 * or to keep.
 */
export interface FutureEnds extends Pick<Futures, 'seed' | 'readyAt' | 'finishAt'> {
  readonly readyBy: Instant;
  readonly event: Instant;
}

/** The ends of futures that were drawn, by themselves. */
export function endsOf({ seed, readyAt, finishAt, planned }: Futures): FutureEnds {
  const { readyBy, event } = planned.surroundings;
  return { seed, readyAt: readyAt.slice(), finishAt: finishAt.slice(), readyBy, event };
}

/**
 * What `after` changes beside `before`, future by future: both meet the same luck (see `Streams`), so the luck cancels
 * out and a small difference shows in few futures. The mean of the differences d of n futures, and its standard error
 * sqrt(sum of (d - mean)^2 / (n (n - 1))): the paired comparison by common random numbers of Law, "Simulation Modeling
 * and Analysis", 10.2 and 11.2 (from memory). The error of a difference that no future shows is 0: of a rare one, more
 * futures must be drawn. O(futures). Throws a RangeError for futures of different seeds, which have no luck in common,
 * and for fewer than two.
 *
 *     compareEnds(endsOf(futures), endsOf(futures)).readyAt // { mean: 0, error: 0 }
 */
export function compareEnds(before: FutureEnds, after: FutureEnds): FuturesCompared {
  const futures = Math.min(before.readyAt.length, after.readyAt.length);
  if (before.seed !== after.seed) {
    throw new RangeError(`Futures of the seeds ${before.seed} and ${after.seed} cannot be compared one by one.`);
  }
  if (futures < 2) throw new RangeError(`Two futures at least are compared; there are ${futures}.`);
  const by = (instants: Int32Array, target: Instant) => instants.map((at) => Number(at <= target));
  const chances = (column: 'readyAt' | 'finishAt', target: 'readyBy' | 'event') =>
    pairedDifference(by(before[column], before[target]), by(after[column], after[target]), futures);
  return {
    futures,
    readyAt: pairedDifference(before.readyAt, after.readyAt, futures),
    finishAt: pairedDifference(before.finishAt, after.finishAt, futures),
    readyBy: chances('readyAt', 'readyBy'),
    event: chances('finishAt', 'event'),
  };
}

/** The mean of after - before over the first n, and its standard error. */
function pairedDifference(before: Int32Array, after: Int32Array, n: number): Difference {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += after[i]! - before[i]!;
  const mean = sum / n;
  let squares = 0;
  for (let i = 0; i < n; i++) squares += (after[i]! - before[i]! - mean) ** 2;
  return { mean, error: Math.sqrt(squares / (n * (n - 1))) };
}
