/** Parts and steps as tables: a column for each field of their forms, and the changes that a table asks for. */
import { FIELDS, type Field, phaseKinds } from '../../../views/forms/fields.ts';
import { placed } from '../../../views/forms/form-problems.tsx';
import { csvTexts } from '../../../views/texts/paper/csv.ts';
import type { FormValues } from '../../../views/types.ts';
import {
  type Build,
  type Change,
  freeId,
  type Problem,
  type Thing,
  thingsOf,
  wordedProblem,
} from '../../model/index.ts';
import { flatMapInTurns } from '../../turns/turns.ts';
import { inEveryLanguage } from '../language.ts';
import { plainNumber, type Table, type Written } from './csv-cells.ts';
import { formValues, tidyRows } from './form-text.ts';
import { savedChanges } from './things.ts';

export const TABLE_LISTS = ['parts', 'steps'] as const;
export type TableList = (typeof TABLE_LISTS)[number];

const say = csvTexts.problems;
const SPLIT = /\s*;\s*/;

/** A column: the path of its field in the text of a form, such as `usedIn.0.part`. */
interface Column {
  readonly path: string;
  readonly field: Field;
}

/** The things of a list as a table: headings, and a row for each in the maker's order; in turns with others' work. */
export async function thingTable(build: Build, list: TableList): Promise<Written> {
  const values = await flatMapInTurns(thingsOf(build, list), (thing) => [formValues(list, thing)]);
  const columns = columnsOf(list, values);
  return { headings: columns.map(({ heading }) => heading), rows: rowsOf(values, columns) };
}

function* rowsOf(values: readonly FormValues[], columns: readonly { readonly path: string }[]): Generator<string[]> {
  for (const one of values) yield columns.map(({ path }) => cellOf(one, path));
}

/** Whether a heading names a field of the list: by its label, or by its path. */
export function isThingHeading(list: TableList): (heading: string) => boolean {
  return (heading) => columnNamed(list, heading) !== null;
}

interface LineProblem {
  readonly line: number;
  readonly problem: Problem;
}

/** What a table comes to: the changes, what is wrong line by line, and the headings that say nothing. */
interface ThingsRead {
  readonly changes: readonly Change[];
  readonly problems: readonly LineProblem[];
  readonly ignored: readonly string[];
  /** The line of each thing that the table names, by its id. */
  readonly lineOf: ReadonlyMap<string, number>;
}

/**
 * The changes that a table asks for of a list: fields of the things that its lines name by id, else by name, and new
 * things for those that are not there. A field whose cell is as it was written is left alone, a thing that is not in
 * the table too. O(rows x things), in turns with others' work.
 */
export async function readThings(build: Build, list: TableList, { headings, rows }: Table): Promise<ThingsRead> {
  const columns = headings.map((heading) => columnNamed(list, heading));
  const ignored = headings.filter((heading, i) => columns[i] === null && heading !== '');
  const problems: LineProblem[] = twiceHeadings(headings, columns);
  const at = (path: string) => columns.findIndex((column) => column?.path === path);
  const [idAt, nameAt] = [at('id'), at('name')];
  const problemOfAll = problemAt(1, 'headings', '', say.noName);
  if (idAt < 0 && nameAt < 0) return { changes: [], problems: [problemOfAll], ignored, lineOf: new Map() };
  const lines = rows.map(({ line, cells }) => ({
    ...{ line, cells, id: (cells[idAt] ?? '').trim(), name: (cells[nameAt] ?? '').trim() },
  }));
  const named = namedLines(build, list, lines, problems);
  const names = namesOf(build, list, named);
  const changes = await flatMapInTurns(named, ({ line, cells, key, thing }): readonly Change[] => {
    const read = valuesOf(list, thing, columns, cells, names);
    problems.push(...read.problems.map((one) => ({ line, problem: one })));
    if (read.problems.length > 0 || read.differing.size === 0) return [];
    const values = thing === null ? { ...read.values, id: key } : read.values;
    const saved = savedChanges(build, list, thing === null ? null : key, tidyRows(list, values));
    if (!saved.ok) problems.push(...inWords(list, key, saved.problems).map((one) => ({ line, problem: one })));
    return saved.ok
      ? saved.value.changes.filter((change) => change.kind !== 'set' || read.differing.has(change.field))
      : [];
  });
  const lineOf = new Map(named.map(({ key, line }) => [key, line]));
  return { changes, problems: problems.sort((a, b) => a.line - b.line), ignored, lineOf };
}

/**
 * What is wrong with the plan that a table makes: by its line and in the words of its headings where it is a thing of
 * the table, else by line 0.
 */
export function atLines(list: TableList, { lineOf }: ThingsRead, problems: readonly Problem[]): LineProblem[] {
  const placedAt = (one: Problem): LineProblem => {
    const [of, key = ''] = one.field.split('.');
    const line = of === list ? lineOf.get(key) : undefined;
    return line === undefined ? { line: 0, problem: one } : { line, problem: inWords(list, key, [one])[0]! };
  };
  return problems.map(placedAt).sort((a, b) => a.line - b.line);
}

