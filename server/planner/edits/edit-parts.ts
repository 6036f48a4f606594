/** What an edit is made with, what it is asked as, and what it comes to. */
import type { Build, Change, Forecast, LogEntry, Result, RevisionCause, RippleEntry } from '../../model/index.ts';
import type { Store } from '../../store/index.ts';
import type { GroundCache, GroundState } from '../ground.ts';
import type { ForecastKeeper } from '../keeper/keeper.ts';

export interface EditParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly keeper: ForecastKeeper;
  readonly now: () => number;
  readonly stamp: () => string;
  /** A first forecast, whose problems say what is wrong with the build; `state`: what was known of it before. */
  readonly compute: (build: Build, log: readonly LogEntry[], state?: GroundState) => Promise<Forecast>;
  readonly changed: (id: string) => void;
  /** An edit was kept: which, of what state, and what was forecast of that state, if anything was. */
  readonly saved?: (id: string, edit: { revision: number; logSeq: number; before: Forecast | null }) => void;
}

export interface Asked {
  readonly id: string;
  readonly who: string;
  readonly cause: RevisionCause;
  /** The edit that whoever asks has seen; left out: whichever is the last. */
  readonly expected?: number | undefined;
  readonly changesOf: (state: GroundState) => Result<Made>;
  /** Made without asking whether it adds an error. */
  readonly unchecked?: boolean;
}

/** What an edit makes: changes of the build, and entries that go into the log with them. */
export interface Made {
  readonly changes: readonly Change[];
  readonly entries: readonly RippleEntry[];
}

export type Revised = { readonly revision: number };
