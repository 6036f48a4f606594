/** The futures of a planned build as numbers: what is worded of them, and what two cases are compared by. */
import type { Planned } from '../stages/index.ts';
import { Fans } from './fans.ts';
import { Tally } from './tally.ts';
import { type World, worldsOf } from './worlds.ts';

export interface RiskOptions {
  readonly seed: number;
  /** Futures at most; 2,000 unless given. */
  readonly futures?: number;
  /** Stops once every chance is known to this standard error; 0.005 unless given, 0 never stops early. */
  readonly exactness?: number;
  /**
   * Time at most, counted by `clock`, for the futures and what their answer asks of them; without a clock only futures
   * count.
   */
  readonly milliseconds?: number;
  readonly clock?: () => number;
  /** Hears after each future what share of them is drawn, or of their time is spent, 0 to 1; never falls. */
  readonly onShare?: (share: number) => void;
}

/** Futures that were drawn. Future n of two cases with the same seed meets the same luck wherever they are alike. */
export interface Futures {
  readonly planned: Planned;
  readonly seed: number;
  /** How many there are. */
  readonly count: number;
  /** By future, the instant at which the workshop's work is ready. */
  readonly readyAt: Int32Array;
  /** By future, the instant at which all is finished. */
  readonly finishAt: Int32Array;
  /** What the answer is worded from besides. */
  readonly tally: Tally;
  readonly fans: Fans;
  readonly worlds: readonly World[];
  /** Whether the time is over. */
  readonly isOver: () => boolean;
}

const FUTURES = 2000;
const EXACTNESS = 0.005;
/** Chances are looked at after each of these many futures; none stops earlier. */
const BATCH = 500;
/** Futures that are drawn whatever the time. */
const LEAST = 100;
/** Share of the time that the futures have; the rest is for what steps cost. */
const SHARE = 0.7;

/**
 * Futures of the levelled schedule in which all that is uncertain is drawn (see `uncertaintyOf`) and the lots are
 * dispatched again through calendars, hands and machines: in the schedule's order and with its choices of hands, unless
 * another way serves better when things go otherwise (see `waysOf`). Uncertain parameters change the lots themselves
 * (see `parameterWorlds`). Deterministic for a seed. O(futures x lots). Null when nothing is left or nothing could be
 * placed.
 *
 *     runFutures(planned, { seed: 1, futures: 500, exactness: 0 })?.readyAt.length // 500
 */
export function runFutures(planned: Planned, options: RiskOptions): Futures | null {
  const { schedule, work } = planned;
  if (schedule === null || work.lots.length === 0) return null;
  const spent = timer(options);
  const worlds = worldsOf(planned, schedule, options.seed);
  const most = Math.max(1, Math.floor(options.futures ?? FUTURES));
  const exactness = options.exactness ?? EXACTNESS;
  const tally = new Tally(planned, most);
  const fans = new Fans(planned);
  while (tally.count < most) {
    const world = worlds[tally.count % worlds.length]!;
    const future = world.run(tally.count);
    tally.add(future, world);
    fans.add(future.finishes, world.fanLots);
    const timeSpent = spent() / SHARE;
    options.onShare?.(Math.min(1, Math.max(tally.count / most, timeSpent)));
    if (tally.count >= LEAST && timeSpent >= 1) break;
    if (exactness > 0 && tally.count % BATCH === 0 && tally.error() <= exactness) break;
  }
  const drawn = (column: Int32Array) => column.subarray(0, tally.count);
  return {
    planned,
    seed: options.seed,
    count: tally.count,
    readyAt: drawn(tally.readyAt),
    finishAt: drawn(tally.finishAt),
    tally,
    fans,
    worlds,
    isOver: () => spent() >= 1,
  };
}

/** The share of the time that is spent, counted from now; 0 without a clock. */
function timer({ clock, milliseconds = Number.MAX_VALUE }: RiskOptions): () => number {
  if (clock === undefined) return () => 0;
  const began = clock();
  return () => (clock() - began) / milliseconds;
}
