/** Rooms (to ready-by, load-in and event; now and then), each as a bare length on a common scale of days. */
import { scaleLinear } from 'd3-scale';
import type { Room } from '../../server/model/index.ts';
import { DimensionLine } from '../pictures/drawing.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { roomText, whenText } from '../words/wording.ts';

const MINUTES_PER_DAY = 1440;

/** A length of room with what it is called and what is said of when. */
export interface LengthRow {
  readonly name: string;
  /** Negative: too late; null: not known. */
  readonly minutes: number | null;
  readonly when: string;
}

export function RoomRules({ page }: { page: BuildPage }): Html {
  return (
    <section class="room-rules" aria-label={texts.countdown.rooms}>
      <LengthRules rows={rowsOf(page)} />
    </section>
  );
}

/** Lengths under each other on one scale of days. */
export function LengthRules({ rows }: { rows: readonly LengthRow[] }): Html {
  const longest = Math.max(MINUTES_PER_DAY, ...rows.map(({ minutes }) => Math.abs(minutes ?? 0)));
  const scale = scaleLinear().domain([0, longest]).range([0, 100]);
  const days = Math.floor(longest / MINUTES_PER_DAY);
  return (
    <ul>
      {rows.map((row) => (
        <LengthRule key={row.name} row={row} days={days} at={(m) => `${scale(m).toFixed(2)}%`} />
      ))}
    </ul>
  );
}

function rowsOf({ forecast, clock }: BuildPage): LengthRow[] {
  const { readyBy, loadIn, event } = forecast.room;
  const row = (name: string, { clock: minutes, target }: Room): LengthRow => ({
    name,
    minutes,
    when: whenText(clock, target, forecast.now),
  });
  const rows = [row(texts.target.readyBy, readyBy)];
  if (loadIn !== null) rows.push(row(texts.target.loadIn, loadIn));
  const dues = (forecast.dues ?? []).filter(({ left }) => left > 0);
  return [
    ...dues.map(({ name, at, clock: minutes }) => ({ name, minutes, when: whenText(clock, at, forecast.now) })),
    ...rows,
    row(texts.target.event, event),
  ];
}

interface LengthRuleProps {
  row: LengthRow;
  days: number;
  at: (minutes: number) => string;
}

function LengthRule({ row, days, at }: LengthRuleProps): Html {
  const { name, minutes, when } = row;
  const late = (minutes ?? 0) < 0;
  return (
    <li class={late ? 'late' : undefined}>
      <span class="room-name">{name}</span>
      <span class="room-figure">{roomText(minutes)}</span>
      <span class="room-when quiet">{when}</span>
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
        {minutes === null || minutes === 0 ? null : <DimensionLine x1="0%" x2={at(Math.abs(minutes))} y="0.6rem" />}
      </svg>
    </li>
  );
}
