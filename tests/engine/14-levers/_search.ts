/** Searches for levers with a small budget: for tests. */
import { findLevers } from '../../../server/engine/14-levers/index.ts';
import type { Build, LeverCode, LeverRow, LeverSearch, LogEntry } from '../../../server/model/index.ts';

export const SEED = 1;

/** What is found for a build at `now`, by so many futures. */
export function search(build: Build, now: number, futures = 200, log: readonly LogEntry[] = []): LeverSearch {
  return findLevers({ build, log, now, levelling: { seed: SEED, schedules: 20 } }, { seed: SEED, futures });
}

/** The rows of one code. */
export function rowsOf<Code extends LeverCode>(found: LeverSearch, code: Code): LeverRow[] {
  return found.rows.filter(({ lever }) => lever.code === code);
}
