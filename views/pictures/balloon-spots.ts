/**
 * Where the balloons of a picture stand on their lines: each where it is on no other balloon, mark or word, as far as
 * there is room.
 */
import type { Plot, Point } from './plot.tsx';

/** A place in the picture as it is on a phone, in pixels: what is clear there is clear on every wider screen. */
interface Spot {
  readonly x: number;
  readonly y: number;
}

export interface BalloonLine {
  readonly step: string;
  /** Units that have passed over time, rising. */
  readonly points: readonly Point[];
  /** Points before this index are counted: their line rises in steps, the rest runs straight between its points. */
  readonly stepped: number;
}

const PHONE_WIDTH = 358;
const PIXELS_PER_REM = 16;
const HEIGHTS_TRIED = 24;
/** From middle to middle, so that two balloons do not touch. */
const APART = 24;
const LETTER = 7;

/**
 * For each line the instant and the value of its balloon; `taken` are the spots of other marks. O(lines and marks,
 * where they do not crowd).
 */
export function balloonSpots(plot: Plot, lines: readonly BalloonLine[], taken: readonly Spot[]): Map<string, Point> {
  const spots = new Spots(taken);
  const found = new Map<string, Point>();
  lines.forEach((line, i) => {
    const wanted = 1 - (i + 0.7) / (lines.length + 0.4);
    const candidates = Array.from({ length: HEIGHTS_TRIED }, (_, k) => (k + 0.5) / HEIGHTS_TRIED)
      .sort((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted))
      .map((share) => placeOn(plot, line, share));
    const clearance = (point: Point) => spots.leastDistance(spotOf(plot, point));
    const best =
      candidates.find((point) => clearance(point) >= APART) ??
      candidates.reduce((a, b) => (clearance(b) > clearance(a) ? b : a));
    spots.add(spotOf(plot, best));
    found.set(line.step, best);
  });
  return found;
}

/** The spots along a word that begins or ends `gap` pixels beside a place. */
export function wordSpots(plot: Plot, place: Point, word: string, side: 'start' | 'end', gap: number): Spot[] {
  const { x, y } = spotOf(plot, place);
  const length = word.length * LETTER;
  const from = side === 'start' ? x + gap : x - gap - length;
  return Array.from({ length: Math.ceil(length / LETTER) + 1 }, (_, i) => ({ x: from + i * LETTER, y }));
}

export function spotOf(plot: Plot, [at, value]: Point): Spot {
  const up = (value / plot.top) * (plot.base - plot.head);
  return { x: (plot.percent(at) / 100) * PHONE_WIDTH, y: (plot.base - up) * PIXELS_PER_REM };
}

/** Spots in squares as wide as two balloons must stand apart, so that only the nearest are looked at. */
class Spots {
  private readonly squares = new Map<string, Spot[]>();

  constructor(taken: readonly Spot[]) {
    for (const spot of taken) this.add(spot);
  }

  add(spot: Spot): void {
    const key = squareOf(spot, 0, 0);
    const known = this.squares.get(key);
    if (known === undefined) this.squares.set(key, [spot]);
    else known.push(spot);
  }

  /** To the nearest of the spots; infinite where none is nearer than APART. */
  leastDistance(spot: Spot): number {
    let least = Number.POSITIVE_INFINITY;
    for (let right = -1; right <= 1; right++) {
      for (let down = -1; down <= 1; down++) {
        for (const { x, y } of this.squares.get(squareOf(spot, right, down)) ?? []) {
          least = Math.min(least, Math.hypot(spot.x - x, spot.y - y));
        }
      }
    }
    return least < APART ? least : Number.POSITIVE_INFINITY;
  }
}

function squareOf({ x, y }: Spot, right: number, down: number): string {
  return `${Math.floor(x / APART) + right} ${Math.floor(y / APART) + down}`;
}

/** The point of a line at a share of its whole height. */
function placeOn(plot: Plot, { points, stepped }: BalloonLine, share: number): Point {
  const height = share * (points.at(-1)?.[1] ?? 0);
  const after = points.findIndex(([, units]) => units >= height);
  const [end, start] = [points[Math.max(0, after)] ?? [plot.from, 0], points[Math.max(0, after - 1)] ?? [plot.from, 0]];
  const straight = after >= stepped && end[1] > start[1];
  const at = straight ? start[0] + ((height - start[1]) / (end[1] - start[1])) * (end[0] - start[0]) : end[0];
  return [Math.max(at, plot.from), height];
}
