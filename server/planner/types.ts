/** What the planner offers to the web and the command line: a build, its log, and the forecast that belongs to them. */
import type {
  Build,
  BuildFile,
  Change,
  Edit,
  Forecast,
  FuturesCompared,
  LeverSearch,
  LogEntry,
  NewLogEntry,
  OwnFigure,
  Problem,
  Result,
  RevisionCause,
  RippleAnswer,
  RippleAsked,
  Said,
  Sizing,
  WaysBeside,
} from '../model/index.ts';
import type { Closed, Turn } from '../store/index.ts';

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

interface BuildSummary {
  readonly id: string;
  readonly name: string;
  readonly zone: string;
  readonly event: string;
  readonly revision: number;
  readonly entries: number;
}

/** A build that was removed: out of sight, with its edits and its log kept. */
interface RemovedBuild {
  readonly key: number;
  readonly id: string;
  readonly name: string;
  /** UTC, ISO 8601. */
  readonly removedAt: string;
}

interface Revision {
  readonly revision: number;
  readonly savedAt: string;
  readonly who: string;
  readonly cause: RevisionCause;
}

/**
 * What became of an entry that was sent: stored now, stored before, or refused with the reason; a doubt is kept but
 * asked about.
 */
export interface Receipt {
  readonly id: string;
  readonly state: 'stored' | 'known' | 'refused';
  readonly seq: number | null;
  readonly problems: readonly Problem[];
  readonly questions: readonly Said[];
}

/**
 * Work in the background, the most urgent first: a first answer, an edit that is looked at before it is saved, a
 * search, a what-if, what would buy time, how many, make or send out, where room went, what was long ago.
 */
export type JobKind = 'answer' | 'see-first' | 'search' | 'what-if' | 'levers' | 'sizes' | 'ways' | 'ledger' | 'past';

/** A job that waits in the background or is under way. */
export interface JobView {
  /** Its number, by which it can be stopped. */
  readonly job: number;
  readonly kind: JobKind;
  readonly build: string;
  readonly version: Version;
  readonly isRunning: boolean;
  /**
   * How far it is: `done` of `total`, in hundredths of a plan's search and futures or in states of a ledger; 0 of 0
   * where that is not known yet.
   */
  readonly done: number;
  readonly total: number;
}

/** Changes that were tried out on the plan as it is: what would be forecast, beside what is now, with the same luck. */
export interface WhatIf {
  readonly present: Forecast;
  readonly forecast: Forecast;
  /** Null where no futures were drawn of one of the two. */
  readonly compared: FuturesCompared | null;
}

/**
 * How far an option is: not worked out yet; tried out; not to be made on the plan as it is; wrong for the plan; or
 * failed.
 */
export type OptionState =
  | { readonly kind: 'waits' | 'failed' }
  | ({ readonly kind: 'tried' } & WhatIf)
  | { readonly kind: 'misfit' | 'impossible'; readonly problems: readonly Problem[] };

/** Changes kept beside a build under a name. */
export interface Option {
  /** Never given twice. */
  readonly number: number;
  readonly name: string;
  /** UTC, ISO 8601. */
  readonly savedAt: string;
  readonly who: string;
  /** What it changes in the plan as it is; of one that does not fit any more, in the plan that it was made on. */
  readonly edit: Edit;
  readonly state: OptionState;
}

/** The present plan and its options, all worked out alike, so that they compare. */
interface Comparison {
  /** Null: it is not worked out yet. */
  readonly present: Forecast | null;
  /** In order of making. */
  readonly options: readonly Option[];
}

/** An option to keep: a new one under `name`, or more changes to the one with the number `into`. */
export interface OptionAsked {
  readonly name: string;
  readonly into?: number;
  readonly changes: readonly Change[];
  readonly who: string;
  /** The edit that the changes were made on. */
  readonly expected: number;
}

/** What would buy time, as far as it is known. */
export interface LeversShown {
  /** Null: nothing is found yet. */
  readonly search: LeverSearch | null;
  /** The edit of the build that the search is of: its changes are to be made on that one. */
  readonly foundOn: number | null;
  /** The state of the build that it is for. */
  readonly version: Version;
  readonly state: 'running' | 'ended' | 'failed';
  /** The build is another meanwhile. */
  readonly isStale: boolean;
}

