/**
 * Which step waits for which, twice: from left to right on a wide sheet, in a duct of wires down a narrow one. A style
 * sheet shows one of them. The chain that drives the date has double lines and a mark.
 */
import type { ForecastStep } from '../../server/model/index.ts';
import { type Html, InTurns, ListInTurns } from '../render.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { Scroll, stepName } from '../words/marks.tsx';
import { At } from './drawing.tsx';
import { numberOf } from './picture-links.ts';
import { type BoxMarks, isByUnits, lineWords, WaitBox } from './waits-box.tsx';
import { drivingSteps, type WaitLine, type WaitsShown, waitsOffTheLines } from './waits-facts.ts';
import {
  BALLOON_RADIUS,
  type Balloon as BalloonSpot,
  type PlacedLine,
  pathThrough,
  type ToLayOut,
  UNITS_PER_REM,
  type WaitsLayout,
  waitsLayout,
} from './waits-layout.ts';
import { type WireInRow, waitsLoom } from './waits-loom.ts';

const say = texts.waits;

/** Rem of a box on the wide sheet, of each further line in it, and of a letter at a line. */
const BOX_WIDTH = 10;
const BOX_HEIGHT = 5.4;
const NOTE_HEIGHT = 1.25;
const BEYOND_HEIGHT = 1.6;
const LETTER = 0.37;
/** Boxes side by side, and the rem that a wide sheet has for them; what is wider for its words scrolls. */
const COLUMNS = 5;
const SHEET_WIDTH = 72;
/** Rem between wires, at most and at least, and of the whole duct where they are many. */
const WIRE_GAP = 0.6;
const LEAST_GAP = 0.28;
const DUCT = 7;
/** Rem from the top of a row: where wires come in, unit by unit or when all is done, and where they leave. */
const COMES = { units: 0.75, whole: 1.4 };
const LEAVES = 2.1;

interface PictureProps {
  page: BuildPage;
  shown: WaitsShown;
}

interface WithLayout {
  /** Where the boxes of the wide picture lie; left out: worked out as it is drawn. */
  layout: WaitsLayout | undefined;
}

