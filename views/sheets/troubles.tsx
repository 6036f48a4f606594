/** What goes wrong: each kind a form of two taps, with what it would cost shown in it before it is logged. */
import type { ComponentChildren } from 'preact';
import { messageOf, type Problem } from '../../server/model/index.ts';
import { Seen } from '../forms/seen-first.tsx';
import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Document, HelperHead, Sheet } from '../frame/layout.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { troubleTexts as say } from '../texts/troubles.ts';
import type { BuildPage, FormValues, SeenFirst } from '../types.ts';
import { isOnItsWay } from '../words/marks.tsx';
import { chanceText, roomText, whenText } from '../words/wording.ts';

type TroubleName = keyof typeof say.kinds;

/** The form that was pressed, with what came of it. */
export interface OpenTrouble {
  readonly kind: TroubleName;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
  readonly seen: SeenFirst | null;
}

interface TroublesProps {
  page: BuildPage;
  open: OpenTrouble | null;
  /** The form that the address asks for. */
  asked: TroubleName | null;
  /** Those that whoever asks may tell. */
  kinds: readonly TroubleName[];
  /** Who counts along and has no other sheets; null: the maker. */
  helper: string | null;
  defaults: Readonly<Record<TroubleName, FormValues>>;
}

const KINDS = Object.keys(say.kinds) as readonly TroubleName[];

/** What whoever counts along may tell too: what happens at the bench, and no more than hours lost. */
export const HELPERS_KINDS: readonly TroubleName[] = ['delivery', 'evening', 'machine', 'absent'];

/** The way there: each kind one tap from any sheet. */
export function TroubleLinks({ build, helper = false }: { build: string; helper?: boolean }): Html {
  return (
    <WhileOpen>
      <nav class="troubles-links" aria-label={say.heading}>
        <span>{helper ? say.linkForHelpers : say.link}</span>
        {(helper ? HELPERS_KINDS : KINDS).map((kind) => (
          <a key={kind} href={`${screenHref(build, 'wrong')}?open=${kind}#${kind}`}>
            {say.kinds[kind]}
          </a>
        ))}
      </nav>
    </WhileOpen>
  );
}

export function TroublesPage(props: TroublesProps): Html {
  const { page, helper } = props;
  if (helper !== null) {
    return (
      <Document title={`${say.heading} · ${page.build.name}`} light={page.light}>
        <HelperHead name={page.build.name} who={helper} />
        <TroublesSheet {...props} />
      </Document>
    );
  }
  return (
    <BuildLayout page={page} screen="wrong">
      <TroublesSheet {...props} />
    </BuildLayout>
  );
}

export function TroublesSheet(props: TroublesProps): Html {
  return (
    <Sheet page={props.page} screen="wrong" refresh={null}>
      <h1>{say.heading}</h1>
      <p class="quiet">{say.intro}</p>
      {props.helper === null ? null : (
        <p>
          <a href={screenHref(props.page.build.id, 'count')}>{say.back}</a>
        </p>
      )}
      <NotYours {...props} />
      {props.kinds.map((kind) => (
        <TroubleForm key={kind} kind={kind} {...props} />
      ))}
    </Sheet>
  );
}

/** What was logged and is the maker's alone to log. */
function NotYours({ open, kinds }: TroublesProps): Html | null {
  if (open === null || kinds.includes(open.kind)) return null;
  return (
    <div role="alert">
      {open.problems.map(messageOf).map((message) => (
        <p key={message} class="threat">
          {message}
        </p>
      ))}
    </div>
  );
}

