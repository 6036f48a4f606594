/** One clause of a line: what it says beside its words (how many times, with whom, on what), and the time in it. */
import type { Estimate } from '../../common.ts';
import { machineNamed } from './machines.ts';
import { type Length, readCount, readEstimate, readLength, readNumber } from './measures.ts';

/** A clause taken apart. */
export interface Clause {
  readonly text: string;
  /** What is left in front of the time, small letters: `oil`, `joiner`; empty where there is only a time. */
  readonly words: string;
  readonly time: Estimate | null;
  readonly length: Length | null;
  /** How often: coats, or times. */
  readonly times: number;
  readonly people: number | null;
  /** Whoever is named behind `by`. */
  readonly by: string | null;
  /** Units on a plate, a tray, a sheet, or in a lot. */
  readonly lot: number | null;
  /** They lie on a plate or a bed: a machine does it. */
  readonly onPlate: boolean;
  /** The machine named behind `on`. */
  readonly machine: string | null;
  readonly atNight: boolean;
  readonly oneGo: boolean;
  /** What the time is for. */
  readonly per: 'unit' | 'lot' | 'all' | null;
}

const PLATE = '(?:plate|bed)';
const TRAY = '(?:tray|sheet|batch|lot|box|rack|load)';
type Draft = { -readonly [K in keyof Clause]: Clause[K] };
type Reader = readonly [RegExp, (draft: Draft, found: RegExpExecArray) => void];

/** What may stand in any clause, each taken out of it where it is found. */
const ASIDES: readonly Reader[] = [
  [/\b(?:at night|overnight|by night)\b/, (draft) => set(draft, { atNight: true })],
  [/\bin one go\b/, (draft) => set(draft, { oneGo: true })],
  [
    /\bwith (\w+) (?:people|persons|pairs of hands|hands|helpers)\b/,
    (draft, found) => set(draft, { people: readNumber(found[1]!) }),
  ],
  [/\b(?:(?:with|by) (?:two|2)|in pairs)\b(?! \w+)/, (draft) => set(draft, { people: 2 })],
  [/^\s*(\w+) (?:people|persons|helpers)\s*$/, (draft, found) => set(draft, { people: readNumber(found[1]!) })],
  [
    /\b(\w+) (?:coats?(?: of)?|times|x(?= \d))\b/,
    (draft, found) => set(draft, { times: readNumber(found[1]!) ?? Number.NaN }),
  ],
  [/\btwice\b/, (draft) => set(draft, { times: 2 })],
  [
    new RegExp(`\\b(?:on|by|in|for|per)?\\s*(?:an? |the )?${PLATE} of (\\w+)\\b`),
    (draft, found) => plate(draft, found[1]!),
  ],
  [new RegExp(`\\b(\\w+) (?:on|to|per|a)(?: an?)? ${PLATE}\\b`), (draft, found) => plate(draft, found[1]!)],
  [
    new RegExp(`\\b(?:on|by|in)\\s*(?:an? )?${TRAY}(?:e?s)? of (\\w+)\\b`),
    (draft, found) => set(draft, { lot: readNumber(found[1]!) }),
  ],
  [
    new RegExp(`\\b(\\w+) (?:on|to|per|a|at|in)(?: an?)? (?:time|${TRAY})\\b`),
    (draft, found) => set(draft, { lot: readNumber(found[1]!) }),
  ],
  [new RegExp(`\\b(?:a|an|per|each|for (?:a|each)) (?:${PLATE}|${TRAY})\\b`), (draft) => set(draft, { per: 'lot' })],
  [/\b(?:in all|altogether|for all(?: of them)?|all together)\b/, (draft) => set(draft, { per: 'all' })],
  [/\b(?:each|apiece|a piece|per (?:unit|piece)|for one)\b/, (draft) => set(draft, { per: 'unit' })],
];

/**
 * Takes a clause apart. `machines` are the names of those of the build, so that `on the laser` is known as one.
 *
 * @example readClause('oil 2 coats 3 min each', []).words // 'oil'
 */
export function readClause(text: string, machines: readonly string[]): Clause {
  const draft: Draft = { ...NOTHING, text };
  let rest = onMachine(draft, ` ${text.toLowerCase().replace(/×/g, ' x ')} `, machines);
  for (const [pattern, take] of ASIDES) {
    const found = pattern.exec(rest);
    if (found === null || readsBadly(found)) continue;
    take(draft, found);
    rest = `${rest.slice(0, found.index)} ${rest.slice(found.index + found[0].length)}`;
  }
  rest = byWhom(draft, rest);
  return withTime(draft, rest.trim().replace(/\s+/g, ' '));
}

/** A count at the front of a clause, and the words behind it; null where no count is there. */
export function countInFront(
  text: string,
  parameters: readonly string[],
): { readonly count: number | string; readonly rest: string } | null {
  const words = text.trim().split(/\s+/);
  if (/^\d[\d.,]*\s*(?:h|hours?|min|minutes?|d|days?|w|weeks?|s|sec)\b/.test(text.trim())) return null;
  for (let most = Math.min(words.length - 1, 9); most > 0; most--) {
    const count = readCount(words.slice(0, most).join(' ').toLowerCase(), parameters);
    // "90 x strikers" is 90 of them.
    if (count !== null)
      return {
        count,
        rest: words
          .slice(most)
          .join(' ')
          .replace(/^[x×*]\s+/, ''),
      };
  }
  return null;
}

const NOTHING: Clause = {
  text: '',
  words: '',
  time: null,
  length: null,
  times: 1,
  people: null,
  by: null,
  lot: null,
  onPlate: false,
  machine: null,
  atNight: false,
  oneGo: false,
  per: null,
};

/** An aside whose number is none is left among the words, which then say what was not understood. */
function readsBadly(found: RegExpExecArray): boolean {
  return found[1] !== undefined && readNumber(found[1]) === null;
}

function set(draft: Draft, values: Partial<Draft>): void {
  Object.assign(draft, values);
}

function plate(draft: Draft, units: string): void {
  set(draft, { lot: readNumber(units), onPlate: true });
}

function onMachine(draft: Draft, text: string, machines: readonly string[]): string {
  for (const name of [...machines].sort((a, b) => b.length - a.length)) {
    const said = new RegExp(`\\bon (?:the |an? )?${name.toLowerCase().replace(/[^a-z0-9 ]/g, '.')}\\b`).exec(text);
    if (said === null) continue;
    draft.machine = name;
    return `${text.slice(0, said.index)} ${text.slice(said.index + said[0].length)}`;
  }
  const other = machineNamed(text);
  if (other === null) return text;
  draft.machine = other.name;
  return text.replace(other.whole, ' ');
}

/** `by Ana` at the end of a clause, or before its time. */
function byWhom(draft: Draft, text: string): string {
  const said = /\bby ([a-z][\w' -]*?)(?=\s+(?:\d|an? (?:hour|minute|day|week))|\s*$)/.exec(text);
  if (said === null) return text;
  draft.by = said[1]!.trim();
  return text.replace(said[0], ' ');
}

/** The longest end of a clause that is a time, and the words in front of it. */
function withTime(draft: Draft, text: string): Clause {
  const words = text.split(' ');
  for (let from = 0; from < words.length; from++) {
    const end = words.slice(from).join(' ').replace(/^for /, '');
    const time = readEstimate(end);
    if (time !== null) return { ...draft, words: words.slice(0, from).join(' '), time, length: readLength(end) };
  }
  return { ...draft, words: text };
}
