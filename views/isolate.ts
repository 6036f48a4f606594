/** Words that are written from right to left, kept apart from the figures and words around them. */

const RIGHT = '\\u0590-\\u08ff\\ufb1d-\\ufdff\\ufe70-\\ufefc';
const HAS_RIGHT = new RegExp(`[${RIGHT}]`);
/**
 * From the first letter to the last, over blanks, digits and quotes between, with a mark that asks or calls behind;
 * signs that part things end it.
 */
const RUN = new RegExp(`[${RIGHT}]+(?:(?:[ \\u00a0\\u202f\\d.'’"“”/-]|&quot;|&#39;)+[${RIGHT}]+)*[?!]*`, 'g');
/** What is no text of the page, or is sent back as it is; then tags, whatever their attributes hold; then text. */
const PIECES = /<(textarea|script|style|title|option)\b[\s\S]*?<\/\1>|<[^>"]*(?:"[^"]*"[^>"]*)*>|[^<]+/g;
const [FIRST_STRONG, END] = ['\u2068', '\u2069'];

/**
 * The HTML with every run of letters from right to left isolated in its text, as Unicode's bidirectional algorithm has
 * it (UAX 9, FSI and PDI): else the figures behind a Hebrew or Arabic name would be drawn before it. Attributes, fields
 * and scripts stay as they are. O(length), and hardly anything where there is no such letter.
 *
 *     isolateRuns('<b>\u05d0, 4 h</b>') // '<b>\u2068\u05d0\u2069, 4 h</b>'
 */
export function isolateRuns(html: string): string {
  if (!hasRuns(html)) return html;
  return html.replace(PIECES, (piece) =>
    piece.startsWith('<') ? piece : piece.replace(RUN, (run) => `${FIRST_STRONG}${run}${END}`),
  );
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
