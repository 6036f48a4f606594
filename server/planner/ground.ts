/** The ground state of a build as the planner holds it: what is on disk, parsed once and read on from where it was. */
import type { Build, LogEntry } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import { type Answers, answersIn } from './doubts.ts';
import type { Version } from './types.ts';

export interface GroundState {
  readonly key: number;
  readonly version: Version;
  readonly build: Build;
  readonly entries: ReadonlyMap<string, LogEntry>;
  /** In order of arrival, numbered from 1 without a gap. */
  readonly log: readonly LogEntry[];
  /** The entries after a number. */
  since(seq: number): LogEntry[];
  /** What the entries of the log say of each other. */
  answers(): Answers;
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
  const held = new Map<string, HeldState>();
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
      if (same?.version.revision === revision && same.version.logSeq === logSeq) return same;
      const build = same?.version.revision === revision ? same.build : store.builds.document(key, revision);
      if (!build) throw new Error(`revision ${revision} of build ${id} is missing`);
      const all: Read = same?.all ?? { log: [], entries: new Map(), answers: null };
      for (const entry of store.log.since(key, all.log.length)) {
        all.log.push(entry);
        all.entries.set(entry.id, entry);
        if (ANSWERS.has(entry.kind)) all.answers = null;
      }
      const state = new HeldState(key, { revision, logSeq }, build, all);
      held.set(id, state);
      return state;
    },
  };
}

/** Kinds of entries that speak of others. */
const ANSWERS: ReadonlySet<LogEntry['kind']> = new Set(['undo', 'confirmed']);

/** All that was read of a build's log: it goes on growing, and each state is of its first part. */
interface Read {
  readonly log: LogEntry[];
  readonly entries: Map<string, LogEntry>;
  answers: Answers | null;
}

/** Copies the log for those alone who ask for all of it: a tap does not. */
class HeldState implements GroundState {
  private copy: readonly LogEntry[] | null = null;

  constructor(
    readonly key: number,
    readonly version: Version,
    readonly build: Build,
    readonly all: Read,
  ) {}

  get entries(): ReadonlyMap<string, LogEntry> {
    return this.all.entries;
  }

  get log(): readonly LogEntry[] {
    this.copy ??= this.all.log.slice(0, this.version.logSeq);
    return this.copy;
  }

  since(seq: number): LogEntry[] {
    return this.all.log.slice(seq, this.version.logSeq);
  }

  answers(): Answers {
    if (this.all.log.length > this.version.logSeq) return answersIn(this.log);
    this.all.answers ??= answersIn(this.all.log);
    return this.all.answers;
  }
}
