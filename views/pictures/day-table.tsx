/** A picture in figures, day by day: for those who do not see it, or want to read it to the unit. */

import { type Html, InTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import type { WallDay } from '../wall-clock.ts';
import { Scroll } from '../words/marks.tsx';
import { dayText } from '../words/wording.ts';

const say = texts.pictures;
const DAYS_SHOWN = 70;

export interface DayColumn {
  readonly key: string;
  readonly name: string;
  /** At the end of a day, and now of today; empty where there is nothing to say. */
  readonly read: (instant: number) => string;
}

interface DayTableProps {
  page: BuildPage;
  from: number;
  to: number;
  columns: readonly DayColumn[];
}

export function DayTable({ page, from, to, columns }: DayTableProps): Html {
  return (
    <details class="in-figures">
      <summary>{say.inFigures}</summary>
      <Scroll label={say.inFigures}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say.day}</th>
              {columns.map(({ key, name }) => (
                <th key={key} scope="col" class="n">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {page.clock
              .days(from, to + 1)
              .slice(0, DAYS_SHOWN)
              .map((day) => (
                <InTurns key={day.date}>
                  <DayRow page={page} day={day} columns={columns} />
                </InTurns>
              ))}
          </tbody>
        </table>
      </Scroll>
    </details>
  );
}

interface DayRowProps extends Pick<DayTableProps, 'page' | 'columns'> {
  day: WallDay;
}

function DayRow({ page, day, columns }: DayRowProps): Html {
  const { now } = page.forecast;
  const end = day.start <= now && now < day.end ? now : day.end;
  return (
    <tr>
      <th scope="row">{dayText(page.clock, day.start, now)}</th>
      {columns.map(({ key, read }) => (
        <td key={key} class="n">
          {read(end)}
        </td>
      ))}
    </tr>
  );
}