/** Problems in the words of the form, which are the headings. */
function inWords(list: TableList, key: string, problems: readonly Problem[]): readonly Problem[] {
  return problems.map((one) => {
    const [found] = placed(FIELDS[list], { list, key, values: {}, revision: 0, problems: [one] });
    return found?.[1] ?? one;
  });
}

interface Line {
  readonly line: number;
  readonly cells: readonly string[];
  readonly id: string;
  readonly name: string;
}

interface NamedLine extends Line {
  /** The id of the thing; of a new one the id that it gets. */
  readonly key: string;
  /** Null: there is none yet. */
  readonly thing: Thing | null;
}

/** Which thing each line is about; what names nothing, two things, or one that another line names too is a problem. */
function namedLines(build: Build, list: TableList, lines: readonly Line[], problems: LineProblem[]): NamedLine[] {
  const things = new Map(thingsOf(build, list).map((thing) => [String(thing.id), thing]));
  const byName = groupedByName([...things.values()]);
  const taken = new Set([...things.keys(), ...lines.map(({ id }) => id)]);
  const seen = new Map<string, number>();
  return lines.flatMap((line): NamedLine[] => {
    const { id, name } = line;
    const refuse = (field: string, value: string, message: string): [] => {
      problems.push(problemAt(line.line, field, value, message));
      return [];
    };
    if (id === '' && name === '') return refuse(`${list}.name`, '', say.nameless);
    const twins = id === '' ? (byName.get(nameKey(name)) ?? []) : [];
    if (twins.length > 1) return refuse(`${list}.name`, name, say.twins(name, twins.map((it) => it.id).join(', ')));
    const own = id === '' ? `name ${nameKey(name)}` : (things.get(id)?.id ?? id);
    const thing = id === '' ? (twins[0] ?? null) : (things.get(id) ?? null);
    const mark = thing === null ? String(own) : String(thing.id);
    const before = seen.get(mark);
    if (before !== undefined) return refuse(`${list}.name`, id || name, say.twice(id || name, before));
    seen.set(mark, line.line);
    if (thing !== null) return [{ ...line, key: String(thing.id), thing }];
    const key = id === '' ? freeId(name, taken)! : id;
    taken.add(key);
    return [{ ...line, key, thing: null }];
  });
}

function groupedByName(things: readonly Thing[]): Map<string, Thing[]> {
  const groups = new Map<string, Thing[]>();
  for (const thing of things) {
    const key = nameKey(String(thing.name ?? ''));
    groups.set(key, [...(groups.get(key) ?? []), thing]);
  }
  return groups;
}

function nameKey(name: string): string {
  return name.normalize('NFC').trim().toLowerCase();
}

/** Ids by name, of each list that fields refer to; a name of several stands for none. */
type Names = (ref: NonNullable<Field['ref']>, text: string) => string;

function namesOf(build: Build, list: TableList, lines: readonly NamedLine[]): Names {
  const known = new Map<string, ReadonlyMap<string, readonly Thing[]>>();
  const of = (ref: NonNullable<Field['ref']>) => {
    const added =
      ref === list ? lines.flatMap(({ key, name, thing }) => (thing === null ? [{ id: key, name }] : [])) : [];
    const groups = known.get(ref) ?? groupedByName([...thingsOf(build, ref), ...added]);
    known.set(ref, groups);
    return groups;
  };
  return (ref, text) => {
    const groups = of(ref);
    if (ref === 'parameters' || [...groups.values()].flat().some(({ id }) => id === text)) return text;
    const found = groups.get(nameKey(text)) ?? [];
    return found.length === 1 ? String(found[0]!.id) : text;
  };
}

interface ReadValues {
  readonly values: FormValues;
  /** Fields of the thing whose cells are other than they were written. */
  readonly differing: ReadonlySet<string>;
  readonly problems: readonly Problem[];
}

function valuesOf(
  list: TableList,
  thing: Thing | null,
  columns: readonly (Column | null)[],
  cells: readonly string[],
  names: Names,
): ReadValues {
  const before = thing === null ? {} : formValues(list, thing);
  const values: Record<string, string | readonly string[]> = { ...before };
  const differing = new Set<string>();
  const problems: Problem[] = [];
  for (const [i, column] of columns.entries()) {
    if (column === null || (column.path === 'id' && thing !== null)) continue;
    const { path, field } = column;
    const cell = plain(cells[i] ?? '');
    if (cell === plain(cellOf(before, path))) continue;
    const read = readCellOf(list, field, cell, names);
    if (typeof read === 'object' && !Array.isArray(read)) problems.push(read as Problem);
    else if (read === '' || read.length === 0) delete values[path];
    else values[path] = read as string | string[];
    differing.add(path.split('.')[0]!);
  }
  return { values, differing, problems };
}

