/**
 * The line of balance, drawn: what has passed each step over time, graphite as counted, blue as scheduled, all in units
 * of the last. Steps are named by balloons with their tickets' numbers, as on an assembly drawing. Where two lines meet
 * the follower has run out; the pile is where they are furthest apart, with its height as a dimension.
 */
import { scaleLinear } from 'd3-scale';
import type { BalanceFeed } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { figure } from '../words/wording.ts';
import { balloonSpots, spotOf, wordSpots } from './balloon-spots.ts';
import { At } from './drawing.tsx';
import { numberOf, outText } from './picture-links.ts';
import { between, Curve, Curves, type Plot, PlotSheet, type Point, plotOf, valueAt, within } from './plot.tsx';

const say = texts.pictures;
const HEIGHT = 15;
const LEAD_IN = 720;

export interface ChainLine {
  readonly step: string;
  /** Units of the step for one of those that the picture is in. */
  readonly perEnd: number;
}

interface Drawn {
  readonly step: string;
  readonly perEnd: number;
  readonly counted: readonly Point[];
  readonly scheduled: readonly Point[];
}

interface BalancePictureProps {
  page: BuildPage;
  lines: readonly ChainLine[];
  feeds: readonly BalanceFeed[];
}

export function BalancePicture({ page, lines, feeds }: BalancePictureProps): Html {
  const { now } = page.forecast;
  const drawn = lines.map((line) => drawnOf(page, line));
  const [from, to] = spanOf(drawn, now);
  const top = Math.max(1, ...drawn.map(({ scheduled }) => scheduled.at(-1)?.[1] ?? 0));
  const plot = plotOf(from, to, top * 1.04, HEIGHT, 0.4);
  const piled = greatestPile(drawn, feeds);
  const balloons = balloonSpots(
    plot,
    drawn.map(({ step, counted, scheduled }) => ({
      step,
      points: [...counted, ...scheduled],
      stepped: counted.length,
    })),
    marksOf(plot, page, drawn, feeds, piled),
  );
  const ticks = scaleLinear()
    .domain([0, top])
    .ticks(5)
    .filter((value) => value > 0 && Number.isInteger(value));
  return (
    <PlotSheet page={page} plot={plot} levels={ticks.map((value) => ({ value, text: figure(value) }))}>
      <Curves plot={plot}>
        <PileBody plot={plot} drawn={drawn} piled={piled} />
        {drawn.map(({ step, scheduled }) => (
          <Curve key={step} plot={plot} points={within(scheduled, now, to, 'line')} how="line" pen="pen-scheduled" />
        ))}
        {drawn.map((line) => (
          <Curve
            key={line.step}
            plot={plot}
            points={within(line.counted, from, now, 'step')}
            how="step"
            pen="pen-counted"
          />
        ))}
      </Curves>
      <Pile plot={plot} page={page} drawn={drawn} piled={piled} />
      {[...balloons].map(([step, at]) => (
        <LineBalloon key={step} plot={plot} at={at} number={numberOf(page, step)} />
      ))}
      <Outs plot={plot} drawn={drawn} feeds={feeds} />
    </PlotSheet>
  );
}

/** A step's line in the units of the picture, each worth `perEnd` of the step's own. */
export function drawnOf({ forecast }: BuildPage, { step, perEnd }: ChainLine): Drawn {
  const burn = forecast.burn.find((line) => line.step === step);
  const balance = forecast.balance?.steps.find((line) => line.step === step);
  return {
    step,
    perEnd,
    counted: (burn?.counted ?? []).map(([at, left]): Point => [at, Math.max(0, burn!.total - left) / perEnd]),
    scheduled: (balance?.scheduled ?? []).map(([at, units]): Point => [at, units / perEnd]),
  };
}

/** From when to when a picture of these lines goes. */
export function spanOf(drawn: readonly Drawn[], now: number): Point {
  const first = drawn.flatMap(({ counted }) => counted.find(([, units]) => units > 0)?.[0] ?? []);
  const begin = Math.min(now, ...drawn.map(({ counted }) => counted[0]?.[0] ?? now));
  const from = Math.max(begin, Math.min(now, ...first) - LEAD_IN);
  const to = Math.max(now + LEAD_IN, ...drawn.map(({ scheduled }) => scheduled.at(-1)?.[0] ?? now));
  return [Math.min(from, now - 1), to + (to - from) * 0.02];
}

/** On its line, with the number of its ticket. */
function LineBalloon({ plot, at: [at, value], number }: { plot: Plot; at: Point; number: number }): Html {
  return (
    <At x={plot.x(at)} y={plot.y(value)}>
      <circle class="balloon-ring" r="10" />
      <text class="balloon-number" y="4.5">
        {number}
      </text>
    </At>
  );
}

/** What the balloons keep clear of: where followers run out, the heads of the pile and its figure. */
function marksOf(
  plot: Plot,
  page: BuildPage,
  drawn: readonly Drawn[],
  feeds: readonly BalanceFeed[],
  piled: Piled | null,
) {
  const outs = outsOf(feeds).map(({ to, at }): Point => [at, valueAt(scheduledOf(drawn, to), at, 'line')]);
  const spots = outs.map((out) => spotOf(plot, out));
  const worded = outs[roomiest(plot, outs)];
  if (worded !== undefined) spots.push(...wordSpots(plot, worded, say.out, sideOf(plot, worded[0], 70), 10));
  if (piled !== null) {
    const { at, over, under } = pileEnds(drawn, piled);
    spots.push(spotOf(plot, [at, over]), spotOf(plot, [at, under]));
    spots.push(...wordSpots(plot, [at, (over + under) / 2], pileWords(page, piled), sideOf(plot, at, 74), 6));
  }
  return spots;
}

