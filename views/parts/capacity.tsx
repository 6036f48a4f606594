/** Whether there are hands enough, and what is left for them, on the Countdown. */
import type { CapacityGroup } from '../../server/model/index.ts';
import { type Html, InTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { machineName, openSteps, Scroll } from '../words/marks.tsx';
import { nameOfGroup } from '../words/names.ts';
import { loggedText } from '../words/supply-words.ts';
import { dayOfMonth, shownWork, soonText, workText } from '../words/wording.ts';

const say = texts.countdown;

/** The first evening's answer: all work against all hours, for each group of hands and each machine. */
export function Capacity({ page }: { page: BuildPage }): Html {
  if (page.forecast.capacity.every(({ neededMinutes }) => neededMinutes === 0)) return <p>{say.noHands}</p>;
  return (
    <>
      <p class="quiet small">{say.enoughNote}</p>
      <ul class="capacity">
        {page.forecast.capacity.map((group) => (
          <li key={`${group.kind}-${group.id}`}>
            <strong>{nameOfGroup(page.forecast, group)}</strong>{' '}
            {say.offered(workText(group.neededMinutes), workText(group.offeredMinutes))}
            {group.spareMinutes === undefined ? null : `, ${say.sparesBeside(workText(group.spareMinutes))}`}
            <br />
            <CapacityAnswer page={page} group={group} />
          </li>
        ))}
      </ul>
      <HoursByDay page={page} />
    </>
  );
}

function CapacityAnswer({ page, group }: { page: BuildPage; group: CapacityGroup }): Html {
  if (group.shortMinutes > 0) {
    const text = group.kind === 'people' ? say.shortBy : say.machineShortBy;
    return <span class="threat">{text(workText(apart(group.neededMinutes, group.offeredMinutes)))}</span>;
  }
  return (
    <span>
      {say.spare(workText(apart(group.offeredMinutes, group.neededMinutes)))}
      {group.coveredAt === null ? null : `, ${say.enoughBy(soonText(page.clock, group.coveredAt, page.forecast.now))}`}
    </span>
  );
}

/** What is between two lengths of work as they are shown, so that the three add up for whoever reads them. */
function apart(more: number, less: number): number {
  return Math.max(0, shownWork(more) - shownWork(less));
}

/** Days of the table; what comes after them is so far away that nobody goes by its hours. */
const MOST_DAYS = 100;

function HoursByDay({ page }: { page: BuildPage }): Html {
  const groups = page.forecast.capacity;
  const dates = groups[0]?.days.map((day) => day.date) ?? [];
  return (
    <details>
      <summary>{say.hoursByDay}</summary>
      <Scroll label={say.hoursByDay}>
        <table>
          <thead>
            <tr>
              <th scope="col" />
              {groups.map((group) => (
                <th key={group.id} scope="col" class="n">
                  {nameOfGroup(page.forecast, group)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {dates.slice(0, MOST_DAYS).map((date, i) => (
              <InTurns key={date}>
                <DayRow page={page} date={date} day={i} />
              </InTurns>
            ))}
            {dates.length <= MOST_DAYS ? null : (
              <tr>
                <th scope="row">…</th>
              </tr>
            )}
          </tbody>
        </table>
      </Scroll>
    </details>
  );
}

function DayRow({ page, date, day }: { page: BuildPage; date: string; day: number }): Html {
  return (
    <tr>
      <th scope="row">{dateWords(page, date)}</th>
      {page.forecast.capacity.map((group) => (
        <td key={group.id} class="n">
          {workText(group.days[day]?.offeredMinutes ?? 0)}
        </td>
      ))}
    </tr>
  );
}

/** A date of the forecast in words: the first of its days is found among the day sheets. */
function dateWords(page: BuildPage, date: string): string {
  const [, month, day] = date.split('-').map(Number);
  const sheet = page.forecast.days.find((it) => it.date === date);
  const weekday = sheet === undefined ? '' : `${texts.weekdays[page.clock.read(sheet.start).weekday - 1]} `;
  return `${weekday}${dayOfMonth(day!, month!)}`;
}

/** The hours that are left in all, of hands and of each machine, and every open step. */
export function Left({ page }: { page: BuildPage }): Html {
  const { steps } = page.forecast;
  const open = openSteps(page.forecast);
  const hands = open.reduce((sum, step) => sum + step.handsMinutesLeft, 0);
  return (
    <>
      <p class="sums">
        <span class="sum">
          <span class="stamp">{workText(hands)}</span> {say.handsLeft}
        </span>
        {machineSums(page).map(([name, minutes]) => (
          <span class="sum" key={name}>
            <span class="stamp">{workText(minutes)}</span> {name}
          </span>
        ))}
      </p>
      {open.length === 0 ? null : (
        <details>
          <summary>{say.stepsLeft(open.length, steps.length)}</summary>
          <ul class="left-list">
            {open.map((step) => (
              <li key={step.id}>
                <span>{step.name}</span>
                <span class="figure">{loggedText(page.forecast, step.id, step.left)}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function machineSums(page: BuildPage): [string, number][] {
  const sums = new Map<string, number>();
  for (const step of openSteps(page.forecast)) {
    if (step.machine === null || step.machineMinutesLeft === 0) continue;
    sums.set(step.machine, (sums.get(step.machine) ?? 0) + step.machineMinutesLeft);
  }
  return [...sums].map(([id, minutes]) => [machineName(page.build, id), minutes]);
}
