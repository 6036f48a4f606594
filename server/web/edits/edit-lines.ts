/** What an edit changed, thing by thing and field by field, in the texts of the forms. */
import { FIELDS, type Field, type RefList } from '../../../views/forms/fields.ts';
import { grammarTexts } from '../../../views/texts/grammar.ts';
import { texts } from '../../../views/texts/index.ts';
import { showTexts } from '../../../views/texts/paper/show.ts';
import type { EditList } from '../../../views/types.ts';
import type { EditLine, FieldLine } from '../../../views/words/edit-words.ts';
import { weekdayWords } from '../../../views/words/wording.ts';
import {
  type Build,
  type Change,
  type Edit,
  type NotNeeded,
  type Thing,
  thingAt,
  type Unchecked,
} from '../../model/index.ts';
import { valueAt, writeField } from './form-text.ts';
import { nameIn, nameOfId } from './names.ts';
import { rowPairs } from './row-pairs.ts';

const say = texts.history;

/** The lines of an edit, in the order of its changes; the fields of one thing stand together in one line. */
export function editLines({ before, after, changes }: Edit): EditLine[] {
  const done = new Set<string>();
  return changes.flatMap((change) => {
    if (change.kind !== 'set') return [lineOf(change, before, after)];
    const thing = change.list === 'build' ? 'build' : `${change.list} ${change.key}`;
    if (done.has(thing)) return [];
    done.add(thing);
    return changedLine(change, changes, before, after);
  });
}

type Set_ = Change & { kind: 'set' };

function lineOf(change: Exclude<Change, Set_>, before: Build, after: Build): EditLine {
  const { list, key } = change;
  const name = nameAt(before, list, key) ?? nameAt(after, list, key) ?? key;
  switch (change.kind) {
    case 'put':
      return { did: 'added', list, name: nameIn(after, list, change.thing) };
    case 'remove':
      return { did: 'removed', list, name };
    case 'rename':
      return { did: 'renamed', list, name, to: change.to };
    case 'move':
      return {
        did: 'moved',
        list,
        name,
        after: change.after === null ? null : (nameAt(after, list, change.after) ?? change.after),
      };
  }
}

function nameAt(build: Build, list: EditList, key: string): string | null {
  const thing = thingAt(build, list, key);
  return thing && nameIn(build, list, thing);
}

/** All that was set on the thing of `first`. */
function changedLine(first: Set_, changes: readonly Change[], before: Build, after: Build): EditLine[] {
  const { list } = first;
  const was: Thing | null = first.list === 'build' ? before : thingAt(before, first.list, first.key);
  if (was === null) return [];
  const sets = changes.filter((it): it is Set_ => it.kind === 'set' && it.list === list && keyOf(it) === keyOf(first));
  const values = new Map(sets.map(({ field, value }) => [field, value]));
  const became = Object.fromEntries([...Object.entries(was), ...values]);
  const fields = fieldLines(FIELDS[list], was, became, { before, after }, values);
  const name = first.list === 'build' ? before.name : nameIn(before, first.list, was);
  return fields.length === 0 ? [] : [{ did: 'changed', list, name, fields }];
}

function keyOf(change: Set_): string | null {
  return change.list === 'build' ? null : change.key;
}

/** Where names are looked up: of what was, and of what it became. */
interface Builds {
  readonly before: Build;
  readonly after: Build;
}

function fieldLines(
  fields: readonly Field[],
  was: Thing,
  became: Thing,
  builds: Builds,
  changed: ReadonlyMap<string, unknown>,
): FieldLine[] {
  const shown = new Set(fields.flatMap((field) => (field.kind === 'quantity' ? QUANTITY : [field.key.split('.')[0]!])));
  const others = [...changed.keys()].filter((field) => !shown.has(field));
  return [
    ...fields.flatMap((field) =>
      field.kind === 'rows' ? rowLines(field, was, became, builds) : cellLines(field, was, became, builds),
    ),
    ...others.map((field) => otherLine(field, was[field], became[field])),
  ];
}

/** A field that no form shows. */
function otherLine(field: string, was: unknown, became: unknown): FieldLine {
  if (field === 'notNeeded') return { label: showTexts.pack.proposals.notNeeded, was: ofs(was), became: ofs(became) };
  if (field === 'hazardsGuessed') return { label: say.hazardsGuessed, was: markText(was), became: markText(became) };
  if (field !== 'unchecked') return { label: field, was: jsonText(was), became: jsonText(became) };
  return { label: say.unchecked, was: unitsText(was), became: unitsText(became) };
}

