/** Whether one case is better than another, and how sure that is. */
import type { Instant } from '../types.ts';
import type { Futures } from './run-futures.ts';

/** How much more the second of two cases comes to, and the standard error of that. */
export interface Difference {
  readonly mean: number;
  readonly error: number;
}

export interface FuturesCompared {
  /** Futures that were compared: as many as both cases have. */
  readonly futures: number;
  /** Minutes by which the workshop is ready later; below 0 where it is earlier. */
  readonly readyAt: Difference;
  /** The same of the end of all work. */
  readonly finishAt: Difference;
  /** By how much the chance to be ready by the ready-by is greater, each case by its own; from -1 to 1. */
  readonly readyBy: Difference;
  /** The same of the chance to be finished by the event. */
  readonly event: Difference;
}

/**
 * What `after` changes beside `before`, future by future: both meet the same luck (see `Streams`), so the luck cancels out and a
 * small difference shows in few futures. The mean of the differences d of n futures, and its standard error
 * sqrt(sum of (d - mean)^2 / (n (n - 1))): the paired comparison by common random numbers of Law, "Simulation Modeling and Analysis",
 * 10.2 and 11.2 (from memory). The error of a difference that no future shows is 0: of a rare one, more futures must be drawn.
 * O(futures). Throws a RangeError for futures of different seeds, which have no luck in common, and for fewer than two.
 *
 *     compareFutures(futures, futures).readyAt // { mean: 0, error: 0 }
 */
export function compareFutures(before: Futures, after: Futures): FuturesCompared {
  const futures = Math.min(before.count, after.count);
  if (before.seed !== after.seed) {
    throw new RangeError(`Futures of the seeds ${before.seed} and ${after.seed} cannot be compared one by one.`);
  }
  if (futures < 2) throw new RangeError(`Two futures at least are compared; there are ${futures}.`);
  const by = (instants: Int32Array, target: Instant) => instants.map((at) => Number(at <= target));
  const chances = (column: 'readyAt' | 'finishAt', target: 'readyBy' | 'event') =>
    pairedDifference(
      by(before[column], before.planned.setting[target]),
      by(after[column], after.planned.setting[target]),
      futures,
    );
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
