/** What is worked out away from the thread that answers requests, and what a thread that works at it is given. */

import type { FutureEnds, KeptBaseline, KeptSchedule, LedgerSpan } from '../../engine/index.ts';
import type {
  Build,
  BuildFile,
  Forecast,
  LedgerPart,
  LeverSearch,
  LogEntry,
  Result,
  Sizing,
  WaysBeside,
} from '../../model/index.ts';
import type { Depth } from '../../store/index.ts';
import type { WrittenSchedule } from './former.ts';

/**
 * A forecast to compute. `now` in minutes since the epoch; `former` is what is on the sheets, which is left alone
 * unless changing it gains real time; `first` is what the counts are compared with.
 */
export interface PlanTask {
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly now: number;
  /** `quick`: a first answer with a first chance; `deep`: the answer after the search, with a better known chance. */
  readonly depth: Depth;
  readonly former?: KeptSchedule | WrittenSchedule;
  readonly first?: KeptBaseline;
  /** The plan alone, without futures: enough to check an edit. */
  readonly noChance?: true;
  /** Lots that are left, as far as is known: a search and its futures get time by them. */
  readonly lots?: number;
  /** The seed of the search and the futures; left out: the usual one. */
  readonly seed?: number;
  /** Seconds to search for, whatever the number of lots; left out: by the lots. */
  readonly seconds?: number;
}

/** A build for which levers are looked for; what is left out is as in a `PlanTask`. */
export type LeversTask = Pick<PlanTask, 'build' | 'log' | 'now' | 'former' | 'first' | 'seed'> & {
  /** Futures of the best levers; left out: the usual number. */
  readonly futures?: number;
  /** What the sheets say of the plan as it is: when it is ready, and the chance with its standard error. */
  readonly known?: { readonly readyAt: number | null; readonly chance: number; readonly error: number };
};

/** What the queue gives a job: how it hears that it should end, and where it says how far it is. */
export interface Hand {
  /** One number in memory that threads share: see `SIGNAL`. */
  readonly signal: Int32Array;
  /** `done` of `total`, in whatever the job counts. */
  progress(done: number, total: number): void;
}

/** What is in `Hand.signal`: go on, end soon with the best so far, or leave it. */
export const SIGNAL = { goOn: 0, enough: 1, leave: 2 } as const;

/** A plan that was tried out, and how its futures ended; null where none were drawn. */
export interface Tried {
  readonly forecast: Forecast;
  readonly ends: FutureEnds | null;
}

/** A span of the ledger with the plan that stood before it as it is kept. */
export type WrittenSpan = Omit<LedgerSpan, 'former'> & { readonly former: KeptSchedule | WrittenSchedule };

/** Work that is done elsewhere: in the threads of `createBackground`, or in a test at once. */
export interface Background {
  /** `onPlan` hears of the plan as soon as it is there, before its futures are drawn. */
  plan(task: PlanTask, hand: Hand, onPlan?: (forecast: Forecast) => void): Promise<Forecast>;
  /** A plan that is compared with another of the same seed by its futures. */
  tryOut(task: PlanTask, hand: Hand): Promise<Tried>;
  /** What would buy time; `onRows` hears of what is found so far. */
  findLevers(task: LeversTask, hand: Hand, onRows: (found: LeverSearch) => void): Promise<LeverSearch>;
  /** How large a parameter may be; null: there is no such parameter, or no date. */
  rightSize(task: LeversTask & { readonly parameter: string }, hand: Hand): Promise<Sizing | null>;
  /** The ways of each part beside each other; `onParts` hears of those that are found so far. */
  waysBeside(task: LeversTask, hand: Hand, onParts: (found: WaysBeside) => void): Promise<WaysBeside>;
  /** Where the room went between two forecasts. */
  attribute(span: WrittenSpan, hand: Hand): Promise<LedgerPart[]>;
  /**
   * The build file that a text (or its bytes in UTF-8) stands for, checked; `name` names the text. What takes too long
   * or too much memory is refused.
   */
  read(text: string | Uint8Array, name: string): Promise<Result<BuildFile>>;
}

/** Thrown by a job that was told to leave its work. */
export class LeftOff extends Error {
  constructor() {
    super('left off, because something more urgent came');
    this.name = 'LeftOff';
  }
}
