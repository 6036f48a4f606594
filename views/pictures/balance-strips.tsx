/**
 * The line of balance for a narrow sheet: a strip for each step in the sequence of the route, all over the same days.
 * Graphite as counted, blue as scheduled, in the step's own units; dashed what feeds it, so that the pile is between
 * the two and the step runs out where they meet.
 */
import type { BalanceFeed } from '../../server/model/index.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { stepName } from '../words/marks.tsx';
import { figure } from '../words/wording.ts';
import { type ChainLine, drawnOf, spanOf } from './balance-picture.tsx';
import { At } from './drawing.tsx';
import { numberOf, stepHref } from './picture-links.ts';
import { Curve, Curves, PlotSheet, plotOf, valueAt, within } from './plot.tsx';

const say = texts.pictures;
/** Rem of a strip. */
const HEIGHT = 3;

interface BalanceStripsProps {
  page: BuildPage;
  lines: readonly ChainLine[];
  feeds: readonly BalanceFeed[];
}

/** Each strip with the name of its step and how many have been through it; the days once, at the foot. */
export function BalanceStrips({ page, lines, feeds }: BalanceStripsProps): Html {
  const { now } = page.forecast;
  const [from, to] = spanOf(
    lines.map((line) => drawnOf(page, line)),
    now,
  );
  return (
    <ol class="balance-strips">
      {lines.map(({ step }) => (
        <li key={step}>
          <Strip page={page} step={step} feed={feederOf(step, feeds)} from={from} to={to} />
        </li>
      ))}
      <li>
        <PlotSheet page={page} plot={plotOf(from, to, 1, 0, 0.4)} levels={[]}>
          {null}
        </PlotSheet>
      </li>
    </ol>
  );
}

/** The feed that the step runs out of first, else the first. */
function feederOf(step: string, feeds: readonly BalanceFeed[]): BalanceFeed | null {
  const own = feeds.filter(({ to }) => to === step);
  const starving = own.filter(({ starves }) => starves !== null).sort((a, b) => a.starves!.at - b.starves!.at);
  return starving[0] ?? own[0] ?? null;
}

interface StripProps {
  page: BuildPage;
  step: string;
  feed: BalanceFeed | null;
  from: number;
  to: number;
}

function Strip({ page, step, feed, from, to }: StripProps): Html {
  const { forecast, build } = page;
  const { now } = forecast;
  const own = drawnOf(page, { step, perEnd: 1 });
  const fed = feed === null ? null : drawnOf(page, { step: feed.from, perEnd: feed.ratio });
  const total = Math.max(1, own.scheduled.at(-1)?.[1] ?? own.counted.at(-1)?.[1] ?? 1);
  const plot = plotOf(from, to, total * 1.08, HEIGHT, 0, 0);
  const starves = feed?.starves ?? null;
  const isRight = starves !== null && plot.percent(starves.at) > 70;
  return (
    <>
      <p>
        <span class="balloon">{numberOf(page, step)}</span>{' '}
        <a href={stepHref(build.id, step)}>{stepName(forecast, step)}</a>
        <span class="strip-count">
          {texts.steps.unitsDone(figure(Math.floor(valueAt(own.counted, now, 'step'))), figure(Math.floor(total)))}
        </span>
      </p>
      <svg class="plot" width="100%" height={`${HEIGHT}rem`} aria-hidden="true" focusable="false">
        <Curves plot={plot}>
          {fed === null ? null : (
            <>
              <Curve plot={plot} points={within(fed.counted, from, now, 'step')} how="step" pen="pen-feeder" />
              <Curve plot={plot} points={within(fed.scheduled, now, to, 'line')} how="line" pen="pen-feeder" />
            </>
          )}
          <Curve plot={plot} points={within(own.scheduled, now, to, 'line')} how="line" pen="pen-scheduled" />
          <Curve plot={plot} points={within(own.counted, from, now, 'step')} how="step" pen="pen-counted" />
        </Curves>
        <g class="plot-now">
          <line x1={plot.x(now)} x2={plot.x(now)} y1="0" y2={`${HEIGHT}rem`} />
        </g>
        <line class="plot-base" x1="0" x2="100%" y1={`${HEIGHT}rem`} y2={`${HEIGHT}rem`} />
        {starves === null ? null : (
          <g class="plot-outs">
            <At x={plot.x(starves.at)} y={plot.y(valueAt(own.scheduled, starves.at, 'line'))}>
              <path d="M0 -2 L7 -15 L-7 -15 Z" />
              <text x={isRight ? -10 : 10} y="-5" text-anchor={isRight ? 'end' : 'start'}>
                {say.out}
              </text>
            </At>
          </g>
        )}
      </svg>
    </>
  );
}
