/** Who lends whom, where the shares of the sets in the units of two steps do not come out even. */

import type { PlannedStep } from '../02-steps/index.ts';
import type { StepFeed } from './step-feeds.ts';
import { unitsNeeded } from './unit-needs.ts';

/** A unit of another set, counted from 1 in that set; `giver` is the place of the set in the plan. */
export interface Borrowed {
  readonly giver: number;
  readonly unit: number;
}

/**
 * Units of one set of `from` that the first `units` of the same set of `to` need; of a stock each set has an equal
 * part.
 */
export function neededInSet(feed: StepFeed, from: PlannedStep, set: number, units: number): number {
  return unitsNeeded(feed, units, from.sets[set]!.done, feed.inStock / from.sets.length);
}

/**
 * By set of `to`: the units of other sets of `from` that it has to have beside all of its own, in the order in which it
 * needs them. A set lends what it has more than it needs itself, which is the last of its share; each unit goes to one
 * set alone. O(units lent and sets).
 */
export function borrowedBySet(feed: StepFeed, from: PlannedStep, to: PlannedStep): readonly (readonly Borrowed[])[] {
  const all = from.sets.map((_, i) => neededInSet(feed, from, i, to.sets[i]?.total ?? 0));
  const lacking = from.sets.map(({ total }, i) => Math.max(0, all[i]! - total));
  if (lacking.every((units) => units === 0)) return lacking.map(() => []);
  const spare = from.sets.flatMap(({ total }, giver) =>
    Array.from({ length: Math.max(0, total - all[giver]!) }, (_, i) => ({ giver, unit: all[giver]! + i + 1 })),
  );
  return lacking.map((units) => spare.splice(0, units));
}
