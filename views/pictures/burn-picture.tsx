/**
 * The burn-down, drawn: what is done is cut away in hatch above the counted line, the first plan is a thin blue line,
 * the pace needed is dashed, and what may come is a fan with its centre line; under the days a caret marks the hour of
 * the last unit.
 */
import { scaleLinear } from 'd3-scale';
import type { BurnFan, BurnLine } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { figure, soonText, workText } from '../words/wording.ts';
import { At, Hatch } from './drawing.tsx';
import { between, Curve, Curves, type Plot, PlotSheet, type Point, plotOf, pointsOf, within } from './plot.tsx';

const say = texts.pictures;
const MINUTES_PER_HOUR = 60;
/** Before the first unit that was counted or planned, this much is shown. */
const LEAD_IN = 720;
/** Only this share of a fan that reaches far beyond all else is drawn; its words say when it ends. */
const FAN_SHARE = 0.5;

interface BurnPictureProps {
  page: BuildPage;
  burn: BurnLine;
  fan: BurnFan | null;
  /** Drawn of an earlier count. */
  old: boolean;
  /** Rem of the plot. */
  height: number;
}

export function BurnPicture({ page, burn, fan, old, height }: BurnPictureProps): Html {
  const { now } = page.forecast;
  const [from, to] = spanOf(page, burn, fan);
  const plot = plotOf(from, to, topOf(burn), height, burn.left > 0 ? 2.6 : 0.4);
  const counted = within(burn.counted, from, now, 'step');
  return (
    <PlotSheet page={page} plot={plot} levels={levelsOf(burn, plot.top)}>
      <DoneHatch plot={plot} counted={counted} total={burn.total} name={`burn-${burn.step ?? 'all'}`} />
      <Curves plot={plot}>
        {fan === null ? null : <Fan plot={plot} fan={fan} old={old} />}
        <Curve plot={plot} points={within(burn.planned, from, to, 'step')} how="step" pen="pen-planned" />
        <Curve plot={plot} points={burn.needed} how="line" pen="pen-needed" />
        <Curve plot={plot} points={counted} how="step" pen="pen-counted" />
      </Curves>
      <At x={plot.x(now)} y={plot.y(burn.left)}>
        <circle class="plot-here" r="4" />
      </At>
      {fan === null ? null : <LastUnit page={page} plot={plot} fan={fan} old={old} />}
    </PlotSheet>
  );
}

/** From shortly before the first unit to the last end of any line; the fan may stretch that by its share. */
function spanOf({ forecast }: BuildPage, { step, counted, planned, needed }: BurnLine, fan: BurnFan | null): Point {
  const { now, readyBy } = forecast;
  const moves = [firstMove(counted), firstMove(planned)].filter((at) => at !== null);
  const from = Math.max(counted[0]?.[0] ?? now, Math.min(now, ...moves) - LEAD_IN);
  const ends = [now + LEAD_IN, counted.at(-1)?.[0] ?? now, planned.at(-1)?.[0] ?? now, needed.at(-1)?.[0] ?? now];
  const end = Math.max(...ends, step === null ? readyBy : now);
  const reach = fan === null ? end : Math.min(fan.lastUnitAt.p90, end + FAN_SHARE * (end - from));
  const to = Math.max(end, reach);
  return [Math.min(from, now - 1), to + (to - from) * 0.02];
}

function firstMove(points: readonly Point[]): number | null {
  const i = points.findIndex(([, value], at) => at > 0 && value !== points[0]![1]);
  return i < 0 ? null : points[i]![0];
}

function topOf({ total, counted, planned }: BurnLine): number {
  return Math.max(1, total, ...[...counted, ...planned].map(([, value]) => value));
}

/** Round numbers of units; of all steps together, round hours. */
function levelsOf({ step }: BurnLine, top: number): { value: number; text: string }[] {
  const unit = step === null ? MINUTES_PER_HOUR : 1;
  return scaleLinear()
    .domain([0, top / unit])
    .ticks(4)
    .filter((value) => value > 0 && (unit > 1 || Number.isInteger(value)))
    .map((value) => ({ value: value * unit, text: step === null ? workText(value * unit) : figure(value) }));
}

