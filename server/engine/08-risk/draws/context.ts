/** What every kind of draw is made from. */
import type { Remaining } from '../../stages/index.ts';
import type { HandsPhase, Minutes, RunPhase } from '../../types.ts';

/** A planned build with its compiled columns: where the phases of a lot begin, and which table of arrivals each has. */
export interface Context {
  readonly planned: Remaining;
  readonly phaseFirst: Int32Array;
  readonly phaseTable: Int32Array;
  /** The most minutes that fit in one go before the lot is due; see `sittingsOf`. */
  readonly longest: (lot: number, phase: HandsPhase | RunPhase) => Minutes;
}
