/** What the planner offers to the web and the command line: a build, its log, and the forecast that belongs to them. */
import type { Build, Forecast, LogEntry, NewLogEntry, Problem, Result } from '../model/index.ts';
import type { Turn } from '../store/index.ts';

/** Which state of a build something was computed from: its edit and the last entry of its log. */
export interface Version {
  readonly revision: number;
  readonly logSeq: number;
}

/** A forecast with what it was computed from. */
export interface Snapshot {
  readonly forecast: Forecast;
  readonly version: Version;
  readonly computedAt: number;
  /** The ground state, or a quarter of an hour, has moved on: a newer one is being computed, or could not be. */
  readonly stale: boolean;
  /** When the last try for a newer or better one failed; null where it did not. */
  readonly failedAt: number | null;
  /** No first answer, but what the history is kept of: what the last row of it does not know changed nothing. */
  readonly settled: boolean;
}

export interface BuildSummary {
  readonly id: string;
  readonly name: string;
  readonly zone: string;
  readonly event: string;
  readonly revision: number;
  readonly entries: number;
}

export interface Revision {
  readonly revision: number;
  readonly savedAt: string;
  readonly who: string;
  /** In plain words: `step "print cranks" changed`. */
  readonly cause: string;
}

/** What became of an entry that was sent: stored now, stored before, or refused with the reason; a doubt is kept but asked about. */
export interface Receipt {
  readonly id: string;
  readonly state: 'stored' | 'known' | 'refused';
  readonly seq: number | null;
  readonly problems: readonly Problem[];
  readonly questions: readonly string[];
}

export interface Planner {
  builds(): BuildSummary[];
  build(id: string): { readonly build: Build; readonly revision: number } | null;
  /** Forecast of the latest state; computed if need be. Null: no such build. */
  snapshot(id: string): Snapshot | null;
  /** The last forecast at hand, at once, marked stale when the ground state has moved on. */
  latest(id: string): Snapshot | null;
  log(id: string): LogEntry[];
  /** Checks and appends; idempotent by entry id. Durable when it returns. */
  append(id: string, entries: readonly NewLogEntry[], who: string): Receipt[];
  /** Changes the build through `edit` (given a deep copy); refused with problems when the result is wrong, and nothing changes. */
  edit(
    id: string,
    cause: string,
    who: string,
    edit: (build: Build) => void,
    expected?: number,
  ): Result<{ revision: number }>;
  /**
   * What gained or cost room so far, oldest first; with `since` (minutes since the epoch) from the last row up to then on, or
   * from the first of all where none is as old.
   */
  history(id: string, since?: number): Turn[];
  /** Whether older rows are still to come, from a log that is older than the first forecast. */
  rebuilding(id: string): boolean;
  revisions(id: string): Revision[];
  /** Puts the build back as it was at `revision`, as a new edit. */
  takeBack(id: string, revision: number, who: string): Result<{ revision: number }>;
  create(build: Build, log: readonly LogEntry[], who: string): Result<{ id: string }>;
  remove(id: string): boolean;
  /** Called with the build's id after every change of ground state and after every new forecast. */
  onChange(listener: (id: string, what: 'ground' | 'forecast') => void): () => void;
}