/** The text of a form that a cell stands for, or what is wrong with it. */
function readCellOf(list: TableList, field: Field, cell: string, names: Names): string | string[] | Problem {
  const { kind, choices, ref } = field;
  const label = field.label();
  const wrong = (message: string): Problem => wordedProblem('shape', `${list}.${field.key}`, cell, message);
  const chosen = (text: string): string =>
    choices?.().find(({ value }) => value === text || isSaid(text, () => labelOf(field, value)))?.value ?? text;
  switch (kind) {
    case 'number':
    case 'whole':
    case 'amount':
      return plainNumber(cell) ?? wrong(say.ambiguous(label, cell));
    case 'span':
    case 'estimate':
    case 'lead':
      if (cell.includes('(')) return cell;
      return plainNumber(cell.replace(/(?<=\d),(?=\d{1,2}\b)/g, '.')) ?? wrong(say.ambiguous(label, cell));
    case 'yes':
      if (/^(yes|true|ja|wahr|x|1)$/i.test(cell)) return 'yes';
      return /^(no|false|nein|falsch|0|)$/i.test(cell) ? '' : wrong(say.yes(label, cell));
    case 'choice':
      return chosen(cell);
    case 'ref':
      return names(ref!, cell);
    case 'choices':
      return cell.split(SPLIT).filter(Boolean).map(chosen);
    case 'refs':
      return cell
        .split(SPLIT)
        .filter(Boolean)
        .map((text) => names(ref!, text));
    default:
      return cell;
  }
}

function cellOf(values: FormValues, path: string): string {
  const value = values[path];
  return value === undefined ? '' : typeof value === 'string' ? value : value.join('; ');
}

/** As it is read: without blanks around it, lines ended one way. */
function plain(cell: string): string {
  return cell.replaceAll('\r\n', '\n').trim();
}

/** The columns of a table that holds these things: rows of a field as far as any has them. */
function columnsOf(list: TableList, values: readonly FormValues[]): { path: string; heading: string }[] {
  return FIELDS[list].flatMap((field) => {
    if (field.kind !== 'rows') return [{ path: field.key, heading: field.label() }];
    const paths = new Set(values.flatMap((one) => Object.keys(one).filter((path) => path.startsWith(`${field.key}.`))));
    const most = Math.max(0, ...[...paths].map((path) => Number(path.split('.')[1]) + 1));
    return Array.from({ length: most }, (_, n) =>
      subFields(field).flatMap((sub) => {
        const path = `${field.key}.${n}.${sub.key}`;
        return paths.has(path) ? [{ path, heading: csvTexts.column(field.label(), sub.label(), n + 1) }] : [];
      }),
    ).flat();
  });
}

/** The fields of a row, with the kind of a phase before them. */
function subFields({ key, rows = [] }: Field): readonly Field[] {
  return key === 'phases'
    ? [{ key: 'kind', label: () => csvTexts.kind, kind: 'choice', choices: phaseKinds }, ...rows]
    : rows;
}

const ROW_LABEL = /^(.+) (\d{1,3}): (.+)$/;
const ROW_PATH = /^(\w+)\.(\d{1,3})\.(.+)$/;

function columnNamed(list: TableList, heading: string): Column | null {
  const [, rowLabel, n, sub] = ROW_LABEL.exec(heading) ?? [];
  const [, rowKey, at, subKey] = ROW_PATH.exec(heading) ?? [];
  for (const field of FIELDS[list]) {
    if (field.kind !== 'rows') {
      if (isSaid(heading.trim(), field.label) || heading.trim().toLowerCase() === field.key.toLowerCase())
        return { path: field.key, field };
      continue;
    }
    const isLabel = rowLabel !== undefined && isSaid(rowLabel.trim(), field.label);
    const found = subFields(field).find((one) =>
      isLabel ? isSaid(sub!.trim(), one.label) : rowKey === field.key && subKey === one.key,
    );
    if (found !== undefined) return { path: `${field.key}.${isLabel ? Number(n) - 1 : at}.${found.key}`, field: found };
  }
  return null;
}

/** Whether a text is a word of ours in any language, in small letters or large. */
function isSaid(text: string, word: () => string): boolean {
  return inEveryLanguage(word).some((one) => one.toLowerCase() === text.toLowerCase());
}

function labelOf({ choices }: Field, value: string): string {
  return choices?.().find((one) => one.value === value)?.label ?? value;
}

function twiceHeadings(headings: readonly string[], columns: readonly (Column | null)[]): LineProblem[] {
  const paths = columns.map((column) => column?.path);
  return headings.flatMap((heading, i) =>
    paths[i] !== undefined && paths.indexOf(paths[i]) < i
      ? [problemAt(1, 'headings', heading, say.twiceHeading(heading))]
      : [],
  );
}

function problemAt(line: number, field: string, value: string, message: string): LineProblem {
  return { line, problem: wordedProblem('shape', field, value, message) };
}
