/**
 * What is to be ordered, decided or finished by an hour of its own.
 * Instants in minutes since the epoch, lengths in minutes.
 */
import type { Origin } from '../common.ts';

/** Which day a supplier does not have any more before the event, and when the next such day begins. */
interface NoSupplierDay {
  readonly kind: 'working' | 'delivery';
  readonly next: number;
}

export interface ForecastOrder {
  readonly step: string;
  readonly part: string | null;
  readonly name: string;
  readonly supplier: string;
  readonly units: number;
  /** What is measured: `units` are packs of so much of its unit. Left out of what is counted in pieces. */
  readonly measure?: { readonly unit: string; readonly pack: number };
  /** Last moment to order so that nothing slips, cut-off counted. */
  readonly orderBy: number;
  readonly arrives: number;
  readonly neededBy: number;
  /** For what is late: until when an order still comes as early as one placed now. */
  readonly soonest?: number;
  /**
   * For what is still to be ordered: the supplier has no working day left before the event, or none on which they
   * deliver; `next`: when the next one begins. Left out where they have.
   */
  readonly noDay?: NoSupplierDay;
  readonly state: 'to-order' | 'ordered' | 'received' | 'late';
  readonly kind: 'buy' | 'send-out';
  /** Units more than these if every parameter that is not known yet came out so; left out where it sets none. */
  readonly forHigh?: { readonly more: number; readonly cost: number | null };
  /**
   * Working days as given; as the supplier's deliveries so far took on average, by their ratios to those given; and as
   * planned with. Left out before the first.
   */
  readonly lead?: {
    readonly given: number;
    readonly taken: number;
    readonly planned: number;
    readonly deliveries: number;
    readonly origin: Origin;
  };
}

export interface ForecastDecision {
  readonly id: string;
  readonly question: string;
  /** The parameter whose value is the answer, which a trial settles; left out of a question that somebody typed. */
  readonly settles?: string;
  readonly decideBy: number | null;
  readonly decided: string | null;
  readonly waits: readonly string[];
  /** For an open one whose answers carry changes: until when each is still possible; null: no longer, or not given. */
  readonly answers?: readonly { readonly name: string; readonly by: number | null }[];
}

/** What is wanted before the rest: a part, or a step, with a due instant of its own. */
export interface ForecastDue {
  readonly list: 'parts' | 'steps';
  readonly id: string;
  readonly name: string;
  readonly at: number;
  /** Units left for the piece at its last step. */
  readonly left: number;
  /** When the last of them is finished as planned, or was; null where they could not all be placed. */
  readonly finish: number | null;
  /** Room to it, in clock and in working minutes; negative: late. Null where `finish` is. */
  readonly clock: number | null;
  readonly working: number | null;
}
