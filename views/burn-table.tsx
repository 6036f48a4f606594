/** The burn-down in figures, day by day: for those who do not see the picture, or want to read it to the unit. */
import type { BurnFan, BurnLine } from '../server/model/index.ts';
import { Scroll } from './marks.tsx';
import { type Point, valueAt } from './plot.tsx';
import type { Html } from './render.ts';
import { texts } from './texts.ts';
import type { BuildPage } from './types.ts';
import { dayText, figure, workText } from './wording.ts';

const say = texts.pictures;
const DAYS_SHOWN = 70;

interface BurnTableProps {
  page: BuildPage;
  burn: BurnLine | null;
  fan: BurnFan | null;
}

export function BurnTable({ page, burn, fan }: BurnTableProps): Html | null {
  if (burn === null || burn.total <= 0) return null;
  const { now } = page.forecast;
  const read = (value: number) => (burn.step === null ? workText(value) : figure(Math.ceil(value)));
  const from = burn.counted[0]?.[0] ?? now;
  const ends = [now, fan?.lastUnitAt.p90, burn.planned.at(-1)?.[0], burn.needed.at(-1)?.[0]];
  const to = Math.max(...ends.map((at) => at ?? now));
  const fanAt = (values: readonly number[] | undefined, at: number): string =>
    fan === null || values === undefined || at < now
      ? ''
      : read(
          valueAt(
            fan.instants.map((instant, i): Point => [instant, values[i]!]),
            at,
            'line',
          ),
        );
  return (
    <details class="in-figures">
      <summary>{say.inFigures}</summary>
      <Scroll label={say.inFigures}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say.day}</th>
              {Object.entries(say.columns).map(([key, name]) => (
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
              .map((day) => {
                const end = day.start <= now && now < day.end ? now : day.end;
                return (
                  <tr key={day.date}>
                    <th scope="row">{dayText(page.clock, day.start, now)}</th>
                    <td class="n">{end > now ? '' : read(valueAt(burn.counted, end, 'step'))}</td>
                    <td class="n">{burn.planned.length === 0 ? '' : read(valueAt(burn.planned, end, 'step'))}</td>
                    <td class="n">{fanAt(fan?.p10, end)}</td>
                    <td class="n">{fanAt(fan?.p50, end)}</td>
                    <td class="n">{fanAt(fan?.p90, end)}</td>
                  </tr>
                );
              })}
          </tbody>
        </table>
      </Scroll>
    </details>
  );
}