/** How large a parameter may be, as far as it is known. */
interface SizingShown {
  readonly parameter: string;
  /** Null: not found yet, or there is none to be found. */
  readonly sizing: Sizing | null;
  readonly state: LeversShown['state'];
  /** The build is another meanwhile. */
  readonly isStale: boolean;
}

/** Make or send out, as far as it is known. */
interface WaysShown {
  /** Null: nothing is found yet. */
  readonly found: WaysBeside | null;
  /** The edit of the build that they are of: their changes are to be made on that one. */
  readonly foundOn: number | null;
  readonly state: LeversShown['state'];
  /** The build is another meanwhile. */
  readonly isStale: boolean;
}

/** The last edit of a build, with what was forecast just before it. */
export interface LastEdit {
  readonly revision: number;
  /** The last entry of the log then. */
  readonly logSeq: number;
  /** Minutes since the epoch. */
  readonly at: number;
  readonly before: {
    readonly readyAt: number | null;
    readonly chance: number | null;
    readonly installed: number | null;
  };
}

/**
 * What the maker says of the units that a change reaches; `part`: whose unchecked units are meant where it reaches
 * none.
 */
export interface RippleTold {
  readonly answers: readonly RippleAnswer[];
  readonly part: string | null;
}

export interface Planner {
  builds(): BuildSummary[];
  build(id: string): { readonly build: Build; readonly revision: number } | null;
  /**
   * The forecast of the latest state. Where it has to be computed, that is waited for, but for `longest` milliseconds
   * at most: then it is the last forecast at hand, marked stale; so it is at once where the last one took longer than
   * that. Null: there is none at all yet, or no such build.
   */
  snapshot(id: string, longest?: number): Promise<Snapshot | null>;
  /**
   * The last forecast at hand, at once, marked stale when the ground state has moved on. Null: there is none, or no
   * such build.
   */
  latest(id: string): Snapshot | null;
  /** When the last try to compute a forecast of the build failed; null where it did not. */
  failedAt(id: string): number | null;
  /** Somebody has a page of the build open, until the answer is called: its forecasts are kept up with the time. */
  look(id: string): () => void;
  /** What waits in the background or is under way, of one build or of all. */
  jobs(id?: string): JobView[];
  /**
   * Ends a job of the background: an answer or a search with the best it has so far. False: there is none with this
   * number.
   */
  stop(job: number): boolean;
  log(id: string): LogEntry[];
  /** An entry of the log by its id. */
  entry(id: string, entry: string): LogEntry | null;
  /** Checks and appends; idempotent by entry id. Durable when it returns. */
  append(id: string, entries: readonly NewLogEntry[], who: string): Receipt[];
  /** What is wrong with each of the entries, as `append` would say it now; nothing is stored. */
  rehearse(id: string, entries: readonly NewLogEntry[], who: string): Promise<(readonly Problem[])[]>;
  /**
   * Makes the changes, all or none, and keeps them with the revision that they make. Refused with problems, and nothing
   * changes, where they cannot be made (see `applyChanges`), where they add an error, or (`conflict`) where the build
   * is not at the edit `expected` any more; without `expected` they are made on whatever edit is the last.
   */
  edit(
    id: string,
    changes: readonly Change[],
    who: string,
    expected?: number,
    cause?: RevisionCause,
    told?: RippleTold,
  ): Promise<Result<{ revision: number }>>;
  /** What `edit` would refuse the changes for, made on the last edit; empty: nothing. Nothing is kept. */
  objections(id: string, changes: readonly Change[]): Promise<readonly Problem[]>;
  /**
   * What changes reach, made on the build as it is at the edit `expected`: all that depends on a parameter, a drawing
   * or a material that they change, and the units made or ordered that are asked about. Where they reach none, the
   * units of `part` that were left unchecked are.
   */
  ripple(id: string, changes: readonly Change[], expected: number, part?: string | null): Result<RippleAsked>;
  /**
   * What gained or cost room so far, oldest first; with `since` (minutes since the epoch) from the last row up to then
   * on, or from the first of all where none is as old.
   */
  history(id: string, since?: number): Turn[];
  /** Whether older rows are still to come, from a log that is older than the first forecast. */
  rebuilding(id: string): boolean;
  revisions(id: string): Revision[];
  /** What an edit changed; null for the first revision, and where there is none of that number. */
  pastEdit(id: string, revision: number): Edit | null;
  /** Puts the build back as it was at an edit, as a further edit. */
  takeBack(id: string, edit: number, who: string): Promise<Result<{ revision: number }>>;
  /** Takes one edit back and leaves those after it, as a further edit; refused where they changed the same again. */
  undo(id: string, edit: number, who: string): Promise<Result<{ revision: number }>>;
  /** The build file that a text (or its bytes in UTF-8) stands for, checked; `name` names the text. */
  read(text: string | Uint8Array, name: string): Promise<Result<BuildFile>>;
  /** The options of a build by number and name, at once. */
  optionNames(id: string): readonly { readonly number: number; readonly name: string }[];
  /**
   * The options of a build beside its present plan; waits for what is not worked out yet, `longest` milliseconds at
   * most.
   */
  options(id: string, longest?: number): Promise<Comparison>;
  /**
   * What changes would do, made on the build as it is at the edit `expected`; refused as `edit` would refuse them. With
   * `entries` they are in the log too, which stays as it is.
   */
  whatIf(
    id: string,
    changes: readonly Change[],
    expected: number,
    entries?: readonly NewLogEntry[],
  ): Promise<Result<WhatIf>>;
  /**
   * Keeps changes beside the build, for which they must fit; refused without a name, with one that is taken, and beyond
   * five.
   */
  keepOption(id: string, asked: OptionAsked): Result<{ readonly number: number }>;
  /** Makes the changes of an option as an edit of the build as it is at `expected`; it is an option no more. */
  adoptOption(id: string, number: number, who: string, expected: number): Promise<Result<{ revision: number }>>;
  /** False: there is none with this number. */
  dropOption(id: string, number: number): boolean;
  /** What would buy time, as last looked for since the start of the server; null: it never was. */
  levers(id: string): LeversShown | null;
  /**
   * Looks for what would buy time, in the background; nothing where that is under way for the present state. It begins
   * by itself once the chance falls below the one that the maker asks for. False: there is no such build.
   */
  findLevers(id: string): boolean;
  /** The last question of how large a parameter may be; null: none was asked since the start of the server. */
  sizing(id: string): SizingShown | null;
  /** Asks how large a parameter may be, in the background. False: there is no such build, or no such parameter. */
  rightSize(id: string, parameter: string): boolean;
  /** The ways of its parts beside each other; null: nobody has asked since the start, or there is no such build. */
  partWays(id: string): WaysShown | null;
  /** Lays them beside each other, in the background. False: there is no such build. */
  layWaysBeside(id: string): boolean;
  /** The last edit since the start of the server; null where there was none. */
  lastEdit(id: string): LastEdit | null;
  create(build: Build, log: readonly LogEntry[], who: string): Promise<Result<{ id: string }>>;
  /** Who closed a build, and when; null while it is open, or where there is none. */
  closed(id: string): Closed | null;
  /**
   * Closes a build whose event is over: nothing of it is edited or counted, and nothing is worked out by itself, until
   * it is reopened. Refused before its event, and where it is closed already.
   */
  closeBuild(id: string, who: string): Result<null>;
  reopenBuild(id: string): Result<null>;
  remove(id: string): boolean;
  /** What was measured in all builds and kept, in the order of the builds. */
  figures(): OwnFigure[];
  /** Keeps what was measured in a build, in place of what was kept of it before. */
  keepFigures(id: string, figures: readonly Omit<OwnFigure, 'build' | 'buildName'>[]): void;
  /** Builds that were removed and can be brought back, the last removed first. */
  removed(): RemovedBuild[];
  /** Brings a removed build back with all that it had; refused where it is not there or its id is taken by now. */
  bringBack(key: number): Result<{ id: string }>;
  /** Called with the build's id whenever something of it has changed. */
  onChange(listener: (id: string, what: Changed) => void): () => void;
}

/** What has changed of a build: its ground state, what is forecast of it, or only what is being worked out for it. */
export type Changed = 'ground' | 'forecast' | 'work';
