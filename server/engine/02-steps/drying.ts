/** Units that were counted a moment ago still dry, cure or cool for as long as the last waits of their step say. */
import type { SetTally } from '../log/index.ts';
import type { Instant, Minutes } from '../types.ts';
import type { PlannedStep } from './step.ts';

/**
 * Clock minutes of the waits after the last work of a step; its units are counted when that work is done. Those of a
 * step that does nothing but wait are counted when the wait is over.
 */
export function dryingMinutes({ phases }: PlannedStep): Minutes {
  const last = phases.findLastIndex((phase) => phase.kind !== 'wait');
  const waits = last < 0 ? [] : phases.slice(last + 1);
  return waits.reduce((minutes, phase) => minutes + (phase.kind === 'wait' ? phase.fixedMinutes : 0), 0);
}

/**
 * When the first `units` of those that still count were counted, first in, first out. Units lost since (`good` of the
 * tally less `passed`) are counted on top. Null where fewer were counted. O(counts).
 */
export function countedAt(
  { counts, good }: Pick<SetTally, 'counts' | 'good'>,
  passed: number,
  units: number,
): Instant | null {
  if (units <= 0) return null;
  const wanted = Math.min(good, units + Math.max(0, good - passed));
  let counted = 0;
  let at: Instant | null = null;
  for (const [when, change] of counts) {
    const before = counted;
    counted += change;
    if (counted < wanted) at = null;
    else if (before < wanted) at = when;
  }
  return at;
}

/** When units were last counted; null where none were. */
export function lastCountOf({ counts }: SetTally): Instant | null {
  return counts.findLast(([, change]) => change > 0)?.[0] ?? null;
}

/**
 * How many of the `passed` units of a step, or of the one set of it that is tallied, are dry at `now`.
 * O(counts).
 */
export function dryUnits(plan: PlannedStep, { counts }: SetTally, passed: number, now: Instant): number {
  const since = now - dryingMinutes(plan);
  const wet = counts.reduce((units, [at, change]) => units + (at > since ? Math.max(0, change) : 0), 0);
  return Math.max(0, passed - wet);
}
