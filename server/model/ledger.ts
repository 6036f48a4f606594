/** The ledger of room: what gained or cost room between two forecasts, in parts that add up. */

/** In the order in which the parts are taken off (see the engine's `attributeRoom`). */
const LEDGER_KINDS = [
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
  /**
   * Of an edit its number, or the sentence that was kept of it before edits were facts; else the step, or the person
   * whose time was lost. Null: several of them, everybody, or nothing in particular.
   */
  readonly subject: string | null;
  /** Who made the edit; null for what is no edit. */
  readonly who: string | null;
  /** Clock minutes of room to the ready-by: gained, or lost where negative. */
  readonly minutes: number;
}

/** All parts of one kind over a span, with what they were about, the largest first. */
export interface LedgerSum {
  readonly kind: LedgerKind;
  readonly minutes: number;
  readonly subjects: readonly Omit<LedgerPart, 'kind'>[];
}

/** What became of the room since an instant. */
export interface RoomSince {
  /** When the forecast was made that stood then, or the first of all. */
  readonly at: number;
  /** null where there was no date. */
  readonly roomThen: number | null;
  readonly roomNow: number | null;
  /** The largest first; with `untold` they add up to the change. */
  readonly sums: readonly LedgerSum[];
  /** Minutes of changes that are not told apart (yet). */
  readonly untold: number;
}
