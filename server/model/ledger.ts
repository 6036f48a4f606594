/** The ledger of room: what gained or cost room between two forecasts, in parts that add up, and why. */
import type { LogEntry } from './log-entry.ts';

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
   * An edit's number, or the sentence that was kept of it before edits were facts; else the step, or the person
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

/** A thing by its id, with what it was called then: that is shown once the thing is gone. */
export interface CalledThen {
  readonly id: string;
  readonly name: string;
}

/** Why a row of the ledger is there: a fact, put into words where it is shown. */
export type TurnFact =
  /** Edit number `edit`; what it changed is kept with it. */
  | { readonly code: 'edit'; readonly edit: number }
  /** What was logged of one kind about the same things: `n` units, or entries of a kind that has none. */
  | {
      readonly code: 'logged';
      readonly kind: LogEntry['kind'];
      readonly n: number;
      readonly step?: CalledThen;
      /** For lost time: the person or machine that it was lost of. */
      readonly of?: CalledThen;
    }
  /** The first row of a past that was worked out afterwards. */
  | { readonly code: 'nothing-counted' }
  /** This many facts more. */
  | { readonly code: 'more'; readonly n: number }
  /** From before causes were facts: what was kept of one. */
  | { readonly code: 'said'; readonly text: string };

/** In their order; none where only time went by. */
export type TurnCause = readonly TurnFact[];

/**
 * What a line says that was kept as the cause of a row before causes were facts. Whatever is not known stays the text
 * it is.
 *
 * @example causeOfLine('edit 2; glued') // [{ code: 'edit', edit: 2 }, { code: 'said', text: 'glued' }]
 */
export function causeOfLine(line: string): TurnCause {
  if (line === 'time went by') return [];
  if (line === 'nothing counted yet') return [{ code: 'nothing-counted' }];
  return line.split('; ').map((text): TurnFact => {
    const [, edit, more] = /^(?:edit (\d+)|and (\d+) more)$/.exec(text) ?? [];
    if (edit !== undefined) return { code: 'edit', edit: Number(edit) };
    return more === undefined ? { code: 'said', text } : { code: 'more', n: Number(more) };
  });
}
