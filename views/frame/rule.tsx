/**
 * The rule: a measuring rule from now to the event. Days are its marks, nights its shade, notches stand for ready-by,
 * load-in and event, a caret for the forecast, and the room is the bare length between. Everything is at a per cent of
 * the width and at a multiple of the size of type, so that one drawing serves the phone, the bench and large type.
 */
import { type ScaleLinear, scaleLinear } from 'd3-scale';
import { At, DimensionLine } from '../pictures/drawing.tsx';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import type { WallDay } from '../wall-clock.ts';
import { futuresOf } from '../words/futures.ts';
import { siteLateText } from '../words/marks.tsx';
import { missingTexts } from '../words/missing-words.ts';
import { lengthText, roomText, soonText, whenText } from '../words/wording.ts';

type Percent = (instant: number) => string;

/** A day with the end of it that still is on the rule. */
interface RuleDay extends WallDay {
  readonly until: number;
}

const DAYS_WITH_NIGHTS = 70;
const DAYS_WITH_HOURS = 21;
/** Only the rest of today is on the rule; in less than ten hours there is no place for its number. */
const SHORTEST_NUMBERED = 600;
const DAYS_WITH_NUMBERS = 75;
const DAYS_WITH_NUMBERS_ON_PHONE = 17;

/** The rule of a page, with the same said in words for those who do not see it. */
export function Rule({ page }: { page: BuildPage }): Html {
  const { forecast, clock } = page;
  const scale = ruleScale(page);
  const at: Percent = (instant) => `${scale(instant).toFixed(2)}%`;
  const [first, last] = scale.domain() as [number, number];
  const days = clock.days(first, last).map((day) => within(day, first, last));
  return (
    <section class="rule" aria-label={texts.rule.label}>
      <Freshness page={page} />
      <p class="heard">{ruleWords(page)}</p>
      <svg width="100%" height="10.2rem" aria-hidden="true" focusable="false">
        <rect class="rule-body" x="0" y="3.9rem" width="100%" height="2.8rem" />
        <Nights days={days} at={at} />
        <Edge />
        <Marks days={days} at={at} />
        <Notches page={page} scale={scale} at={at} />
        <Spread page={page} at={at} />
        <Caret page={page} scale={scale} at={at} />
        <line class="rule-now" x1={at(forecast.now)} x2={at(forecast.now)} y1="3.2rem" y2="8rem" />
        {forecast.room.readyBy.finish === null ? null : <RoomLength page={page} scale={scale} at={at} />}
      </svg>
    </section>
  );
}

/** Says of numbers that are old, or not as good as they might be, that they are; nothing otherwise. */
export function Freshness({ page }: { page: BuildPage }): Html | null {
  const { stale, behind, failedAt, clock, computedAt, forecast } = page;
  if (!stale && failedAt === undefined) return null;
  const say = texts.fresh;
  const old = say.old(soonText(clock, computedAt, forecast.now), say.behind(behind?.edits ?? 0, behind?.entries ?? 0));
  const words =
    failedAt === undefined
      ? `${old} ${say.coming}`
      : `${say.failed(soonText(clock, failedAt, forecast.now))} ${stale ? old : say.first}`;
  return (
    <p class="freshness threat" role="status">
      {words}
    </p>
  );
}

/** The day as far as it is on the rule. */
function within(day: WallDay, first: number, last: number): RuleDay {
  const clamp = (instant: number) => Math.min(Math.max(instant, first), last);
  return {
    ...day,
    start: clamp(day.start),
    morning: clamp(day.morning),
    evening: clamp(day.evening),
    until: clamp(day.end),
  };
}

/**
 * From now, or what is before it of the notches and the forecast, to the last of event and forecast, in per cent of the
 * width; a little bare rule is left behind the last mark.
 */
export function ruleScale({ forecast }: BuildPage): ScaleLinear<number, number> {
  const finish = forecast.room.event.finish ?? forecast.event;
  const ready = forecast.room.readyBy.finish ?? forecast.event;
  const last = Math.max(forecast.event, finish, ready, forecast.now + 60);
  const first = Math.min(forecast.now, forecast.readyBy, forecast.loadIn ?? forecast.event, ready);
  return scaleLinear().domain([first, last]).range([0, 98.5]);
}

/** What the rule shows, as one sentence. */
export function ruleWords({ forecast, clock }: BuildPage): string {
  const { readyBy } = forecast.room;
  const parts = targetsOf({ forecast }).map((t) => texts.rule.target(t.name, whenText(clock, t.at, forecast.now)));
  const ready =
    readyBy.finish === null
      ? (missingTexts(forecast)[0] ?? texts.rule.notKnown)
      : texts.rule.ready(soonText(clock, readyBy.finish, forecast.now));
  const late = siteLateText({ forecast, clock });
  return texts.rule.says([ready, texts.rule.room(roomText(readyBy.clock)), ...(late === null ? [] : [late]), ...parts]);
}