function markText(guessed: unknown): string {
  return guessed === true ? '≈' : '';
}

/** What is not needed on Show day, by name. */
function ofs(notNeeded: unknown): string {
  return ((notNeeded ?? []) as readonly NotNeeded[]).map(({ of }) => of).join(', ');
}

function unitsText(unchecked: unknown): string {
  const units = ((unchecked ?? []) as readonly Unchecked[]).reduce((sum, one) => sum + one.units, 0);
  return units === 0 ? '' : String(units);
}

const QUANTITY = ['value', 'formula', 'range'];

function cellLines(field: Field, was: Thing, became: Thing, { before, after }: Builds): FieldLine[] {
  const line = { label: labelOf(field), was: cellText(field, was, before), became: cellText(field, became, after) };
  return line.was === line.became ? [] : [line];
}

/** What a field is called in a line: a quantity is all there is to a parameter and needs no name. */
function labelOf({ kind, label }: Field): string {
  return kind === 'quantity' ? '' : label();
}

function cellText(field: Field, thing: Thing, build: Build): string {
  const value = field.kind === 'quantity' ? (thing.value ?? thing.formula ?? thing.range) : valueAt(thing, field.key);
  if (field.kind === 'yes') return value === true ? say.yes : say.no;
  if (value === undefined) return '';
  const written = writeField(field, value);
  const names = (typeof written === 'string' ? [written] : written).map((it) => nameOfValue(field, it, build));
  return names.join(', ');
}

function nameOfValue({ ref, choices, input }: Field, value: string, build: Build): string {
  if (ref !== undefined) return nameOfId(build, ref satisfies RefList, value);
  if (input === 'date') return weekdayWords(value);
  if (input === 'datetime-local') return value.replace('T', ' ');
  return choices?.().find((it) => it.value === value)?.label ?? value;
}

function jsonText(value: unknown): string {
  return value === undefined ? '' : JSON.stringify(value);
}

/** The rows of a field: those that are the same in both are left out, those between them are compared one by one. */
function rowLines(field: Field, was: Thing, became: Thing, builds: Builds): FieldLine[] {
  const [old, now] = [rowsIn(field, was), rowsIn(field, became)];
  const lines = rowPairs(old, now).flatMap(({ from, to }) =>
    from !== undefined && to !== undefined
      ? cellsOf(field, from).flatMap((cell) => cellLines(cell, from, to, builds))
      : [wholeRow(field, from, to, builds)],
  );
  const several = Math.max(old.length, now.length) > 1;
  return several ? lines.map((line) => inRow(field, line)) : lines;
}

/** Among several rows a line names its list, but for one that is a row itself and says so. */
function inRow(field: Field, line: FieldLine): FieldLine {
  const label = field.label();
  return line.label === label ? line : { ...line, label: `${label}, ${grammarTexts.within(line.label)}` };
}

function wholeRow(field: Field, from: Thing | undefined, to: Thing | undefined, { before, after }: Builds): FieldLine {
  const text = (row: Thing | undefined, build: Build) => (row === undefined ? '' : rowText(field, row, build));
  return { label: field.label(), was: text(from, before), became: text(to, after), isRow: true };
}

/** A row in a line: `wait, minutes for each lot 1 h`, `Cut slats, lag 2 h`. */
function rowText(field: Field, row: Thing, build: Build): string {
  const kind = typeof row.kind === 'string' ? [texts.edit.phase[row.kind as keyof typeof texts.edit.phase]] : [];
  const cells = cellsOf(field, row).flatMap((cell, i) => {
    const text = cellText(cell, row, build);
    if (text === '' || (cell.kind === 'yes' && row[cell.key] !== true)) return [];
    return [i === 0 && kind.length === 0 ? text : `${grammarTexts.within(cell.label())} ${text}`];
  });
  return [...kind, ...cells].join(', ');
}

function cellsOf(field: Field, row: Thing): readonly Field[] {
  const { kind } = row;
  return typeof kind === 'string' ? field.rows!.filter(({ only }) => only?.includes(kind)) : field.rows!;
}

function rowsIn(field: Field, thing: Thing): readonly Thing[] {
  const rows = (valueAt(thing, field.key) ?? []) as readonly unknown[];
  return rows.map((row) => (typeof row === 'string' ? { step: row } : (row as Thing)));
}
