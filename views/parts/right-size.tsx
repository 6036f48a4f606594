/** How many: the largest value of a parameter that still keeps the date, with the curve of chance against count. */
import { scaleLinear } from 'd3-scale';
import { line } from 'd3-shape';
import type { SizedValue, Sizing } from '../../server/model/index.ts';
import { sheetForm } from '../hx.ts';
import { screenHref } from '../links.ts';
import type { Html } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { chanceText, figure, whenText } from '../words/wording.ts';

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
  const { curve, largest, isOpen, parameter, present, futures } = sizing;
  const value = (n: number) => [figure(n), sizing.unit ?? ''].join(' ').trim();
  return (
    <>
      <ul>
        {largest.map(({ chance, value: most }) => (
          <li key={chance}>
            {most === null ? say.never(figure(100 * chance)) : say.most(figure(100 * chance), value(most))}
          </li>
        ))}
      </ul>
      <p>
        {parameter}: {say.present(value(present))} {isOpen ? say.open : null}
      </p>
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

const WIDTH = 480;
const HEIGHT = 200;
const EDGE = { left: 44, right: 16, top: 12, bottom: 26 };
const LEVELS = [0, 0.5, 0.8, 0.9, 1];

/** Chance against count: levels across, the present value and the largest ones marked. */
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
  const marked = [...new Set([present, ...largest.flatMap(({ value }) => value ?? [])])].sort((a, b) => a - b);
  return (
    <svg class="curve" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={say.picture(parameter)}>
      {LEVELS.map((level) => (
        <g key={level}>
          <line class="curve-level" x1={EDGE.left} x2={WIDTH - EDGE.right} y1={y(level)} y2={y(level)} />
          <text class="curve-text" x={EDGE.left - 6} y={y(level) + 4} text-anchor="end">
            {figure(100 * level)}
          </text>
        </g>
      ))}
      <path class="curve-line" d={path} />
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
            <text class="curve-text" x={x(value)} y={HEIGHT - 8} text-anchor="middle">
              {figure(value)}
            </text>
          ) : null}
        </g>
      ))}
    </svg>
  );
}
