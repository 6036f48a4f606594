/** The little grammar that sentences are made with: number and lists. */
import { worded } from '../../server/model/texts/language.ts';

export const grammarTexts = worded({
  and: (names: string, last: string) => `${names} and ${last}`,
  more: (n: number) => `${n} more`,
  or: (names: string, last: string) => `${names} or ${last}`,
  allHands: 'all hands',
  /** How a name that begins with a capital reads within a sentence. */
  within: (name: string) => `${name.slice(0, 1).toLowerCase()}${name.slice(1)}`,
});

/**
 * The form of a word that goes with a number.
 *
 *     byNumber(1, 'is', 'are') // 'is'
 */
export function byNumber(n: number, one: string, many: string): string {
  return n === 1 ? one : many;
}

/**
 * `1 step is`, `3 steps are`.
 *
 *     some(3, 'step is', 'steps are') // '3 steps are'
 */
export function some(n: number, one: string, many: string): string {
  return `${n} ${byNumber(n, one, many)}`;
}

/**
 * The same where the number is a figure already.
 *
 *     someOf('1', 'load', 'loads') // '1 load'
 *     someOf('0.5', 'load', 'loads') // '0.5 loads'
 */
export function someOf(figure: string, one: string, many: string): string {
  return `${figure} ${figure === '1' ? one : many}`;
}

const MOST_NAMED = 3;

/**
 * Names in a row, the last behind `and`; of many the first few and how many more there are. `all`: how many they are,
 * where `names` are only the first.
 *
 *     listOf(['a', 'b']) // 'a and b'
 *     listOf(['a', 'b', 'c', 'd', 'e']) // 'a, b, c and 2 more'
 */
export function listOf(names: readonly string[], most = MOST_NAMED, all = names.length): string {
  const shown = all > most + 1 ? [...names.slice(0, most), grammarTexts.more(all - most)] : [...names];
  const last = shown.pop();
  if (last === undefined) return '';
  return shown.length === 0 ? last : grammarTexts.and(shown.join(', '), last);
}
