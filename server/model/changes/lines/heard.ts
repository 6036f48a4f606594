/**
 * A line as people type or dictate it, in the one form in which clauses are read: a comma between what it says, digits,
 * one way of writing a count and a time. Nothing is left out but marks and words that say nothing.
 */
import { numbersInDigits } from './number-words.ts';

const UNIT = '(?:weeks?|days?|hours?|hrs?|h|minutes?|mins?|min|seconds?|secs?|sec|s)';
const TIME = `\\d+(?:[.,]\\d+)?\\s*${UNIT}\\b`;
const ON_PLATE = '\\d+ (?:on|to|per|a|at) (?:an? )?(?:plate|bed|time|tray|sheet)\\b';
const SPARES = '(?=\\d+ (?:spares?|to spare|extra)\\b)';

type Rewrite = readonly [RegExp, string];

/** What stands in front of the line says nothing of the build. */
const FRONT: readonly Rewrite[] = [[/^\s*(?:[-–—*•·]|\(?\d{1,2}[.)])\s+(?=\S)/, '']];

const NUMBERS: readonly Rewrite[] = [
  [/\bhalf a dozen\b/gi, '6'],
  [/\ba (?:couple|pair) of\b/gi, '2'],
  [/\b(\d{1,3})[ \u00a0\u202f](\d{3})\b(?!\s*(?:mm|cm|m|kg|g|[vw])\b)/gi, '$1$2'],
  [/\b(\d+)\s*½|\b(\d+) 1\/2(?=\s*(?:h|min|days?|weeks?)\b|\s*hours?)/g, '$1$2.5'],
  [/½/g, '0.5'],
  [/\s*×\s*/g, ' x '],
  [/(\d)x\s*(?=[\d\p{L}])/giu, '$1 x '],
];

const TIMES: readonly Rewrite[] = [
  [/\b(?:an?|1) (hour|minute) and a half\b/gi, '1.5 $1s'],
  [/\b(\d+) and a half (?=hours|minutes|days|weeks)/gi, '$1.5 '],
  [/\b(?:a )?quarter of an hour\b/gi, '15 min'],
  [/\b(?:an?|one) (?=(?:working |business )?(?:day|week)\b)/gi, '1 '],
  [/\bbusiness days?\b/gi, 'working days'],
  [/(?<!\b(?:at|by|from|until|till|before|after) )\b(\d{1,2}):(\d{2})\s*h(?:ours?|rs?)?\b/gi, '$1 h $2'],
  [/\b(h|hours?|hrs?)\s+and\s+(?=\d+\s*m)/gi, '$1 '],
  // Minutes say so, or "3 h 20 a plate" were three hours for twenty.
  [
    /(?<=\d\s*)(?:hours?|hrs?|h)\s*(\d{1,2})\b(?![.,:]?\d|\s*[hmsx%]|\s*(?:people|persons|helpers|coats?|times|spares?|(?:on|to) an? (?:plate|bed))\b)/gi,
    'h $1 min',
  ],
  [/(?:\b(?:about|around|roughly|approximately|approx\.?|circa|ca\.?)\s+|~\s*)(?=\d)/gi, ''],
  [/\b(\d+) (?:took|takes|take) (?=\d)/gi, '$1 in '],
  [new RegExp(`(${UNIT}\\b(?: each)?),?\\s*(?:most )?likely (?=\\d)`, 'gi'), '$1 likely '],
];

const PARTING: readonly Rewrite[] = [
  [/(?:\s*\/\s*| )(?:each|ea\b\.?|pcs?\b\.?)(?=\s*(?:[,;]|$))/gi, ' each'],
  [/\s*\((?=\d)([^()]*)\)/g, ' $1'],
  [/\s*\(([^()]*)\)/g, ', $1,'],
  [/^([^,;=\d]*[^,;=\d\s:])\s*(?:\bx\b|:)\s*(\d+)\s*(?=[,;]|$)/i, '$2 $1'],
  [/:\s+(?=[^\s\d])/g, ', '],
  [/:\s+(?=\d)/g, ' '],
  [/(?<=[^\d\s])\s+[-–—]\s+(?=\p{L})/gu, ', '],
  [/(?<=[^\s.]{3})\.\s+(?=\p{Lu})/gu, ', '],
  [/\.\s*$/, ''],
  [/\s+(?:@|à)\s*(?=[\d€$£])/g, ', '],
  [new RegExp(`,?\\s*(?:\\+|\\b(?:plus|and|with)\\b)\\s*${SPARES}`, 'gi'), ', '],
  [/[,;]?\s+(?:and )?then\s+(?=\p{L})/giu, ', '],
  [new RegExp(`(${UNIT}|each|apiece|overnight)\\s+(?:and|&)\\s+(?=\\p{L})(?!(?:a|half)\\b)`, 'giu'), '$1, '],
  [new RegExp(`^(\\d\\S* [\\p{L}-]+) (?=${TIME})`, 'iu'), '$1, '],
];

/** What is done with them, or whence they come, in front of the count. */
const VERBS: readonly Rewrite[] = [
  [/^(?:make|build|produce) (?=\d)/i, ''],
  [/^(?:buy|order|purchase|get) (\d[^,;]*?),? (?:from|at) /i, '$1, bought from '],
  [/^(?:buy|order|purchase|get) (\d[^,;]*)/i, '$1, bought'],
  [/^(\d[^,;]*?) (bought|ordered|sent out)\b/i, '$1, $2'],
  [/^(\d[^,;]*?) from (?=[^=]*\d\s*(?:working )?(?:days?|weeks?)\b)/i, '$1, from '],
  [
    new RegExp(
      `^(\\p{L}+) (\\d+) (?!${UNIT}\\b|in\\b|x\\b|coats?\\b|times\\b)(\\p{L}[^,;\\d]*?)[,;]?\\s+(?=${TIME}|${ON_PLATE})`,
      'iu',
    ),
    '$2 $3, $1 ',
  ],
];

const REWRITES = [...NUMBERS, ...TIMES, ...VERBS, ...PARTING];

/**
 * The line in the form in which it is read. Lines about a number of the design are left alone but for their bullet.
 *
 * @example heard('- cut forty rods, 2 min each and sand 3 min') // '40 rods, cut 2 min each, sand 3 min'
 */
export function heard(line: string): string {
  const bare = rewritten(line, FRONT).trim();
  return bare.includes('=') ? bare : rewritten(numbersInDigits(bare), REWRITES).trim();
}

function rewritten(text: string, rewrites: readonly Rewrite[]): string {
  return rewrites.reduce((now, [pattern, by]) => now.replace(pattern, by), text);
}
