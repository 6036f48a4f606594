/** How an edit is put into words: what was changed, field by field, and why. */
import type { RevisionCause } from '../../server/model/index.ts';
import { grammarTexts } from '../texts/grammar.ts';
import { texts } from '../texts/index.ts';
import type { EditList } from '../types.ts';

const say = texts.history;

/** One field of a thing: its label in forms, what was in it and what is in it now; empty for nothing. */
export interface FieldLine {
  readonly label: string;
  readonly was: string;
  readonly became: string;
  /** It is a whole row of a list, which was added or removed. */
  readonly isRow?: true;
}

/** One line of an edit: what happened to one thing. */
export type EditLine =
  | { readonly did: 'added' | 'removed'; readonly list: EditList; readonly name: string }
  | { readonly did: 'moved'; readonly list: EditList; readonly name: string; readonly after: string | null }
  | { readonly did: 'renamed'; readonly list: EditList; readonly name: string; readonly to: string }
  | {
      readonly did: 'changed';
      readonly list: EditList | 'build';
      readonly name: string;
      readonly fields: readonly FieldLine[];
    };

/** An edit in a few words, for where there is no room for its lines: `Part Hook: count 40 → 44, and 2 more`. */
export function editText(cause: RevisionCause, lines: readonly EditLine[]): string {
  const why = causeText(cause);
  if (cause.code !== 'edit' || lines.length === 0) return why ?? say.noChange;
  const [first] = lines;
  return lines.length === 1 ? lineText(first!) : say.andMore(lineText(first!), lines.length - 1);
}

/** Why there is an edit, in a line of its own; null where what was changed says it all. */
export function causeText(cause: RevisionCause): string | null {
  switch (cause.code) {
    case 'made':
      return say.made;
    case 'import':
      return say.imported(cause.entries);
    case 'file':
      return say.fromFile;
    case 'back-to':
      return say.backTo(cause.edit);
    case 'undo':
      return say.undone(cause.edit);
    case 'option':
      return texts.options.adopted(cause.name);
    case 'said':
      return cause.text;
    case 'edit':
      return null;
  }
}

/** `Part Hook: count 40 → 44`, `Step Drill added`. */
export function lineText(line: EditLine): string {
  const thing = line.list === 'build' ? say.build : say.thing(texts.edit.thing[line.list], line.name);
  switch (line.did) {
    case 'added':
      return say.added(thing);
    case 'removed':
      return say.removed(thing);
    case 'moved':
      return line.after === null ? say.movedFirst(thing) : say.moved(thing, line.after);
    case 'renamed':
      return say.renamed(thing, line.to);
    case 'changed':
      return say.changed(thing, line.fields.map(fieldText).join('; '));
  }
}

function fieldText({ label, was, became, isRow }: FieldLine): string {
  if (isRow && was === '') return say.rowAdded(grammarTexts.within(label), short(became));
  if (isRow && became === '') return say.rowRemoved(grammarTexts.within(label), short(was));
  const change = say.becomes(was === '' ? say.nothing : short(was), became === '' ? say.nothing : short(became));
  return label === '' ? change : `${grammarTexts.within(label)} ${change}`;
}

const LONGEST_VALUE = 80;

function short(text: string): string {
  const line = text.replaceAll(/\s+/g, ' ').trim();
  return line.length > LONGEST_VALUE ? `${line.slice(0, LONGEST_VALUE)}…` : line;
}