function TroubleForm({ kind, page, open, asked, defaults }: TroublesProps & { kind: TroubleName }): Html {
  const own = open?.kind === kind ? open : null;
  const fields = { page, values: own?.values ?? defaults[kind], problems: own?.problems ?? [], kind };
  const body = FORMS[kind](fields);
  const isOpen = open === null ? asked === kind : own !== null;
  return (
    <details class="trouble" id={kind} open={isOpen}>
      <summary>{say.kinds[kind]}</summary>
      {typeof body === 'string' ? (
        <p class="quiet">{body}</p>
      ) : (
        <WhileOpen>
          <form class="thing-form" {...sheetForm(screenHref(page.build.id, 'wrong'))} novalidate>
            <input type="hidden" name="kind" value={kind} />
            <input type="hidden" name="edit" value={page.revision} />
            <input type="hidden" name="after" value={page.entries} />
            {own !== null && own.problems.length > 0 ? <Refused own={own} /> : null}
            <div class="fields">{body}</div>
            {own?.seen ? <Seen seen={own.seen} /> : null}
            {own?.seen ? <Dues page={page} seen={own.seen} /> : null}
            <p class="buttons">
              <button type="submit" name="do" value="what-if">
                {say.whatIf}
                <span class="heard"> {say.kinds[kind]}</span>
              </button>
              <button type="submit" name="do" value="tell" class="main">
                {kind === 'more' ? say.accept : say.tell}
                <span class="heard"> {say.kinds[kind]}</span>
              </button>
            </p>
          </form>
        </WhileOpen>
      )}
    </details>
  );
}

/** What belongs to no field of the form; the fields say the rest themselves. */
function Refused({ own }: { own: OpenTrouble }): Html {
  const others = own.problems.filter(({ field }) => !(field in say.field));
  return (
    <div role="alert">
      <p class="threat">{say.notTold}</p>
      {others.map(messageOf).map((message) => (
        <p key={message} class="threat">
          {message}
        </p>
      ))}
    </div>
  );
}

/** What has a due instant of its own, with this: its room and its chance. */
function Dues({ page, seen: { forecast } }: { page: BuildPage; seen: SeenFirst }): Html | null {
  const open = (forecast.dues ?? []).filter(({ left }) => left > 0);
  if (open.length === 0) return null;
  return (
    <ul class="trouble-dues">
      {open.map(({ list, id, name, finish, clock }) => {
        const chance = forecast.risk?.dues?.find((it) => it.list === list && it.id === id);
        const when = finish === null ? '' : whenText(page.clock, finish, forecast.now);
        return (
          <li key={`${list}-${id}`}>
            {say.duePlanned(name, when, roomText(clock))}
            {chance === undefined ? '' : `; ${say.dueRow(name, chanceText(chance.chance))}`}
          </li>
        );
      })}
    </ul>
  );
}

interface FieldsOfForm {
  readonly page: BuildPage;
  readonly kind: TroubleName;
  readonly values: FormValues;
  readonly problems: readonly Problem[];
}

/** The fields of each kind; a sentence where there is nothing to tell it of. */
const FORMS: Readonly<Record<TroubleName, (form: FieldsOfForm) => Html | string>> = {
  delivery: (form) => {
    const out = form.page.forecast.orders.filter(({ step }) => isOnItsWay(form.page.forecast, step));
    if (out.length === 0) return say.nothingOut;
    const choices = out.map(({ step, name, arrives }) => ({
      value: step,
      label: `${name}, ${whenText(form.page.clock, arrives, form.page.forecast.now)}`,
    }));
    return (
      <>
        <Pick form={form} name="step" label={say.field.step} choices={choices} />
        <Typed form={form} name="until" label={say.field.promised} type="datetime-local" />
      </>
    );
  },
  evening: (form) => {
    const people = peopleOf(form);
    if (people.length === 0) return say.nobody;
    return (
      <>
        <Pick
          form={form}
          name="person"
          label={say.field.person}
          choices={[{ value: '', label: say.everybody }, ...people]}
        />
        <Typed form={form} name="from" label={say.field.from} type="datetime-local" />
        <Typed form={form} name="until" label={say.field.until} type="datetime-local" />
      </>
    );
  },
  machine: (form) => {
    const machines = (form.page.build.machines ?? []).map(({ id, name, count = 1 }) => ({
      value: id,
      label: count === 1 ? name : `${name} (${count})`,
    }));
    if (machines.length === 0) return say.noMachine;
    const several = (form.page.build.machines ?? []).some(({ count = 1 }) => count > 1);
    return (
      <>
        <Pick form={form} name="machine" label={say.field.machine} choices={machines} />
        {several ? <Typed form={form} name="n" label={say.field.n} type="number" /> : null}
        <Typed form={form} name="until" label={say.field.until} type="datetime-local" />
      </>
    );
  },
  absent: (form) => {
    const people = peopleOf(form);
    if (people.length === 0) return say.nobody;
    return (
      <>
        <Pick form={form} name="person" label={say.field.person} choices={people} />
        <Typed form={form} name="first" label={say.field.first} type="date" />
        <Typed form={form} name="last" label={say.field.last} type="date" />
      </>
    );
  },
  'load-in': (form) => (
    <>
      <Typed form={form} name="loadIn" label={say.field.loadIn} type="datetime-local" />
      {form.page.build.readyBy === undefined ? null : (
        <p class="field yes">
          <label>
            <input type="checkbox" name="ready" value="yes" checked={(form.values.ready ?? '') !== ''} />{' '}
            {say.field.ready}
          </label>
        </p>
      )}
    </>
  ),
  more: (form) => (
    <>
      <Typed form={form} name="name" label={say.field.name} type="text" />
      <Typed form={form} name="count" label={say.field.count} type="number" />
      <Typed form={form} name="minutes" label={say.field.minutes} type="number" />
      <Typed form={form} name="due" label={say.field.due} type="datetime-local" />
    </>
  ),
};

