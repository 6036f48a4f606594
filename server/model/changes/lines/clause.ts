/** One clause of a line: what it says beside its words (how many times, with whom, on what), and the time in it. */
import type { Estimate } from '../../common.ts';
import { machineNamed } from './machine-names.ts';
import { type Length, readCount, readEstimate, readLength, readNumber } from './measures.ts';
import { exactly, oneOrMany } from './name-words.ts';
import { isWork } from './work-words.ts';

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
  /** The lot is done at one time: a time without a word is for all of it. */
  readonly isTogether: boolean;
  /** They lie on a plate or a bed: a machine does it. */
  readonly onPlate: boolean;
  /** The machine named behind `on`. */
  readonly machine: string | null;
  readonly atNight: boolean;
  readonly oneGo: boolean;
  /** At the place of the event. */
  readonly onSite: boolean;
  /** The time is between two coats. */
  readonly between: boolean;
  /** What the time is for. */
  readonly per: 'unit' | 'lot' | 'all' | null;
}

/** What a clause may name: machines and people of the build, the part that the line is about, and its unit. */
interface ClauseNames {
  readonly machines: readonly string[];
  readonly people: readonly string[];
  readonly part: string | null;
  readonly unit: string | null;
  /** Whether the build has an hour from which it may get in. */
  readonly hasSite: boolean;
}

const PLATE = '(?:plate|bed)';
const TRAY = '(?:tray|sheet|batch|lot|box|rack|load)';
type Draft = { -readonly [K in keyof Clause]: Clause[K] };
const PEOPLE = [
  /people|persons|pairs of hands|hands|helpers|of us|riggers|volunteers|friends|carpenters|joiners|electricians/,
  /stagehands|crew|students|technicians|techs|workers|painters|welders|makers|assistants|colleagues|men|women/,
]
  .map(({ source }) => source)
  .join('|');
const PLACE = '(?:venue|site|place|museum|theatre|theater|gallery|library|hall|church|fair)';
type Reader = readonly [RegExp, (draft: Draft, found: RegExpExecArray) => void];

/** What may stand in any clause, each taken out of it where it is found. */
const ASIDES: readonly Reader[] = [
  [/\bat \d+ ?(?:°\s?[cf]?|(?:degrees?|deg)(?: ?(?:c|f|celsius))?|[cf])(?=\s|$)/, () => undefined],
  [/\b(?:at night|overnight|by night)\b/, (draft) => set(draft, { atNight: true })],
  [/\bin one go\b/, (draft) => set(draft, { oneGo: true })],
  [
    new RegExp(`\\b(?:with|needs?|takes?|by) (\\w+) (?:${PEOPLE})\\b`),
    (draft, found) => set(draft, { people: readNumber(found[1]!) }),
  ],
  [/\bboth of us\b/, (draft) => set(draft, { people: 2 })],
  [/\b(?:(?:with|by) (?:two|2)|in pairs)\b(?! \w+)/, (draft) => set(draft, { people: 2 })],
  [new RegExp(`^\\s*(\\w+) (?:${PEOPLE})\\s*$`), (draft, found) => set(draft, { people: readNumber(found[1]!) })],
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
    (draft, found) => set(draft, { lot: readNumber(found[1]!), isTogether: true }),
  ],
  [new RegExp(`\\b(?:a|an|per|each|for (?:a|each)) (?:${PLATE}|${TRAY})\\b`), (draft) => set(draft, { per: 'lot' })],
  [
    /\b(?:in all|altogether|all told|all together|all in(?= \d)|(?:in )?total|for (?:all|everything|the (?:whole )?lot)(?: \d+| of them)?)\b/,
    (draft) => set(draft, { per: 'all' }),
  ],
  [
    /\b(?:each|apiece|a piece|per (?:unit|piece|one)|for one|(?:a|per|each|every) coat)\b/,
    (draft) => set(draft, { per: 'unit' }),
  ],
  [/\bbetween(?: the| each)?(?: coats?| layers?)?\s*$/, (draft) => set(draft, { between: true })],
];
const ON_SITE = new RegExp(`\\b(?:on[ -]?site|(?:at|in) the ${PLACE})\\b`);

