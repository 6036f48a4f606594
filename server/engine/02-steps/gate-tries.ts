/** What is known of a gate's chance to fail. */
import type { PlannedStep } from './step.ts';

/** How many tries the given chance of a gate weighs as (common practice, no source). */
const GIVEN_TRIES = 4;

/**
 * The chance that the next try of a gate fails: the given one, as a beta belief worth GIVEN_TRIES tries, joined with
 * the tries that were logged (Gelman and others, "Bayesian Data Analysis", 3rd ed., 2.1, from memory). Example: 0.2
 * given, 2 of 4 failed: (0.8 + 2) / 8 = 0.35.
 */
export function failChanceOf({ gate, tally }: Pick<PlannedStep, 'gate' | 'tally'>): number {
  const { tries, failures } = triesOf({ tally });
  return ((gate?.failChance ?? 0) * GIVEN_TRIES + failures) / (GIVEN_TRIES + tries);
}

/** How often a gate was tried, and how often it failed. */
export function triesOf({ tally }: Pick<PlannedStep, 'tally'>): { readonly tries: number; readonly failures: number } {
  const passes = tally.counts.filter(([, change]) => change > 0).length;
  return { tries: passes + tally.failures, failures: tally.failures };
}
