/** The lots of one step in one set, and of all sets together. */

/** The lots of one step in one set, in the order of their units. */
export interface LotRun {
  readonly set: number | null;
  readonly lots: readonly number[];
}

/** The lots of a step that remain, by number, set by set in the order of their units; `step`: its place in the plan. */
export function lotsOfStep({ runs }: WithRuns, step: number): number[] {
  return runs[step]!.flatMap((run) => run.lots);
}

interface WithRuns {
  readonly runs: readonly (readonly LotRun[])[];
}
