/**
 * Cells of a spreadsheet: what is written so that nobody's spreadsheet runs it, and what is read whatever the
 * separator, the decimal mark and the encoding.
 */
import { CsvError, parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { csvTexts as say } from '../../../views/texts/paper/csv.ts';
import { type Problem, problem, type Result } from '../../model/index.ts';

export type Separator = ',' | ';' | '\t';

/** A table as read: its headings, and its rows with the line each begins on. */
export interface Table {
  readonly headings: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

/**
 * What a spreadsheet would take for a formula: a first sign that is not a blank, of these, after any marks of ours
 * (OWASP, CSV injection; the wide forms are taken for the same by some programs).
 */
const RISKY = /^[\s']*[=+\-@\t\r＝＋－＠]/;
/** A number is none. */
const PLAIN_NUMBER = /^-?\d+(\.\d+)?$/;
const MARK = "'";

/** The table as RFC 4180 text with a byte-order mark, by which spreadsheets know UTF-8; formulas are made harmless. */
export function csvText(
  headings: readonly string[],
  rows: readonly (readonly string[])[],
  separator: Separator,
): string {
  const cells = [headings, ...rows].map((row) => row.map(harmless));
  return stringify(cells, { delimiter: separator, bom: true, record_delimiter: 'windows' });
}

/** The cell with a mark before what would be run. `readCell` takes it off again: `readCell(harmless(x))` is `x`. */
export function harmless(cell: string): string {
  return RISKY.test(cell) && !PLAIN_NUMBER.test(cell) ? `${MARK}${cell}` : cell;
}

/** The cell without the mark that `harmless` puts before it. */
export function readCell(cell: string): string {
  return cell.startsWith(MARK) && RISKY.test(cell) ? cell.slice(1) : cell;
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
 * Reads a table; its separator is the one by which the most of its first line are headings that `isHeading` knows.
 * Refused where it is empty, where no heading is known, where a quote is not closed, and beyond `most` rows.
 */
export function readTable(text: string, isHeading: (heading: string) => boolean, most: number): Result<Table> {
  const tries = ([',', ';', '\t'] as const).map((separator) => readWith(text, separator));
  const known = (table: Table) => table.headings.filter((heading) => isHeading(heading)).length;
  const read = tries.flatMap((one) => (one.ok ? [one.value] : []));
  const [best] = [...read].sort((a, b) => known(b) - known(a));
  if (best === undefined) return tries.find((one) => !one.ok)!;
  if (best.headings.length === 0) return refused('csv', 'nothing', say.problems.empty);
  const broken = tries.find((one) => !one.ok);
  if (known(best) === 0 && broken !== undefined) return broken;
  if (known(best) === 0) return refused('headings', best.headings.slice(0, 8).join(' | '), say.problems.noHeading);
  if (best.rows.length > most)
    return refused('csv', String(best.rows.length), say.problems.tooMany(best.rows.length, most));
  return { ok: true, value: best };
}

function readWith(text: string, separator: Separator): Result<Table> {
  try {
    const records = parse(text, {
      ...{ delimiter: separator, bom: true, relax_column_count: true, skip_empty_lines: true, info: true },
      relax_quotes: true,
    }) as unknown as { record: string[]; info: { lines: number } }[];
    const rows = records.map(({ record, info }) => ({ line: info.lines, cells: record.map(readCell) }));
    const [head, ...rest] = rows.filter(({ cells }) => cells.some((cell) => cell.trim() !== ''));
    return { ok: true, value: { headings: (head?.cells ?? []).map((cell) => cell.trim()), rows: rest } };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return refused('csv', String(error.lines ?? ''), say.problems.unreadable(Number(error.lines ?? 1)));
  }
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
  return { ok: false, problems: [problem('shape', field, value, message)] };
}