/** Takes a clause apart: `oil 2 coats 3 min each` oils, two times, for three minutes each. O(names + asides). */
export function readClause(text: string, names: ClauseNames): Clause {
  const draft: Draft = { ...NOTHING, text };
  let rest = onMachine(draft, ` ${lotOnMachine(draft, text).toLowerCase().replace(/×/g, ' x ')} `, names.machines);
  rest = eachOne(draft, names.hasSite ? onSite(draft, rest) : rest, names);
  for (const [pattern, take] of ASIDES) {
    const found = pattern.exec(rest);
    if (found === null || readsBadly(found)) continue;
    take(draft, found);
    rest = `${rest.slice(0, found.index)} ${rest.slice(found.index + found[0].length)}`;
  }
  rest = byWhom(draft, rest, names.people);
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
  isTogether: false,
  onPlate: false,
  machine: null,
  atNight: false,
  oneGo: false,
  onSite: false,
  between: false,
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

/** `fire 12 to the kiln`: the kiln is the machine, and twelve its lot. */
function lotOnMachine(draft: Draft, text: string): string {
  const said =
    /\b(\d+) (?:to|in|per|on) (?=(?:the|an?) (?:kiln|oven|printer|laser|mill|router|furnace|vac former)\b)/i.exec(text);
  if (said === null) return text;
  draft.lot = Number(said[1]);
  return text.replace(said[0], 'in ');
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

function onSite(draft: Draft, text: string): string {
  if (!ON_SITE.test(text)) return text;
  draft.onSite = true;
  return text.replace(ON_SITE, ' ');
}

/** `per slat`, `a slat`, `for each slat` of a line about slats; `per metre` of what is measured by the metre. */
function eachOne(draft: Draft, text: string, { part, unit }: ClauseNames): string {
  const last = part?.split(/\s+/).at(-1) ?? null;
  for (const name of [part, last, ...unitWords(unit)]) {
    if (name === null) continue;
    const said = new RegExp(
      `\\b(?:per|an?|each|every|for (?:an?|each|every)) ${oneOrMany(name)}(?![\\p{L}\\d])`,
      'u',
    ).exec(text);
    if (said === null) continue;
    draft.per = 'unit';
    return `${text.slice(0, said.index)} ${text.slice(said.index + said[0].length)}`;
  }
  return text;
}

function unitWords(unit: string | null): readonly string[] {
  if (unit === null) return [];
  const long: Readonly<Record<string, readonly string[]>> = {
    m: ['metre', 'meter'],
    l: ['litre', 'liter'],
    kg: ['kilo'],
  };
  return [unit, ...(long[unit.toLowerCase()] ?? [])];
}

/** `by Ana` at the end of a clause, or before its time; `with Ana` of somebody who helps. */
function byWhom(draft: Draft, text: string, people: readonly string[]): string {
  const known = people.map((name) => new RegExp(`\\b(?:by|with) ${exactly(name)}(?![\\p{L}\\d])`, 'u'));
  for (const [at, pattern] of known.entries()) {
    if (!pattern.test(text)) continue;
    draft.by = people[at]!;
    return text.replace(pattern, ' ');
  }
  const said = /\bby ([a-z][\w' -]*?)(?=\s+(?:\d|an? (?:hour|minute|day|week))|\s*$)/.exec(text);
  if (said === null) return text;
  draft.by = said[1]!.trim();
  return text.replace(said[0], ' ');
}

/** The longest end of a clause that is a time, and the words in front of it; or the other way round. */
function withTime(draft: Draft, text: string): Clause {
  const words = text.split(' ');
  for (let from = 0; from < words.length; from++) {
    const end = words.slice(from).join(' ').replace(/^for /, '');
    const time = readEstimate(end);
    if (time !== null) return { ...draft, words: words.slice(0, from).join(' '), time, length: readLength(end) };
  }
  return timeInFront(draft, text.replace(/^(?:(?:it )?(?:needs?|takes?)|allow|about) (?=\d)/, '').split(' '));
}

/** `3 min sanding`, `6 h to dry`: only words of work, or it were not clear what the time is for. */
function timeInFront(draft: Draft, words: readonly string[]): Clause {
  for (let to = words.length - 1; to > 0; to--) {
    const [front, behind] = [words.slice(0, to).join(' '), words.slice(to).join(' ')];
    const time = readEstimate(front);
    const work = behind.replace(/^(?:to|of|for) /, '').replace(/ time$/, '');
    if (time !== null && front !== '3d' && isWork(work))
      return { ...draft, words: work, time, length: readLength(front) };
  }
  return { ...draft, words: words.join(' ') };
}
