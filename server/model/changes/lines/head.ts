/** The first clause of a line: a number of the design, a count of a part, or a job of its own. */

import type { Parameter } from '../../parameter.ts';
import type { Part } from '../../part.ts';
import { freeId } from '../free-id.ts';
import { countInFront } from './clause.ts';
import { type LineDraft, named } from './draft.ts';
import type { WhyNot } from './facts.ts';
import { readNumber } from './measures.ts';
import { capital } from './name-words.ts';
import { whyNot } from './why-not.ts';

const PARENT =
  /^(.+?)\s+(?:(?:per|for each|for every|for an?|(?:on|in|to|at) (?:each|every)|each|every)|(an?))\s+(.+)$/i;
/** A comma is missing between the part and what is done to it. */
export const TIME_IN_NAME =
  /(?:^|\s)\d+(?:[.,]\d+)?\s*(?:h|hours?|hrs?|min|mins|minutes?|sec|secs|seconds?|days?|weeks?)(?![\p{L}\d])|^(?:h|hours?|min|minutes?|days?|weeks?)$/iu;
/** Words, then a time. */
const TIMED = /^(\D*\p{L}) (\d.*)$/u;
const EACH = /\b(?:each|apiece|a piece|per \p{L}+)|\d in \d|\d at a time\b|\d \p{L}+ an? \p{L}+$/iu;
const ARTICLE = /^(?:(each|every)|all(?: the)?|both|the|our|my|these) (?=\p{L})/iu;
const A_FEW =
  /^(\d+) ?(?:-|–|to|or) ?(\d+) (?!(?:mm|cm|m|kg|g|l|h|hours?|min|minutes?|s|sec|seconds?|days?|weeks?|%)\b)(?=\p{L})(.+)$/iu;
/** Who does it, and the size of timber. */
const NO_PART = /^(?:people|persons|helpers|of us)\b|^by \d/i;
/** Measures; an L bracket and a G clamp are none. */
const MEASURES: readonly (readonly [unit: string, said: RegExp])[] = [
  ['m', /^(?:m|met(?:re|er)s?)\.?(?: of)? (?=\p{L})/iu],
  ['L', /^(?:l(?! (?:bracket|shape|profile|section|angle|plate)|-)|lit(?:re|er)s?)\.?(?: of)? (?=\p{L})/iu],
  ['kg', /^(?:kg|kilos?|kilograms?)(?: of)? (?=\p{L})/iu],
  ['m²', /^(?:m2|m²|sqm|sq\.? ?m|square met(?:re|er)s?)(?: of)? (?=\p{L})/iu],
  ['t', /^(?:tonnes?|tons?) of (?=\p{L})/iu],
  ['g', /^(?:g|grams?) of (?=\p{L})/iu],
  ['ml', /^(?:ml|millilit(?:re|er)s?)(?: of)? (?=\p{L})/iu],
  ['ft', /^(?:ft|feet|foot) of (?=\p{L})/iu],
  ['yd', /^(?:yd|yards?) of (?=\p{L})/iu],
];
/** `1,160` may be a thousand and more, or little more than one. */
const THOUSANDS = /^\d{1,3}[.,]\d{3}(?!\d)/;
const NUMBERS = /^(\S+)\s*(?:-|–|to)\s*(\S+?)(?:\s*,?\s*likely\s+(\S+))?$/i;

/**
 * `boughs = 5`, `motors = 5 to 12, likely 8`, `slats = rails x 32`: a parameter, its name written as people write; null
 * where the line is no such thing.
 *
 * @example readParameter('drums per bough = 18') // { name: 'drums_per_bough', value: 18, origin: 'decided' }
 */
export function readParameter(line: string): Parameter | null {
  const said = /^([A-Za-z][^=<>]*?)\s*=\s*(.+)$/.exec(line.trim());
  if (said === null) return null;
  const name = parameterName(said[1]!);
  const value = readNumber(said[2]!);
  if (value !== null) return { name, value, origin: 'decided' };
  const range = NUMBERS.exec(said[2]!.trim());
  const [low, high] = [readNumber(range?.[1] ?? ''), readNumber(range?.[2] ?? '')];
  if (low === null || high === null) return { name, formula: said[2]!.trim().replace(/\s*(?:×|\bx\b)\s*/g, ' * ') };
  return { name, range: { low, likely: readNumber(range?.[3] ?? '') ?? Math.round((low + high) / 2), high } };
}

/**
 * Takes `160 slats`, `18 drums per bough`, `a frame`, `25 m of cable` or `20 to 30 hooks` into the draft; false where
 * the clause begins with no count.
 */
