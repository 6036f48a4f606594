/**
 * Between the text in a form and a thing of a build. Reading never refuses: what does not look like a number is kept as
 * the text it is, so that the model's own check says in its words what would be right.
 */
import { FIELDS, type Field } from '../../../views/forms/fields.ts';
import { texts } from '../../../views/texts/index.ts';
import type { EditList, FormValues } from '../../../views/types.ts';
import { type AnswerChange, answerText, readAnswerText, type Thing } from '../../model/index.ts';
import { plainNumber } from './csv-cells.ts';

type Values = Record<string, string | readonly string[]>;

/** The text with which a form for `thing` begins: every field of its list by its path, rows numbered from 0. */
export function formValues(list: EditList | 'build', thing: Thing): FormValues {
  return writeFields(FIELDS[list], thing);
}

/** The thing that the text in a form stands for; empty fields are left out. */
export function thingFromForm(list: EditList | 'build', values: FormValues): Record<string, unknown> {
  return readFields(FIELDS[list], values);
}

/** The text with blank rows taken out and the others renumbered: row n of the form is then item n of the thing. */
export function tidyRows(list: EditList | 'build', values: FormValues): FormValues {
  let tidied: Values = { ...values };
  for (const field of FIELDS[list]) {
    if (field.kind === 'rows') tidied = withRows(tidied, field, rowsOf(field, values).filter(isFilled));
  }
  return tidied;
}

/**
 * What a button inside a form asks of its rows: `add:phases:run`, `drop:phases:1`, `up:phases:1`, `down:phases:1`.
 * Others change nothing.
 */
export function withRowAction(list: EditList | 'build', values: FormValues, action: string): FormValues {
  const [verb, key, detail = ''] = action.split(':');
  const field = FIELDS[list].find((it) => it.key === key && it.kind === 'rows');
  if (field === undefined) return values;
  const rows = rowsOf(field, values);
  const at = Number(detail);
  if (verb === 'add') rows.push(key === 'phases' ? { kind: detail } : {});
  if (verb === 'drop') rows.splice(at, 1);
  if (verb === 'up' && at > 0) rows.splice(at - 1, 2, rows[at]!, rows[at - 1]!);
  if (verb === 'down' && at < rows.length - 1) rows.splice(at, 2, rows[at + 1]!, rows[at]!);
  return withRows(values, field, rows);
}

function readFields(fields: readonly Field[], values: FormValues): Record<string, unknown> {
  const thing: Record<string, unknown> = {};
  for (const field of fields) {
    const value = readField(field, values);
    if (value === undefined) continue;
    if (field.kind === 'quantity') Object.assign(thing, value);
    else put(thing, field.key, value);
  }
  return thing;
}

function readField(field: Field, values: FormValues): unknown {
  if (field.kind === 'rows') return readRows(field, values);
  const raw = values[field.key];
  if (field.kind === 'refs' || field.kind === 'choices') return emptied(many(raw).filter((it) => it !== ''));
  const text = one(raw).trim();
  if (text === '') return undefined;
  switch (field.kind) {
    case 'yes':
      return true;
    case 'number':
      return field.isShare === true ? shareOrText(text) : numberOrText(text);
    case 'whole':
    case 'amount':
    case 'span':
      return numberOrText(text);
    case 'estimate':
      return readTrial(text) ?? readRange(text) ?? numberOrText(text);
    case 'lead':
      return readRange(text) ?? numberOrText(text);
    case 'quantity':
      return readQuantity(text);
    case 'changes':
      return readAnswerText(text) ?? text;
    case 'words':
      return emptied(
        text
          .split(/[,\n]/)
          .map((it) => it.trim())
          .filter(Boolean),
      );
    case 'lines':
      return emptied(
        text
          .split('\n')
          .map((it) => it.trim())
          .filter(Boolean),
      );
    default:
      return text;
  }
}

function readRows(field: Field, values: FormValues): unknown {
  const items = rowsOf(field, values)
    .filter(isFilled)
    .map((row) => {
      const kind = one(row.kind);
      const fields = kind === '' ? field.rows! : field.rows!.filter((it) => it.only?.includes(kind));
      const item = readFields(fields, row);
      if (kind !== '') return { kind, ...item };
      return onlyOf(item, SHORT[field.key]);
    });
  return emptied(items);
}

/** Rows that are one text where nothing else is said of them, by the field that the text stands for. */
const SHORT: Readonly<Record<string, string>> = { after: 'step', answers: 'name' };

function onlyOf(item: Record<string, unknown>, short: string | undefined): unknown {
  return short !== undefined && Object.keys(item).length === 1 && short in item ? item[short] : item;
}

function readQuantity(text: string): Record<string, unknown> {
  const range = readRange(text);
  if (range !== null) return { range };
  const value = numberOrText(text);
  return typeof value === 'number' ? { value } : { formula: value };
}

const NUMBER = '(-?\\d+(?:[.,]\\d+)?)';
const RANGE = new RegExp(`^${NUMBER}\\s+to\\s+${NUMBER}\\s*,?\\s*likely\\s+${NUMBER}$`, 'i');
const TRIAL = new RegExp(`^${NUMBER}\\s*(?:units?)?\\s+in\\s+${NUMBER}\\s*(min|minutes|h|hours)?$`, 'i');

function readRange(text: string): { low: number; likely: number; high: number } | null {
  const match = RANGE.exec(text);
  return match === null ? null : { low: numberOf(match[1]!), likely: numberOf(match[3]!), high: numberOf(match[2]!) };
}