function sideOf(plot: Plot, at: number, until: number): 'start' | 'end' {
  return plot.percent(at) > until ? 'end' : 'start';
}

function scheduledOf(drawn: readonly Drawn[], id: string): readonly Point[] {
  return drawn.find(({ step }) => step === id)!.scheduled;
}

/** Which of these marks has most room beside it for a word. */
function roomiest(plot: Plot, marks: readonly Point[]): number {
  const spots = marks.map((mark) => spotOf(plot, mark));
  const room = spots.map(({ x, y }, i) =>
    Math.min(...spots.map((other, k) => (k === i ? Infinity : Math.hypot(other.x - x, other.y - y)))),
  );
  return room.indexOf(Math.max(...room));
}

/** Where a follower runs out the first time: a triangle on its line, with the word at the one that has most room. */
function Outs({ plot, drawn, feeds }: { plot: Plot; drawn: readonly Drawn[]; feeds: readonly BalanceFeed[] }): Html {
  const outs = outsOf(feeds);
  const worded = roomiest(
    plot,
    outs.map(({ to, at }): Point => [at, valueAt(scheduledOf(drawn, to), at, 'line')]),
  );
  return (
    <g class="plot-outs">
      {outs.map(({ to, at }, i) => {
        const side = sideOf(plot, at, 70);
        return (
          <At key={`${to}-${at}`} x={plot.x(at)} y={plot.y(valueAt(scheduledOf(drawn, to), at, 'line'))}>
            <path d="M0 -2 L7 -15 L-7 -15 Z" />
            {i !== worded ? null : (
              <text x={side === 'end' ? -10 : 10} y="-5" text-anchor={side}>
                {say.out}
              </text>
            )}
          </At>
        );
      })}
    </g>
  );
}

function outsOf(feeds: readonly BalanceFeed[]): { to: string; at: number }[] {
  return feeds
    .flatMap(({ to, starves }) => (starves === null ? [] : [{ to, at: starves.at }]))
    .sort((a, b) => a.at - b.at);
}

/** A pile, as high as it is in the units of the picture. */
interface Piled {
  readonly feed: BalanceFeed;
  readonly height: number;
}

function greatestPile(drawn: readonly Drawn[], feeds: readonly BalanceFeed[]): Piled | null {
  const perEnd = new Map(drawn.map((line) => [line.step, line.perEnd]));
  const piles = feeds.flatMap((feed): Piled[] =>
    feed.pile === null ? [] : [{ feed, height: feed.pile.units / perEnd.get(feed.from)! }],
  );
  return piles.sort((a, b) => b.height - a.height)[0] ?? null;
}

/** What will lie between the two, from now on: the body between their lines. */
function PileBody({ plot, drawn, piled }: { plot: Plot; drawn: readonly Drawn[]; piled: Piled | null }): Html | null {
  if (piled === null) return null;
  const [feeder, follower] = [scheduledOf(drawn, piled.feed.from), scheduledOf(drawn, piled.feed.to)];
  const times = [...new Set([...feeder, ...follower].map(([at]) => at))].sort((a, b) => a - b);
  const high = times.map((at): Point => [at, valueAt(feeder, at, 'line')]);
  const low = times.map((at, i): Point => [at, Math.min(high[i]![1], valueAt(follower, at, 'line'))]);
  return <path class="pile-body" d={between(plot, low, high, 'line')} />;
}

/** The greatest pile: the height between the two lines, as a dimension with its figure. */
function Pile(props: { page: BuildPage; plot: Plot; drawn: readonly Drawn[]; piled: Piled | null }): Html | null {
  const { page, plot, drawn, piled } = props;
  if (piled === null) return null;
  const { at, over, under } = pileEnds(drawn, piled);
  const side = sideOf(plot, at, 74);
  return (
    <g class="plot-pile">
      <line x1={plot.x(at)} x2={plot.x(at)} y1={plot.y(over)} y2={plot.y(under)} />
      <At x={plot.x(at)} y={plot.y(over)}>
        <path d="M0 0 L-3 9 L3 9 Z" />
      </At>
      <At x={plot.x(at)} y={plot.y(under)}>
        <path d="M0 0 L-3 -9 L3 -9 Z" />
      </At>
      <text x={plot.x(at)} y={plot.y((over + under) / 2)} dx={side === 'end' ? '-0.4rem' : '0.4rem'} text-anchor={side}>
        {pileWords(page, piled)}
      </text>
    </g>
  );
}

function pileEnds(drawn: readonly Drawn[], { feed, height }: Piled): { at: number; over: number; under: number } {
  const { at } = feed.pile!;
  const over = valueAt(scheduledOf(drawn, feed.from), at, 'line');
  return { at, over, under: Math.max(0, over - height) };
}

function pileWords({ forecast }: BuildPage, { feed }: Piled): string {
  return outText(forecast, feed.from, feed.pile!.units);
}
