/**
 * A day's sheet: people and machines as its columns, time downwards; who does what, when a machine is loaded, what
 * comes and goes.
 */
import type { DaySheet, DaySpell, Hazard } from '../../server/model/index.ts';
import { pinHref } from '../forms/form.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { CautionFooter, CautionLines } from '../parts/cautions.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { questionText, uncheckedText } from '../words/design-words.ts';
import { Scroll, stepName } from '../words/marks.tsx';
import { counted, dayText, lateFromStart, soonText, whenText } from '../words/wording.ts';
import { DayStamp } from './dates.tsx';

const say = texts.dates;

interface DayProps {
  page: BuildPage;
  day: DaySheet;
}

export function DaySheetPage(props: DayProps): Html {
  return (
    <BuildLayout page={props.page} screen="dates">
      <DaySheetSheet {...props} />
    </BuildLayout>
  );
}

export function DaySheetSheet({ page, day }: DayProps): Html {
  const label = dayText(page.clock, day.start, page.forecast.now);
  const hazards = hazardsOf(day);
  const { year: _year, ...stamp } = page.clock.read(day.start);
  return (
    <Sheet page={page} screen="dates" refresh={`${screenHref(page.build.id, 'dates')}/${day.date}`}>
      <div class="day-head">
        <DayStamp day={stamp} />
        <h1>{say.daySheetOf(label)}</h1>
        <DayTurns page={page} day={day} />
      </div>
      <DayLists page={page} day={day} />
      <CautionLines hazards={hazards} />
      <DayTable page={page} day={day} label={say.workOf(label)} />
      <CautionFooter hazards={hazards} />
    </Sheet>
  );
}

/** All hazards of what people and machines do on a day. */
function hazardsOf({ people, machines }: DaySheet): Hazard[] {
  return [...people, ...machines].flatMap(({ spells }) => spells.flatMap((spell) => spell.hazards));
}

function DayTurns({ page, day }: DayProps): Html {
  const { days } = page.forecast;
  const at = days.findIndex((it) => it.date === day.date);
  const base = screenHref(page.build.id, 'dates');
  const [before, after] = [days[at - 1], days[at + 1]];
  return (
    <p class="turns">
      {before === undefined ? null : <a href={`${base}/${before.date}`}>{say.previous}</a>}
      <a href={base}>{say.allDates}</a>
      {after === undefined ? null : <a href={`${base}/${after.date}`}>{say.next}</a>}
    </p>
  );
}

function DayLists({ page, day }: DayProps): Html | null {
  const lists: [string, string[]][] = [
    [say.toOrder, day.orders.map(({ name, by }) => dueWords(page, name, by, say.shouldBeOrdered))],
    [
      say.toDecide,
      day.decisions.map((it) => dueWords(page, questionText(page.forecast, it), it.by, say.shouldBeDecided)),
    ],
    [say.coming, day.arrivals.map(({ name, at }) => say.at(name, page.clock.read(at).time))],
  ];
  const filled = lists.filter(([, items]) => items.length > 0);
  if (filled.length === 0) return null;
  return (
    <dl class="day-lists">
      {filled.map(([name, items]) => (
        <div key={name}>
          <dt>{name}</dt>
          {items.map((item) => (
            <dd key={item}>{item}</dd>
          ))}
        </div>
      ))}
    </dl>
  );
}

type Missed = (name: string, when: string) => string;

/**
 * A last moment that is to come by its time; one that has passed by its own day, which is not the day of this sheet.
 */
function dueWords({ forecast, clock }: BuildPage, name: string, by: number, missed: Missed): string {
  if (by >= forecast.now) return say.before(name, clock.read(by).time);
  const late = lateFromStart(forecast, by);
  return late === null ? missed(name, whenText(clock, by, forecast.now)) : say.tooLate(name, late);
}

/** Lots that follow each other are one spell; `firstLot` is the first of them. */
interface BenchSpell extends DaySpell {
  readonly firstLot: string;
}

interface Column {
  readonly key: string;
  readonly name: string;
  readonly isMachine: boolean;
  readonly open: readonly (readonly [number, number])[] | null;
  readonly spells: readonly BenchSpell[];
}

