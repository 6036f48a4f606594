/** The ground state of a build as the planner holds it: what is on disk, parsed once and read on from where it was. */
import type { Build, LogEntry } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import type { Version } from './types.ts';

export interface GroundState {
  readonly key: number;
  readonly version: Version;
  readonly build: Build;
  /** In order of arrival, numbered from 1 without a gap. */
  readonly log: readonly LogEntry[];
  /** The entries after a number. */
  since(seq: number): LogEntry[];
  readonly entries: ReadonlyMap<string, LogEntry>;
}

export interface GroundCache {
  /** As on disk at this moment, whoever wrote it. Null: no such build. */
  get(id: string): GroundState | null;
}

interface Held {
  readonly state: GroundState;
  /** All that was read: it goes on growing, and the states are parts of it. */
  readonly all: LogEntry[];
  readonly entries: Map<string, LogEntry>;
}

/**
 * Asks the disk for the version each time, and for the build and the entries only when they have moved on. What a transaction
 * has written is not to be asked for within it, for it may yet be undone.
 */
export function createGroundCache(store: Store): GroundCache {
  const held = new Map<string, Held>();
  return {
    get: (id) => {
      const ground = store.builds.ground(id);
      if (!ground) {
        held.delete(id);
        return null;
      }
      const { key, revision, logSeq } = ground;
      const before = held.get(id);
      const same = before?.state.key === key ? before : null;
      const known = same?.state.version;
      if (same && known?.revision === revision && known.logSeq === logSeq) return same.state;
      const build = same && known?.revision === revision ? same.state.build : store.builds.document(key, revision);
      if (!build) throw new Error(`revision ${revision} of build ${id} is missing`);
      const all = same?.all ?? [];
      const entries = same?.entries ?? new Map<string, LogEntry>();
      for (const entry of store.log.since(key, all.length)) {
        all.push(entry);
        entries.set(entry.id, entry);
      }
      const state = stateOf(key, { revision, logSeq }, build, all, entries);
      held.set(id, { state, all, entries });
      return state;
    },
  };
}

/** Its log is copied when somebody asks for all of it: a tap does not. */
function stateOf(
  key: number,
  version: Version,
  build: Build,
  all: readonly LogEntry[],
  entries: ReadonlyMap<string, LogEntry>,
): GroundState {
  let log: readonly LogEntry[] | null = null;
  return {
    key,
    version,
    build,
    entries,
    since: (seq) => all.slice(seq, version.logSeq),
    get log() {
      log ??= all.slice(0, version.logSeq);
      return log;
    },
  };
}
