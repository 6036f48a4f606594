/**
 * What the phone and the server say to each other. Instants are ISO texts in UTC with milliseconds; lengths are
 * minutes.
 */

import type { LogKind } from '../../../server/model/log/index.ts';

export type {
  CountDoubt,
  CountLoad,
  CountSet,
  CountState,
  CountStep,
  OwnEntry,
  SendingAnswer,
  WireReceipt,
} from '../../../server/model/answers/count-shapes.ts';

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
  /** For `packed`. */
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
