/**
 * The sheet that a picture over time is plotted on: levels to the right, at the foot a strip of days as on the rule.
 * Places are per cents of the width and multiples of the size of type; curves are drawn on a square and stretched, and
 * pens keep their width.
 */
import { scaleLinear } from 'd3-scale';
import { area, curveLinear, curveStepAfter, line } from 'd3-shape';
import type { ComponentChildren } from 'preact';
import { type Html, InTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import type { WallDay } from '../wall-clock.ts';

export type Point = readonly [number, number];

/** Rem above the plot for the names of now and ready-by, and below it for the days. */
const HEAD = 1.5;
const STRIP = 2.1;
const SQUARE = 1000;
const MINUTES_PER_DAY = 1440;
const DAYS_WITH_HOURS = 3;
const DAYS_NUMBERED = 45;
const DAYS_NUMBERED_ON_PHONE = 14;

export interface Plot {
  readonly from: number;
  readonly to: number;
  readonly top: number;
  /** Rem: of the top of the plot, of its base line, of the end of the strip of days, of the whole. */
  readonly head: number;
  readonly base: number;
  readonly foot: number;
  readonly height: number;
  /** Per cent of the width. */
  readonly percent: (instant: number) => number;
  readonly x: (instant: number) => string;
  readonly y: (value: number) => string;
}

/** `height`: rem of the plot itself; `tail`: rem left free under the days; `head`: above it, for names. */
export function plotOf(from: number, to: number, top: number, height: number, tail: number, head = HEAD): Plot {
  const across = scaleLinear().domain([from, to]).range([0, 98.5]);
  const base = head + height;
  const up = scaleLinear().domain([0, top]).range([base, head]);
  return {
    from,
    to,
    top,
    head,
    base,
    foot: base + STRIP,
    height: base + STRIP + tail,
    percent: across,
    x: (instant) => `${across(instant).toFixed(2)}%`,
    y: (value) => `${up(value).toFixed(2)}rem`,
  };
}

interface SheetProps {
  page: BuildPage;
  plot: Plot;
  levels: readonly { readonly value: number; readonly text: string }[];
  children: ComponentChildren;
}

/** The whole picture; it is silent: its words stand beside it. */
export function PlotSheet({ page, plot, levels, children }: SheetProps): Html {
  return (
    <svg class="plot" width="100%" height={`${plot.height}rem`} aria-hidden="true" focusable="false">
      <g class="plot-levels">
        {levels.map(({ value }) => (
          <line key={value} x1="0" x2="100%" y1={plot.y(value)} y2={plot.y(value)} />
        ))}
      </g>
      {children}
      <Days plot={plot} days={page.clock.days(plot.from, plot.to)} />
      <g class="plot-levels">
        {levels.map(({ value, text }) => (
          <text key={value} x="100%" y={plot.y(value)} dy={isAtHead(plot, value) ? '0.95rem' : '-0.25rem'}>
            {text}
          </text>
        ))}
      </g>
      <Moments page={page} plot={plot} />
    </svg>
  );
}

/** So far up that a figure above the line would lie among the names of moments. */
function isAtHead({ top, head, base }: Plot, value: number): boolean {
  return (1 - value / top) * (base - head) < 0.8;
}

/** Curves lie in here, on a square that is stretched over the plot. */
export function Curves({ plot, children }: { plot: Plot; children: ComponentChildren }): Html {
  return (
    <svg
      y={`${plot.head}rem`}
      width="98.5%"
      height={`${plot.base - plot.head}rem`}
      viewBox={`0 0 ${SQUARE} ${SQUARE}`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      {children}
    </svg>
  );
}

interface CurveProps {
  plot: Plot;
  points: readonly Point[];
  how: 'step' | 'line';
  pen: string;
}

/** A curve of `Curves`. */
export function Curve(props: CurveProps): Html {
  return (
    <InTurns>
      <CurvePath {...props} />
    </InTurns>
  );
}

function CurvePath(props: CurveProps): Html | null {
  const { plot, points, how, pen } = props;
  if (points.length < 2) return null;
  const [x, y] = squareOf(plot);
  const path = line<Point>()
    .x(([instant]) => x(instant))
    .y(([, value]) => y(value))
    .curve(how === 'step' ? curveStepAfter : curveLinear)(drawn(points, x));
  return <path class={pen} d={path ?? ''} vector-effect="non-scaling-stroke" />;
}

/** Points that are closer to each other across are drawn in one place. */
const SAME_PLACE = 0.5;

/**
 * The first, the last, the lowest and the highest of the points that fall into each place of a picture, in their order:
 * a line through thousands of points looks the same with these alone.
 */
export function drawn(points: readonly Point[], x: (instant: number) => number): Point[] {
  const kept: Point[] = [];
  for (let i = 0; i < points.length; ) {
    const place = Math.floor(x(points[i]![0]) / SAME_PLACE);
    let [end, low, high] = [i, i, i];
    for (; end < points.length && Math.floor(x(points[end]![0]) / SAME_PLACE) === place; end++) {
      if (points[end]![1] < points[low]![1]) low = end;
      if (points[end]![1] > points[high]![1]) high = end;
    }
    const four = [i, Math.min(low, high), Math.max(low, high), end - 1];
    for (const n of new Set(four)) kept.push(points[n]!);
    i = end;
  }
  return kept;
}

/** What is between two curves of the same instants, as a path on the square of `Curves`. */
export function between(plot: Plot, low: readonly Point[], high: readonly Point[], how: 'step' | 'line'): string {
  const [x, y] = squareOf(plot);
  const path = area<Point>()
    .x(([instant]) => x(instant))
    .y0(([, value]) => y(value))
    .y1((_, i) => y(high[i]![1]))
    .curve(how === 'step' ? curveStepAfter : curveLinear)([...low]);
  return path ?? '';
}

function squareOf({ from, to, top }: Plot): [(instant: number) => number, (value: number) => number] {
  const round = (value: number) => Math.round(value * 10) / 10;
  return [(instant) => round((SQUARE * (instant - from)) / (to - from)), (value) => round(SQUARE * (1 - value / top))];
}

/** A line of instants and the values at them. */
export function pointsOf(instants: readonly number[], values: readonly number[]): Point[] {
  return instants.map((at, i): Point => [at, values[i] ?? 0]);
}

/**
 * The part of a line from `from` to `to`: of a line that stays level until it falls (`step`), or that runs straight
 * between its points.
 */
export function within(points: readonly Point[], from: number, to: number, how: 'step' | 'line'): Point[] {
  if (points.length === 0 || points[0]![0] > to) return [];
  const inside = points.filter(([at]) => at > from && at < to);
  const first: Point = [Math.max(from, points[0]![0]), valueAt(points, from, how)];
  const end = Math.min(to, points.at(-1)![0]);
  return end <= first[0] ? [first] : [first, ...inside, [end, valueAt(points, end, how)]];
}

/** The value of a line at an instant; before its first point and after its last that point's own. */
export function valueAt(points: readonly Point[], instant: number, how: 'step' | 'line'): number {
  const i = points.findLastIndex(([at]) => at <= instant);
  if (i < 0) return points[0]?.[1] ?? 0;
  const [[at, value], next] = [points[i]!, points[i + 1]];
  if (how === 'step' || next === undefined) return value;
  return value + ((instant - at) / (next[0] - at)) * (next[1] - value);
}

function Days({ plot, days }: { plot: Plot; days: readonly WallDay[] }): Html {
  const { base, foot, x } = plot;
  const shown = days.filter((day) => day.start >= plot.from);
  const sparse = days.length > DAYS_NUMBERED_ON_PHONE;
  return (
    <g class={sparse ? 'plot-days sparse' : 'plot-days'}>
      <line class="plot-base" x1="0" x2="100%" y1={`${base}rem`} y2={`${base}rem`} />
      <line class="plot-back" x1="0" x2="100%" y1={`${foot}rem`} y2={`${foot}rem`} />
      {shown.map((day) => {
        const long = day.weekday === 1;
        if (days.length > DAYS_NUMBERED && !long) return null;
        return (
          <line
            key={day.date}
            x1={x(day.start)}
            x2={x(day.start)}
            y1={`${base}rem`}
            y2={`${long ? foot : base + 0.7}rem`}
          />
        );
      })}
      {days.length > DAYS_WITH_HOURS ? null : <Hours plot={plot} days={days} />}
      {days.map((day) => (
        <DayName key={day.date} plot={plot} day={day} every={days.length > DAYS_NUMBERED ? 'weeks' : 'days'} />
      ))}
    </g>
  );
}

/** On a picture of few days, each third hour. */
function Hours({ plot, days }: { plot: Plot; days: readonly WallDay[] }): Html {
  const hours = days.flatMap((day) =>
    [3, 6, 9, 12, 15, 18, 21].map((hour) => [hour, day.end - (24 - hour) * 60] as const),
  );
  return (
    <>
      {hours
        .filter(([, instant]) => instant > plot.from && instant < plot.to)
        .map(([hour, instant]) => (
          <line
            key={instant}
            x1={plot.x(instant)}
            x2={plot.x(instant)}
            y1={`${plot.base}rem`}
            y2={`${plot.base + (hour === 12 ? 0.5 : 0.3)}rem`}
          />
        ))}
    </>
  );
}

function DayName({ plot, day, every }: { plot: Plot; day: WallDay; every: 'days' | 'weeks' }): Html | null {
  const [start, end] = [Math.max(day.start, plot.from), Math.min(day.end, plot.to)];
  if (every === 'weeks') {
    if (day.weekday !== 1 || day.start < plot.from) return null;
    return (
      <text class="plot-day start" x={plot.x(start)} y={`${plot.base + 1.75}rem`} dx="0.2rem">
        {day.day} {day.day <= 7 ? texts.months[day.month - 1] : null}
      </text>
    );
  }
  const share = (plot.percent(end) - plot.percent(start)) / 100;
  if (share < 0.018 || end - start < MINUTES_PER_DAY / 3) return null;
  // On a phone, where days are narrow: Mondays, and the first of a month that is no neighbour of one.
  const major = day.weekday === 1 || (day.day === 1 && day.weekday > 2 && day.weekday < 7);
  return (
    <g class={major ? undefined : 'minor'}>
      <text class="plot-letter" x={plot.x((start + end) / 2)} y={`${plot.base + 0.9}rem`}>
        {share > 0.12 ? texts.weekdays[day.weekday - 1] : texts.weekdays[day.weekday - 1]!.slice(0, 1)}
      </text>
      <text class="plot-day" x={plot.x((start + end) / 2)} y={`${plot.base + 1.85}rem`}>
        {day.day}
      </text>
    </g>
  );
}

/** Now, and the ready-by where the picture reaches so far. */
function Moments({ page, plot }: { page: BuildPage; plot: Plot }): Html {
  const { now, readyBy } = page.forecast;
  const apart = Math.abs(plot.percent(readyBy) - plot.percent(now)) > 22;
  return (
    <>
      {readyBy <= plot.from || readyBy > plot.to ? null : (
        <Moment plot={plot} at={readyBy} name={apart ? texts.target.readyBy : ''} pen="plot-ready-by" />
      )}
      <Moment plot={plot} at={now} name={texts.rule.now} pen="plot-now" />
    </>
  );
}

function Moment({ plot, at, name, pen }: { plot: Plot; at: number; name: string; pen: string }): Html {
  const left = plot.percent(at) > 12;
  return (
    <g class={pen}>
      <line x1={plot.x(at)} x2={plot.x(at)} y1="0.3rem" y2={`${plot.foot}rem`} />
      <text x={plot.x(at)} y="1rem" dx={left ? '-0.35rem' : '0.35rem'} text-anchor={left ? 'end' : 'start'}>
        {name}
      </text>
    </g>
  );
}
