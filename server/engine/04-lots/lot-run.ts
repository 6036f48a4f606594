/** The lots of one step in one set, and of all sets together. */

/** The lots of one step in one set, in the order of their units. */
export interface LotRun {
  readonly set: number | null;
  readonly lots: readonly number[];
}

/**
 * The lots of a step that remain, by number, set by set in the order of their units; `step`: its place in the plan.
 *
 *     lotsOfStep({ runs: [[{ set: 1, lots: [4, 5] }, { set: 2, lots: [7] }]] }, 0) // [4, 5, 7]
 */
export function lotsOfStep({ runs }: WithRuns, step: number): number[] {
  return runs[step]!.flatMap((run) => run.lots);
}

interface WithRuns {
  readonly runs: readonly (readonly LotRun[])[];
}
