/** A form for one thing of a build, drawn from its fields, with what was wrong beside the field it concerns. */
import type { Build, Problem } from '../../server/model/index.ts';
import { sheetForm, sheetLink } from '../hx.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts.ts';
import type { EditList, FormValues, OpenForm } from '../types.ts';
import { ADD_PHASE, type Choice, FIELDS, type Field, PHASE_KINDS } from './fields.ts';

const say = texts.edit;

interface EditFormProps {
  build: Build;
  form: OpenForm;
  /** The page the form stands on; the form posts to it and closing goes back to it. */
  href: string;
}

/** Where the form for a thing is opened on a page. */
export function openHref(href: string, list: EditList | 'build', key: string | null): string {
  return `${href}?open=${encodeURIComponent(openName(list, key))}`;
}

export interface NewPin {
  readonly set: number | null;
  readonly from: number;
  readonly to: number;
  /** YYYY-MM-DDTHH:MM */
  readonly start: string;
  readonly person: string;
}

/** Where a step's form is opened with a pin in it that is not saved yet. */
export function pinHref(href: string, step: string, { set, from, to, start, person }: NewPin): string {
  const pin = [set ?? '', from, to, start, person].join(',');
  return `${openHref(href, 'steps', step)}&pin=${encodeURIComponent(pin)}#edit`;
}

function openName(list: EditList | 'build', key: string | null): string {
  return list === 'build' ? 'build' : key === null ? `${list}/new` : `${list}/${key}`;
}

/** A link that opens the form of a thing where it stands. */
export function ChangeLink(props: { href: string; list: EditList | 'build'; id: string | null; of: string }): Html {
  const { href, list, id, of } = props;
  return (
    <a class="change" {...sheetLink(openHref(href, list, id))}>
      {id === null && list !== 'build' ? say.add[list] : say.change}
      {of === '' ? null : <span class="heard"> {of}</span>}
    </a>
  );
}

export function EditForm({ build, form, href }: EditFormProps): Html {
  const { list, key, values, problems, added } = form;
  const fields = FIELDS[list].filter((field) => key === null || !field.onlyNew);
  const thing = say.thing[list];
  const context: Context = { build, list, key, values, problems: placed(fields, form), added };
  const loose = problems.filter((it) => !context.problems.some(([, { field }]) => field === it.field));
  const title = key === null && list !== 'build' ? say.titleNew(thing) : say.title(thing, nameOf(form));
  return (
    <form class="edit" id="edit" aria-label={title} novalidate {...sheetForm(openHref(href, list, key))}>
      <h2 tabindex={-1} autofocus={problems.length === 0 && added === undefined}>
        {title}
      </h2>
      <input type="hidden" name="edit" value={form.revision} />
      {/* Enter in a field presses the first button of a form. */}
      <button type="submit" name="do" value="save" class="heard" tabindex={-1}>
        {say.save}
      </button>
      {problems.length === 0 ? null : <Refusal loose={loose} context={context} fields={fields} />}
      <div class="fields">
        {fields
          .filter((field) => !field.rare)
          .map((field) => (
            <FieldView key={field.key} field={field} prefix="" context={context} />
          ))}
      </div>
      <RareFields fields={fields.filter((field) => field.rare)} context={context} />
      <p class="buttons">
        <button type="submit" name="do" value="save" class="main">
          {say.save}
        </button>
        {key === null || list === 'build' ? null : (
          <>
            {list === 'feeds' ? null : (
              <>
                <button type="submit" name="do" value="move-up">
                  {say.up}
                </button>
                <button type="submit" name="do" value="move-down">
                  {say.down}
                </button>
              </>
            )}
            <button type="submit" name="do" value="remove">
              {say.remove}
            </button>
          </>
        )}
        <a class="button" {...sheetLink(href)}>
          {say.close}
        </a>
      </p>
    </form>
  );
}

interface Context {
  readonly build: Build;
  readonly list: EditList | 'build';
  readonly key: string | null;
  readonly values: FormValues;
  /** Problems by the path of the input they stand beside. */
  readonly problems: readonly (readonly [string, Problem])[];
  /** The list whose last row is new. */
  readonly added: string | undefined;
}

