/** A day on paper: what each does in order, which machine is loaded when, what comes, what falls due, what to mind. */

import { type BenchSpell, type DaySheet, joinedSpells } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { CautionFooter, CautionLines } from '../parts/cautions.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import { dayTexts as say } from '../texts/paper/day.ts';
import type { BuildPage } from '../types.ts';
import { nameOfMachine } from '../words/names.ts';
import { dayText } from '../words/wording.ts';
import { DayLists, type DayProps, endWords, hazardsOf, spellWords, within } from './day-lines.tsx';
import { DayStamp } from './day-stamp.tsx';

export interface PaperProps extends DayProps {
  /** Id of the one whom the sheet is for; null: everybody. */
  person: string | null;
}

/** One page: the day with its lists, then everybody who works on it, then the machines. */
export function DayPaper({ page, day, person }: PaperProps): Html {
  const own = dayOf(day, person);
  const { year: _year, ...stamp } = page.clock.read(day.start);
  return (
    <article class="day-paper" aria-label={titleOf(page, day, person)}>
      <div class="day-head">
        <DayStamp day={stamp} />
        <h2>{titleOf(page, day, person)}</h2>
      </div>
      <DayLists page={page} day={day} />
      <DayWork page={page} day={day} person={person} />
      <CautionLines hazards={hazardsOf(own)} />
      <CautionFooter hazards={hazardsOf(own)} />
    </article>
  );
}

/** What each does in order, and below what the machines do. */
export function DayWork({ page, day, person }: PaperProps): Html {
  const own = dayOf(day, person);
  return (
    <div class="day-work">
      {own.people.map((one) => (
        <section key={one.id} aria-label={one.name}>
          <h3>
            {one.name} <span class="quiet small">{hoursWords(page, day, one.open)}</span>
          </h3>
          {one.spells.length === 0 ? (
            <p class="quiet">{say.nothingFor}</p>
          ) : (
            <ol>
              {joinedSpells(within(one.spells, day)).map((spell) => (
                <li key={`${spell.lot}-${spell.start}`}>{lineOf(page, day, spell, machineOf(page, day, spell))}</li>
              ))}
            </ol>
          )}
        </section>
      ))}
      <Machines page={page} day={own} />
    </div>
  );
}

/** `Day sheet, Thu 26 Nov: Ria`. */
export function titleOf({ clock, forecast }: BuildPage, day: DaySheet, person: string | null): string {
  const label = dayText(clock, day.start, forecast.now);
  const name = day.people.find(({ id }) => id === person)?.name;
  return name === undefined ? texts.dates.daySheetOf(label) : say.ofPerson(label, name);
}

/** Whether there is anything on a day for somebody, or at all. */
export function isBlank(day: DaySheet, person: string | null): boolean {
  const { people, machines, orders, decisions, arrivals } = dayOf(day, person);
  const isIdle = [...people, ...machines].every(({ spells }) => spells.length === 0);
  return isIdle && orders.length + decisions.length + arrivals.length === 0;
}

/** The day of one person, with the runs that they load or unload; of everybody those who are at work. */
function dayOf(day: DaySheet, person: string | null): DaySheet {
  if (person === null) return { ...day, people: day.people.filter(({ spells }) => spells.length > 0) };
  const people = day.people.filter(({ id }) => id === person);
  const lots = new Set(people.flatMap(({ spells }) => spells.map(({ lot }) => lot)));
  const machines = day.machines.map((one) => ({ ...one, spells: one.spells.filter(({ lot }) => lots.has(lot)) }));
  return { ...day, people, machines };
}

function Machines({ page, day }: DayProps): Html | null {
  const busy = day.machines.filter(({ spells }) => spells.length > 0);
  if (busy.length === 0) return null;
  return (
    <section aria-label={say.machines}>
      <h3>{say.machines}</h3>
      <ol>
        {busy.flatMap((machine) =>
          joinedSpells(within(machine.spells, day)).map((spell) => (
            <li key={`${machine.id}-${machine.unit}-${spell.start}`}>
              {lineOf(page, day, spell, machineName(day, machine))}
            </li>
          )),
        )}
      </ol>
    </section>
  );
}

/** `09:00–11:20  sand battens, 20 × batten`, with the machine that it is about. */
function lineOf(page: BuildPage, day: DaySheet, spell: BenchSpell, machine: string | null): Html {
  const { time } = page.clock.read(spell.start);
  const until = spell.finish >= day.end ? say.intoNext : page.clock.read(spell.finish).time;
  const what = spellWords(page, spell);
  const end = endWords(page, day, spell);
  const isSaid = end === texts.dates.till(until) || spell.finish >= day.end;
  const more = isSaid ? '' : `, ${end}`;
  return (
    <>
      <b class="day-time">{say.span(time, until)}</b> {machine === null ? what : say.on(what, machine)}
      {more}
    </>
  );
}

/** The machine that is loaded or unloaded: the one in which the lot runs, on that day or in the night before it. */
function machineOf({ forecast }: BuildPage, day: DaySheet, { kind, lot, step }: BenchSpell): string | null {
  if (kind !== 'load' && kind !== 'unload') return null;
  const run = forecast.lots.find(({ id }) => id === lot)?.placements.find(({ machine }) => machine !== null);
  const id = run?.machine ?? byId(forecast.steps, step)?.machine ?? null;
  const its = day.machines.filter((machine) => machine.id === id);
  const unit = its.length === 1 ? its[0] : its.find((machine) => machine.unit === run?.machineUnit);
  if (unit !== undefined) return machineName(day, unit);
  return id === null ? null : nameOfMachine(forecast, id);
}

/** With its number, where there are several alike. */
export function machineName(day: DaySheet, { id, name, unit }: DaySheet['machines'][number]): string {
  const alike = day.machines.filter((it) => it.id === id).length;
  return alike > 1 ? texts.dates.machineUnit(name, unit + 1) : name;
}

type Open = DaySheet['people'][number]['open'];

function hoursWords(page: BuildPage, day: DaySheet, open: Open): string {
  return open.length === 0 ? say.notThere : say.hours(spansWords(page, day, open));
}

/** `14:00–20:00, 22:00–24:00`: hours of one day. */
export function spansWords({ clock }: BuildPage, { end }: DaySheet, open: Open): string {
  const until = (at: number) => (at >= end ? '24:00' : clock.read(at).time);
  return open.map(([from, to]) => say.span(clock.read(from).time, until(to))).join(', ');
}
