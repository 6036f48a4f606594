/** The room as a wedge: where its line meets the edge, below the base line where it is short, and in figures. */
import { expect, it } from 'vitest';
import type { Forecast } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { RoomPicture } from '../../../views/pictures/room-picture.tsx';
import { renderFragment } from '../../../views/render.ts';
import type { BuildPage } from '../../../views/types.ts';
import { fakeBuild } from '../../support/fake-build.ts';
import { FAKE_NOW, fakeForecast } from '../../support/fake-forecast.ts';

const forecast = fakeForecast();
const DAY = 1440;

function drawn(of: Forecast, course: readonly (readonly [number, number])[] = [[FAKE_NOW - 3 * DAY, 2 * DAY]]): string {
  const clock = wallClock(of.build.zone);
  const page = { build: fakeBuild(), forecast: of, clock, revision: 1, entries: 0, computedAt: of.now } as BuildPage;
  const html = RoomPicture({ page, course });
  return html === null ? '' : renderFragment(html).replaceAll('\u00a0', ' ');
}

const withRoom = (clock: number, finish: number): Forecast => ({
  ...forecast,
  room: { ...forecast.room, readyBy: { ...forecast.room.readyBy, clock, finish } },
});

/** The last place of a pen, on the square that curves are drawn on. */
function endOf(html: string, pen: string): [number, number] {
  const path = new RegExp(`class="${pen}" d="([^"]+)"`).exec(html)![1]!;
  return path.split(/[ML]/).at(-1)!.split(',').map(Number) as [number, number];
}

/** Where the edge of the wedge is at a place across. */
function edgeAt(html: string, x: number): number {
  const [from, to] = /class="pen-time-left" d="M([^L]+)L([^"]+)"/
    .exec(html)!
    .slice(1)
    .map((it) => it.split(',').map(Number));
  return from![1]! + ((x - from![0]!) / (to![0]! - from![0]!)) * (to![1]! - from![1]!);
}

it.each([DAY + 180, 300, -600])(
  'ends the room of %d minutes on the edge of the time left, when it is ready',
  (room) => {
    const html = drawn(withRoom(room, forecast.readyBy - room));
    const [x, y] = endOf(html, 'pen-room-planned');
    expect(Math.abs(edgeAt(html, x) - y)).toBeLessThan(3);
    const zero = Number(/class="plot-zero"[^>]* y1="([\d.]+)rem"/.exec(html)![1]);
    const ready = Number(/<svg x="[^"]+" y="([\d.]+)rem"[^>]*><circle class="room-ready"/.exec(html)![1]);
    expect(Math.sign(zero - ready)).toBe(Math.sign(room));
  },
);

it('says the room then and now in figures, day by day', () => {
  const html = drawn(withRoom(DAY, forecast.readyBy - DAY)).replaceAll(/<[^>]+>/g, '|');
  expect(html).toContain('|2 days|');
  expect(html).toContain('|1 day|');
});

it('draws nothing where there is no date', () => {
  const { readyBy } = forecast.room;
  expect(drawn({ ...forecast, room: { ...forecast.room, readyBy: { ...readyBy, clock: null, finish: null } } })).toBe(
    '',
  );
});
