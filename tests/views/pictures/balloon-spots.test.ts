import { expect, it } from 'vitest';
import { type BalloonLine, balloonSpots, spotOf, wordSpots } from '../../../views/pictures/balloon-spots.ts';
import { type Point, plotOf } from '../../../views/pictures/plot.tsx';

const plot = plotOf(0, 1000, 100, 15, 0.4);

function line(step: string, points: readonly Point[]): BalloonLine {
  return { step, points, stepped: 0 };
}

it('stand on their lines, clear of each other and of the marks, even where the lines nearly touch', () => {
  const lines = Array.from({ length: 6 }, (_, i) =>
    line(`step-${i}`, [
      [500 + 3 * i, 0],
      [520 + 3 * i, 100],
    ]),
  );
  const marks = wordSpots(plot, [500, 50], '71 × crank', 'end', 6);
  const places = balloonSpots(plot, lines, marks);
  const spots = [...places.values()].map((place) => spotOf(plot, place));
  spots.forEach((a, i) => {
    for (const b of [...spots.slice(0, i), ...marks])
      expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThanOrEqual(20);
  });
  for (const [i, [at, value]] of [...places.values()].entries()) expect(at).toBeCloseTo(500 + 3 * i + value / 5, 6);
});
