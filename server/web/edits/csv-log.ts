/** The log as a table: a line for each entry, and the entries that a table stands for. */
import { createHash } from 'node:crypto';
import { csvTexts } from '../../../views/texts/paper/csv.ts';
import { readWall } from '../../engine/index.ts';
import {
  type Build,
  checkNewLogEntry,
  type LogEntry,
  type NewLogEntry,
  type Problem,
  problem,
} from '../../model/index.ts';
import { plainNumber, type Table } from './csv-cells.ts';

const COLUMNS = [
  ...['id', 'kind', 'step', 'set', 'n', 'counted', 'at', 'who', 'person', 'machine', 'until'],
  ...['undoes', 'confirms', 'reason', 'note', 'phoneAt'],
] as const;
/** For whoever reads the table; it is not read back. */
const NAME = 'step name';
const NUMBERS: ReadonlySet<string> = new Set(['set', 'n']);
const MOMENTS: ReadonlySet<string> = new Set(['at', 'until', 'phoneAt']);
const INSTANT = /(Z|[+-]\d{2}:\d{2})$/;

/** The log as a table, in the order of arrival. `stepName` gives the name that goes with an id. */
export function logTable(
  log: readonly LogEntry[],
  stepName: (id: string) => string,
): { headings: string[]; rows: string[][] } {
  const rows = log.map((entry) => {
    const values = entry as unknown as Readonly<Record<string, unknown>>;
    const cells = COLUMNS.map((key) => (values[key] === undefined ? '' : String(values[key])));
    return [...cells, entry.step === undefined ? '' : stepName(entry.step)];
  });
  return { headings: [...COLUMNS, NAME], rows };
}

/** Whether a heading is one of an entry's fields. */
export function isLogHeading(heading: string): boolean {
  return keyOf(heading) !== null;
}

interface LogRead {
  readonly entries: readonly NewLogEntry[];
  readonly problems: readonly { readonly line: number; readonly problem: Problem }[];
  readonly ignored: readonly string[];
}

/**
 * The entries of a table. A moment may be an instant, or the time on the clock of the place; an entry without an id
 * gets one made from what it says, so that the same line read twice is one entry.
 */
export function readLog(build: Build, { headings, rows }: Table): LogRead {
  const keys = headings.map(keyOf);
  const ignored = headings.filter((heading, i) => keys[i] === null && heading !== '' && heading !== NAME);
  const problems: { line: number; problem: Problem }[] = [];
  const seen = new Map<string, number>();
  const entries = rows.flatMap(({ line, cells }): NewLogEntry[] => {
    const read = entryOf(build, keys, cells);
    const checked = checkNewLogEntry(read);
    if (!checked.ok) {
      problems.push(...checked.problems.map((one) => ({ line, problem: one })));
      return [];
    }
    const before = seen.get(checked.value.id);
    const twice = csvTexts.problems.twice(checked.value.id, before ?? 0);
    if (before !== undefined) problems.push({ line, problem: problem('shape', 'entry.id', checked.value.id, twice) });
    seen.set(checked.value.id, line);
    return [checked.value];
  });
  return { entries, problems, ignored };
}

function entryOf(build: Build, keys: readonly (string | null)[], cells: readonly string[]): Record<string, unknown> {
  const entry: Record<string, unknown> = {};
  for (const [i, key] of keys.entries()) {
    const cell = (cells[i] ?? '').replaceAll('\r\n', '\n');
    if (key === null || cell.trim() === '') continue;
    entry[key] = cellValue(build, key, cell);
  }
  const said = createHash('sha256').update(JSON.stringify(entry)).digest('base64url').slice(0, 24);
  return { id: `table-${said}`, ...entry };
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

function keyOf(heading: string): string | null {
  return COLUMNS.find((key) => key.toLowerCase() === heading.trim().toLowerCase()) ?? null;
}