function readTrial(text: string): { units: number; minutes: number } | null {
  const match = TRIAL.exec(text);
  if (match === null) return null;
  const inHours = match[3]?.toLowerCase().startsWith('h') ?? false;
  return { units: numberOf(match[1]!), minutes: numberOf(match[2]!) * (inHours ? 60 : 1) };
}

/**
 * A number with a point or a decimal comma. `1,234` is a fraction to those whose language has decimal commas; to others
 * it may be a thousand, so it stays the text it is and is refused.
 */
function numberOrText(text: string): number | string {
  const plain = texts.decimal === ',' ? text.replace(/^(-?\d+),(\d+)$/, '$1.$2') : (plainNumber(text) ?? text);
  return /^-?\d*\.?\d+(e[+-]?\d+)?$/i.test(plain) && Number.isFinite(Number(plain)) ? Number(plain) : text;
}

/** `95 %` is 0.95. */
function shareOrText(text: string): number | string {
  const percent = /^(.+?)\s*%$/.exec(text);
  if (percent === null) return numberOrText(text);
  const hundred = numberOrText(percent[1]!);
  return typeof hundred === 'number' ? Number((hundred / 100).toPrecision(12)) : text;
}

function numberOf(typed: string): number {
  return Number(typed.replace(',', '.'));
}

function writeFields(fields: readonly Field[], thing: Thing): Values {
  const values: Values = {};
  for (const field of fields) {
    const value = field.kind === 'quantity' ? (thing.value ?? thing.formula ?? thing.range) : valueAt(thing, field.key);
    if (value === undefined) continue;
    if (field.kind === 'rows') writeRows(field, value as readonly unknown[], values);
    else values[field.key] = writeField(field, value);
  }
  return values;
}

function writeRows(field: Field, items: readonly unknown[], values: Values): void {
  for (const [i, item] of items.entries()) {
    const thing = (typeof item === 'string' ? { [SHORT[field.key] ?? 'step']: item } : item) as Thing;
    const row = writeFields(field.rows!, thing);
    if (typeof thing.kind === 'string') row.kind = thing.kind;
    for (const [key, value] of Object.entries(row)) values[`${field.key}.${i}.${key}`] = value;
  }
}

/** The text that stands for a value in a field of a form; several where several are chosen. */
export function writeField(field: Field, value: unknown): string | string[] {
  if (field.kind === 'yes') return value === true ? 'yes' : '';
  if (field.kind === 'refs' || field.kind === 'choices') return (value as string[]).map(String);
  if (field.kind === 'changes') return Array.isArray(value) ? answerText(value as AnswerChange[]) : String(value);
  if (field.kind === 'words') return (value as string[]).join(', ');
  if (field.kind === 'lines') return (value as string[]).join('\n');
  if (typeof value !== 'object' || value === null) return String(value);
  if ('units' in value)
    return `${(value as { units: number }).units} units in ${(value as { minutes?: number }).minutes} min`;
  const { low, likely, high } = value as { low: number; likely: number; high: number };
  return `${low} to ${high}, likely ${likely}`;
}

/** The rows of a field as forms of their own, with the path in front cut off. */
function rowsOf(field: Field, values: FormValues): Values[] {
  const rows: Values[] = [];
  const prefix = `${field.key}.`;
  for (const [key, value] of Object.entries(values)) {
    if (!key.startsWith(prefix)) continue;
    const [number, ...rest] = key.slice(prefix.length).split('.');
    const at = Number(number);
    if (!Number.isInteger(at) || at < 0 || at > MOST_ROWS) continue;
    rows[at] ??= Object.create(null) as Values;
    rows[at][rest.join('.')] = value;
  }
  return Array.from(rows, (row) => row ?? {}).filter((row) => Object.keys(row).length > 0);
}

const MOST_ROWS = 500;

function withRows(values: FormValues, field: Field, rows: readonly Values[]): Values {
  const prefix = `${field.key}.`;
  const kept: Values = Object.fromEntries(Object.entries(values).filter(([key]) => !key.startsWith(prefix)));
  for (const [i, row] of rows.entries()) {
    const cells = Object.keys(row).length === 0 ? { [field.rows![0]!.key]: '' } : row;
    for (const [key, value] of Object.entries(cells)) kept[`${prefix}${i}.${key}`] = value;
  }
  return kept;
}

function isFilled(row: Values): boolean {
  return Object.values(row).some((value) => many(value).some((it) => it.trim() !== ''));
}

function one(value: string | readonly string[] | undefined): string {
  return typeof value === 'string' ? value : (value?.at(-1) ?? '');
}

function many(value: string | readonly string[] | undefined): readonly string[] {
  if (value === undefined) return [];
  return typeof value === 'string' ? [value] : value;
}

function emptied<T>(items: readonly T[]): readonly T[] | undefined {
  return items.length === 0 ? undefined : items;
}

/** What a thing holds at the path of a field, such as `express.lead`. */
export function valueAt(thing: Thing, path: string): unknown {
  let here: unknown = thing;
  for (const key of path.split('.')) here = (here as Thing | undefined)?.[key];
  return here;
}

function put(thing: Record<string, unknown>, path: string, value: unknown): void {
  const keys = path.split('.');
  const last = keys.pop()!;
  let here = thing;
  for (const key of keys) {
    here[key] ??= {};
    here = here[key] as Record<string, unknown>;
  }
  here[last] = value;
}
