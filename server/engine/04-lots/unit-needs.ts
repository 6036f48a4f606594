/** How many units of one step a number of units of the next takes. */
import type { PlannedStep } from '../02-steps/index.ts';
import { ceilCount, floorCount } from '../numbers/index.ts';
import type { Lot } from '../types.ts';
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

/**
 * The place of the first unit of each of these lots among the units of its step (or of the one set), in the order in
 * which they come: the `passed` ones are before them, in whichever set they were made.
 *
 * @example two sets of four, the second is done: `passed` is 4, and lots of two units in the first are in the
 * places 5 and 7
 */
export function placesOfLots(lots: readonly Lot[], these: readonly number[], passed: number): number[] {
  let place = passed + 1;
  return these.map((l) => {
    const { firstUnit, lastUnit } = lots[l]!;
    const first = place;
    place += lastUnit - firstUnit + 1;
    return first;
  });
}

/**
 * Units of a step that are done in the sets behind this one: what feeds the step without knowing sets has gone into
 * them already, and not into those that are still to come.
 */
export function doneBehind({ sets }: Pick<PlannedStep, 'sets'>, set: number | null): number {
  const place = sets.findIndex((candidate) => candidate.set === set);
  return sets.slice(place + 1).reduce((sum, { done }) => sum + done, 0);
}
