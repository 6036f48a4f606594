/** The first clause of a line: a number of the design, a count of a part, or a job of its own. */

import type { Parameter } from '../../parameter.ts';
import type { Part } from '../../part.ts';
import { freeId } from '../free-id.ts';
import { countInFront } from './clause.ts';
import { capital, type LineDraft, named } from './draft.ts';
import { readNumber } from './measures.ts';

const PARENT =
  /^(.+?)\s+(?:(?:per|for each|for every|for an?|(?:on|in|to|at) (?:each|every)|each|every)|(an?))\s+(.+)$/i;
/** A comma is missing between the part and what is done to it. */
export const TIME_IN_NAME =
  /(?:^|\s)\d+(?:[.,]\d+)?\s*(?:h|hours?|hrs?|min|mins|minutes?|sec|secs|seconds?|days?|weeks?)(?![\p{L}\d])|^(?:h|hours?|min|minutes?|days?|weeks?)$/iu;
/** Words, then a time for each. */
const EACH = /^(\D*\p{L}) (\d.*(?:\beach|\bapiece|\d in \d.*))$/iu;
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
  const name = said[1]!
    .trim()
    .replace(/[^A-Za-z0-9]+/g, '_')
    .slice(0, 60);
  const value = readNumber(said[2]!);
  if (value !== null) return { name, value, origin: 'decided' };
  const range = NUMBERS.exec(said[2]!.trim());
  const [low, high] = [readNumber(range?.[1] ?? ''), readNumber(range?.[2] ?? '')];
  if (low === null || high === null) return { name, formula: said[2]!.trim().replace(/\s*(?:×|\bx\b)\s*/g, ' * ') };
  return { name, range: { low, likely: readNumber(range?.[3] ?? '') ?? Math.round((low + high) / 2), high } };
}

/** Takes `160 slats` or `18 drums per bough` into the draft; false where the clause begins with no count. */
export function takePart(draft: LineDraft, clause: string): boolean {
  const front = countInFront(
    clause,
    (draft.build.parameters ?? []).map(({ name }) => name),
  );
  if (front === null || !/^[\p{L}"“']/u.test(front.rest)) return false;
  draft.why = TIME_IN_NAME.test(front.rest) ? 'no-comma' : THOUSANDS.test(clause) ? 'thousands' : null;
  if (draft.why !== null) return false;
  const { name, parent } = parentIn(draft, front.rest);
  if (parent === undefined) return false;
  const known = named(draft.build.parts, name);
  if (known !== null && known.id === parent?.id) return false;
  const taken = new Set((draft.build.parts ?? []).map(({ id }) => id));
  const fields: Partial<Part> =
    parent === null
      ? { count: front.count }
      : { usedIn: [...otherUses(known, parent.id), { part: parent.id, count: front.count }] };
  draft.part = {
    id: known?.id ?? freeId(name, taken)!,
    name: known?.name ?? capital(name),
    isNew: known === null,
    fields,
  };
  draft.facts.push({ code: 'part', part: draft.part.name, count: front.count, parent: parent?.name ?? null });
  return true;
}

/**
 * Takes `hang slats 4 min each` for work on the slats of the build: a clause that ends in the name of a part and a time
 * for each. Answers what is said of them; null where the clause is no such thing.
 *
 * @example takeWorkOn(draft, 'hang slats 4 min each') // 'hang 4 min each'
 */
export function takeWorkOn(draft: LineDraft, clause: string): string | null {
  const said = EACH.exec(clause);
  if (said === null) return null;
  const words = said[1]!.split(' ');
  for (let at = 1; at < words.length; at++) {
    const part = named(draft.build.parts, words.slice(at).join(' '));
    if (part === null) continue;
    draft.part = { id: part.id, name: part.name, isNew: false, fields: {} };
    return `${words.slice(0, at).join(' ')} ${said[2]}`;
  }
  return null;
}

/** The part that it goes into; undefined where one is named that the build has not. */
function parentIn(draft: LineDraft, words: string): { name: string; parent: Part | null | undefined } {
  const said = PARENT.exec(words);
  if (said === null) return { name: words, parent: null };
  const parent = named(draft.build.parts, said[3]!);
  if (parent !== null) return { name: said[1]!, parent };
  return said[2] === undefined ? { name: words, parent: undefined } : { name: words, parent: null };
}

function otherUses(known: Part | null, parent: string): NonNullable<Part['usedIn']> {
  return (known?.usedIn ?? []).filter(({ part }) => part !== parent);
}
