/** The form that starts a build: what it is called, its hours, its place, who helps, and the machines. */
import { inWords, messageOf, type Problem } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { firstTexts as ask } from '../texts/begin/first.ts';
import { texts } from '../texts/index.ts';
import type { TypedBuild } from '../types.ts';
import { messageNaming } from './form-problems.tsx';
import { WeekPicker } from './week.tsx';

const say = texts.builds;

interface BeginFormProps {
  typed: TypedBuild;
  problems: readonly Problem[];
  /** The names a time zone can have. */
  zones: readonly string[];
}

export function BeginForm({ typed, problems, zones }: BeginFormProps): Html {
  const field = (row: Row) => <BeginField key={row.key} row={row} value={typed[row.key]} problems={problems} />;
  const rows = rowsOf();
  const loose = problems.filter((it) => !rows.some(({ key }) => it.field === key));
  return (
    <form class="edit begin" method="post" action="/builds">
      <h2>{say.begin}</h2>
      {/* Enter in a field presses the first button of a form. */}
      <button type="submit" class="heard" tabindex={-1}>
        {say.beginButton}
      </button>
      <ProblemLines problems={loose} />
      <div class="fields">
        {rows.filter(({ key }) => key !== 'others' && key !== 'machines').map(field)}
        <WeekPicker context={{ list: 'people', values: { ...typed } }} picksAt="/builds#hours" />
        {rows.filter(({ key }) => key === 'machines').map(field)}
        <details class="more-hands" open={typed.others !== ''}>
          <summary>{ask.others}</summary>
          {rows.filter(({ key }) => key === 'others').map(field)}
        </details>
      </div>
      <datalist id="zones">
        {zones.map((zone) => (
          <option key={zone} value={zone} />
        ))}
      </datalist>
      <p class="buttons">
        <button type="submit" class="main">
          {say.beginButton}
        </button>
        <span class="quiet">{say.next}</span>
      </p>
    </form>
  );
}

interface Row {
  readonly key: Exclude<keyof TypedBuild, 'week' | 'week-from'>;
  readonly label: string;
  readonly hint: string;
}

function rowsOf(): readonly Row[] {
  return [
    { key: 'name', label: say.name, hint: '' },
    { key: 'event', label: say.eventDate, hint: say.eventHint },
    { key: 'readyBy', label: say.readyBy, hint: say.readyByHint },
    { key: 'loadIn', label: say.loadIn, hint: say.loadInHint },
    { key: 'zone', label: say.zone, hint: say.zoneHint },
    { key: 'who', label: ask.who, hint: ask.whoHint },
    { key: 'hours', label: ask.hours, hint: ask.hoursHint },
    { key: 'others', label: ask.others, hint: ask.othersHint },
    { key: 'machines', label: ask.machines, hint: ask.machinesHint },
  ];
}

interface BeginFieldProps {
  row: Row;
  value: string;
  problems: readonly Problem[];
}

function BeginField({ row: { key, label, hint }, value, problems }: BeginFieldProps): Html {
  const wrong = problems.filter((it) => it.field === key).map((it) => inWords(it, messageNaming(it, label)));
  const shared = { id: key, name: key, 'aria-invalid': wrong.length > 0 ? ('true' as const) : undefined };
  return (
    <p class="field">
      <label for={key}>{label}</label>
      {key === 'others' ? (
        <textarea {...shared} rows={3}>
          {value}
        </textarea>
      ) : (
        <input
          {...shared}
          value={value}
          list={key === 'zone' ? 'zones' : undefined}
          data-own-zone={key === 'zone' && value === '' ? say.ownZoneHint : undefined}
          {...inputOf(key, value)}
        />
      )}
      {hint === '' ? null : <span class="hint">{hint}</span>}
      <ProblemLines problems={wrong} />
    </p>
  );
}

const EVENT_INPUT = { type: 'datetime-local' } as const;

function inputOf(key: Row['key'], value: string): object {
  const isDate = key === 'event' || key === 'readyBy' || key === 'loadIn';
  return isDate && (value === '' || /^[\d-]+T[\d:]+$/.test(value)) ? EVENT_INPUT : {};
}

/** What is wrong, in sentences; nothing where nothing is. */
export function ProblemLines({ problems }: { problems: readonly Problem[] }): Html | null {
  if (problems.length === 0) return null;
  return (
    <span class="wrong" role="alert">
      {problems.map((it) => (
        <span class="threat" key={it.field + it.message}>
          {messageOf(it)}
        </span>
      ))}
    </span>
  );
}
