/** What a build and its log were at an earlier time. */
import { readWall } from '../engine/index.ts';
import type { Build, LogEntry } from '../model/index.ts';
import type { Store, Turn } from '../store/index.ts';
import type { GroundState } from './ground.ts';

/** The build as it was at a revision; null where there is none. */
export function documentOf(store: Store, { key, version, build }: GroundState, revision: number): Build | null {
  return revision === version.revision ? build : store.builds.document(key, revision);
}

/** What the log held when a row of history was made. */
export function logOf(
  log: readonly LogEntry[],
  { rebuilt, logSeq, computedAt }: Pick<Turn, 'rebuilt' | 'logSeq' | 'computedAt'>,
): LogEntry[] {
  const there = log.filter(({ seq }) => (seq ?? 0) <= logSeq);
  return rebuilt ? there.filter(({ at }) => (minuteOf(at) ?? 0) <= computedAt) : there;
}

/** An ISO instant in minutes since the epoch; null where it cannot be read. */
export function minuteOf(instant: string): number | null {
  const read = readWall(instant, 'UTC');
  return read.ok ? read.value : null;
}