function nameOf({ key, values }: OpenForm): string {
  const name = values.name ?? values.question;
  return typeof name === 'string' && name !== '' ? name : (key ?? '');
}

/** Each problem with the input it belongs to: the longest path that the problem's own begins with. */
function placed(fields: readonly Field[], { list, key, problems }: OpenForm): [string, Problem][] {
  const found: [string, Problem][] = [];
  for (const it of problems) {
    const path = localPath(it.field, list, key);
    const field = fields
      .filter((f) => path === f.key || path.startsWith(`${f.key}.`) || (f.kind === 'quantity' && QUANTITY.test(path)))
      .sort((a, b) => b.key.length - a.key.length)[0];
    if (field === undefined) continue;
    const at = field.kind === 'rows' ? rowPath(field, path) : field.key;
    found.push([at, { ...it, message: messageAt(fields, at, it) }]);
  }
  return found;
}

/** A problem in the words of the form: the input by what stands above it. */
function messageAt(fields: readonly Field[], path: string, { code, field, value, message }: Problem): string {
  const label = labelAt(fields, path);
  if (code !== 'shape' || value !== 'nothing') return message.replace(`"${field}"`, `“${label}”`);
  return ['choice', 'ref', 'refs'].includes(inputAt(fields, path).field?.kind ?? '')
    ? say.notChosen(label)
    : say.notFilled(label);
}

function labelAt(fields: readonly Field[], path: string): string {
  const { row, field } = inputAt(fields, path);
  return [row, field?.label].filter(Boolean).join(', ');
}

/** The field of an input, and the title of the row it stands in. */
function inputAt(fields: readonly Field[], path: string): { row?: string; field: Field | undefined } {
  const [key, row, cell] = path.split('.');
  const field = fields.find((it) => it.key === path) ?? fields.find((it) => it.key === key);
  if (field?.kind !== 'rows' || row === undefined) return { field };
  return { row: rowTitle(field, Number(row)), field: field.rows!.find((it) => it.key === cell) };
}

function rowTitle(field: Field, row: number): string {
  return `${field.row?.one ?? field.label} ${row + 1}`;
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
}

