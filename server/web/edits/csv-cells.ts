/**
 * Cells of a spreadsheet: what is written so that nobody's spreadsheet runs it, and what is read whatever the
 * separator, the decimal mark and the encoding.
 */
import { CsvError, Parser } from 'csv-parse';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { csvTexts as say } from '../../../views/texts/paper/csv.ts';
import { type Problem, type Result, wordedProblem } from '../../model/index.ts';
import { othersTurn } from '../../turns/turns.ts';

export type Separator = ',' | ';' | '\t';

/** A table as read: its headings, and its rows with the line each begins on. */
export interface Table {
  readonly headings: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

/** What a table is written from; its rows are made one by one as they are asked for. */
export interface Written {
  readonly headings: readonly string[];
  readonly rows: Iterable<readonly string[]>;
}

/**
 * What a spreadsheet would take for a formula: a first sign that is not a blank or a quote, of these, after any
 * marks of ours (OWASP, CSV injection; the wide forms are taken for the same by some programs).
 */
const RISKY = /^[\s'"]*[=+\-@\t\r＝＋－＠]/;
/** A number is none. */
const PLAIN_NUMBER = /^-?\d+(\.\d+)?$/;
/**
 * The same after a sign at which somebody's spreadsheet parts the line, whatever parts ours: whoever opens a table of
 * commas where semicolons part cells gets the rest of `x;=1+1` as a cell. A minus before a bare number is none.
 */
const RISKY_BEHIND = /([,;|\t\r\n][\s"]*)(?='*(?:[=+@＝＋－＠]|-(?!\d+(?:\.\d+)?[\s)]*(?:[,;|\t\r\n]|$))))/g;
const MARKED_BEHIND = /([,;|\t\r\n][\s"]*)'(?='*(?:[=+@＝＋－＠]|-(?!\d+(?:\.\d+)?[\s)]*(?:[,;|\t\r\n]|$))))/g;
/** The library quotes a cell for the whole end of a line alone; a spreadsheet ends its line at either sign. */
const BREAK = /[\r\n]/;
const MARK = "'";

/** The table as RFC 4180 text with a byte-order mark, by which spreadsheets know UTF-8; formulas are made harmless. */
export function csvText(headings: readonly string[], rows: Iterable<readonly string[]>, separator: Separator): string {
  return [...csvPieces(headings, rows, separator)].join('');
}

/** Rows that are written at once: a millisecond or two. */
const AT_ONCE = 100;

/** The same text in pieces, so that others may have their turn between. */
export function* csvPieces(
  headings: readonly string[],
  rows: Iterable<readonly string[]>,
  separator: Separator,
): Generator<string> {
  const write = (some: string[][], bom = false): string =>
    stringify(some, { delimiter: separator, bom, record_delimiter: 'windows', quoted_match: BREAK });
  yield write([headings.map(harmless)], true);
  let some: string[][] = [];
  for (const row of rows) {
    some.push(row.map(harmless));
    if (some.length < AT_ONCE) continue;
    yield write(some);
    some = [];
  }
  if (some.length > 0) yield write(some);
}

/**
 * The cell with a mark before what would be run, be it the cell or what follows a separator in it. `readCell` takes the
 * marks off again: `readCell(harmless(x))` is `x`.
 */
export function harmless(cell: string): string {
  const own = RISKY.test(cell) && !PLAIN_NUMBER.test(cell) ? MARK : '';
  return `${own}${cell.replace(RISKY_BEHIND, `$1${MARK}`)}`;
}

/** The cell without the marks that `harmless` puts into it. */
export function readCell(cell: string): string {
  const own = cell.startsWith(MARK) && RISKY.test(cell) ? cell.slice(1) : cell;
  return own.replace(MARKED_BEHIND, '$1');
}

/** Bytes of a file as text: UTF-8 or UTF-16 by its mark, else UTF-8, else the western code page of old spreadsheets. */
export function textOf(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

/**
 * Reads a table, in turns with others' work; its separator is the one by which the most of its first line are headings
 * that `isHeading` knows. Refused where it is empty, where no heading is known, where a quote is not closed, and beyond
 * `most` rows, behind which nothing is read.
 */
export async function readTable(
  sent: string,
  isHeading: (heading: string) => boolean,
  most: number,
): Promise<Result<Table>> {
  // The reader counts a line's end of two signs within a cell as two lines.
  const text = sent.replaceAll('\r\n', '\n');
  const known = (headings: readonly string[]) => headings.filter((heading) => isHeading(heading)).length;
  const heads = SEPARATORS.map((separator) => ({ separator, headings: headingsBy(text, separator) }));
  const [best] = heads.toSorted((a, b) => known(b.headings) - known(a.headings));
  const { separator, headings } = best!;
  if (headings.length === 0) {
    const isBlank = text.trim() === '';
    return isBlank ? refused('csv', 'nothing', say.problems.empty) : unreadable(1);
  }
  if (known(headings) === 0) return refused('headings', headings.slice(0, 8).join(' | '), say.problems.noHeading);
  const read = await recordsBy(text, separator, most + 1);
  if (!read.ok) return read;
  const [, ...rows] = read.value;
  if (rows.length > most) return refused('csv', String(rows.length), say.problems.tooMany(most));
  return { ok: true, value: { headings, rows } };
}

const SEPARATORS = [',', ';', '\t'] as const;
const OPTIONS = {
  ...{ bom: true, relax_column_count: true, skip_empty_lines: true, skip_records_with_empty_values: true, info: true },
  relax_quotes: true,
} as const;

type Row = Table['rows'][number];

/** The cells of the first line that has any; none where it cannot be read. */
function headingsBy(text: string, separator: Separator): string[] {
  try {
    const [head] = parse(text, { ...OPTIONS, delimiter: separator, to: 1 }) as unknown as CsvRecord[];
    return head === undefined ? [] : rowOf(head).cells.map((cell) => cell.trim());
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return [];
  }
}

/** Bytes that are read in one turn: some milliseconds. */
const AT_ONCE_BYTES = 8 * 1024;

/** All lines that are not blank, the first `most` and one more where there are more. */
async function recordsBy(text: string, separator: Separator, most: number): Promise<Result<Row[]>> {
  const rows: Row[] = [];
  const failed: CsvError[] = [];
  const parser = new Parser({ ...OPTIONS, delimiter: separator });
  const closed = new Promise<void>((resolve) => void parser.on('close', resolve));
  parser.on('data', (record: CsvRecord) => rows.push(rowOf(record)));
  parser.on('error', (error: CsvError) => failed.push(error));
  const bytes = Buffer.from(text);
  for (let at = 0; at < bytes.length && failed.length === 0 && rows.length <= most; at += AT_ONCE_BYTES) {
    parser.write(bytes.subarray(at, at + AT_ONCE_BYTES));
    await othersTurn();
  }
  if (rows.length > most) parser.destroy();
  else parser.end();
  await closed;
  const [error] = failed;
  return error === undefined ? { ok: true, value: rows } : unreadable(Number(error.lines ?? 1));
}

interface CsvRecord {
  readonly record: readonly string[];
  /** The line on which it ends. */
  readonly info: { readonly lines: number };
}

function rowOf({ record, info }: CsvRecord): Row {
  const breaks = record.reduce((sum, cell) => sum + cell.split(/[\r\n]/).length - 1, 0);
  return { line: info.lines - breaks, cells: record.map(readCell) };
}

function unreadable(line: number): Result<never> {
  return refused('csv', String(line), say.problems.unreadable(line));
}

/**
 * A number as spreadsheets write it, with a point: `2,5` is 2.5, `1.234,5` and `1 234.5` are 1234.5. Null for `1,234`,
 * which may be either; what is no number stays as it is.
 *
 * @example plainNumber('0,86') // '0.86'
 */
export function plainNumber(text: string): string | null {
  const tight = text.trim().replace(/(?<=\d)[ \u00a0\u202f'’](?=\d{3}\b)/g, '');
  if (/^-?\d{1,3}(\.\d{3})+,\d+$/.test(tight)) return tight.replaceAll('.', '').replace(',', '.');
  if (/^-?\d{1,3}(,\d{3})+\.\d+$/.test(tight) || /^-?\d{1,3}(,\d{3}){2,}$/.test(tight))
    return tight.replaceAll(',', '');
  if (/^-?[1-9]\d{0,2},\d{3}$/.test(tight)) return null;
  return /^-?\d+,\d+$/.test(tight) ? tight.replace(',', '.') : tight;
}

function refused(field: string, value: string, message: string): { ok: false; problems: Problem[] } {
  return { ok: false, problems: [wordedProblem('shape', field, value, message)] };
}
