/** The burn-down: what is left over time, in all and by step. Counted is graphite, planned blue, needed from now ink and dashed. */
import { scaleLinear } from 'd3-scale';
import { curveLinear, curveStepAfter, line } from 'd3-shape';
import type { BurnLine } from '../server/model/index.ts';
import { At } from './drawing.tsx';
import { BuildLayout, Sheet } from './layout.tsx';
import { stepName } from './marks.tsx';
import type { Html } from './render.ts';
import { texts } from './texts.ts';
import type { BuildPage } from './types.ts';
import type { WallDay } from './wall-clock.ts';
import { counted, dayText, figure, workText } from './wording.ts';

const say = texts.countdown;
/** Paths are drawn on a square of this size and stretched over the plot; pens keep their width. */
const PLOT = 1000;
type Point = readonly [number, number];

/** All steps in one picture, with the way to those of each step. */
export function Burn({ page }: { page: BuildPage }): Html {
  const all = page.forecast.burn.find((it) => it.step === null);
  return (
    <section class="burn" aria-labelledby="burn-title">
      <h2 id="burn-title">{say.burn}</h2>
      <BurnKey />
      {all === undefined ? <p>{say.noBurn}</p> : <BurnPicture page={page} burn={all} tall />}
      {all === undefined ? null : (
        <p>
          <a class="day-link" href={burnHref(page.build.id)}>
            {say.burnBySteps}
          </a>
        </p>
      )}
    </section>
  );
}

function burnHref(build: string): string {
  return `/b/${build}/burn-down`;
}

export function BurnPage({ page }: { page: BuildPage }): Html {
  return (
    <BuildLayout page={page} screen="countdown">
      <BurnSheet page={page} />
    </BuildLayout>
  );
}

/** The burn-down of every step that has something to count. */
export function BurnSheet({ page }: { page: BuildPage }): Html {
  const bySteps = page.forecast.burn.filter((it) => it.step !== null && it.total > 0);
  return (
    <Sheet page={page} screen="countdown" refresh={burnHref(page.build.id)}>
      <h1>{say.burnBySteps}</h1>
      <BurnKey />
      {bySteps.length === 0 ? <p>{say.noBurn}</p> : null}
      <div class="burn-steps">
        {bySteps.map((it) => (
          <BurnPicture key={it.step} page={page} burn={it} />
        ))}
      </div>
    </Sheet>
  );
}

function BurnKey(): Html {
  return (
    <ul class="burn-key" aria-hidden="true">
      {(['counted', 'planned', 'needed'] as const).map((kind) => (
        <li key={kind}>
          <svg width="36" height="12" class="burn-picture" aria-hidden="true">
            <line class={`burn-${kind}`} x1="0" x2="36" y1="6" y2="6" />
          </svg>
          {say.burnLines[kind]}
        </li>
      ))}
    </ul>
  );
}

interface BurnProps {
  page: BuildPage;
  burn: BurnLine;
  tall?: boolean;
}

/** One picture with its sentence, which is also what is heard. */
export function BurnPicture({ page, burn, tall = false }: BurnProps): Html {
  const height = tall ? 15 : 8;
  const { from, to } = spanOf(page, burn);
  const x = scaleLinear().domain([from, to]).range([0, PLOT]);
  const y = scaleLinear()
    .domain([0, Math.max(1, topOf(burn))])
    .range([PLOT, 0]);
  const top = 1.4;
  const at = (value: number) => `${(top + (y(value) / PLOT) * (height - top - 1.5)).toFixed(2)}rem`;
  const across = (instant: number) => `${(x(instant) / 10).toFixed(2)}%`;
  const paths = [
    ['planned', pathOf(burn.planned, x, y, 'line')],
    ['counted', pathOf(burn.counted, x, y, 'step')],
    ['needed', pathOf(burn.needed, x, y, 'line')],
  ] as const;
  return (
    <figure class="burn-picture">
      <figcaption>
        <BurnWords page={page} burn={burn} />
      </figcaption>
      <svg width="100%" height={`${height}rem`} aria-hidden="true" focusable="false">
        <line class="burn-base" x1="0" x2="100%" y1={at(0)} y2={at(0)} />
        <Levels burn={burn} ticks={levelsOf(burn, y.domain()[1]!, tall ? 5 : 3)} at={at} />
        <DayMarks days={page.clock.days(from, to)} from={from} across={across} height={height} page={page} />
        <svg
          x="0"
          y={at(y.domain()[1]!)}
          width="100%"
          height={`${height - top - 1.5}rem`}
          viewBox={`0 0 ${PLOT} ${PLOT}`}
          preserveAspectRatio="none"
          aria-hidden="true"
        >
          {paths.map(([kind, d]) =>
            d === null ? null : <path key={kind} class={`burn-${kind}`} d={d} vector-effect="non-scaling-stroke" />,
          )}
        </svg>
        <line
          class="burn-now"
          x1={across(page.forecast.now)}
          x2={across(page.forecast.now)}
          y1="0.4rem"
          y2={`${height - 1.5}rem`}
        />
        <At x={across(page.forecast.now)} y={at(burn.left)}>
          <circle class="burn-here" r="4" />
        </At>
      </svg>
    </figure>
  );
}

