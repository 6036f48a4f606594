/**
 * The room as a wedge: the time that is left closes towards the ready-by, and the room is bare at its foot. Graphite as
 * it was, blue as planned: unless something happens it stays as it is until the piece is ready, where it meets the edge
 * of the wedge. Below the base line it is short.
 */
import { scaleLinear } from 'd3-scale';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { lengthText, roomText, whenText } from '../words/wording.ts';
import { DayTable } from './day-table.tsx';
import { At } from './drawing.tsx';
import { PenKey } from './pens.tsx';
import { Curve, Curves, PlotSheet, type Point, plotOf, valueAt, within } from './plot.tsx';

const say = texts.load;
const HEIGHT = 12;
const DAY = 1440;
/** The edge of the wedge is cut off above this many rooms, so that the room itself can be read. */
const ROOMS_HIGH = 3;

interface RoomPictureProps {
  page: BuildPage;
  /** Room in minutes at instants in minutes since the epoch, the oldest first. */
  course: readonly Point[];
}

/** Nothing where there is no date, or the ready-by has passed. */
export function RoomPicture({ page, course }: RoomPictureProps): Html | null {
  const { now, readyBy, event, room } = page.forecast;
  const { clock: left, finish } = room.readyBy;
  if (left === null || finish === null || now >= readyBy) return null;
  const past: Point[] = [...course.filter(([at]) => at < now), [now, left]];
  const from = Math.max(Math.min(now - DAY, past[0]![0]), now - 2 * (readyBy - now));
  const to = Math.max(event, finish) + DAY / 4;
  const seen = within(past, from, now, 'step');
  const rooms = seen.map(([, minutes]) => minutes);
  const [least, most] = [Math.min(0, ...rooms), Math.max(DAY, ROOMS_HIGH * Math.max(...rooms, -left))];
  const top = Math.min(most, readyBy - from);
  // Places are counted from the lowest line of the picture.
  const plot = plotOf(from, to, top - least, HEIGHT, 0.4);
  const lift = (points: readonly Point[]): Point[] => points.map(([at, minutes]) => [at, minutes - least]);
  const edge: Point[] = [
    [readyBy - top, top],
    [readyBy - least, least],
  ];
  const days = scaleLinear()
    .domain([least / DAY, top / DAY])
    .ticks(5)
    .filter(Number.isInteger);
  return (
    <figure class="room-picture">
      <figcaption>
        {say.wedge(roomText(left), lengthText(readyBy - now), whenText(page.clock, readyBy, now))}
      </figcaption>
      <PlotSheet
        page={page}
        plot={plot}
        levels={days.map((n) => ({ value: n * DAY - least, text: n === 0 ? '0' : lengthText(n * DAY) }))}
      >
        <Curves plot={plot}>
          <Curve plot={plot} points={lift(edge)} how="line" pen="pen-time-left" />
          <Curve
            plot={plot}
            points={lift([
              [now, left],
              [finish, left],
            ])}
            how="line"
            pen="pen-room-planned"
          />
          <Curve plot={plot} points={lift(seen)} how="step" pen="pen-room-was" />
        </Curves>
        <line class="plot-zero" x1="0" x2="100%" y1={plot.y(-least)} y2={plot.y(-least)} />
        <g class="plot-ready-by">
          <line x1={plot.x(event)} x2={plot.x(event)} y1="0.3rem" y2={`${plot.base}rem`} />
          <text x={plot.x(event)} y="1rem" dx="-0.35rem" text-anchor="end">
            {texts.target.event}
          </text>
        </g>
        <At x={plot.x(finish)} y={plot.y(left - least)}>
          <circle class="room-ready" r="5" />
        </At>
      </PlotSheet>
      <PenKey pens={['room-was', 'room-planned', 'time-left']} />
      <DayTable
        page={page}
        from={from}
        to={now}
        columns={[
          { key: 'room', name: say.room, read: (at) => roomText(valueAt(past, at, 'step')) },
          { key: 'left', name: say.timeLeft, read: (at) => lengthText(readyBy - at) },
        ]}
      />
    </figure>
  );
}
