/** What is on a day, as the sheets on the screen and on paper say it: spells, loads, last moments, what comes. */

import type { DaySheet, DaySpell, Hazard } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { questionText, uncheckedText } from '../words/design-words.ts';
import { stepName } from '../words/marks.tsx';
import { unitsOfStep } from '../words/supply-words.ts';
import { lateFromStart, soonText, whenText } from '../words/wording.ts';

const say = texts.dates;

export interface DayProps {
  page: BuildPage;
  day: DaySheet;
}

/** All hazards of what people and machines do on a day. */
export function hazardsOf({ people, machines }: DaySheet): Hazard[] {
  return [...people, ...machines].flatMap(({ spells }) => spells.flatMap((spell) => spell.hazards));
}

/** What must be ordered and decided on a day, and what comes; null where there is none of it. */
export function DayLists({ page, day }: DayProps): Html | null {
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

/** The part of each spell that is in the day; what it began before or ends after is said in words. */
export function within(spells: readonly DaySpell[], day: DaySheet): DaySpell[] {
  return spells
    .map((it) => ({ ...it, start: Math.max(it.start, day.start), finish: Math.min(it.finish, day.end) }))
    .filter((it) => it.finish > it.start)
    .sort((a, b) => a.start - b.start);
}

/** What is done in a spell: the step, how many units, in which set. */
export function spellWords({ forecast }: BuildPage, spell: DaySpell): string {
  const step = byId(forecast.steps, spell.step);
  const verb = spell.kind === 'hands' ? '' : `${say[spell.kind]}: `;
  const set = spell.set === null ? '' : `, ${say.set(forecast.setName, spell.set)}`;
  const units = spell.units > 0 && (step?.total ?? 0) > 1 ? `, ${unitsOfStep(forecast, spell.step, spell.units)}` : '';
  const unchecked = uncheckedText(forecast, step?.part ?? null);
  return `${verb}${stepName(forecast, spell.step)}${units}${set}${unchecked === null ? '' : `, ${unchecked}`}`;
}

/** Until when a spell goes on, or when it had ended. */
export function endWords(page: BuildPage, day: DaySheet, spell: DaySpell): string {
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
  const loads = byId(forecast.steps, step)?.underWay ?? [];
  const over = loads.filter((load) => load.set === set && load.backAt < finish).map(({ backAt }) => backAt);
  return over.length === 0 ? null : Math.max(...over);
}
