/**
 * What was wrong with a form: which input each problem belongs to, in the words of the form, and the notice above the
 * fields.
 */
import { inWords, messageOf, type Problem } from '../../server/model/index.ts';
import { sheetLink } from '../hx.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { Need, OpenForm } from '../types.ts';
import type { Field } from './fields.ts';
import type { Context } from './form-context.ts';

const say = texts.edit;

/** Each problem with the input it belongs to: the longest path that the problem's own begins with. */
export function placed(fields: readonly Field[], { list, key, as, problems }: OpenForm): [string, Problem][] {
  const found: [string, Problem][] = [];
  for (const it of problems) {
    // That somebody saved meanwhile belongs to no field, whatever the fields are called.
    if (it.code === 'conflict' && it.field === 'revision') continue;
    const path = localPath(it.field, list, key ?? as ?? null);
    const field = fields
      .filter((f) => path === f.key || path.startsWith(`${f.key}.`) || (f.kind === 'quantity' && QUANTITY.test(path)))
      .sort((a, b) => b.key.length - a.key.length)[0];
    if (field === undefined) continue;
    const at = field.kind === 'rows' ? rowPath(field, path) : field.key;
    found.push([at, inWords(it, messageAt(fields, at, it))]);
  }
  return found;
}

/** A problem in the words of the form: the input by what is above it. */
function messageAt(fields: readonly Field[], path: string, it: Problem): string {
  const label = labelAt(fields, path);
  if (it.code !== 'shape' || it.value !== 'nothing') return messageNaming(it, label);
  return ['choice', 'ref', 'refs'].includes(inputAt(fields, path).field?.kind ?? '')
    ? say.notChosen(label)
    : say.notFilled(label);
}

/** What is wrong with a field, by what is written above its input. */
export function messageNaming(it: Problem, label: string): string {
  return messageOf(it).replace(say.quoted.path(it.field), () => say.quoted.label(label));
}

function labelAt(fields: readonly Field[], path: string): string {
  const { row, field } = inputAt(fields, path);
  return [row, field?.label()].filter(Boolean).join(', ');
}

/** The field of an input, and the title of the row it stands in. */
function inputAt(fields: readonly Field[], path: string): { row?: string; field: Field | undefined } {
  const [key, row, cell] = path.split('.');
  const field = fields.find((it) => it.key === path) ?? fields.find((it) => it.key === key);
  if (field?.kind !== 'rows' || row === undefined) return { field };
  return { row: rowTitle(field, Number(row)), field: field.rows!.find((it) => it.key === cell) };
}

/** What is above a row: `pin 2`. */
export function rowTitle(field: Field, row: number): string {
  return `${field.row?.one ?? field.label()} ${row + 1}`;
}

const QUANTITY = /^(value|formula|range)(\.|$)/;

function localPath(field: string, list: string, key: string | null): string {
  const parts = field.split('.');
  if (parts[0] === list) parts.shift();
  if (key !== null && parts[0] === key) parts.shift();
  return parts.join('.');
}

/** `phases.1.machine` when the row has that field, otherwise the row or the whole list of rows. */
function rowPath(field: Field, path: string): string {
  const [, number, cell] = path.split('.');
  const known = field.rows!.some((it) => it.key === cell);
  if (number === undefined || !/^\d+$/.test(number)) return field.key;
  return known ? `${field.key}.${number}.${cell}` : `${field.key}.${number}`;
}

interface RefusalProps {
  /** What concerns none of the fields. */
  loose: readonly Problem[];
  context: Context;
  fields: readonly Field[];
  /** What needs the thing that was to be taken out. */
  needs: readonly Need[];
}

/**
 * Stands above the fields and takes the focus, so that nobody misses that nothing was saved; leads to what is wrong
 * below.
 */
export function Refusal({ loose, context, fields, needs }: RefusalProps): Html {
  const paths = [...new Set(context.problems.map(([path]) => path))];
  const place = (path: string) => fields.findIndex(({ key }) => key === path || path.startsWith(`${key}.`));
  paths.sort((a, b) => place(a) - place(b));
  return (
    <div class="refusal" role="alert" tabindex={-1} autofocus>
      <p class="threat">{say.notSaved}</p>
      <ul>
        {needs.map((need, i) => (
          <li key={need.href}>
            {say.needs.sentence(need.name, need.does)}{' '}
            {i < needs.length - 1 ? null : (
              <>
                {say.needs.change}{' '}
                {needs.map(({ href, name }, at) => (
                  <span key={href}>
                    {at === 0 ? '' : ', '}
                    <a {...sheetLink(href)}>{name}</a>
                  </span>
                ))}
                .
              </>
            )}
          </li>
        ))}
        {loose.map((it) => (
          <li key={it.field + it.message}>{messageOf(it)}</li>
        ))}
        {paths.length === 0 ? null : (
          <li>
            {say.toPutRight}
            {paths.map((path, i) => (
              <span key={path}>
                {i === 0 ? ' ' : ', '}
                <a href={`#f-${path}-wrong`}>{labelAt(fields, path)}</a>
              </span>
            ))}
          </li>
        )}
      </ul>
    </div>
  );
}