export function takePart(draft: LineDraft, typed: string): boolean {
  const clause = takeRange(
    draft,
    /\d/.test(typed) ? typed : typed.replace(/^an? (?!(?:few|lot|bunch|number|bit|couple|load)\b)(?=\p{L})/iu, '1 '),
  );
  const names = [...(draft.build.parameters ?? []), ...draft.parameters].map(({ name }) => name);
  const front = countInFront(clause, names);
  if (front === null || !/^[\p{L}"“']/u.test(front.rest) || NO_PART.test(front.rest)) return false;
  const { unit, rest } = measured(front.rest);
  draft.why = whyNoPart(clause, rest);
  if (draft.why !== null) return false;
  const { name, parent } = parentIn(draft, rest);
  if (parent === undefined) draft.why = 'part-in-part';
  if (parent === undefined) return false;
  const known = named(draft.build.parts, name);
  if (known !== null && known.id === parent?.id) return false;
  const taken = new Set((draft.build.parts ?? []).map(({ id }) => id));
  const amount: Partial<Part> =
    parent === null
      ? { count: front.count }
      : { usedIn: [...otherUses(known, parent.id), { part: parent.id, count: front.count }] };
  const fields = unit === null ? amount : { ...amount, unit };
  draft.part = {
    id: known?.id ?? freeId(name, taken)!,
    name: known?.name ?? capital(name),
    isNew: known === null,
    fields,
  };
  const parentName = parent?.name ?? null;
  draft.facts.push({ code: 'part', part: draft.part.name, count: front.count, unit, parent: parentName });
  return true;
}

function whyNoPart(clause: string, name: string): WhyNot | null {
  if (TIME_IN_NAME.test(name)) return 'no-comma';
  if (THOUSANDS.test(clause)) return 'thousands';
  const why = whyNot(name);
  return why === 'spares-within' || (why === 'part-in-part' && !PARENT.test(name)) ? why : null;
}

/** `20 to 30 hooks`: their number is one of the design, and not sure yet. */
function takeRange(draft: LineDraft, clause: string): string {
  const said = A_FEW.exec(clause);
  if (said === null) return clause;
  const [low, high] = [Number(said[1]), Number(said[2])];
  const likely = Math.round((low + high) / 2);
  const name = parameterName(said[3]!);
  draft.parameters.push({ name, range: { low, likely, high } });
  draft.facts.push({ code: 'parameter', name, value: `${low} / ${likely} / ${high}` });
  draft.assumed.push({ code: 'likely-middle', what: name });
  return `${name} ${said[3]}`;
}

function measured(words: string): { unit: string | null; rest: string } {
  const found = MEASURES.find(([, said]) => said.test(words));
  return found === undefined ? { unit: null, rest: words } : { unit: found[0], rest: words.replace(found[1], '') };
}

/**
 * Takes `hang slats 4 min each`, `hang each slat 4 min` for work on the slats of the build: words that end in the name
 * of a part, and a time for each. Answers what is said of them, nothing for the name alone (`slats`, `the slats`); null
 * where the clause is no such thing. O(words x parts).
 */
export function takeWorkOn(draft: LineDraft, clause: string): string | null {
  const alone = named(draft.build.parts, clause.replace(ARTICLE, ''));
  if (alone !== null) return about(draft, alone, '');
  const said = TIMED.exec(clause);
  const words = said === null ? [] : said[1]!.split(' ');
  for (let at = 1; at < words.length; at++) {
    const tail = words.slice(at).join(' ');
    const article = ARTICLE.exec(tail);
    const part = named(draft.build.parts, tail.replace(ARTICLE, ''));
    if (part === null) continue;
    const isEach = article?.[1] !== undefined;
    if (!isEach && !EACH.test(said![2]!)) return null;
    const each = isEach && !/\b(?:each|apiece)\b/i.test(said![2]!) ? ' each' : '';
    return about(draft, part, `${words.slice(0, at).join(' ')} ${said![2]}${each}`);
  }
  return null;
}

function about(draft: LineDraft, { id, name }: Part, work: string): string {
  draft.part = { id, name, isNew: false, fields: {} };
  return work;
}

/** The part that it goes into; undefined where one is named that the build has not. */
function parentIn(draft: LineDraft, words: string): { name: string; parent: Part | null | undefined } {
  const said = PARENT.exec(words);
  if (said === null) return { name: words, parent: null };
  const parent = named(draft.build.parts, said[3]!);
  if (parent !== null) return { name: said[1]!, parent };
  return said[2] === undefined ? { name: words, parent: undefined } : { name: words, parent: null };
}

/** A name as formulas take it. */
function parameterName(words: string): string {
  return words
    .trim()
    .normalize('NFD')
    .replace(/[^A-Za-z0-9]+/g, '_')
    .replace(/^(?=\d)|^_+|_+$/g, '')
    .slice(0, 60);
}

function otherUses(known: Part | null, parent: string): NonNullable<Part['usedIn']> {
  return (known?.usedIn ?? []).filter(({ part }) => part !== parent);
}
