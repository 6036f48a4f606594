/** The ground state of a build as the planner holds it: what is on disk, parsed once and read on from where it was. */
import type { Build, LogEntry, NewLogEntry } from '../model/index.ts';
import type { Closed, Store } from '../store/index.ts';
import { AT_ONCE, othersTurn } from '../turns/turns.ts';
import { type Answers, answersIn, sayingOf } from './doubts.ts';
import type { Version } from './types.ts';

export interface GroundState {
  readonly key: number;
  readonly version: Version;
  readonly build: Build;
  /** Null while it may be edited and counted. */
  readonly closed: Closed | null;
  readonly entries: ReadonlyMap<string, LogEntry>;
  /** In order of arrival, numbered from 1 without a gap. */
  readonly log: readonly LogEntry[];
  /** The entries after a number. */
  since(seq: number): LogEntry[];
  /** Entries that say the same as one: of its kind, step, set and count, or that take the same entry back. */
  alike(entry: NewLogEntry): readonly LogEntry[];
  /** What the entries of the log say of each other. */
  answers(): Answers;
}

export interface GroundCache {
  /** As on disk at this moment, whoever wrote it. Null: no such build. */
  get(id: string): GroundState | null;
  /**
   * Reads what the disk has of a long log in turns with others' work, so that `get` has little left to read; null where
   * it has not.
   */
  fetch(id: string): Promise<void> | null;
}

/**
 * Asks the disk for the version each time, and for the build and the entries only when they have moved on. What a
 * transaction has written is not to be asked for within it, for it may yet be undone.
 */
export function createGroundCache(store: Store): GroundCache {
  const states = new Map<string, { readonly state: GroundState; readonly all: Read }>();
  /** By build key: what is being read of a log that nobody has seen yet. */
  const coming = new Map<number, Read>();
  /** Whether there is more to be read, after some of it was. */
  const readSome = (id: string): boolean => {
    const ground = store.builds.ground(id);
    if (!ground) return false;
    const before = states.get(id);
    const all = before?.state.key === ground.key ? before.all : (coming.get(ground.key) ?? nothingRead());
    if (ground.logSeq - all.log.length <= AT_ONCE) return false;
    if (before?.all !== all) coming.set(ground.key, all);
    readOn(all, store.log.since(ground.key, all.log.length, AT_ONCE));
    return true;
  };
  const readAll = async (id: string): Promise<void> => {
    do await othersTurn();
    while (readSome(id));
  };
  return {
    fetch: (id) => (readSome(id) ? readAll(id) : null),
    get: (id) => {
      const ground = store.builds.ground(id);
      if (!ground) {
        states.delete(id);
        return null;
      }
      const { key, revision, logSeq, closed } = ground;
      const before = states.get(id);
      const same = before?.state.key === key ? before : null;
      const known = same?.state.version.revision === revision ? same.state : null;
      if (known?.version.logSeq === logSeq && known.closed?.at === closed?.at) return known;
      const build = known?.build ?? store.builds.document(key, revision);
      if (!build) throw new Error(`revision ${revision} of build ${id} is missing`);
      const all = same?.all ?? coming.get(key) ?? nothingRead();
      coming.delete(key);
      if (all.log.length < logSeq) readOn(all, store.log.since(key, all.log.length));
      const state = stateOf({ key, version: { revision, logSeq }, build, closed }, all);
      states.set(id, { state, all });
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
  /** Entries by what they say: see `sayingOf`. */
  readonly alike: Map<string, LogEntry[]>;
  answers: Answers | null;
}

function nothingRead(): Read {
  return { log: [], entries: new Map(), alike: new Map(), answers: null };
}

function readOn(all: Read, entries: readonly LogEntry[]): void {
  for (const entry of entries) {
    all.log.push(entry);
    all.entries.set(entry.id, entry);
    const saying = sayingOf(entry);
    const others = all.alike.get(saying);
    if (others === undefined) all.alike.set(saying, [entry]);
    else others.push(entry);
    if (ANSWERS.has(entry.kind)) all.answers = null;
  }
}

/** Copies the log for those alone who ask for all of it: a tap does not. */
function stateOf(read: Pick<GroundState, 'key' | 'version' | 'build' | 'closed'>, all: Read): GroundState {
  const { version } = read;
  let log: readonly LogEntry[] | null = null;
  const logNow = (): readonly LogEntry[] => {
    log ??= all.log.slice(0, version.logSeq);
    return log;
  };
  return {
    ...read,
    entries: all.entries,
    get log() {
      return logNow();
    },
    since: (seq) => all.log.slice(seq, version.logSeq),
    alike: (entry) => (all.alike.get(sayingOf(entry)) ?? []).filter(({ seq }) => (seq ?? 0) <= version.logSeq),
    answers: () => {
      if (all.log.length > version.logSeq) return answersIn(logNow());
      all.answers ??= answersIn(all.log);
      return all.answers;
    },
  };
}
