/**
 * A day's sheet: people and machines as its columns, time downwards; who does what, when a machine is loaded, what
 * comes and goes.
 */

import { type BenchSpell, type DaySheet, joinedSpells } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { pinHref } from '../forms/form.tsx';
import { WhileOpen } from '../forms/while-open.tsx';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { screenHref } from '../links.ts';
import { DayLists, endWords, hazardsOf, spellWords, within } from '../paper/day-lines.tsx';
import { DayWork, machineName, type PaperProps, spansWords, titleOf } from '../paper/day-paper.tsx';
import { DayStamp } from '../paper/day-stamp.tsx';
import { People } from '../paper/whole-plan.tsx';
import { CautionFooter, CautionLines } from '../parts/cautions.tsx';
import { type Html, InTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import { dayTexts } from '../texts/paper/day.ts';
import type { BuildPage } from '../types.ts';
import { Scroll } from '../words/marks.tsx';
import { dayText } from '../words/wording.ts';

const say = texts.dates;

export function DaySheetPage(props: PaperProps): Html {
  return (
    <BuildLayout page={props.page} screen="dates">
      <DaySheetSheet {...props} />
    </BuildLayout>
  );
}

/** On the screen a table for all, a list for one; on paper a list. */
export function DaySheetSheet({ page, day, person }: PaperProps): Html {
  const { now } = page.forecast;
  const label = dayText(page.clock, day.start, now);
  const hazards = hazardsOf(
    person === null ? day : { ...day, machines: [], people: day.people.filter(({ id }) => id === person) },
  );
  const { year: _year, ...stamp } = page.clock.read(day.start);
  const href = `${screenHref(page.build.id, 'dates')}/${day.date}`;
  return (
    <Sheet page={page} screen="dates" refresh={person === null ? href : `${href}?person=${person}`}>
      <div class="day-head">
        <DayStamp day={stamp} />
        <h1>{titleOf(page, day, person)}</h1>
        <DayTurns page={page} day={day} person={person} />
      </div>
      <People page={page} person={person} href={href} />
      {now > day.start && now < day.end ? <p class="quiet small">{dayTexts.passedToday}</p> : null}
      <DayLists page={page} day={day} />
      <CautionLines hazards={hazards} />
      {person === null ? <DayTable page={page} day={day} label={say.workOf(label)} /> : null}
      <div class={person === null ? 'on-paper' : undefined}>
        <DayWork page={page} day={day} person={person} />
      </div>
      <CautionFooter hazards={hazards} />
    </Sheet>
  );
}

function DayTurns({ page, day, person }: PaperProps): Html {
  const { days } = page.forecast;
  const whose = person === null ? '' : `?person=${person}`;
  const at = days.findIndex((it) => it.date === day.date);
  const base = screenHref(page.build.id, 'dates');
  const [before, after] = [days[at - 1], days[at + 1]];
  return (
    <p class="turns">
      {before === undefined ? null : <a href={`${base}/${before.date}${whose}`}>{say.previous}</a>}
      <a href={base}>{say.allDates}</a>
      {after === undefined ? null : <a href={`${base}/${after.date}${whose}`}>{say.next}</a>}
    </p>
  );
}

interface TableProps {
  page: BuildPage;
  day: DaySheet;
}

interface Column {
  readonly key: string;
  readonly name: string;
  readonly isMachine: boolean;
  readonly open: readonly (readonly [number, number])[] | null;
  readonly spells: readonly BenchSpell[];
}

/** For a day without work: who is in, or that nobody is. */
function idleWords(page: BuildPage, day: DaySheet): string {
  const there = day.people.filter(({ open }) => open.length > 0);
  if (there.length === 0) return say.nobody;
  return say.idle(there.map(({ name, open }) => say.idleOne(name, spansWords(page, day, open))).join('; '));
}

/** Rows begin wherever a spell begins or ends; a spell is one cell down over its rows. */
function DayTable({ page, day, label }: TableProps & { label: string }): Html {
  const columns = columnsOf(day);
  const marks = [...new Set(columns.flatMap(({ spells }) => spells.flatMap((it) => [it.start, it.finish])))]
    .filter((at) => at >= day.start && at <= day.end)
    .sort((a, b) => a - b);
  if (marks.length === 0 || columns.length === 0) return <p class="quiet">{idleWords(page, day)}</p>;
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
              <InTurns>
                {columns.map((column) => (
                  <Cell key={column.key} page={page} day={day} column={column} marks={marks} row={row} />
                ))}
              </InTurns>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  );
}

function columnsOf(day: DaySheet): Column[] {
  return [
    ...day.people.map((it) => ({
      key: it.id,
      name: it.name,
      isMachine: false,
      open: it.open,
      spells: joinedSpells(within(it.spells, day)),
    })),
    ...day.machines.map((it) => ({
      key: `${it.id}-${it.unit}`,
      name: machineName(day, it),
      isMachine: true,
      open: null,
      spells: joinedSpells(within(it.spells, day)),
    })),
  ];
}

interface CellProps extends TableProps {
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
    return <td class={there ? 'free' : 'away'}>{there ? '' : say.away}</td>;
  }
  const rows = marks.filter((it) => it >= spell.start && it < spell.finish).length;
  return (
    <td rowSpan={Math.max(1, rows)} class={`spell spell-${spell.kind}`}>
      <span class="spell-of">{column.name}</span>
      <span class="spell-words">{spellWords(page, spell)}</span>
      <span class="quiet small">{endWords(page, day, spell)}</span>{' '}
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
 * Opens the step's form with a pin that holds the spell where it is; for what begins here, is the maker's own and not
 * pinned yet.
 */
function PinLink({ page, spell, person }: PinProps): Html | null {
  const { forecast, build, clock } = page;
  const [first, last] = [spell.firstLot, spell.lot].map((id) => forecast.lots.find((lot) => lot.id === id));
  const step = byId(forecast.steps, spell.step);
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
    <WhileOpen>
      <a class="pin" href={pinHref(screenHref(build.id, 'steps'), spell.step, pin)}>
        {say.pin}
        <span class="heard"> {step.name}</span>
      </a>
    </WhileOpen>
  );
}
