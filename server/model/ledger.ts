/** The ledger of room: what gained or cost room between two forecasts, in parts that add up. */

/** In the order in which the parts are taken off (see the engine's `attributeRoom`). */
export const LEDGER_KINDS = [
  'edit', // the plan was changed
  'lost', // hours that were lost
  'supplier', // a date promised, late or early
  'pace', // a step goes slower or faster than was known before
  'counted', // units made, at the pace that is known
  'scrap', // units to make again: scrapped, failed, sent back
  'time', // time that went by
  'order', // another order of work
] as const;
export type LedgerKind = (typeof LEDGER_KINDS)[number];

export interface LedgerPart {
  readonly kind: LedgerKind;
  /** What was edited, the step, or the person whose time was lost; null: several of them, everybody, or nothing in particular. */
  readonly subject: string | null;
  /** Who made the edit; null for what is no edit. */
  readonly who: string | null;
  /** Clock minutes of room to the ready-by: gained, or lost where negative. */
  readonly minutes: number;
}
