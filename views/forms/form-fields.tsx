/** The fields of a form, each with its label, its hint and what is wrong with it. */

import { messageOf, type Problem } from '../../server/model/index.ts';
import { formulasHref } from '../links.ts';
import type { Html } from '../render.ts';
import { formulaTexts } from '../texts/begin/formulas.ts';
import { texts } from '../texts/index.ts';
import { addPhase, type Choice, type Field, phaseKinds } from './fields.ts';
import { type Context, many, one, problemsAt, rowCount } from './form-context.ts';
import { rowTitle } from './form-problems.tsx';
import { WeekPicker } from './week.tsx';

const say = texts.edit;

interface FieldProps {
  field: Field;
  prefix: string;
  context: Context;
}

/** A field by its kind; `prefix` is that of the row it stands in. */
export function FieldView({ field, prefix, context }: FieldProps): Html {
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
          {field.label()}
        </label>
        <Wrong id={`${inputId}-wrong`} problems={wrong} />
      </p>
    );
  }
  const typed = (
    <p class={`field ${field.kind}`}>
      <label for={inputId}>{field.label()}</label>
      <Input field={field} name={name} id={inputId} context={context} described={described} wrong={wrong.length > 0} />
      {field.hint === undefined ? null : (
        <span class="hint" id={`${inputId}-hint`}>
          {field.hint()}
        </span>
      )}
      {MAY_BE_FORMULA.includes(field.kind) ? <FormulasLink build={context.build.id} /> : null}
      <Wrong id={`${inputId}-wrong`} problems={wrong} />
    </p>
  );
  if (name !== 'hours') return typed;
  return (
    <>
      {typed}
      <WeekPicker context={context} />
    </>
  );
}

const MAY_BE_FORMULA: readonly string[] = ['quantity', 'amount', 'span'];

/** Opens the list beside the form, so that nothing typed is lost. */
function FormulasLink({ build }: { build: string }): Html {
  return (
    <a class="hint formulas-link" href={formulasHref(build)} target="_blank" rel="noopener">
      {formulaTexts.beside}
      <span class="heard">{formulaTexts.besideHeard}</span>
    </a>
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

/** What a browser's own picker would show, where it can show what is there: nothing typed is lost. */
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
          {messageOf(it)}
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
      <legend>{field.label()}</legend>
      {field.hint === undefined ? null : <span class="hint">{field.hint()}</span>}
      {choices.map((it) => (
        <label key={it.value}>
          <input type="checkbox" name={name} value={it.value} checked={chosen.includes(it.value)} /> {it.label}
        </label>
      ))}
      <Wrong id={`f-${name}-wrong`} problems={problemsAt(context, name)} />
    </fieldset>
  );
}

/**
 * Rows that are added, taken out and (a work pattern) put in order; each button asks the server and changes nothing
 * yet.
 */
function Rows({ field, context }: { field: Field; context: Context }): Html {
  const count = rowCount(field, context.values);
  const pattern = field.key === 'phases';
  return (
    <fieldset class="rows" id={`rows-${field.key}`}>
      <legend>{field.label()}</legend>
      {field.hint === undefined ? null : <span class="hint">{field.hint()}</span>}
      {field.key === 'usedIn' ? <span class="hint">{whereItGoesIn(context)}</span> : null}
      <Wrong id={`f-${field.key}-wrong`} problems={problemsAt(context, field.key)} />
      {Array.from({ length: count }, (_, row) => (
        <Row key={row} field={field} row={row} count={count} context={context} />
      ))}
      <p class="buttons">
        {(pattern ? addPhase() : [{ value: '', label: field.row!.add }]).map((it) => (
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
  return phaseKinds().find((it) => it.value === kind)?.label ?? kind;
}

function choicesOf(field: Field, context: Context): readonly Choice[] {
  const { build } = context;
  if (field.ref === undefined) return field.choices?.() ?? [];
  if (field.ref === 'parameters') return (build.parameters ?? []).map((it) => ({ value: it.name, label: it.name }));
  const things = (build[field.ref] ?? []).map((it) => ({ value: it.id, label: it.name }));
  return field.key === 'waits' ? [...things, ...orderChoices(context)] : things;
}

/** Orders that parts imply, those of a way that may yet be chosen too: a decision may hold them up. */
function orderChoices({ build }: Context): readonly Choice[] {
  const ordered = (build.parts ?? []).filter(({ source, supplier, ways = [] }) =>
    ways.length > 0 ? ways.some((way) => way.source !== 'make') : source !== 'make' && supplier !== undefined,
  );
  return ordered.map(({ id, name }) => ({ value: `order-${id}`.slice(0, 60), label: say.orderOf(name) }));
}

/** A value that is no choice any more stays to be seen. */
function withOwn(choices: readonly Choice[], value: string): readonly Choice[] {
  return value === '' || choices.some((it) => it.value === value) ? choices : [...choices, { value, label: value }];
}
