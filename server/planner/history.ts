/** What a build and its log were at an earlier time. */
import { readWall } from '../engine/index.ts';
import { type Build, changesBetween, type Edit, type LogEntry } from '../model/index.ts';
import type { Store, Turn } from '../store/index.ts';
import { flatMapInTurns } from '../turns/turns.ts';
import type { GroundState } from './ground.ts';

/** The build as it was at a revision; null where there is none. */
export function documentOf(store: Store, { key, version, build }: GroundState, revision: number): Build | null {
  return revision === version.revision ? build : store.builds.document(key, revision);
}

/**
 * What an edit changed. Where no changes were kept with it, as before there were any, the builds are compared. Null for
 * the first revision, which changed nothing, and where there is none of that number.
 */
export function pastEdit(store: Store, state: GroundState, revision: number): Edit | null {
  const [before, after] = [documentOf(store, state, revision - 1), documentOf(store, state, revision)];
  if (before === null || after === null) return null;
  const changes = store.builds.changes(state.key, revision) ?? changesBetween(before, after);
  return { before, after, changes };
}

/** What the log held when a row of history was made; of a long log in turns with others' work. */
export async function logOf(
  log: readonly LogEntry[],
  { rebuilt, logSeq, computedAt }: Pick<Turn, 'rebuilt' | 'logSeq' | 'computedAt'>,
): Promise<readonly LogEntry[]> {
  const there = log.filter(({ seq }) => (seq ?? 0) <= logSeq);
  if (!rebuilt) return there;
  return flatMapInTurns(there, (entry) => ((minuteOf(entry.at) ?? 0) <= computedAt ? [entry] : []));
}

/** An ISO instant in minutes since the epoch; null where it cannot be read. */
export function minuteOf(instant: string): number | null {
  const read = readWall(instant, 'UTC');
  return read.ok ? read.value : null;
}