function BurnWords({ page, burn }: BurnProps): Html {
  const name = burn.step === null ? say.burnAll : stepName(page.forecast, burn.step);
  const left = burn.step === null ? workText(burn.left) : counted(burn.left, burn.unit);
  return <>{say.burnSays(name, left, burn.step === null ? '' : paceWords(burn))}</>;
}

function paceWords({ neededPerHour, countedPerHour }: BurnLine): string {
  if (neededPerHour === null) return '';
  const needs = figure(neededPerHour, 1);
  return `, ${countedPerHour === null ? say.paceNeeds(needs) : say.pace(figure(countedPerHour, 1), needs)}`;
}

function spanOf({ forecast }: BuildPage, burn: BurnLine): { from: number; to: number } {
  const instants = [...burn.counted, ...burn.planned, ...burn.needed].map(([instant]) => instant);
  const from = Math.min(forecast.now, ...instants);
  return { from, to: Math.max(from + 60, forecast.readyBy, ...instants) };
}

/** Round numbers of units; of all steps together, round hours. */
function levelsOf(burn: BurnLine, top: number, count: number): number[] {
  const unit = burn.step === null ? 60 : 1;
  const ticks = scaleLinear()
    .domain([0, top / unit])
    .ticks(count);
  return ticks.filter((value) => value > 0).map((value) => value * unit);
}

function topOf(burn: BurnLine): number {
  return Math.max(burn.total, ...[...burn.counted, ...burn.planned].map(([, value]) => value));
}

type Scale = (value: number) => number;

function pathOf(points: readonly Point[], x: Scale, y: Scale, how: 'step' | 'line'): string | null {
  if (points.length < 2) return null;
  return line<Point>()
    .x(([instant]) => Math.round(x(instant) * 10) / 10)
    .y(([, value]) => Math.round(y(value) * 10) / 10)
    .curve(how === 'step' ? curveStepAfter : curveLinear)([...points]);
}

function Levels({ burn, ticks, at }: { burn: BurnLine; ticks: number[]; at: (value: number) => string }): Html {
  return (
    <g class="burn-levels">
      {ticks.map((value) => (
        <g key={value}>
          <line x1="0" x2="100%" y1={at(value)} y2={at(value)} />
          <text x="0" y={at(value)} dy="-0.25rem">
            {burn.step === null ? workText(value) : figure(value)}
          </text>
        </g>
      ))}
    </g>
  );
}

interface DayMarksProps {
  days: readonly WallDay[];
  from: number;
  across: (instant: number) => string;
  height: number;
  page: BuildPage;
}

function DayMarks({ days, from, across, height, page }: DayMarksProps): Html {
  const every = days.length > 60 ? 28 : 7;
  return (
    <g class="burn-days">
      {days.map((day, i) => (
        <g key={day.date}>
          {days.length > 120 || day.morning < from ? null : (
            <line
              x1={across(day.morning)}
              x2={across(day.morning)}
              y1={`${height - 1.5}rem`}
              y2={`${height - 1.2}rem`}
            />
          )}
          {i % every === 1 && i < days.length - 3 ? (
            <text x={across(day.morning)} y={`${height - 0.2}rem`}>
              {dayText(page.clock, day.start, page.forecast.now)}
            </text>
          ) : null}
        </g>
      ))}
    </g>
  );
}
