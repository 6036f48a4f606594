/** The ledger of room: how much there is and was, what gained or cost it since when, and every change in its line. */

import { scaleLinear } from 'd3-scale';
import type { LedgerSum, RoomSince } from '../../server/model/index.ts';
import { BuildLayout, Sheet } from '../frame/layout.tsx';
import { ledgerHref } from '../links.ts';
import { type LengthRow, LengthRules } from '../parts/room-rules.tsx';
import { DimensionLine } from '../pictures/drawing.tsx';
import { RoomPicture } from '../pictures/room-picture.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import {
  type CauseWords,
  causesText,
  type LedgerSpanName,
  SPANS,
  signedText,
  sinceText,
  wordsOf,
} from '../words/ledger-words.ts';
import { chanceText, exactRoomText, soonText } from '../words/wording.ts';

const say = texts.ledger;
const MINUTES_PER_DAY = 1440;

/** One change of the answer. */
export interface LedgerRow {
  readonly number: number;
  /** Minutes since the epoch. */
  readonly at: number;
  readonly who: string | null;
  readonly cause: string;
  /** Null for the first, and where there was no date before or after. */
  readonly change: number | null;
  /** They add up to the change; null: not told apart. */
  readonly sums: readonly LedgerSum[] | null;
  readonly room: number | null;
  /** The chance to be ready by the ready-by, 0 to 1; null where none was drawn. */
  readonly chance: number | null;
  /** Worked out afterwards from the log. */
  readonly rebuilt: boolean;
}

interface LedgerProps {
  page: BuildPage;
  span: LedgerSpanName;
  /** Null: nothing was kept yet. */
  since: RoomSince | null;
  /** The room at other times, the latest first. */
  rooms: readonly LengthRow[];
  /** Room in minutes at instants in minutes since the epoch, the oldest first. */
  course: readonly (readonly [number, number])[];
  /** What each person edited and counted in the span. */
  doings: readonly { readonly who: string; readonly what: string }[];
  /** The newest first. */
  rows: readonly LedgerRow[];
  /** How many rows were worked out afterwards; null while that is going on. */
  rebuilt: number | null;
  /** Numbers of the rows at which the neighbouring pages begin; null where there are none. */
  newer: number | null;
  older: number | null;
}

export function LedgerPage(props: LedgerProps): Html {
  return (
    <BuildLayout page={props.page} screen="countdown">
      <LedgerSheet {...props} />
    </BuildLayout>
  );
}

export function LedgerSheet(props: LedgerProps): Html {
  const { page, span, since, rooms, rows } = props;
  return (
    <Sheet page={page} screen="countdown" refresh={ledgerHref(page.build.id, span)}>
      <h1>{say.heading}</h1>
      <p class="quiet">{say.note}</p>
      {props.rebuilt === null ? <p>{say.rebuilding}</p> : null}
      {since === null ? (
        <p>{say.none}</p>
      ) : (
        <>
          <section class="room-rules" aria-label={say.rooms}>
            <LengthRules rows={rooms} />
          </section>
          <RoomPicture page={page} course={props.course} />
          <Spans page={page} span={span} />
          <Causes page={page} since={since} span={span} />
          <Doings doings={props.doings} />
          <h2>{say.rows}</h2>
          {props.rebuilt === null || props.rebuilt === 0 ? null : <p class="quiet">{say.rebuilt(props.rebuilt)}</p>}
          <ol class="ledger-rows">
            {rows.map((row) => (
              <Row key={row.number} page={page} row={row} />
            ))}
          </ol>
          <Turns {...props} />
        </>
      )}
    </Sheet>
  );
}

/** `6 h less than yesterday: −4 h slow pace at mount fish, −2 h …`, with the way to the ledger. */
export function RoomSinceLine({ page, since }: { page: BuildPage; since?: RoomSince | null | undefined }): Html | null {
  if (since === undefined || since === null) return null;
  return (
    <p class="room-since">
      <a href={ledgerHref(page.build.id)}>{sinceText(page, since, 'day')}</a>
      {since.sums.length === 0 && since.untold === 0 ? null : `: ${causesText(page, since)}`}
    </p>
  );
}