interface Target {
  readonly name: string;
  readonly at: number;
  readonly kind: 'readyBy' | 'loadIn' | 'event';
}

function targetsOf({ forecast }: Pick<BuildPage, 'forecast'>): readonly Target[] {
  const { readyBy, loadIn, event } = forecast;
  const targets: Target[] = [{ name: texts.target.event, at: event, kind: 'event' }];
  if (loadIn !== null) targets.push({ name: texts.target.loadIn, at: loadIn, kind: 'loadIn' });
  const last = loadIn ?? event;
  if (readyBy !== last) targets.push({ name: texts.target.readyBy, at: readyBy, kind: 'readyBy' });
  return targets;
}

function Edge(): Html {
  return (
    <>
      <line class="rule-edge" x1="0" x2="100%" y1="3.9rem" y2="3.9rem" />
      <line class="rule-back" x1="0" x2="100%" y1="6.7rem" y2="6.7rem" />
    </>
  );
}

function Nights({ days, at }: { days: readonly RuleDay[]; at: Percent }): Html | null {
  if (days.length > DAYS_WITH_NIGHTS) return null;
  return (
    <g class="rule-night">
      {days.map((day) => (
        <g key={day.date}>
          <line x1={at(day.start)} x2={at(day.morning)} y1="5.3rem" y2="5.3rem" />
          <line x1={at(day.evening)} x2={at(day.until)} y1="5.3rem" y2="5.3rem" />
        </g>
      ))}
    </g>
  );
}

function Marks({ days, at }: { days: readonly RuleDay[]; at: Percent }): Html {
  const numbered = days.length <= DAYS_WITH_NUMBERS;
  const sparse = days.length > DAYS_WITH_NUMBERS_ON_PHONE;
  return (
    <g class={sparse ? 'rule-marks sparse' : 'rule-marks'}>
      {days.map((day) => {
        const monday = day.weekday === 1;
        const long = numbered ? monday : day.day === 1;
        return (
          <g key={day.date} class={long ? 'long' : undefined}>
            {numbered || long ? (
              <line x1={at(day.start)} x2={at(day.start)} y1="3.9rem" y2={long ? '6.7rem' : '5.2rem'} />
            ) : null}
            {numbered ? <Hours day={day} at={at} fine={days.length <= DAYS_WITH_HOURS} /> : null}
            {numbered ? <DayNumber day={day} at={at} /> : long ? <MonthName day={day} at={at} /> : null}
          </g>
        );
      })}
    </g>
  );
}

/** Noon, and on a short rule every third hour, as the finer marks of a scale. */
function Hours({ day, at, fine }: { day: RuleDay; at: Percent; fine: boolean }): Html {
  const hours = fine ? [3, 6, 9, 12, 15, 18, 21] : [12];
  return (
    <>
      {hours
        .map((hour) => [hour, day.end - (24 - hour) * 60] as const)
        .filter(([, instant]) => instant > day.start && instant < day.until)
        .map(([hour, instant]) => (
          <line
            key={hour}
            class={hour === 12 ? 'noon' : 'third'}
            x1={at(instant)}
            x2={at(instant)}
            y1="3.9rem"
            y2={hour === 12 ? '4.6rem' : hour % 6 === 0 ? '4.4rem' : '4.2rem'}
          />
        ))}
    </>
  );
}

function middle(day: RuleDay): number {
  return (day.start + day.until) / 2;
}

function DayNumber({ day, at }: { day: RuleDay; at: Percent }): Html | null {
  if (day.until - day.start < SHORTEST_NUMBERED) return null;
  const first = day.day === 1 || day.weekday === 1;
  return (
    <>
      <text class={first ? 'rule-number' : 'rule-number minor'} x={at(middle(day))} y="6.35rem">
        {day.day}
      </text>
      <text class="rule-letter" x={at(middle(day))} y="5.35rem">
        {texts.weekdays[day.weekday - 1]!.slice(0, 1)}
      </text>
    </>
  );
}

function MonthName({ day, at }: { day: RuleDay; at: Percent }): Html {
  return (
    <text class="rule-number start" x={at(day.start)} y="6.35rem" dx="0.3rem">
      {texts.months[day.month - 1]}
    </text>
  );
}

type PlacedProps = { page: BuildPage; scale: ScaleLinear<number, number>; at: Percent };

/** So much of the width a notch's name takes on a phone, in per cent. */
const NAME_WIDTH = 38;

/**
 * The fixed instants: a notch in the edge and a leader to a line of its own. Names that stand to the left of their
 * leaders have the last instant on top, names to the right the first: so no leader runs through another's name. To the
 * left they stand where the event is too far to the right for its own, save those that have no place there.
 */
