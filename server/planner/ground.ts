/** The ground state of a build as the planner holds it: what is on disk, parsed once and read on from where it was. */
import type { Build, LogEntry } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import type { Version } from './types.ts';

export interface GroundState {
  readonly key: number;
  readonly version: Version;
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly entries: ReadonlyMap<string, LogEntry>;
}

export interface GroundCache {
  /** As on disk at this moment, whoever wrote it. Null: no such build. */
  get(id: string): GroundState | null;
}

/**
 * Asks the disk for the version each time, and for the build and the entries only when they have moved on. What a transaction
 * has written is not to be asked for within it, for it may yet be undone.
 */
export function createGroundCache(store: Store): GroundCache {
  const held = new Map<string, GroundState & { readonly entries: Map<string, LogEntry> }>();
  return {
    get: (id) => {
      const ground = store.builds.ground(id);
      if (!ground) {
        held.delete(id);
        return null;
      }
      const { key, revision, logSeq } = ground;
      const before = held.get(id);
      const same = before?.key === key ? before : null;
      if (same && same.version.revision === revision && same.version.logSeq === logSeq) return same;
      const build = same?.version.revision === revision ? same.build : store.builds.document(key, revision);
      if (!build) throw new Error(`revision ${revision} of build ${id} is missing`);
      const news = store.log.since(key, same?.version.logSeq ?? 0);
      const entries = same?.entries ?? new Map<string, LogEntry>();
      for (const entry of news) entries.set(entry.id, entry);
      const log = same ? (news.length > 0 ? [...same.log, ...news] : same.log) : news;
      const state = { key, version: { revision, logSeq }, build, log, entries };
      held.set(id, state);
      return state;
    },
  };
}
