/**
 * Where the boxes of steps lie on the wide sheet, and the way of each line between them. What is longer than the sheet
 * goes on in a band below; a line from band to band is broken, with a balloon at each end that names the other.
 */
import { Graph, layout } from '@dagrejs/dagre';
import { curveBumpX, line } from 'd3-shape';
import type { WaitLine } from './waits-facts.ts';

/** Sixteen units are a rem. */
export const UNITS_PER_REM = 16;

interface Sized {
  readonly id: string;
  readonly width: number;
  readonly height: number;
}

export interface PlacedBox extends Sized {
  /** The place of its upper left corner. */
  readonly left: number;
  readonly top: number;
}

/** A line, or one end of a broken one. */
export interface PlacedLine {
  readonly line: WaitLine;
  readonly piece: 'whole' | 'first' | 'last';
  readonly way: readonly Spot[];
  /** Where it ends at the left edge of what waits; null: at a balloon. */
  readonly end: Spot | null;
  /** The middle of its words; null where it has none. */
  readonly words: Spot | null;
}

/** At the end of a broken line: the step that it comes from or goes to. */
export interface Balloon extends Spot {
  readonly step: string;
  readonly line: WaitLine;
}

interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Data alone, as the layout that comes of it: it may be worked out in another thread. */
export interface ToLayOut {
  readonly sizes: readonly Sized[];
  readonly lines: readonly WaitLine[];
  /** The width of the words at each line, zero for none. */
  readonly wordsWidths: readonly number[];
  /** Boxes side by side at most. */
  readonly columns: number;
}

export interface WaitsLayout {
  readonly width: number;
  readonly height: number;
  readonly boxes: readonly PlacedBox[];
  readonly lines: readonly PlacedLine[];
  readonly balloons: readonly Balloon[];
}

const EMPTY: WaitsLayout = { width: 0, height: 0, boxes: [], lines: [], balloons: [] };
export const BALLOON_RADIUS = 11;
const MARGIN = 6;
/** Units of the head of an arrow, which the line leaves free. */
const HEAD = 7;
const BETWEEN_BANDS = 28;
const SPACING = { rankdir: 'LR' as const, nodesep: 16, edgesep: 10, ranksep: 36, marginx: MARGIN, marginy: MARGIN };

/**
 * From left to right what comes first before what waits for it, in as few crossings as the layered layout finds
 * (Sugiyama, Tagawa and Toda 1981, as the layout library has it), at most `columns` boxes side by side. The same boxes
 * and lines always give the same places. Some hundred milliseconds for 150 steps.
 */
export function waitsLayout({ sizes, lines, wordsWidths, columns }: ToLayOut): WaitsLayout {
  if (sizes.length === 0) return EMPTY;
  const widths = new Map(lines.map((line, i) => [line, wordsWidths[i]!]));
  const wordsWidth = (line: WaitLine): number => widths.get(line)!;
  const bandOf = bandsOf(sizes, lines, columns);
  const bands = Array.from({ length: Math.max(0, ...bandOf.values()) + 1 }, (_, band) =>
    bandLayout(
      sizes.filter(({ id }) => bandOf.get(id) === band),
      piecesIn(lines, bandOf, band),
      wordsWidth,
    ),
  );
  return bands.reduce(below);
}

/** The curve through the spots of a line, as an SVG path. */
export function pathThrough(spots: readonly Spot[]): string {
  const path = line<Spot>()
    .x(({ x }) => x)
    .y(({ y }) => y)
    .curve(curveBumpX)([...spots]);
  return path ?? '';
}

/** The band that each box is in. */
function bandsOf(sizes: readonly Sized[], lines: readonly WaitLine[], columns: number): Map<string, number> {
  const graph = new Graph({ multigraph: true });
  graph.setGraph({ ...SPACING });
  for (const { id } of sizes) graph.setNode(id, { width: 1, height: 1 });
  for (const one of lines) graph.setEdge(one.from, one.to, { weight: weightOf(one), minlen: 1 });
  layout(graph);
  const column = (id: string): number => Math.round((graph.node(id) as Spot).x);
  const all = [...new Set(sizes.map(({ id }) => column(id)))].sort((a, b) => a - b);
  const inBand = Math.ceil(all.length / Math.ceil(all.length / columns));
  return new Map(sizes.map(({ id }) => [id, Math.floor(all.indexOf(column(id)) / inBand)]));
}

/** What of a line is in a band, by the nodes that it runs between. */
interface Piece {
  readonly line: WaitLine;
  readonly piece: PlacedLine['piece'];
  readonly from: string;
  readonly to: string;
}

function piecesIn(lines: readonly WaitLine[], bandOf: ReadonlyMap<string, number>, band: number): Piece[] {
  return lines.flatMap((one, i): Piece[] => {
    const { from, to } = one;
    const [leaves, comes] = [bandOf.get(from) === band, bandOf.get(to) === band];
    if (leaves && comes) return [{ line: one, piece: 'whole', from, to }];
    if (leaves) return [{ line: one, piece: 'first', from, to: balloonId(i) }];
    return comes ? [{ line: one, piece: 'last', from: balloonId(i), to }] : [];
  });
}

/** No step has an id with a space. */
function balloonId(line: number): string {
  return `balloon ${line}`;
}

