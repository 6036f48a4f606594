/** The rooms to ready-by, load-in and event, each as a bare length on a common scale of days. */
import { scaleLinear } from 'd3-scale';
import type { Room } from '../server/model/index.ts';
import { DimensionLine } from './drawing.tsx';
import type { Html } from './render.ts';
import { texts } from './texts.ts';
import type { BuildPage } from './types.ts';
import { roomText, whenText } from './wording.ts';

const MINUTES_PER_DAY = 1440;

interface Row {
  readonly name: string;
  readonly room: Room;
}

export function RoomRules({ page }: { page: BuildPage }): Html {
  const rows = rowsOf(page);
  const longest = Math.max(MINUTES_PER_DAY, ...rows.map(({ room }) => Math.abs(room.clock ?? 0)));
  const scale = scaleLinear().domain([0, longest]).range([0, 100]);
  const days = Math.floor(longest / MINUTES_PER_DAY);
  return (
    <section class="room-rules" aria-label={texts.countdown.rooms}>
      <ul>
        {rows.map((row) => (
          <RoomRule key={row.name} row={row} page={page} days={days} at={(m) => `${scale(m).toFixed(2)}%`} />
        ))}
      </ul>
    </section>
  );
}

function rowsOf({ forecast }: BuildPage): Row[] {
  const { readyBy, loadIn, event } = forecast.room;
  const rows: Row[] = [{ name: texts.target.readyBy, room: readyBy }];
  if (loadIn !== null) rows.push({ name: texts.target.loadIn, room: loadIn });
  rows.push({ name: texts.target.event, room: event });
  return rows;
}

interface RoomRuleProps {
  row: Row;
  page: BuildPage;
  days: number;
  at: (minutes: number) => string;
}

function RoomRule({ row, page, days, at }: RoomRuleProps): Html {
  const { name, room } = row;
  const late = (room.clock ?? 0) < 0;
  return (
    <li class={late ? 'late' : undefined}>
      <span class="room-name">{name}</span>
      <span class={late ? 'room-figure threat' : 'room-figure'}>{roomText(room.clock)}</span>
      <span class="room-when quiet">{whenText(page.clock, room.target, page.forecast.now)}</span>
      <svg width="100%" height="1.25rem" aria-hidden="true" focusable="false">
        {Array.from({ length: days + 1 }, (_, day) => (
          <line
            key={at(day)}
            class="mark"
            x1={at(day * MINUTES_PER_DAY)}
            x2={at(day * MINUTES_PER_DAY)}
            y1={day % 7 === 0 ? '0.1rem' : '0.55rem'}
            y2="1.15rem"
          />
        ))}
        {room.clock === null || room.clock === 0 ? null : (
          <DimensionLine x1="0%" x2={at(Math.abs(room.clock))} y="0.6rem" />
        )}
      </svg>
    </li>
  );
}
