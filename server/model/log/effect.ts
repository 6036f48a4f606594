/** What one entry does to the counts of its step. */
import type { LogKind } from './kinds.ts';

/** As much of an entry as says what it counts. */
export interface Counting {
  readonly kind: LogKind;
  readonly n?: number | null | undefined;
  readonly counted?: boolean | null | undefined;
}

/** Changes in units; each is 0 where an entry says nothing of it. */
interface Effect {
  /** Good units of the step. */
  readonly good: number;
  /** Units lost at the step: they no longer count at the earlier steps of their route, and are made again. */
  readonly scrapped: number;
  /** Units set going: in a machine, in a wait, with a supplier. */
  readonly begun: number;
  /** Units that came back from there, the oldest first. */
  readonly back: number;
  /** What a gate has come to; null where the entry says nothing of one. */
  readonly gate: 'passed' | 'failed' | null;
}

const NOTHING: Effect = { good: 0, scrapped: 0, begun: 0, back: 0, gate: null };

/**
 * What an entry does to the counts of the step that it names. What was scrapped after it had been counted is no longer
 * good; what was scrapped before came out of a machine, if one was loaded.
 *
 * @example effectOf({ kind: 'scrapped', n: 2, counted: true }) // { good: -2, scrapped: 2, begun: 0, back: 0, gate:
 * null }
 */
export function effectOf({ kind, n, counted }: Counting): Effect {
  const units = n ?? 1;
  switch (kind) {
    case 'done':
    case 'received':
      return { ...NOTHING, good: units, back: units };
    case 'scrapped':
      return counted === true
        ? { ...NOTHING, good: -units, scrapped: units }
        : { ...NOTHING, scrapped: units, back: units };
    case 'sent-back':
      return { ...NOTHING, good: -units };
    case 'loaded':
    case 'ordered':
      return { ...NOTHING, begun: units };
    case 'passed':
      return { ...NOTHING, good: units, gate: 'passed' };
    case 'failed':
      return { ...NOTHING, gate: 'failed' };
    default:
      return NOTHING;
  }
}

/** Units that somebody's hands worked on in the time before the entry: good ones, and those that failed under way. */
export function unitsWorked(entry: Counting): number {
  const { good, scrapped } = effectOf(entry);
  return entry.kind === 'done' || entry.kind === 'scrapped' ? good + scrapped : 0;
}
