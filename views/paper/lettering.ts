/** Which letters the served lettering has, and which only the fonts of the machine. */

const LETTER = /\p{L}|\p{Emoji_Presentation}/gu;
const LETTERED = /[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}]/u;
/** Signs such as ª that are letters and of no script in particular are in the lettering. */
const OF_ANY_SCRIPT = /[\p{Script=Common}\p{Script=Inherited}]/u;
const EMOJI = /\p{Emoji_Presentation}/u;

/**
 * The first `most` different letters and emoji of a text for which no lettering is served; a few rare letters of Latin
 * and Greek are not in it either and are not found here. O(length).
 *
 *     unletteredIn('Größe \u6728\u6728', 3) // ['\u6728']
 */
export function unletteredIn(text: string, most: number): string[] {
  const found = new Set<string>();
  for (const [letter] of text.matchAll(LETTER)) {
    if (found.size === most) break;
    if (EMOJI.test(letter) || !(LETTERED.test(letter) || OF_ANY_SCRIPT.test(letter))) found.add(letter);
  }
  return [...found];
}
