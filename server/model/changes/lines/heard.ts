/**
 * A line as people type or dictate it, in the one form in which clauses are read: a comma between what it says, digits,
 * one way of writing a count and a time. Nothing is left out but marks and words that say nothing.
 */
import { numbersInDigits } from './number-words.ts';
import { WORK_PHRASE } from './work-words.ts';

const UNIT = '(?:weeks?|days?|hours?|hrs?|h|minutes?|mins?|min|seconds?|secs?|sec|s)';
const TIME = `\\d+(?:[.,]\\d+)?\\s*${UNIT}\\b`;
const ON_PLATE = '\\d+ (?:on|to|per|a|at) (?:an? )?(?:plate|bed|time|tray|sheet)\\b';
const SPARES = '(?=\\d+ (?:spares?|to spare|extra)\\b)';
/** What is said of them behind a count in brackets, rather than how long it takes. */
const SAID = /(?:\d+ (?:spares?|to spare|extra|people|persons|helpers|here|on hand|in stock|already)\b|[€$£]|\d+ ?%)/
  .source;
const MACHINE = '(?:on|in) (?:the|an?|our|my) [^,;\\d]*?';

type Rewrite = readonly [RegExp, string | ((whole: string, ...groups: string[]) => string)];

/** What stands in front of the line says nothing of the build. */
const FRONT: readonly Rewrite[] = [
  [
    /^(?:(?:i|we|you)(?:['’]ll| will)? )?(?:need|needs|want|have to make|must make|there (?:are|is)|it needs|qty\.?:?) (?!to\b)(?=[\p{L}\d][^=]*$)/iu,
    '',
  ],
  [/^\s*(?:[-–—*•·]|\(?\d{1,2}[.)])\s+(?=\S)/, ''],
];

const NUMBERS: readonly Rewrite[] = [
  [/\bhalf a dozen\b/gi, '6'],
  [/\b(\d+) dozen\b(?: of\b)?/gi, (_, dozens) => String(12 * Number(dozens))],
  [/\ba (?:couple|pair) of\b/gi, '2'],
  [/\b(\d{1,3})[ \u00a0\u202f](\d{3})\b(?!\s*(?:mm|cm|m|kg|g|[vw])\b)/gi, '$1$2'],
  [/\b(\d+)\s*½|\b(\d+) 1\/2(?=\s*(?:h|min|days?|weeks?)\b|\s*hours?)/g, '$1$2.5'],
  [/½/g, '0.5'],
  [/\s*×\s*/g, ' x '],
  [/(\d)x\s*(?=[\d\p{L}])/giu, '$1 x '],
];

const TIMES: readonly Rewrite[] = [
  [/\bsame day\b/gi, '0 days'],
  [/\bnext day\b/gi, '1 day'],
  [/\b(?:a|1|one) fortnight\b/gi, '2 weeks'],
  [
    /\b(?:a|one|1) (day|week) or (?:two|2|so)\b/gi,
    (whole, unit) => (/so$/i.test(whole) ? `1 ${unit}` : `1 to 2 ${unit}s`),
  ],
  [/\bone (?=(?:to|or) \d+ (?:days?|weeks?|hours?|h|minutes?|min)\b)/gi, '1 '],
  [/\b(\d+) or (?=\d+ (?:working |business )?(?:days?|weeks?|hours?|minutes?|min)\b)/gi, '$1 to '],
  [/\bhalf an hour\b/gi, '30 min'],
  [/\bthree quarters of an hour\b/gi, '45 min'],
  [/\b(?:an?|1) (hour|minute) and a half\b/gi, '1.5 $1s'],
  [/\b(\d+) and a half (?=hours|minutes|days|weeks)/gi, '$1.5 '],
  [/\b(?:a )?quarter of an hour\b/gi, '15 min'],
  [/\b(?<!half |per |\d )(?:an?|one) (?=(?:working |business )?(?:day|week)\b)/gi, '1 '],
  [/(?<=^|[\p{L},;] )(?<!\bper |\d )(?:an|one) (?=hour\b)/giu, '1 '],
  [/(?:\bat )?\b(\d+) (?:an|per|every|in an|in the|in 1) hour\b/gi, '$1 in 60 min'],
  [/(?<=\d)\s*ish\b/gi, ''],
  [/(?<=\b(?:h|hours?|min|minutes?|s|sec|seconds?|days?|weeks?|each))\s*\?+/gi, ''],
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
  [/^([^,;=\d:]*\p{L})\s*\((\d+)\)/iu, '$2 $1'],
  [new RegExp(`\\s*\\((?=${SAID})([^()]*)\\)`, 'gi'), ', $1,'],
  [/\s+(?=in (?:packs?|boxes|reels?|rolls?|bags?|tins?|tubs?|cartons?) of \d)/gi, ', '],
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
  [new RegExp(`(${UNIT}|each|twice|overnight) (?=${WORK_PHRASE} (?:\\d|for\\b|overnight|twice))`, 'gi'), '$1, '],
  [new RegExp(`^(\\d\\S* [\\p{L}-]+) (?=${TIME})`, 'iu'), '$1, '],
  [new RegExp(`(${TIME}) (?=\\d+ (?:people|persons|helpers)\\b)`, 'gi'), '$1 with '],
];

/** What is done with them, or whence they come, in front of the count. */
const VERBS: readonly Rewrite[] = [
  [/^(\d+) ?(?:off|no\.?|nos\.?|pcs?\.?|pieces|ea\.?)(?: of)? (?=\p{L})/iu, '$1 '],
  [/^(?:make|build|produce) (?=\d)/i, ''],
  [/^(?:buy|order|purchase|get) (\d[^,;]*?),? (?:from|at) /i, '$1, bought from '],
  [/^(?:buy|order|purchase|get) (\d[^,;]*)/i, '$1, bought'],
  [/^(\d[^,;]*?) on order\b/i, '$1, ordered'],
  [/^(\d[^,;]*?) (bought|ordered|sent out)\b/i, '$1, $2'],
  [/^(\d[^,;]*?) from (?=[^=]*\d\s*(?:working )?(?:days?|weeks?)\b)/i, '$1, from '],
  [
    new RegExp(
      `^(\\p{L}+|${WORK_PHRASE}) (\\d+(?: (?:to|or) \\d+)?) (?!${UNIT}\\b|in\\b|x\\b|coats?\\b|times\\b)(\\p{L}[^,;\\d]*?)( ${MACHINE})?[,;]?\\s+(?:for )?(?=${TIME}|${ON_PLATE})`,
      'iu',
    ),
    (_, work, count, part, machine = '') => `${count} ${part}, ${work}${machine} `,
  ],
  [
    new RegExp(
      `^(\\d+ (?:\\p{L}[\\p{L}'’-]* ){1,5}?)(?=${WORK_PHRASE}(?: ${MACHINE})? (?:\\d+ (?:coats?|times) |twice )?(?:for )?(?:${TIME}|${ON_PLATE}|\\d+ in \\d))`,
      'iu',
    ),
    (_, part) => `${part.trim()}, `,
  ],
  [/^(\d+ [^,;\d]*?),? (?:sent|send|going|goes|go|off|out)(?: off| out)? to (?=\p{L})/iu, '$1, sent to '],
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
  return rewrites.reduce(
    (now, [pattern, by]) => (typeof by === 'string' ? now.replace(pattern, by) : now.replace(pattern, by)),
    text,
  );
}
