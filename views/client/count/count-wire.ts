/**
 * What the phone and the server say to each other. Instants are ISO texts in UTC with milliseconds; lengths are
 * minutes.
 */

import type { LogKind } from '../../../server/model/log/index.ts';

export type EntryKind = LogKind;

/**
 * An entry of the log as it is sent: `at` corrected by the offset of the phone's clock, `phoneAt` as that clock said
 * it.
 */
export interface WireEntry {
  readonly id: string;
  readonly kind: EntryKind;
  readonly at: string;
  readonly phoneAt?: string;
  readonly step?: string;
  readonly set?: number;
  readonly n?: number;
  readonly counted?: boolean;
  readonly person?: string;
  readonly machine?: string;
  /** Of `packed`. */
  readonly box?: string;
  readonly until?: string;
  readonly undoes?: string;
  readonly confirms?: string;
  readonly reason?: string;
}

/**
 * The last of this phone's entries that is known to have arrived: the server says whether it still has it at that
 * number.
 */
export interface LastArrived {
  readonly id: string;
  readonly seq: number;
}

export interface WireReceipt {
  readonly id: string;
  readonly state: 'stored' | 'known' | 'refused';
  readonly seq: number | null;
  readonly problems: readonly { readonly message: string }[];
  readonly questions: readonly string[];
}

export interface SendingAnswer {
  readonly receipts: readonly WireReceipt[];
  /** The server's clock when it answered. */
  readonly now: string;
  /**
   * False: the server's book no longer holds what had arrived (it was put back from a copy), so everything kept is sent
   * again.
   */
  readonly knowsLast: boolean;
}

export interface CountSet {
  /** null where the step is for the whole piece. */
  readonly set: number | null;
  readonly total: number;
  /** Good units as counted, more than `total` where more were made. */
  readonly counted: number;
  readonly scrapped: number;
  readonly left: number;
}

export interface CountLoad {
  readonly entry: string;
  readonly kind: 'loaded' | 'ordered';
  readonly set: number | null;
  readonly units: number;
  readonly since: string;
  /** Null where only the server knows it, and has not said it yet. */
  readonly backAt: string | null;
  /** By the supplier. */
  readonly promised: boolean;
}

export interface CountStep {
  readonly id: string;
  readonly name: string;
  readonly kind: 'step' | 'order' | 'gate';
  /** Steps of one part stand in the order of its route: what is scrapped at one must pass those before it again. */
  readonly part: string | null;
  /** Units of that part that nobody has looked at since a change; left out where there are none. */
  readonly unchecked?: number;
  readonly unit: string;
  readonly sets: readonly CountSet[];
  readonly lotSize: number;
  readonly handsMinutesPerUnit: number | null;
  readonly runMinutesPerLot: number | null;
  /** Minutes that a lot waits in the middle of its work, where no machine runs. */
  readonly waitMinutes: number | null;
  readonly machine: string | null;
  readonly machineName: string | null;
  /** Whether other steps say how many units can be worked on: else all that is left can be. */
  readonly fed: boolean;
  /** Units that can be worked on now; null when that cannot be said. */
  readonly readyNow: number | null;
  /** The name of the step that holds this one up. */
  readonly waitsFor: string | null;
  readonly underWay: readonly CountLoad[];
  /** Units that are still to be ordered, in whole packs. */
  readonly toOrder: number;
  /** Why that is more than what is left; null where it is not. */
  readonly packs: string | null;
  /** Steps that take this step's units, with how many one of theirs needs; only those that are counted by units. */
  readonly feeds: readonly { readonly step: string; readonly ratio: number }[];
  /** What one unit has in it: units of other steps. */
  readonly parts: readonly { readonly step: string; readonly name: string; readonly units: number }[];
  /** Of a gate: the steps whose units a failure sends back, with the usual number. */
  readonly sendsBack: readonly { readonly step: string; readonly name: string; readonly units: number }[];
}

/** An entry of the signed-in person's own that the server holds, or somebody else's undo of one. */
export interface OwnEntry {
  readonly id: string;
  readonly kind: EntryKind;
  readonly at: string;
  readonly step: string | null;
  readonly set: number | null;
  readonly n: number | null;
  readonly counted: boolean | null;
  readonly until: string | null;
  readonly undoes: string | null;
  /** Who made it, where that was somebody else. */
  readonly by: string | null;
  readonly seq: number;
}

/** Something asked about an entry that was kept all the same; the answer is an entry `confirmed`, or an undo. */
export interface CountDoubt {
  readonly entry: string;
  /** The other entry that the question is about. */
  readonly other: string | null;
  readonly kind: EntryKind;
  readonly step: string | null;
  readonly set: number | null;
  readonly n: number | null;
  readonly question: string;
  /** What may be taken back by whoever is asked; `whose` is null where it is their own. */
  readonly takeBack: { readonly id: string; readonly whose: string | null } | null;
}

/** All the Count page shows, as of entry `logSeq` of the log. */
export interface CountState {
  readonly build: string;
  /** Zone in which the build's clock is read. */
  readonly zone: string;
  readonly revision: number;
  readonly logSeq: number;
  readonly who: string;
  readonly setName: string;
  readonly people: readonly { readonly id: string; readonly name: string }[];
  readonly machines: readonly { readonly id: string; readonly name: string; readonly count: number }[];
  readonly steps: readonly CountStep[];
  readonly mine: readonly OwnEntry[];
  /** What is asked of this person and has not been answered. */
  readonly doubts: readonly CountDoubt[];
}