function Spans({ page, span }: { page: BuildPage; span: LedgerSpanName }): Html {
  return (
    <nav aria-label={say.spans}>
      <ul class="spans">
        {SPANS.map((to) => (
          <li key={to}>
            <a href={ledgerHref(page.build.id, to)} aria-current={to === span ? 'true' : undefined}>
              {say.span[to]}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

interface CauseRow extends CauseWords {
  readonly key: string;
  readonly minutes: number;
}

/**
 * From the room then to the room now, cause by cause, each a length on one scale that begins where the one before ends.
 */
function Causes({ page, since, span }: { page: BuildPage; since: RoomSince; span: LedgerSpanName }): Html {
  const { roomThen, roomNow } = since;
  const causes = causeRows(page, since);
  return (
    <section aria-labelledby="causes-title">
      <h2 id="causes-title">{`${say.causes}, ${say.span[span]}`}</h2>
      <p>
        <strong>{sentence(sinceText(page, since, span))}</strong>
      </p>
      {causes.length === 0 || roomThen === null || roomNow === null ? (
        <p>{roomThen === null || roomNow === null ? say.notCompared : say.nothing}</p>
      ) : (
        <ol class="ledger-causes">
          {causes.map((cause, i) => {
            const from = roomThen + total(causes.slice(0, i));
            return (
              <li key={cause.key}>
                <ChangeFigure minutes={cause.minutes} />
                <span>{cause.words}</span>
                <Length from={from} to={from + cause.minutes} ends={endsOf(roomThen, causes)} />
                <Subjects of={cause.more} />
              </li>
            );
          })}
          <li class="total">
            <ChangeFigure minutes={roomNow - roomThen} />
            <span>{`${say.from(exactRoomText(roomThen), soonText(page.clock, since.at, page.forecast.now))}; ${say.to(exactRoomText(roomNow))}`}</span>
          </li>
        </ol>
      )}
    </section>
  );
}

function causeRows(page: BuildPage, { sums, untold }: Pick<RoomSince, 'sums' | 'untold'>): CauseRow[] {
  const rows = sums.map((sum) => ({ key: sum.kind, minutes: sum.minutes, ...wordsOf(page, sum) }));
  return untold === 0 ? rows : [...rows, { key: 'untold', words: say.untold, minutes: untold, more: [] }];
}

function endsOf(from: number, causes: readonly CauseRow[]): [number, number] {
  const places = [from, ...causes.map((_, i) => from + total(causes.slice(0, i + 1)))];
  return [Math.min(0, ...places), Math.max(MINUTES_PER_DAY, ...places)];
}

const DAYS_WITH_MARKS = 40;

function Length({ from, to, ends }: { from: number; to: number; ends: [number, number] }): Html {
  const scale = scaleLinear().domain(ends).range([0, 100]);
  const at = (minutes: number) => `${scale(minutes).toFixed(2)}%`;
  const days = (ends[1] - ends[0]) / MINUTES_PER_DAY;
  const step = days > DAYS_WITH_MARKS ? 7 * Math.ceil(days / 7 / DAYS_WITH_MARKS) : 1;
  const first = Math.ceil(ends[0] / MINUTES_PER_DAY / step) * step;
  const marks = Array.from(
    { length: Math.floor((ends[1] / MINUTES_PER_DAY - first) / step) + 1 },
    (_, i) => first + i * step,
  );
  return (
    <svg width="100%" height="1.25rem" aria-hidden="true" focusable="false">
      {marks.map((day) => (
        <line
          key={day}
          class={day === 0 ? 'mark zero' : 'mark'}
          x1={at(day * MINUTES_PER_DAY)}
          x2={at(day * MINUTES_PER_DAY)}
          y1={day === 0 ? '0' : '0.55rem'}
          y2="1.15rem"
        />
      ))}
      <g class={to < from ? 'cost' : 'gain'}>
        {from === to ? null : <DimensionLine x1={at(Math.min(from, to))} x2={at(Math.max(from, to))} y="0.6rem" />}
      </g>
    </svg>
  );
}

function Subjects({ of }: { of: readonly { readonly words: string; readonly minutes: number }[] }): Html | null {
  if (of.length === 0) return null;
  return (
    <ul class="quiet">
      {of.map(({ words, minutes }) => (
        <li key={words}>
          {signedText(minutes)} {words}
        </li>
      ))}
    </ul>
  );
}

function Doings({ doings }: { doings: LedgerProps['doings'] }): Html {
  return (
    <section aria-labelledby="doings-title">
      <h2 id="doings-title">{say.doings}</h2>
      {doings.length === 0 ? <p>{say.noDoings}</p> : null}
      <ul class="doings">
        {doings.map(({ who, what }) => (
          <li key={who}>
            <strong>{who}</strong> {what}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Row({ page, row }: { page: BuildPage; row: LedgerRow }): Html {
  const when = soonText(page.clock, row.at, page.forecast.now);
  const causes = row.sums === null ? [] : causeRows(page, { sums: row.sums, untold: 0 });
  return (
    <li>
      <p class="ledger-head">
        <span class="stamp stamp-s">{row.number}</span>
        <span>
          {row.cause}
          <br />
          <span class="quiet small">{row.who === null ? when : `${when}, ${row.who}`}</span>
          {row.rebuilt ? <span class="quiet small">{` (${say.afterwards})`}</span> : null}
        </span>
        <span class="ledger-room">
          {row.change === null ? say.began : signedText(row.change)}
          <br />
          <span class="quiet small">{say.roomAfter(exactRoomText(row.room))}</span>
          {row.chance === null ? null : (
            <>
              <br />
              <span class="quiet small">{say.chanceAfter(chanceText(row.chance))}</span>
            </>
          )}
        </span>
      </p>
      <ul class="ledger-parts">
        {causes.map((cause) => (
          <li key={cause.key}>
            {signedText(cause.minutes)} {cause.words}
            {cause.more.length === 0 ? null : `: ${cause.more.map(partText).join(', ')}`}
          </li>
        ))}
        {row.sums === null && row.change !== null && row.change !== 0 ? <li>{say.untold}</li> : null}
      </ul>
    </li>
  );
}

function partText({ words, minutes }: { readonly words: string; readonly minutes: number }): string {
  return `${words} ${signedText(minutes)}`;
}

function Turns({ page, span, newer, older }: LedgerProps): Html | null {
  if (newer === null && older === null) return null;
  const { id } = page.build;
  return (
    <p class="turns">
      {newer === null ? null : <a href={ledgerHref(id, span, newer)}>{say.newer}</a>}{' '}
      {older === null ? null : <a href={ledgerHref(id, span, older)}>{say.older}</a>}
    </p>
  );
}

function ChangeFigure({ minutes }: { minutes: number }): Html {
  return <strong class="change-figure">{signedText(minutes)}</strong>;
}

function sentence(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}.`;
}

function total(causes: readonly { readonly minutes: number }[]): number {
  return causes.reduce((sum, { minutes }) => sum + minutes, 0);
}