function Notches({ page, scale, at }: PlacedProps): Html {
  const allRight = scale(page.forecast.event) < 100 - NAME_WIDTH;
  const targets = targetsOf(page);
  const [right, left] = [true, false].map((side) =>
    targets.filter((target) => (allRight || scale(target.at) < NAME_WIDTH) === side),
  ) as [Target[], Target[]];
  return (
    <g class="rule-notches">
      {[...left, ...right.toReversed()].map((target, row) => {
        const baseline = 0.95 + row * 1.15;
        const x = at(target.at);
        const place = beside(left.includes(target) ? 100 : 0);
        return (
          <g key={target.kind} class={`notch-${target.kind}`}>
            <line x1={x} x2={x} y1={`${baseline - 0.7}rem`} y2="3.9rem" />
            <At x={x} y="3.9rem">
              <path d="M-6 0 L6 0 L0 11 Z" />
            </At>
            <text x={x} y={`${baseline}rem`} {...place}>
              <tspan class="name">{target.name}</tspan>{' '}
              <tspan>{whenText(page.clock, target.at, page.forecast.now)}</tspan>
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** Text is on that side of its mark where there is more room. */
function beside(percent: number): { 'text-anchor': 'start' | 'end'; dx: string } {
  return percent > 45 ? { 'text-anchor': 'end', dx: '-0.4rem' } : { 'text-anchor': 'start', dx: '0.4rem' };
}

/** The middle eighty of a hundred futures: a thin bracket under the rule, from the tenth to the ninetieth. */
function Spread({ page, at }: { page: BuildPage; at: Percent }): Html | null {
  const { event, now } = page.forecast;
  const futures = futuresOf(page);
  if (futures === null) return null;
  const { p10: from, p90: to } = futures.risk.readyAt;
  const end = Math.max(
    event,
    page.forecast.room.event.finish ?? event,
    page.forecast.room.readyBy.finish ?? event,
    now + 60,
  );
  const first = Math.max(now, Math.min(from, end));
  const last = Math.max(first, Math.min(to, end));
  return (
    <g class={futures.old === null ? 'rule-spread' : 'rule-spread old'}>
      <line x1={at(first)} x2={at(last)} y1="7.05rem" y2="7.05rem" />
      <line x1={at(first)} x2={at(first)} y1="6.75rem" y2="7.35rem" />
      <line x1={at(last)} x2={at(last)} y1="6.75rem" y2="7.35rem" />
    </g>
  );
}

/** The forecast: a caret under the rule where the workshop's work ends. */
function Caret({ page, scale, at }: PlacedProps): Html | null {
  const { readyBy } = page.forecast.room;
  if (readyBy.finish === null) return <NoDate page={page} />;
  const late = (readyBy.clock ?? 0) < 0;
  const anchor = beside(scale(readyBy.finish));
  return (
    <g class={late ? 'rule-caret late' : 'rule-caret'}>
      <At x={at(readyBy.finish)} y="6.7rem">
        <path d="M0 0 L8 15 L-8 15 Z" />
      </At>
      <text x={at(readyBy.finish)} y="9.75rem" {...anchor} dx={anchor['text-anchor'] === 'end' ? '0.6rem' : '-0.6rem'}>
        {texts.rule.ready(soonText(page.clock, readyBy.finish, page.forecast.now))}
      </text>
    </g>
  );
}

/** Where the caret's words would be: that something must be said first. */
function NoDate({ page }: { page: BuildPage }): Html | null {
  if ((page.forecast.missing ?? []).length === 0) return null;
  return (
    <g class="rule-caret late">
      <text x="0" y="9.75rem">
        {texts.rule.noDate}
      </text>
    </g>
  );
}

/**
 * The room: a dimension line between the caret and the ready-by, nothing else. Too short to write in, its figure is
 * beside it.
 */
function RoomLength({ page, scale, at }: PlacedProps): Html {
  const { finish, clock, target } = page.forecast.room.readyBy;
  const late = (clock ?? 0) < 0;
  const [from, to] = late ? [target, finish!] : [finish!, target];
  const words = late ? texts.rule.short(lengthText(clock ?? 0, 'up')) : texts.rule.room(roomText(clock));
  const wide = scale(to) - scale(from) > 30;
  const centre = (scale(from) + scale(to)) / 2;
  const place = wide
    ? { x: `${centre.toFixed(2)}%`, 'text-anchor': 'middle' as const }
    : scale(from) > 40
      ? { x: at(from), 'text-anchor': 'end' as const, dx: '-0.9rem' }
      : { x: at(to), 'text-anchor': 'start' as const, dx: '0.9rem' };
  return (
    <g class={late ? 'rule-room late' : 'rule-room'}>
      <line class="witness" x1={at(target)} x2={at(target)} y1="4.6rem" y2="8.5rem" />
      <DimensionLine x1={at(from)} x2={at(to)} y="8.2rem" />
      <text {...place} y="8.5rem">
        {words}
      </text>
    </g>
  );
}
