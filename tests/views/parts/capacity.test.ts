/** The hours by day on the Countdown, of a build whose event is years away. */
import { expect, it } from 'vitest';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { Capacity } from '../../../views/parts/capacity.tsx';
import { renderFragment } from '../../../views/render.ts';
import type { BuildPage } from '../../../views/types.ts';
import { fakeBuild } from '../../support/fake-build.ts';
import { fakeForecast } from '../../support/fake-forecast.ts';

function rowsOf(days: number): string[] {
  const forecast = fakeForecast();
  const dates = Array.from({ length: days }, (_, i) => new Date(Date.UTC(2026, 10, 26 + i)).toISOString().slice(0, 10));
  const capacity = forecast.capacity.map((group) => ({
    ...group,
    days: dates.map((date) => ({ date, offeredMinutes: 240 })),
  }));
  const page = { build: fakeBuild(), forecast: { ...forecast, capacity }, clock: wallClock('Europe/Amsterdam') };
  return renderFragment(Capacity({ page: page as unknown as BuildPage }))
    .split('<tbody>')[1]!
    .split('<tr>')
    .slice(1);
}

it('lists the hours of a hundred days, and marks that there are more: a table of years held up every other request', () => {
  expect(rowsOf(100)).toHaveLength(100);
  expect(rowsOf(100).at(-1)).not.toContain('…');
  const rows = rowsOf(3000);
  expect(rows).toHaveLength(101);
  expect(rows.at(-1)).toContain('…');
});
