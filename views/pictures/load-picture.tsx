/**
 * Load by day: for each person and machine a row of gauges, one a day, as tall as the hours there are, hatched as far
 * as they are planned; the same in figures behind it.
 */

import { type Html, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { Scroll } from '../words/marks.tsx';
import { dayText, workText } from '../words/wording.ts';
import { Hatch } from './drawing.tsx';
import { isFull, type LoadDay, type LoadRow, loadRows } from './load-facts.ts';

const say = texts.load;
const HEIGHT = 3.6;
/** Gauges of a row under each other's letters; on more days only Mondays are named. */
const DAYS_LETTERED = 16;

export function LoadPicture({ page }: { page: BuildPage }): Html {
  const rows = loadRows(page.forecast);
  const people = rows.filter(({ kind }) => kind === 'person');
  const most = Math.max(1, ...people.flatMap(({ days }) => days.map(({ thereMinutes }) => thereMinutes)));
  return (
    <section id="load" class="load" aria-labelledby="load-title">
      <h2 id="load-title">{say.heading}</h2>
      <p class="quiet">{say.note}</p>
      {rows.length === 0 ? <p>{say.nobody}</p> : null}
      <ListInTurns>
        {rows.map((row) => (
          <Row key={row.key} page={page} row={row} most={mostOf(row, most)} />
        ))}
      </ListInTurns>
      {rows.length === 0 ? null : <InFigures page={page} rows={rows} />}
    </section>
  );
}

/** People share one scale; a machine, which may run day and night, has its own. */
function mostOf({ kind, days }: LoadRow, most: number): number {
  return kind === 'person' ? Math.min(most, 24 * 60) : Math.max(1, ...days.map(({ thereMinutes }) => thereMinutes));
}

function Row({ page, row, most }: { page: BuildPage; row: LoadRow; most: number }): Html {
  const { days, name, count } = row;
  const sum = (of: (day: LoadDay) => number) => days.reduce((minutes, day) => minutes + of(day), 0);
  const full = days.filter(isFull).length;
  const planned = workText(sum(({ plannedMinutes }) => plannedMinutes));
  const there = workText(sum(({ thereMinutes }) => thereMinutes));
  return (
    <div class="load-row">
      <p>
        <strong>{count > 1 ? say.alike(name, count) : name}</strong>{' '}
        <span class="quiet">
          {say.total(planned, there)}
          {full === 0 ? '' : `, ${say.full(full)}`}
        </span>
      </p>
      <svg width="100%" height={`${HEIGHT + 1.6}rem`} aria-hidden="true" focusable="false">
        <defs>
          <Hatch id={`load-${row.key.replaceAll(/\W+/g, '-')}`} />
        </defs>
        {days.map((day, at) => (
          <Gauge
            key={day.start}
            page={page}
            day={day}
            at={at}
            of={days.length}
            most={most}
            fill={`url(#load-${row.key.replaceAll(/\W+/g, '-')})`}
          />
        ))}
        <line class="base" x1="0" x2="100%" y1={`${HEIGHT}rem`} y2={`${HEIGHT}rem`} />
      </svg>
    </div>
  );
}

interface GaugeProps {
  page: BuildPage;
  day: LoadDay;
  at: number;
  of: number;
  most: number;
  fill: string;
}

function Gauge({ page, day, at, of, most, fill }: GaugeProps): Html {
  const [width, x] = [70 / of, (100 * at + 15) / of];
  const place = { x: `${x.toFixed(2)}%`, width: `${width.toFixed(2)}%` };
  const tall = (minutes: number) => (Math.min(minutes, most) / most) * (HEIGHT - 0.4);
  const rect = (minutes: number) => ({
    ...place,
    y: `${(HEIGHT - tall(minutes)).toFixed(2)}rem`,
    height: `${tall(minutes).toFixed(2)}rem`,
  });
  const { weekday, day: date } = page.clock.read(day.start);
  const isNamed = of <= DAYS_LETTERED || weekday === 1;
  const middle = `${((100 * at + 50) / of).toFixed(2)}%`;
  return (
    <g class={isFull(day) ? 'full' : undefined}>
      {day.thereMinutes > 0 ? <rect class="there" {...rect(day.thereMinutes)} /> : null}
      {day.plannedMinutes > 0 ? <rect fill={fill} {...rect(day.plannedMinutes)} /> : null}
      {isFull(day) ? (
        <line
          class="cap"
          x1={place.x}
          x2={`${(x + width).toFixed(2)}%`}
          y1={rect(day.thereMinutes).y}
          y2={rect(day.thereMinutes).y}
        />
      ) : null}
      {isNamed ? (
        <text x={middle} y={`${HEIGHT + 1.1}rem`} text-anchor="middle">
          {of <= DAYS_LETTERED ? `${texts.weekdays[weekday - 1]!.slice(0, 1)}${date}` : date}
        </text>
      ) : null}
    </g>
  );
}

function InFigures({ page, rows }: { page: BuildPage; rows: readonly LoadRow[] }): Html {
  const { forecast, clock } = page;
  const days = rows[0]!.days;
  return (
    <details class="in-figures">
      <summary>{texts.pictures.inFigures}</summary>
      <Scroll label={say.heading}>
        <table>
          <thead>
            <tr>
              <th scope="col">{texts.pictures.day}</th>
              {rows.map(({ key, name }) => (
                <th key={key} scope="col" class="n">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {days.map(({ start }, at) => (
              <tr key={start}>
                <th scope="row">{dayText(clock, start, forecast.now)}</th>
                {rows.map(({ key, days: own }) => (
                  <td key={key} class="n">
                    {loadText(own[at])}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </details>
  );
}

function loadText(day: LoadDay | undefined): string {
  if (day === undefined || (day.plannedMinutes === 0 && day.thereMinutes === 0)) return '–';
  const planned = day.plannedMinutes === 0 ? say.none : workText(day.plannedMinutes);
  return say.of(planned, workText(day.thereMinutes));
}
