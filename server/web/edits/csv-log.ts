/** The log as a table: a line for each entry, and the entries that a table stands for. */
import { csvTexts } from '../../../views/texts/paper/csv.ts';
import { readWall } from '../../engine/index.ts';
import {
  type Build,
  checkNewLogEntry,
  type LogEntry,
  type NewLogEntry,
  type Problem,
  wordedProblem,
} from '../../model/index.ts';
import { flatMapInTurns } from '../../turns/turns.ts';
import { pressedId } from '../web.ts';
import { plainNumber, type Table, type Written } from './csv-cells.ts';

const COLUMNS = [
  ...['id', 'kind', 'step', 'set', 'n', 'counted', 'at', 'who', 'person', 'machine', 'box', 'until'],
  ...['undoes', 'confirms', 'reason', 'note', 'phoneAt'],
] as const;
/** For whoever reads the table; it is not read back. */
const NAME = 'step name';
const NUMBERS: ReadonlySet<string> = new Set(['set', 'n']);
const MOMENTS: ReadonlySet<string> = new Set(['at', 'until', 'phoneAt']);
const INSTANT = /(Z|[+-]\d{2}:\d{2})$/;

/** The log as a table, in the order of arrival. `stepName` gives the name that goes with an id. */
export function logTable(log: readonly LogEntry[], stepName: (id: string) => string): Written {
  return { headings: [...COLUMNS, NAME], rows: rowsOf(log, stepName) };
}

function* rowsOf(log: readonly LogEntry[], stepName: (id: string) => string): Generator<string[]> {
  for (const entry of log) {
    const cells = COLUMNS.map((key) => cellOf(entry, key));
    yield [...cells, entry.step === undefined ? '' : stepName(entry.step)];
  }
}

/** Whether a heading is one of an entry's fields. */
export function isLogHeading(heading: string): boolean {
  return keyOf(heading) !== null;
}

interface LogRead {
  /** Those that the log does not have yet, with their lines. */
  readonly added: readonly { readonly line: number; readonly entry: NewLogEntry }[];
  /** How many it has. */
  readonly known: number;
  readonly problems: readonly { readonly line: number; readonly problem: Problem }[];
  readonly ignored: readonly string[];
}

/**
 * The entries of a table, read in turns with others' work. A moment may be an instant, or the time on the clock of the
 * place; an entry without an id gets one made from what it says, so that the same line read twice is one entry. A line
 * whose id is in the log must say what the log says, as far as it has columns: an entry is never changed.
 */
export async function readLog(
  build: Build,
  { headings, rows }: Table,
  there: (id: string) => LogEntry | undefined,
): Promise<LogRead> {
  const keys = headings.map(keyOf);
  const ignored = headings.filter((heading, i) => keys[i] === null && heading !== '' && heading !== NAME);
  const seen = new Map<string, number>();
  const lines = await flatMapInTurns(rows, ({ line, cells }): readonly LineRead[] => {
    const read = entryOf(build, keys, cells);
    const checked = checkNewLogEntry(read);
    if (!checked.ok) return checked.problems.map((one) => ({ line, problem: one }));
    const { id } = checked.value;
    const wrong = (message: string): LineRead[] => [{ line, problem: wordedProblem('log', 'entry.id', id, message) }];
    const before = seen.get(id);
    if (before !== undefined) return wrong(csvTexts.problems.twice(id, before));
    seen.set(id, line);
    const known = there(id);
    if (known === undefined) return [{ line, entry: checked.value }];
    const was = entryOf(
      build,
      keys,
      keys.map((key) => cellOf(known, key)),
    );
    return saying(was) === saying(read) ? [{ line, known }] : wrong(csvTexts.problems.otherwise(id));
  });
  return {
    added: lines.flatMap((one) => ('entry' in one ? [one] : [])),
    known: lines.filter((one) => 'known' in one).length,
    problems: lines.flatMap((one) => ('problem' in one ? [one] : [])),
    ignored,
  };
}

type LineRead = { readonly line: number } & (
  | { readonly entry: NewLogEntry }
  | { readonly known: LogEntry }
  | { readonly problem: Problem }
);

function entryOf(build: Build, keys: readonly (string | null)[], cells: readonly string[]): Record<string, unknown> {
  const entry: Record<string, unknown> = {};
  for (const [i, key] of keys.entries()) {
    const cell = (cells[i] ?? '').replaceAll('\r\n', '\n');
    if (key === null || cell.trim() === '') continue;
    entry[key] = cellValue(build, key, cell);
  }
  return { id: pressedId('table', [saying(entry)]), ...entry };
}

/** What an entry says, in whichever order its columns are. Who sent it is the session's word, not the entry's. */
function saying({ who: _, ...entry }: Readonly<Record<string, unknown>>): string {
  return JSON.stringify(Object.entries(entry).sort(([a], [b]) => (a < b ? -1 : 1)));
}

function cellValue(build: Build, key: string, cell: string): unknown {
  const text = cell.trim();
  if (NUMBERS.has(key)) {
    const number = plainNumber(text);
    return number !== null && /^\d+$/.test(number) ? Number(number) : text;
  }
  if (key === 'counted') return /^(true|yes)$/i.test(text) ? true : /^(false|no)$/i.test(text) ? false : text;
  if (MOMENTS.has(key)) return momentOf(build, text);
  return key === 'note' || key === 'reason' || key === 'who' ? cell : text;
}

/** An instant as it is; a time of day on the clock of the place as the instant that it is there. */
function momentOf({ zone }: Build, text: string): string {
  if (INSTANT.test(text)) return text;
  const read = readWall(text.replace(' ', 'T'), zone);
  return read.ok ? new Date(read.value * 60_000).toISOString() : text;
}

function cellOf(entry: LogEntry, key: string | null): string {
  const value = key === null ? undefined : (entry as Readonly<Record<string, unknown>>)[key];
  return value === undefined ? '' : String(value);
}

function keyOf(heading: string): string | null {
  return COLUMNS.find((key) => key.toLowerCase() === heading.trim().toLowerCase()) ?? null;
}