interface DoneHatchProps {
  plot: Plot;
  counted: readonly Point[];
  total: number;
  name: string;
}

/** The hatch is drawn unstretched and cut out along the counted line. */
function DoneHatch({ plot, counted, total, name }: DoneHatchProps): Html | null {
  const last = counted.at(-1);
  if (last === undefined || counted.length < 2) return null;
  const top = counted.map(([at]): Point => [at, total]);
  const width = plot.percent(last[0]) - plot.percent(plot.from);
  const cut = `cut-${name}`;
  const pen = `hatch-${name}`;
  return (
    <>
      <defs>
        <Hatch id={pen} pen="hatch-line" gap={6} />
        <clipPath id={cut} clipPathUnits="objectBoundingBox">
          <path d={between(plot, counted, top, 'step')} transform={`scale(${unitScale(plot, width)} 0.001)`} />
        </clipPath>
      </defs>
      <rect
        x="0"
        y={`${plot.head}rem`}
        width={`${width.toFixed(2)}%`}
        height={`${plot.base - plot.head}rem`}
        fill={`url(#${pen})`}
        clip-path={`url(#${cut})`}
      />
    </>
  );
}

/** The square of curves is as wide as the plot; the box to be cut ends at the last count. */
function unitScale(plot: Plot, width: number): string {
  return ((0.001 * plot.percent(plot.to)) / Math.max(0.01, width)).toFixed(6);
}

function Fan({ plot, fan, old }: { plot: Plot; fan: BurnFan; old: boolean }): Html {
  const cut = (values: readonly number[]) => within(pointsOf(fan.instants, values), plot.from, plot.to, 'line');
  const [low, middle, high] = [cut(fan.p10), cut(fan.p50), cut(fan.p90)];
  return (
    <g class={old ? 'plot-fan old' : 'plot-fan'}>
      <path class="fan-body" d={between(plot, low, high, 'line')} />
      <Curve plot={plot} points={low} how="line" pen="pen-edge" />
      <Curve plot={plot} points={high} how="line" pen="pen-edge" />
      <Curve plot={plot} points={middle} how="line" pen="pen-middle" />
    </g>
  );
}

/** As on the rule: a bracket from the tenth to the ninetieth, a caret for the middle, with its hour. */
function LastUnit(props: { page: BuildPage; plot: Plot; fan: BurnFan; old: boolean }): Html {
  const { page, plot, fan, old } = props;
  const { p10, p50, p90 } = fan.lastUnitAt;
  const on = (instant: number) => plot.x(Math.min(Math.max(instant, plot.from), plot.to));
  const right = plot.percent(Math.min(p50, plot.to)) > 55;
  const y = plot.foot + 0.35;
  return (
    <g class={old ? 'plot-last old' : 'plot-last'}>
      <line x1={on(p10)} x2={on(p90)} y1={`${y}rem`} y2={`${y}rem`} />
      <line x1={on(p10)} x2={on(p10)} y1={`${y - 0.25}rem`} y2={`${y + 0.25}rem`} />
      {p90 > plot.to ? null : <line x1={on(p90)} x2={on(p90)} y1={`${y - 0.25}rem`} y2={`${y + 0.25}rem`} />}
      <At x={on(p50)} y={`${plot.foot}rem`}>
        <path d={p50 > plot.to ? 'M8 6 L-7 -2 L-7 14 Z' : 'M0 0 L8 15 L-8 15 Z'} />
      </At>
      <text
        x={on(p50)}
        y={`${plot.foot + 2.2}rem`}
        dx={right ? '0.6rem' : '-0.6rem'}
        text-anchor={right ? 'end' : 'start'}
      >
        {fan.step === null ? say.lastWork : say.lastUnit} {soonText(page.clock, p50, page.forecast.now)}
      </text>
    </g>
  );
}