/** Rows begin wherever a spell begins or ends; a spell is one cell down over its rows. */
function DayTable({ page, day, label }: DayProps & { label: string }): Html {
  const columns = columnsOf(day);
  const marks = [...new Set(columns.flatMap(({ spells }) => spells.flatMap((it) => [it.start, it.finish])))]
    .filter((at) => at >= day.start && at <= day.end)
    .sort((a, b) => a - b);
  if (marks.length === 0 || columns.length === 0) return <p class="quiet">{say.nobody}</p>;
  return (
    <Scroll label={label}>
      <table class="day-table">
        <thead>
          <tr>
            <th scope="col">{say.time}</th>
            {columns.map((column) => (
              <th key={column.key} scope="col" class={column.isMachine ? 'machine' : undefined}>
                {column.name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {marks.map((at, row) => (
            <tr key={at}>
              <th scope="row" class="time">
                {page.clock.read(at).time}
              </th>
              {columns.map((column) => (
                <Cell key={column.key} page={page} day={day} column={column} marks={marks} row={row} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  );
}

function columnsOf(day: DaySheet): Column[] {
  const alike = (id: string) => day.machines.filter((it) => it.id === id).length;
  return [
    ...day.people.map((it) => ({
      key: it.id,
      name: it.name,
      isMachine: false,
      open: it.open,
      spells: joined(within(it.spells, day)),
    })),
    ...day.machines.map((it) => ({
      key: `${it.id}-${it.unit}`,
      name: alike(it.id) > 1 ? say.machineUnit(it.name, it.unit + 1) : it.name,
      isMachine: true,
      open: null,
      spells: joined(within(it.spells, day)),
    })),
  ];
}

/** The part of each spell that lies in the day; what it began before or ends after is said in words. */
function within(spells: readonly DaySpell[], day: DaySheet): DaySpell[] {
  return spells
    .map((it) => ({ ...it, start: Math.max(it.start, day.start), finish: Math.min(it.finish, day.end) }))
    .filter((it) => it.finish > it.start)
    .sort((a, b) => a.start - b.start);
}

/** Lots of one step that follow each other without a break are one spell to the person at the bench. */
function joined(spells: readonly DaySpell[]): BenchSpell[] {
  const joinedSpells: BenchSpell[] = [];
  for (const spell of spells) {
    const before = joinedSpells.at(-1);
    const same = before?.step === spell.step && before.set === spell.set && before.pinned === spell.pinned;
    if (before?.kind === 'hands' && same && spell.kind === 'hands' && before.finish === spell.start) {
      const units = before.lot === spell.lot ? before.units : before.units + spell.units;
      joinedSpells[joinedSpells.length - 1] = { ...before, lot: spell.lot, finish: spell.finish, units };
    } else joinedSpells.push({ ...spell, firstLot: spell.lot });
  }
  return joinedSpells;
}

interface CellProps extends DayProps {
  column: Column;
  marks: readonly number[];
  row: number;
}

function Cell({ page, day, column, marks, row }: CellProps): Html | null {
  const at = marks[row]!;
  const spell = column.spells.find((it) => it.start === at);
  if (spell === undefined) {
    const covered = column.spells.some((it) => it.start < at && it.finish > at);
    if (covered) return null;
    const there = column.open === null || column.open.some(([from, to]) => at >= from && at < to);
    return <td class={there ? 'free' : 'away'}>{there ? '' : <span class="heard">{say.away}</span>}</td>;
  }
  const rows = marks.filter((it) => it >= spell.start && it < spell.finish).length;
  return (
    <td rowSpan={Math.max(1, rows)} class={`spell spell-${spell.kind}`}>
      <span class="spell-of">{column.name}</span>
      <span class="spell-words">{spellWords(page, spell)}</span>
      <span class="quiet small">{endWords(page, day, spell)}</span>
      <PinLink page={page} spell={spell} person={column.isMachine ? null : column.key} />
    </td>
  );
}

interface PinProps {
  page: BuildPage;
  spell: BenchSpell;
  person: string | null;
}

/**
 * Opens the step's form with a pin that holds the spell where it stands; for what begins here, is the maker's own and
 * not pinned yet.
 */
function PinLink({ page, spell, person }: PinProps): Html | null {
  const { forecast, build, clock } = page;
  const [first, last] = [spell.firstLot, spell.lot].map((id) => forecast.lots.find((lot) => lot.id === id));
  const step = forecast.steps.find((it) => it.id === spell.step);
  const own = build.steps.some((it) => it.id === spell.step);
  const begins = first?.begun === false && first.levelled?.start === spell.start;
  if (person === null || !own || !begins || last === undefined || step === undefined || spell.pinned === true)
    return null;
  const earlier = step.sets.slice(
    0,
    Math.max(
      0,
      step.sets.findIndex(({ set }) => set === spell.set),
    ),
  );
  const before = spell.set === null ? 0 : earlier.reduce((sum, { total }) => sum + total, 0);
  const { date, time } = clock.read(spell.start);
  const pin = {
    set: spell.set,
    from: first.firstUnit - before,
    to: last.lastUnit - before,
    start: `${date}T${time}`,
    person,
  };
  return (
    <a class="pin" href={pinHref(screenHref(build.id, 'steps'), spell.step, pin)}>
      {say.pin}
      <span class="heard"> {step.name}</span>
    </a>
  );
}

function spellWords({ forecast }: BuildPage, spell: DaySpell): string {
  const step = forecast.steps.find((it) => it.id === spell.step);
  const verb = spell.kind === 'hands' ? '' : `${say[spell.kind]}: `;
  const set = spell.set === null ? '' : `, ${say.set(forecast.setName, spell.set)}`;
  const units = spell.units > 0 && (step?.total ?? 0) > 1 ? `, ${counted(spell.units, step?.unit ?? '')}` : '';
  const unchecked = uncheckedText(forecast, step?.part ?? null);
  return `${verb}${stepName(forecast, spell.step)}${units}${set}${unchecked === null ? '' : `, ${unchecked}`}`;
}

function endWords(page: BuildPage, day: DaySheet, spell: DaySpell): string {
  const { clock, forecast } = page;
  const ended = endedAt(page, spell);
  const end =
    ended !== null
      ? say.ended(soonText(clock, ended, forecast.now))
      : spell.finish >= day.end
        ? say.afterDay
        : say.till(clock.read(spell.finish).time);
  return spell.pinned === true ? `${end}, ${say.pinned}` : end;
}

/**
 * When a run that is planned to end now had really ended: its machine waits for somebody to unload it. Null for the
 * rest.
 */
function endedAt({ forecast }: BuildPage, { kind, step, set, finish }: DaySpell): number | null {
  if (kind !== 'run' || finish > forecast.now) return null;
  const loads = forecast.steps.find(({ id }) => id === step)?.underWay ?? [];
  const over = loads.filter((load) => load.set === set && load.backAt < finish).map(({ backAt }) => backAt);
  return over.length === 0 ? null : Math.max(...over);
}