export function WaitsPicture({ page, shown, layout }: PictureProps & WithLayout): Html {
  const marksOf = marksIn(page, shown);
  return (
    <>
      {shown.steps.length === 0 ? null : (
        <>
          <InTurns>
            <WidePicture page={page} shown={shown} marksOf={marksOf} layout={layout} />
          </InTurns>
          <InTurns>
            <NarrowPicture page={page} shown={shown} marksOf={marksOf} />
          </InTurns>
        </>
      )}
      {shown.alone.length === 0 ? null : (
        <section class="waits-alone" aria-labelledby="alone-title">
          <h2 id="alone-title">{say.alone}</h2>
          <ul>
            {shown.alone.map((step) => (
              <li key={step.id}>
                <WaitBox page={page} step={step} marks={marksOf(step)} />
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

type MarksOf = (step: ForecastStep) => BoxMarks;

function marksIn({ forecast }: BuildPage, { beyond }: WaitsShown): MarksOf {
  const driving = new Set(drivingSteps(forecast));
  const taken = waitsOffTheLines(forecast);
  return ({ id }) => ({ drives: driving.has(id), taken: taken.get(id) ?? null, beyond: beyond.get(id) ?? 0 });
}

interface OnePictureProps extends PictureProps {
  marksOf: MarksOf;
}

/** What the wide sheet has to lay out: a box for each step, and a line with the room for its words. */
export function toLayOut(page: BuildPage, shown: WaitsShown): ToLayOut {
  const marksOf = marksIn(page, shown);
  return {
    sizes: shown.steps.map((step) => ({
      id: step.id,
      width: BOX_WIDTH * UNITS_PER_REM,
      height: boxHeight(marksOf(step)) * UNITS_PER_REM,
    })),
    lines: shown.lines,
    wordsWidths: shown.lines.map(({ links }) => {
      const words = lineWords(links);
      return words === '' ? 0 : Math.ceil((words.length * LETTER + 0.5) * UNITS_PER_REM);
    }),
    columns: COLUMNS,
  };
}

function WidePicture({ page, shown, marksOf, layout }: OnePictureProps & WithLayout): Html {
  const byId = new Map(shown.steps.map((step) => [step.id, step]));
  const { width, height, boxes, lines, balloons } = layout ?? waitsLayout(toLayOut(page, shown));
  return (
    <div class="waits-wide">
      {width > SHEET_WIDTH * UNITS_PER_REM ? <p class="quiet small waits-hint">{say.scroll}</p> : null}
      <Scroll label={say.picture}>
        {/* biome-ignore lint/a11y/noSvgWithoutTitle: it only places boxes, which say themselves what they are */}
        <svg class="waits" width={rem(width)} height={rem(height)} focusable="false">
          <svg width="100%" height="100%" viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
            <ListInTurns>
              {[...lines]
                .sort((a, b) => Number(a.line.drives) - Number(b.line.drives))
                .map((one) => (
                  <Wire key={keyOf(one)} placed={one} />
                ))}
            </ListInTurns>
            {balloons.map((one) => (
              <Balloon key={`${one.step} ${one.x} ${one.y}`} page={page} balloon={one} />
            ))}
          </svg>
          <ListInTurns>
            {boxes.map((box) => (
              <foreignObject
                key={box.id}
                x={rem(box.left)}
                y={rem(box.top)}
                width={rem(box.width)}
                height={rem(box.height)}
              >
                <WaitBox page={page} step={byId.get(box.id)!} marks={marksOf(byId.get(box.id)!)} />
              </foreignObject>
            ))}
          </ListInTurns>
          {lines.map((one) =>
            one.words === null || lineWords(one.line.links) === '' ? null : (
              <text key={keyOf(one)} x={rem(one.words.x)} y={rem(one.words.y)} dy="0.3em">
                {lineWords(one.line.links)}
              </text>
            ),
          )}
        </svg>
      </Scroll>
    </div>
  );
}

function boxHeight({ taken, beyond }: BoxMarks): number {
  return BOX_HEIGHT + (taken === null ? 0 : NOTE_HEIGHT) + (beyond === 0 ? 0 : BEYOND_HEIGHT);
}

function rem(units: number): string {
  return `${Math.round((100 * units) / UNITS_PER_REM) / 100}rem`;
}

function keyOf({ line, piece }: PlacedLine): string {
  return `${line.from} ${line.to} ${piece}`;
}

function Wire({ placed: { line, way, end } }: { placed: PlacedLine }): Html {
  const path = pathThrough(way);
  return (
    <g class={line.drives ? 'wire drives' : 'wire'}>
      <path class="wire-pen" d={path} />
      {line.drives ? <path class="wire-core" d={path} /> : null}
      {end === null ? null : <path class={headClass(line)} transform={`translate(${end.x} ${end.y})`} d={HEAD} />}
    </g>
  );
}

/** The number of the step that a broken line goes on to, or comes from. */
function Balloon({ page, balloon: { x, y, step, line } }: { page: BuildPage; balloon: BalloonSpot }): Html {
  return (
    <g class={line.drives ? 'wire-balloon drives' : 'wire-balloon'}>
      <circle cx={x} cy={y} r={BALLOON_RADIUS} />
      <text x={x} y={y} dy="4">
        {numberOf(page, step)}
      </text>
    </g>
  );
}

/** Filled: when all is done; open: unit by unit. */
const HEAD = 'M0 0 L-9 -4.5 L-9 4.5 Z';

function headClass({ links }: WaitLine): string {
  return isByUnits(links) ? 'wire-head open' : 'wire-head';
}

function NarrowPicture({ page, shown, marksOf }: OnePictureProps): Html {
  const { order, tracks, rows } = waitsLoom(
    shown.steps.map(({ id }) => id),
    shown.lines,
  );
  const byId = new Map(shown.steps.map((step) => [step.id, step]));
  const gap = Math.max(LEAST_GAP, Math.min(WIRE_GAP, DUCT / Math.max(1, tracks)));
  const words = wordsInto(page, shown.lines);
  return (
    <div class="waits-narrow">
      <Scroll label={say.picture}>
        <ol class="loom">
          <ListInTurns>
            {order.map((id, row) => (
              <li key={id}>
                <Duct wires={rows[row]!} width={tracks * gap + 0.9} gap={gap} />
                <WaitBox page={page} step={byId.get(id)!} marks={marksOf(byId.get(id)!)} words={words.get(id) ?? []} />
              </li>
            ))}
          </ListInTurns>
        </ol>
      </Scroll>
    </div>
  );
}

/** What is said at each step of the lines that come to it. */
function wordsInto({ forecast }: BuildPage, lines: readonly WaitLine[]): Map<string, string[]> {
  const all = new Map<string, string[]>();
  for (const { from, to, links } of lines) {
    const words = lineWords(links);
    if (words !== '') all.set(to, [...(all.get(to) ?? []), say.from(words, stepName(forecast, from))]);
  }
  return all;
}

interface DuctProps {
  wires: readonly WireInRow[];
  /** Rem. */
  width: number;
  gap: number;
}

/** One row of the duct; the spacer gives it its width, the wires run over its whole height. */
function Duct({ wires, width, gap }: DuctProps): Html {
  const wide = `${width.toFixed(2)}rem`;
  const drawn = [...wires].sort((a, b) => Number(a.wire.drives) - Number(b.wire.drives));
  return (
    <span class="duct" aria-hidden="true">
      <svg width={wide} height="1" aria-hidden="true" focusable="false" />
      <svg class="waits" width={wide} height="100%" aria-hidden="true" focusable="false">
        {drawn.map((one) => (
          <RowOfWire key={`${one.wire.from} ${one.wire.drives}`} passing={one} edge={width} gap={gap} />
        ))}
      </svg>
    </span>
  );
}

function RowOfWire({ passing, edge, gap }: { passing: WireInRow; edge: number; gap: number }): Html {
  const { wire, above, below, leaves, line } = passing;
  const x = `${(edge - 0.9 - (wire.track + 0.5) * gap).toFixed(2)}rem`;
  const comes = line !== null && isByUnits(line.links) ? COMES.units : COMES.whole;
  const meets = [...(line === null ? [] : [comes]), ...(leaves ? [LEAVES] : [])];
  const y1 = above ? '0' : `${Math.min(...meets)}rem`;
  const y2 = below ? '100%' : `${Math.max(...meets)}rem`;
  const strokes = [
    { x1: x, x2: x, y1, y2 },
    ...meets.map((y) => ({ x1: x, x2: `${edge - (y === LEAVES ? 0 : 0.4)}rem`, y1: `${y}rem`, y2: `${y}rem` })),
  ];
  return (
    <g class={wire.drives ? 'wire drives' : 'wire'}>
      {strokes.map((stroke) => (
        <line key={`${stroke.y1} ${stroke.x2}`} class="wire-pen" {...stroke} />
      ))}
      {wire.drives
        ? strokes.map((stroke) => <line key={`${stroke.y1} ${stroke.x2}`} class="wire-core" {...stroke} />)
        : null}
      {above && below ? meets.map((y) => <circle key={y} class="wire-dot" cx={x} cy={`${y}rem`} r="3" />) : null}
      {line === null ? null : (
        <At x={`${edge}rem`} y={`${comes}rem`}>
          <path class={headClass(line)} d={HEAD} />
        </At>
      )}
    </g>
  );
}

/** How lines and boxes are read. */
export function WaitsKey(): Html {
  const { key } = say;
  return (
    <section class="waits-key" aria-labelledby="waits-key-title">
      <h2 id="waits-key-title">{say.keyTitle}</h2>
      <ul>
        <li>
          <Sample head="wire-head open" drives={false} /> {key.units}
        </li>
        <li>
          <Sample head="wire-head" drives={false} /> {key.whole}
        </li>
        <li>
          <Sample head="wire-head" drives /> <span aria-hidden="true">◆</span> {key.drives}
        </li>
        <li>
          <svg class="waits" width="24" height="24" aria-hidden="true" focusable="false">
            <g class="wire-balloon">
              <circle cx="12" cy="12" r={BALLOON_RADIUS} />
              <text x="12" y="12" dy="4">
                7
              </text>
            </g>
          </svg>{' '}
          {key.balloon}
        </li>
        {(['order', 'gate', 'wait', 'done'] as const).map((kind) => (
          <li key={kind}>
            <span class={`wait-sample ${kind}`} aria-hidden="true" /> {key[kind]}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Sample({ head, drives }: { head: string; drives: boolean }): Html {
  const way = 'M0 8 L33 8';
  return (
    <svg class="waits" width="42" height="16" aria-hidden="true" focusable="false">
      <g class={drives ? 'wire drives' : 'wire'}>
        <path class="wire-pen" d={way} />
        {drives ? <path class="wire-core" d={way} /> : null}
        <path class={head} transform="translate(41 8)" d={HEAD} />
      </g>
    </svg>
  );
}
