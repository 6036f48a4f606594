/** How many: the largest value of a parameter that still keeps the date, with the curve of chance against count. */
import { scaleLinear } from 'd3-scale';
import { area, line } from 'd3-shape';
import type { SizedValue, Sizing } from '../../server/model/index.ts';
import { WhileOpen } from '../forms/while-open.tsx';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { chanceText, figure, percent, whenText } from '../words/wording.ts';

const say = texts.levers.size;

/** The question that was asked last, and its answer. */
export interface ShownSizing {
  readonly parameter: string;
  readonly sizing: Sizing | null;
  readonly state: 'running' | 'ended' | 'failed';
  readonly isStale: boolean;
}

interface RightSizeProps {
  page: BuildPage;
  sizing: ShownSizing | null;
}

/** Nothing where the build has no parameter with a number of its own. */
export function RightSize({ page, sizing }: RightSizeProps): Html | null {
  const names = (page.build.parameters ?? []).filter(({ formula }) => formula === undefined).map(({ name }) => name);
  if (names.length === 0) return null;
  return (
    <section aria-labelledby="size-title">
      <h2 id="size-title">{say.heading}</h2>
      <WhileOpen>
        <form class="buttons" {...sheetForm(screenHref(page.build.id, 'levers'))}>
          <label>
            {say.ask}{' '}
            <select name="size">
              {names.map((name) => (
                <option key={name} value={name} selected={name === sizing?.parameter}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          <button type="submit">{say.look}</button>
        </form>
      </WhileOpen>
      {sizing === null ? null : <Answer page={page} shown={sizing} />}
    </section>
  );
}

function Answer({ page, shown }: { page: BuildPage; shown: ShownSizing }): Html {
  const { parameter, sizing, state, isStale } = shown;
  if (state === 'failed') return <p role="status">{say.failed}</p>;
  if (state === 'running') return <p role="status">{say.running(parameter)}</p>;
  if (sizing === null) return <p role="status">{say.none(parameter)}</p>;
  return (
    <>
      {isStale ? <p class="quiet">{say.stale}</p> : null}
      <Found page={page} sizing={sizing} />
    </>
  );
}

function Found({ page, sizing }: { page: BuildPage; sizing: Sizing }): Html {
  const { curve, largest, isOpen, present, futures } = sizing;
  const value = (n: number) => [figure(n), sizing.unit ?? ''].join(' ').trim();
  return (
    <>
      <dl class="sizes">
        <div>
          <dt>{say.present}</dt>
          <dd>
            <span class="stamp">{value(present)}</span>
          </dd>
        </div>
        {largest.map(({ chance, value: most }) => (
          <div key={chance}>
            <dt>{say.sureOf(figure(100 * chance))}</dt>
            <dd>
              {most === null ? (
                <span class="threat">{say.never}</span>
              ) : (
                <>
                  {say.most} <span class="stamp stamp-l">{value(most)}</span>
                </>
              )}
            </dd>
          </div>
        ))}
      </dl>
      {isOpen ? <p>{say.open}</p> : null}
      <Curve sizing={sizing} />
      <details>
        <summary>{say.table}</summary>
        <table>
          <thead>
            <tr>
              {[say.value, say.chance, say.ready].map((name) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {curve.map((one) => (
              <tr key={one.value}>
                <td>{figure(one.value)}</td>
                <td>{chanceText(one.chance)}</td>
                <td>{one.readyAt === null ? '' : whenText(page.clock, one.readyAt, sizing.now)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
      <p class="quiet">{say.futures(figure(futures))}</p>
    </>
  );
}

/** Marks nearer than this to the one before have no figure of their own: the list above says them. */
const NEAR = 28;

/** Whether the figure of a mark would not run into that of the mark before it. */
function isClear(value: number, marked: readonly number[], x: (value: number) => number): boolean {
  const before = marked[marked.indexOf(value) - 1];
  return before === undefined || x(value) - x(before) >= NEAR;
}

const WIDTH = 640;
const HEIGHT = 260;
const EDGE = { left: 52, right: 24, top: 24, bottom: 28 };
const LEVELS = [0, 0.5, 0.8, 0.9, 1];
/** Levels that are asked for: where the curve crosses them is the answer. */
const ASKED = [0.8, 0.9];

/** Chance against count: levels across, the present value and the largest ones marked, each value tried as a point. */
function Curve({ sizing: { curve, present, largest, parameter } }: { sizing: Sizing }): Html {
  const x = scaleLinear()
    .domain([curve[0]!.value, curve.at(-1)!.value])
    .range([EDGE.left, WIDTH - EDGE.right]);
  const y = scaleLinear()
    .domain([0, 1])
    .range([HEIGHT - EDGE.bottom, EDGE.top]);
  const path = line<SizedValue>(
    (one) => x(one.value),
    (one) => y(one.chance),
  ).digits(1)([...curve])!;
  const band = area<SizedValue>()
    .x((one) => x(one.value))
    .y0((one) => y(Math.max(0, one.chance - one.error)))
    .y1((one) => y(Math.min(1, one.chance + one.error)))
    .digits(1)([...curve])!;
  const marked = [...new Set([present, ...largest.flatMap(({ value }) => value ?? [])])].sort((a, b) => a - b);
  return (
    <svg class="curve" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={say.picture(parameter)}>
      {LEVELS.map((level) => (
        <g key={level}>
          <line
            class={ASKED.includes(level) ? 'curve-level asked' : 'curve-level'}
            x1={EDGE.left}
            x2={WIDTH - EDGE.right}
            y1={y(level)}
            y2={y(level)}
          />
          <text class="curve-text" x={EDGE.left - 8} y={y(level) + 4} text-anchor="end">
            {percent(level)}
          </text>
        </g>
      ))}
      <path class="curve-band" d={band} />
      <path class="curve-line" d={path} />
      {curve.map((one) => (
        <circle key={one.value} class="curve-tried" cx={x(one.value)} cy={y(one.chance)} r="3" />
      ))}
      {marked.map((value) => (
        <g key={value}>
          <line
            class={value === present ? 'curve-now' : 'curve-most'}
            x1={x(value)}
            x2={x(value)}
            y1={y(0)}
            y2={y(1)}
          />
          {isClear(value, marked, x) ? (
            <text class="curve-figure" x={x(value)} y={HEIGHT - 6} text-anchor="middle">
              {figure(value)}
            </text>
          ) : null}
          {value === present ? (
            <text class="curve-text" x={x(value)} y={EDGE.top - 8} text-anchor={x(value) > WIDTH / 2 ? 'end' : 'start'}>
              {say.present}
            </text>
          ) : null}
        </g>
      ))}
    </svg>
  );
}
