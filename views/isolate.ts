/** Words that are written from right to left, kept apart from the figures and words around them. */

const RIGHT = '\\u0590-\\u08ff\\ufb1d-\\ufdff\\ufe70-\\ufefc';
const HAS_RIGHT = new RegExp(`[${RIGHT}]`);
/**
 * From the first letter to the last, over blanks, digits and quotes between, with a mark that asks or calls behind;
 * signs that part things end it.
 */
const RUN = new RegExp(`[${RIGHT}]+(?:(?:[ \\u00a0\\u202f\\d.'’"“”/-]|&quot;|&#39;)+[${RIGHT}]+)*[?!]*`, 'g');
const TAILED = new RegExp(`^${RUN.source}[ \\u00a0][A-Za-z]{0,3}\\d[\\dA-Za-z./-]{0,11}$`);
const MOST_NAMES = 500;
/** What is no text of the page, or is sent back as it is; then tags, whatever their attributes hold; then text. */
const PIECES = /<(textarea|script|style|title|option)\b[\s\S]*?<\/\1>|<[^>"]*(?:"[^"]*"[^>"]*)*>|[^<]+/g;
const [FIRST_STRONG, END] = ['\u2068', '\u2069'];

/**
 * The HTML with every run of letters from right to left isolated in its text, as Unicode's bidirectional algorithm has
 * it (UAX 9, FSI and PDI): else the figures behind a Hebrew or Arabic name would be drawn before it. A figure at the
 * end of a name is its own where the page has the name alone. Attributes, fields and scripts stay as they are.
 * O(length), and hardly anything where there is no such letter.
 *
 *     isolateRuns('<b>\u05d0, 4 h</b>') // '<b>\u2068\u05d0\u2069, 4 h</b>'
 */
export function isolateRuns(html: string): string {
  if (!hasRuns(html)) return html;
  const runs = runsWith(tailedNames(html));
  return html.replace(PIECES, (piece) =>
    piece.startsWith('<') ? piece : piece.replace(runs, (run) => `${FIRST_STRONG}${run}${END}`),
  );
}

/**
 * Names that end in a figure or in Latin letters, such as a bar of 12 or a bolt M6: where one is alone between two tags
 * it is seen whole, and so it is known in the sentences around.
 */
function tailedNames(html: string): string[] {
  const names = [...html.matchAll(PIECES)].map(([piece]) => piece.trim()).filter((piece) => TAILED.test(piece));
  return [...new Set(names)].sort((a, b) => b.length - a.length).slice(0, MOST_NAMES);
}

function runsWith(names: readonly string[]): RegExp {
  const plain = names.map((name) => `${name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}(?![\\p{L}\\d])`);
  return names.length === 0 ? RUN : new RegExp(`${plain.join('|')}|${RUN.source}`, 'gu');
}

/**
 * The same in a plain text, as a script writes it on a page; runs that are apart already stay as they are.
 *
 *     isolatedText('\u05d0, 4 h') // '\u2068\u05d0\u2069, 4 h'
 */
export function isolatedText(text: string): string {
  return hasRuns(text) && !text.includes(FIRST_STRONG)
    ? text.replace(RUN, (run) => `${FIRST_STRONG}${run}${END}`)
    : text;
}

/** Whether there is any letter from right to left. */
export function hasRuns(html: string): boolean {
  return HAS_RIGHT.test(html);
}