function peopleOf({ page }: FieldsOfForm) {
  return (page.build.people ?? []).map(({ id, name }) => ({ value: id, label: name }));
}

interface TypedProps {
  form: FieldsOfForm;
  name: keyof typeof say.field;
  label: string;
  type: 'text' | 'number' | 'date' | 'datetime-local';
}

function Typed({ form, name, label, type }: TypedProps): Html {
  const id = `${form.kind}-${name}`;
  const wrong = form.problems.filter(({ field }) => field === name);
  const value = textOf(form.values[name]);
  return (
    <Labelled id={id} label={label} wrong={wrong}>
      <input
        id={id}
        name={name}
        type={(fits(type, value) ? type : 'text') as 'text'}
        value={value}
        inputMode={type === 'number' ? 'decimal' : undefined}
        autocomplete="off"
        aria-invalid={wrong.length > 0 ? 'true' : undefined}
        aria-describedby={wrong.length > 0 ? `${id}-wrong` : undefined}
      />
    </Labelled>
  );
}

/** Whether a browser's own picker shows what is there: nothing typed is lost. */
function fits(type: TypedProps['type'], value: string): boolean {
  if (value === '' || type === 'text') return true;
  if (type === 'number') return /^-?\d+(\.\d+)?$/.test(value);
  return type === 'date' ? /^\d{4}-\d{2}-\d{2}$/.test(value) : /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/.test(value);
}

interface PickProps {
  form: FieldsOfForm;
  name: keyof typeof say.field;
  label: string;
  choices: readonly { readonly value: string; readonly label: string }[];
}

function Pick({ form, name, label, choices }: PickProps): Html {
  const id = `${form.kind}-${name}`;
  const wrong = form.problems.filter(({ field }) => field === name);
  return (
    <Labelled id={id} label={label} wrong={wrong}>
      <select id={id} name={name} aria-describedby={wrong.length > 0 ? `${id}-wrong` : undefined}>
        {choices.map((it) => (
          <option key={it.value} value={it.value} selected={it.value === textOf(form.values[name])}>
            {it.label}
          </option>
        ))}
      </select>
    </Labelled>
  );
}

interface LabelledProps {
  id: string;
  label: string;
  wrong: readonly Problem[];
  children: ComponentChildren;
}

function Labelled({ id, label, wrong, children }: LabelledProps): Html {
  return (
    <p class="field">
      <label for={id}>{label}</label>
      {children}
      {wrong.length === 0 ? null : (
        <span class="wrong" id={`${id}-wrong`} role="alert">
          {wrong.map(messageOf).map((message) => (
            <span key={message} class="threat">
              {message}
            </span>
          ))}
        </span>
      )}
    </p>
  );
}

function textOf(value: string | readonly string[] | undefined): string {
  return typeof value === 'string' ? value : (value?.at(-1) ?? '');
}
