/** A form for one thing of a build, drawn from its fields, with what was wrong beside the field it concerns. */
import { type Build, LONGEST_OPTION_NAME } from '../../server/model/index.ts';
import { sheetForm, sheetLink } from '../hx.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { EditList, KeepAs, OpenForm } from '../types.ts';
import { FIELDS, type Field, LAST_PLACE } from './fields.ts';
import { type Context, filled, rowCount } from './form-context.ts';
import { FieldView } from './form-fields.tsx';
import { placed, Refusal } from './form-problems.tsx';
import { RippleView } from './ripple.tsx';
import { Seen } from './seen-first.tsx';
import { WhileOpen } from './while-open.tsx';

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

interface NewPin {
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

/** A link that opens the form of a thing where it is. */
export function ChangeLink(props: { href: string; list: EditList | 'build'; id: string | null; of: string }): Html {
  const { href, list, id, of } = props;
  return (
    <WhileOpen>
      <a class="change" {...sheetLink(openHref(href, list, id))}>
        {id === null && list !== 'build' ? say.add[list] : say.change}
        {of === '' ? null : <span class="heard"> {of}</span>}
      </a>
    </WhileOpen>
  );
}

export function EditForm({ build, form, href }: EditFormProps): Html {
  const { list, key, values, problems, added, needs = [], seen, keep } = form;
  const refused = problems.length > 0 || needs.length > 0;
  const fields = FIELDS[list].filter((field) => key === null || !field.onlyNew);
  const thing = say.thing[list];
  const context: Context = { build, list, key, values, problems: placed(fields, form), added };
  const loose = problems.filter((it) => !context.problems.some(([, { field }]) => field === it.field));
  const title = key === null && list !== 'build' ? say.titleNew(thing) : say.title(thing, nameOf(form));
  return (
    <WhileOpen>
      <form class="edit" id="edit" aria-label={title} novalidate {...sheetForm(openHref(href, list, key))}>
        <h2
          tabindex={-1}
          autofocus={!refused && added === undefined && seen === undefined && keep === undefined && !form.ripple?.isNew}
        >
          {title}
        </h2>
        <input type="hidden" name="edit" value={form.revision} />
        {/* Enter in a field presses the first button of a form. */}
        <button type="submit" name="do" value={keep === undefined ? 'save' : 'keep'} class="heard" tabindex={-1}>
          {keep === undefined ? say.save : texts.options.keep}
        </button>
        {refused ? <Refusal loose={loose} context={context} fields={fields} needs={needs} /> : null}
        <div class="fields">
          {fields
            .filter((field) => !field.rare)
            .map((field) => (
              <FieldView key={field.key} field={field} prefix="" context={context} />
            ))}
        </div>
        <RareFields fields={fields.filter((field) => field.rare)} context={context} />
        {key === null || list === 'build' || list === 'feeds' ? null : <Place form={form} build={build} />}
        {seen === undefined ? null : <Seen seen={seen} />}
        {form.ripple === undefined ? null : <RippleView ripple={form.ripple} problems={problems} />}
        {keep === undefined ? null : <Keep keep={keep} isFirst={!refused} />}
        <p class="buttons">
          <button type="submit" name="do" value="save" class="main">
            {say.save}
          </button>
          <button type="submit" name="do" value="see">
            {texts.options.see}
          </button>
          <button type="submit" name="do" value="keep">
            {texts.options.keep}
          </button>
          {key === null || list === 'build' ? null : (
            <button type="submit" name="do" value="remove">
              {say.remove}
            </button>
          )}
          <a class="button" {...sheetLink(href)}>
            {say.close}
          </a>
        </p>
      </form>
    </WhileOpen>
  );
}

/** Moves the thing in its list with the same press that saves it: before another, or to the end. */
function Place({ form: { list, key, values }, build }: { form: OpenForm; build: Build }): Html | null {
  if (list === 'build') return null;
  const others = (build[list] ?? []).map((thing, at) => nameAndKey(thing, at)).filter((one) => one.key !== key);
  if (others.length === 0) return null;
  const { place } = texts;
  return (
    <p class="field choice">
      <label for="f-place">{place.label}</label>
      <select id="f-place" name="place">
        <option value="">{place.stays}</option>
        {others.map((one) => (
          <option key={one.key} value={one.key} selected={values.place === one.key}>
            {place.before(one.name)}
          </option>
        ))}
        <option value={LAST_PLACE} selected={values.place === LAST_PLACE}>
          {place.end}
        </option>
      </select>
    </p>
  );
}

function nameAndKey(thing: object, at: number): { readonly key: string; readonly name: string } {
  const { id, name, question } = thing as { id?: string; name?: string; question?: string };
  return { key: id ?? name ?? String(at), name: name ?? question ?? id ?? String(at) };
}

/** Asks for the name of an option, or for the one that this is added to. */
function Keep({ keep, isFirst }: { keep: KeepAs; isFirst: boolean }): Html {
  return (
    <div class="fields keep">
      <p class="field text">
        <label for="f-option-name">{texts.options.name}</label>
        <input
          id="f-option-name"
          name="option-name"
          value={keep.name}
          maxLength={LONGEST_OPTION_NAME}
          autocomplete="off"
          autofocus={isFirst}
        />
      </p>
      {keep.options.length === 0 ? null : (
        <p class="field choice">
          <label for="f-option-into">{texts.options.into}</label>
          <select id="f-option-into" name="option-into">
            <option value="">{texts.options.newOption}</option>
            {keep.options.map(({ number, name }) => (
              <option key={number} value={number} selected={String(number) === keep.into}>
                {name}
              </option>
            ))}
          </select>
        </p>
      )}
    </div>
  );
}

function nameOf({ key, values }: OpenForm): string {
  const name = values.name ?? values.question;
  return typeof name === 'string' && name !== '' ? name : (key ?? '');
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
