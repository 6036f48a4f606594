/** How many units of one step a number of units of the next takes. */
import { ceilCount, floorCount } from '../numbers/index.ts';
import type { StepFeed } from './step-feeds.ts';

type UnitShare = Pick<StepFeed, 'ratio' | 'yield' | 'headStart'>;

/**
 * Units of the feeding step that must have passed before the first `units` of its follower can be worked on. The first
 * `passed` of them are good, for they have been counted; of those still to be made only the share `yield` comes out
 * good. `stock` is what is on the shelf. Example: 40 cams a shaft at 92 %: none counted, the first shaft takes 44; 40
 * counted, it takes 40; 30 counted, 30 + ceil(10 / 0.92) = 41.
 */
export function unitsNeeded(feed: UnitShare, units: number, passed: number, stock: number): number {
  const good = Math.max(0, ceilCount(units * feed.ratio - stock)) + feed.headStart;
  return good <= passed ? good : passed + ceilCount((good - passed) / feed.yield);
}

/**
 * Units of the follower that `passed` good units and the stock are enough for: the other way round of `unitsNeeded`.
 */
export function unitsFedBy({ headStart, ratio }: UnitShare, passed: number, stock: number): number {
  return passed < headStart ? 0 : floorCount((stock + passed - headStart) / ratio);
}
