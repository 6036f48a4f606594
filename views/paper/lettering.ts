/** Which letters the served lettering has, and which only the fonts of the machine. */

const LETTER = /\p{L}|\p{Emoji_Presentation}/gu;
const LETTERED = /[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}]/u;
/** Signs such as ª that are letters and of no script in particular are in the lettering. */
const OF_ANY_SCRIPT = /[\p{Script=Common}\p{Script=Inherited}]/u;
const EMOJI = /\p{Emoji_Presentation}/u;
/** Kinds of writing; one letter stands for all of its kind, and what belongs to none stands for itself. */
const KINDS: readonly RegExp[] = [
  EMOJI,
  /\p{Script=Hebrew}/u,
  /\p{Script=Arabic}/u,
  /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}]/u,
  /\p{Script=Hangul}/u,
  /\p{Script=Devanagari}/u,
  /\p{Script=Thai}/u,
];

/**
 * A letter of each kind of writing in a text for which no lettering is served, emoji among them, `most` at most; a few
 * rare letters of Latin and Greek are not in it either and are not found here. O(length).
 *
 *     unletteredIn('Größe \u6728\u677f', 3) // ['\u6728']
 */
export function unletteredIn(text: string, most: number): string[] {
  const found = new Map<string, string>();
  for (const letter of new Set(text.match(LETTER))) {
    if (found.size === most) break;
    if (!EMOJI.test(letter) && (LETTERED.test(letter) || OF_ANY_SCRIPT.test(letter))) continue;
    const kind = KINDS.findIndex((one) => one.test(letter));
    const of = kind < 0 ? letter : String(kind);
    if (!found.has(of)) found.set(of, letter);
  }
  return [...found.values()];
}