/** Stands above the fields and takes the focus, so that nobody misses that nothing was saved; leads to what is wrong below. */
function Refusal({ loose, context, fields }: RefusalProps): Html {
  const paths = [...new Set(context.problems.map(([path]) => path))];
  const place = (path: string) => fields.findIndex(({ key }) => key === path || path.startsWith(`${key}.`));
  paths.sort((a, b) => place(a) - place(b));
  return (
    <div class="refusal" role="alert" tabindex={-1} autofocus>
      <p class="threat">{say.notSaved}</p>
      <ul>
        {loose.map((it) => (
          <li key={it.field + it.message}>{it.message}</li>
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

function RareFields({ fields, context }: { fields: readonly Field[]; context: Context }): Html | null {
  if (fields.length === 0) return null;
  const open = fields.some(
    ({ key, kind }) =>
      filled(context.values[key]) ||
      (kind === 'rows' && rowCount({ key }, context.values) > 0) ||
      context.problems.some(([path]) => path === key || path.startsWith(`${key}.`)),
  );
  return (
    <details class="rare" open={open}>
      <summary>{texts.more}</summary>
      <div class="fields">
        {fields.map((field) => (
          <FieldView key={field.key} field={field} prefix="" context={context} />
        ))}
      </div>
    </details>
  );
}

interface FieldProps {
  field: Field;
  prefix: string;
  context: Context;
}

function FieldView({ field, prefix, context }: FieldProps): Html {
  const name = prefix + field.key;
  const inputId = `f-${name}`;
  if (field.kind === 'rows') return <Rows field={field} context={context} />;
  if (field.kind === 'refs' || field.kind === 'choices') return <Ticks field={field} name={name} context={context} />;
  const wrong = problemsAt(context, name);
  const described = [field.hint === undefined ? null : `${inputId}-hint`, wrong.length > 0 ? `${inputId}-wrong` : null]
    .filter(Boolean)
    .join(' ');
  if (field.kind === 'yes') {
    return (
      <p class="field yes">
        <label>
          <input type="checkbox" name={name} id={inputId} value="yes" checked={one(context.values[name]) !== ''} />{' '}
          {field.label}
        </label>
        <Wrong id={`${inputId}-wrong`} problems={wrong} />
      </p>
    );
  }
  return (
    <p class={`field ${field.kind}`}>
      <label for={inputId}>{field.label}</label>
      <Input field={field} name={name} id={inputId} context={context} described={described} wrong={wrong.length > 0} />
      {field.hint === undefined ? null : (
        <span class="hint" id={`${inputId}-hint`}>
          {field.hint}
        </span>
      )}
      <Wrong id={`${inputId}-wrong`} problems={wrong} />
    </p>
  );
}

interface InputProps {
  field: Field;
  name: string;
  id: string;
  context: Context;
  described: string;
  wrong: boolean;
}

function Input({ field, name, id, context, described, wrong }: InputProps): Html {
  const value = one(context.values[name]);
  const shared = {
    name,
    id,
    'aria-describedby': described === '' ? undefined : described,
    'aria-invalid': wrong ? ('true' as const) : undefined,
  };
  if (field.kind === 'choice' || field.kind === 'ref') {
    return (
      <select {...shared}>
        <option value="">{say.choose}</option>
        {withOwn(choicesOf(field, context), value).map((it) => (
          <option key={it.value} value={it.value} selected={it.value === value}>
            {it.label}
          </option>
        ))}
      </select>
    );
  }
  if (field.kind === 'note' || field.kind === 'lines') {
    return (
      <textarea {...shared} rows={3}>
        {value}
      </textarea>
    );
  }
  const keys = ({ number: 'decimal', whole: 'numeric' } as const)[field.kind as 'number'] ?? 'text';
  return (
    <input {...shared} type={inputType(field, value) as 'text'} value={value} inputMode={keys} autocomplete="off" />
  );
}

/** What a browser's own picker would show, where it can show what stands there: nothing typed is lost. */
function inputType({ input }: Field, value: string): 'date' | 'time' | 'datetime-local' | 'text' {
  if (input === undefined) return 'text';
  return value === '' || PICKED[input].test(value) ? input : 'text';
}

const PICKED = {
  date: /^\d{4}-\d{2}-\d{2}$/,
  time: /^\d{2}:\d{2}$/,
  'datetime-local': /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/,
};

function Wrong({ id, problems }: { id: string; problems: readonly Problem[] }): Html | null {
  if (problems.length === 0) return null;
  return (
    <span class="wrong" id={id} role="alert">
      {problems.map((it) => (
        <span key={it.message} class="threat">
          {it.message}
        </span>
      ))}
    </span>
  );
}

function Ticks({ field, name, context }: { field: Field; name: string; context: Context }): Html {
  const chosen = many(context.values[name]);
  const choices = chosen.reduce((all, value) => withOwn(all, value), choicesOf(field, context));
  return (
    <fieldset class="ticks">
      <legend>{field.label}</legend>
      {field.hint === undefined ? null : <span class="hint">{field.hint}</span>}
      {choices.map((it) => (
        <label key={it.value}>
          <input type="checkbox" name={name} value={it.value} checked={chosen.includes(it.value)} /> {it.label}
        </label>
      ))}
      <Wrong id={`f-${name}-wrong`} problems={problemsAt(context, name)} />
    </fieldset>
  );
}

/** Rows that are added, taken out and (a work pattern) put in order; each button asks the server and changes nothing yet. */
function Rows({ field, context }: { field: Field; context: Context }): Html {
  const count = rowCount(field, context.values);
  const pattern = field.key === 'phases';
  return (
    <fieldset class="rows" id={`rows-${field.key}`}>
      <legend>{field.label}</legend>
      {field.hint === undefined ? null : <span class="hint">{field.hint}</span>}
      {field.key === 'usedIn' ? <span class="hint">{whereItGoesIn(context)}</span> : null}
      <Wrong id={`f-${field.key}-wrong`} problems={problemsAt(context, field.key)} />
      {Array.from({ length: count }, (_, row) => (
        <Row key={row} field={field} row={row} count={count} context={context} />
      ))}
      <p class="buttons">
        {(pattern ? ADD_PHASE : [{ value: '', label: field.row!.add }]).map((it) => (
          <button
            key={it.value}
            type="submit"
            name="do"
            value={`add:${field.key}:${it.value}`}
            id={`do-add-${field.key}-${it.value}`}
          >
            {it.label}
          </button>
        ))}
      </p>
    </fieldset>
  );
}

/** At which step the part goes into each of its parents, where that is known. */
function whereItGoesIn({ build, key, values }: Context): string {
  const takers = build.steps.filter((step) => key !== null && step.uses?.includes(key));
  if (takers.length > 0) return say.goesInAt(takers.map(({ name }) => name));
  const count = rowCount({ key: 'usedIn' }, values);
  const parents = new Set(Array.from({ length: count }, (_, row) => one(values[`usedIn.${row}.part`])));
  // What is not made here begins with an order that is no step of the maker's.
  const isMade = (id: string) => build.parts?.find((part) => part.id === id)?.source === 'make';
  const firsts = [...parents].flatMap((id) =>
    isMade(id) ? (build.steps.find(({ part }) => part === id)?.name ?? []) : [],
  );
  return say.goesInFirst(firsts);
}

function Row({ field, row, count, context }: { field: Field; row: number; count: number; context: Context }): Html {
  const prefix = `${field.key}.${row}.`;
  const kind = one(context.values[`${prefix}kind`]);
  const fields = kind === '' ? field.rows! : field.rows!.filter((it) => it.only?.includes(kind));
  const label = kind === '' ? rowTitle(field, row) : `${row + 1} ${kindLabel(kind)}`;
  const fresh = context.added === field.key && row === count - 1;
  const button = (verb: string, text: string) => (
    <button type="submit" name="do" value={`${verb}:${field.key}:${row}`} id={`do-${verb}-${field.key}-${row}`}>
      {text}
      <span class="heard"> {label}</span>
    </button>
  );
  return (
    <fieldset class={kind === '' ? 'row' : `row phase-${kind}`} tabindex={fresh ? -1 : undefined} autofocus={fresh}>
      <legend>{label}</legend>
      {kind === '' ? null : <input type="hidden" name={`${prefix}kind`} value={kind} />}
      <Wrong id={`f-${field.key}.${row}-wrong`} problems={problemsAt(context, `${field.key}.${row}`)} />
      <div class="fields">
        {fields.map((it) => (
          <FieldView key={it.key} field={it} prefix={prefix} context={context} />
        ))}
      </div>
      <p class="buttons">
        {kind !== '' && row > 0 ? button('up', say.row.up) : null}
        {kind !== '' && row < count - 1 ? button('down', say.row.down) : null}
        {button('drop', say.row.drop)}
      </p>
    </fieldset>
  );
}

function kindLabel(kind: string): string {
  return PHASE_KINDS.find((it) => it.value === kind)?.label ?? kind;
}

function rowCount(field: Pick<Field, 'key'>, values: FormValues): number {
  const prefix = `${field.key}.`;
  const numbers = Object.keys(values)
    .filter((key) => key.startsWith(prefix))
    .map((key) => Number(key.slice(prefix.length).split('.')[0]));
  return numbers.length === 0 ? 0 : Math.max(...numbers) + 1;
}

function choicesOf(field: Field, { build }: Context): readonly Choice[] {
  if (field.ref === undefined) return field.choices ?? [];
  if (field.ref === 'parameters') return (build.parameters ?? []).map((it) => ({ value: it.name, label: it.name }));
  return (build[field.ref] ?? []).map((it) => ({ value: it.id, label: it.name }));
}

/** A value that is no choice any more stays to be seen. */
function withOwn(choices: readonly Choice[], value: string): readonly Choice[] {
  return value === '' || choices.some((it) => it.value === value) ? choices : [...choices, { value, label: value }];
}

function problemsAt({ problems }: Context, path: string): Problem[] {
  return problems.filter(([at]) => at === path).map(([, it]) => it);
}

function one(value: string | readonly string[] | undefined): string {
  return typeof value === 'string' ? value : (value?.at(-1) ?? '');
}

function many(value: string | readonly string[] | undefined): readonly string[] {
  if (value === undefined) return [];
  return typeof value === 'string' ? [value] : value;
}

function filled(value: string | readonly string[] | undefined): boolean {
  return many(value).some((it) => it !== '');
}
