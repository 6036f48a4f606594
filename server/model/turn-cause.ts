/** Why a row of the ledger of room is there: facts, put into words where they are shown. */
import type { LogEntry } from './log-entry.ts';

/** A thing by its id, with what it was called then: that is shown once the thing is gone. */
export interface CalledThen {
  readonly id: string;
  readonly name: string;
}

export type TurnFact =
  /** Edit number `edit`; what it changed is kept with it. */
  | { readonly code: 'edit'; readonly edit: number }
  /** What was logged of one kind about the same things: `n` units, or entries of a kind that has none. */
  | {
      readonly code: 'logged';
      readonly kind: LogEntry['kind'];
      readonly n: number;
      readonly step?: CalledThen;
      /** Of lost time: the person or machine that it was lost of. */
      readonly of?: CalledThen;
    }
  /** The first row of a past that was worked out afterwards. */
  | { readonly code: 'nothing-counted' }
  /** So many facts more. */
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
