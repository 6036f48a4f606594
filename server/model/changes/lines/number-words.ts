/** Numbers said as words, as a telephone writes them that is spoken to: `a hundred and sixty`, `forty-five`. */

const SMALL = [
  'zero',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
  'thirteen',
  'fourteen',
  'fifteen',
  'sixteen',
  'seventeen',
  'eighteen',
  'nineteen',
];
const TENS = ['twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];
const LARGE: Readonly<Record<string, number>> = { dozen: 12, hundred: 100, thousand: 1000 };

const VALUES = new Map<string, number>([
  ...SMALL.map((word, value): [string, number] => [word, value]),
  ...TENS.map((word, i): [string, number] => [word, 10 * (i + 2)]),
]);
const WORD = `(?:${[...VALUES.keys(), ...Object.keys(LARGE)].join('|')})`;
const SAID = new RegExp(`\\b(?:an? (?=dozen|hundred|thousand))?${WORD}(?:(?:\\s+and)?[\\s-]+${WORD})*\\b(?!-)`, 'gi');

/** Behind a number of words: what is counted, or how. Elsewhere it is part of a name, such as Stage two. */
const COUNTED =
  /^\s*(?:%|(?:x|×|percent|working|business|days?|weeks?|hours?|hrs?|h|minutes?|mins?|min|seconds?|secs?|coats?|times|people|persons|helpers|pairs|spares?|extra|pieces|here|already|in|on|to|per|at|back|each)\b)/i;
const AT_FRONT =
  /(?:^|[,;:(+]|\b(?:of|to|in|with|by|for|than|likely|x|and|make|build|buy|order|print|cut|back|fail|fails))\s*$/i;

/**
 * A text with its numbers in digits, where they count something. `one` alone stays, as in `for one`.
 *
 * @example numbersInDigits('a hundred and sixty slats') // '160 slats'
 */
export function numbersInDigits(text: string): string {
  return text.replace(SAID, (said, at: number) => {
    const counts = AT_FRONT.test(text.slice(0, at)) || COUNTED.test(text.slice(at + said.length));
    return counts && said.toLowerCase() !== 'one' ? String(amountOf(said)) : said;
  });
}

/** Small words add, large ones multiply what stands in front of them. */
function amountOf(said: string): number {
  let [all, last] = [0, 0];
  for (const word of said.toLowerCase().split(/[\s-]+/)) {
    const large = LARGE[word];
    if (large === undefined) last += VALUES.get(word) ?? 0;
    else last = Math.max(last, 1) * large;
    if (large === 1000) [all, last] = [all + last, 0];
  }
  return all + last;
}