function bandLayout(
  sizes: readonly Sized[],
  pieces: readonly Piece[],
  wordsWidth: (line: WaitLine) => number,
): WaitsLayout {
  const graph = new Graph({ multigraph: true });
  graph.setGraph({ ...SPACING });
  const balloons = pieces.flatMap(({ piece, from, to, line: { from: first, to: last } }) =>
    piece === 'whole' ? [] : piece === 'first' ? [{ id: to, step: last }] : [{ id: from, step: first }],
  );
  const [width, height] = [2 * BALLOON_RADIUS, 2 * BALLOON_RADIUS];
  const all = [...sizes, ...balloons.map(({ id }) => ({ id, width, height }))];
  for (const { id, ...size } of all) graph.setNode(id, size);
  for (const { line: one, piece, from, to } of pieces) {
    const words = piece === 'first' ? 0 : wordsWidth(one);
    graph.setEdge(from, to, {
      ...{ weight: weightOf(one), minlen: 1, labelpos: 'c' as const },
      ...(words === 0 ? {} : { width: words, height: UNITS_PER_REM }),
    });
  }
  layout(graph);
  const placed = all.map((size) => boxAt(graph, size));
  const whole = graph.graph() as { width: number; height: number };
  return {
    width: Math.ceil(whole.width),
    height: Math.ceil(whole.height),
    boxes: placed.slice(0, sizes.length),
    lines: placedLines(graph, placed, pieces),
    balloons: balloons.map(({ id, step }) => ({
      step,
      line: pieces.find(({ from, to }) => from === id || to === id)!.line,
      ...spotOf(graph.node(id) as Spot),
    })),
  };
}

function boxAt(graph: Graph, size: Sized): PlacedBox {
  const { x, y } = graph.node(size.id) as Spot;
  return { ...size, left: round(x - size.width / 2), top: round(y - size.height / 2) };
}

function placedLines(graph: Graph, boxes: readonly PlacedBox[], pieces: readonly Piece[]): PlacedLine[] {
  const byId = new Map(boxes.map((box) => [box.id, box]));
  const [fromBox, toBox] = [({ from }: Piece) => byId.get(from)!, ({ to }: Piece) => byId.get(to)!];
  const bends = new Map(pieces.map((one) => [one, innerSpots(graph, one)]));
  const leaves = ports(pieces, fromBox, (one) => bends.get(one)!.at(0)?.y ?? middle(toBox(one)));
  const comes = ports(pieces, toBox, (one) => bends.get(one)!.at(-1)?.y ?? middle(fromBox(one)));
  return pieces.map((one) => {
    const { left, width } = fromBox(one);
    const isToBalloon = one.piece === 'first';
    const end = { x: toBox(one).left, y: comes.get(one)! };
    const last = { x: isToBalloon ? end.x : end.x - HEAD, y: end.y };
    const way = [{ x: left + width, y: leaves.get(one)! }, ...bends.get(one)!, last];
    const { x, y } = graph.edge(one.from, one.to) as Partial<Spot>;
    const words = x === undefined || y === undefined ? null : spotOf({ x, y });
    return { line: one.line, piece: one.piece, way, end: isToBalloon ? null : end, words };
  });
}

/** The layout's own bends, without its spots on the edges of the boxes. */
function innerSpots(graph: Graph, { from, to }: Piece): Spot[] {
  const { points = [] } = graph.edge(from, to) as { points?: readonly Spot[] };
  return points.slice(1, -1).map(spotOf);
}

/** Heights at which lines meet the side of a box: spread over it, in the order in which they come from afar. */
function ports(
  pieces: readonly Piece[],
  boxOf: (piece: Piece) => PlacedBox,
  heightOf: (piece: Piece) => number,
): Map<Piece, number> {
  const atBox = new Map<PlacedBox, Piece[]>();
  for (const one of pieces) atBox.set(boxOf(one), [...(atBox.get(boxOf(one)) ?? []), one]);
  return new Map(
    [...atBox].flatMap(([{ top, height }, own]) =>
      [...own]
        .sort((a, b) => heightOf(a) - heightOf(b))
        .map((one, i) => [one, round(top + (height * (i + 1)) / (own.length + 1))] as const),
    ),
  );
}

/** A band laid under those before it. */
function below(above: WaitsLayout, band: WaitsLayout): WaitsLayout {
  const down = above.height + BETWEEN_BANDS;
  const lower = <S extends Spot>(spot: S): S => ({ ...spot, y: round(spot.y + down) });
  return {
    width: Math.max(above.width, band.width),
    height: down + band.height,
    boxes: [...above.boxes, ...band.boxes.map((box) => ({ ...box, top: round(box.top + down) }))],
    lines: [
      ...above.lines,
      ...band.lines.map((one) => ({
        ...one,
        way: one.way.map(lower),
        end: one.end === null ? null : lower(one.end),
        words: one.words === null ? null : lower(one.words),
      })),
    ],
    balloons: [...above.balloons, ...band.balloons.map(lower)],
  };
}

function weightOf({ drives }: WaitLine): number {
  return drives ? 4 : 1;
}

function spotOf({ x, y }: Spot): Spot {
  return { x: round(x), y: round(y) };
}

function middle({ top, height }: PlacedBox): number {
  return top + height / 2;
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}
