import { expect, test } from 'vitest';
import { drawn, type Point } from '../../../views/pictures/plot.tsx';

test('a line through thousands of points is drawn through few, and reaches as far in each place', () => {
  const points = Array.from({ length: 20_000 }, (_, i): Point => [i, (i * 7919) % 1013]);
  const x = (at: number): number => at / 20;
  const few = drawn(points, x);
  expect(few.length).toBeLessThanOrEqual(4 * 2_000);
  expect([few[0], few.at(-1)]).toEqual([points[0], points.at(-1)]);
  expect(few.every(([at], i) => i === 0 || at > few[i - 1]![0])).toBe(true);
  const reach = (all: readonly Point[]): string[] => {
    const places = new Map<number, number[]>();
    for (const [at, value] of all) {
      const place = Math.floor(x(at) * 2);
      places.set(place, [...(places.get(place) ?? []), value]);
    }
    return [...places].map(
      ([place, values]) => `${place}: ${values[0]} ${Math.min(...values)} ${Math.max(...values)} ${values.at(-1)}`,
    );
  };
  expect(reach(few)).toEqual(reach(points));
});

test('a line through points that are apart is drawn through all of them', () => {
  const points: Point[] = [
    [0, 5],
    [10, 5],
    [20, 3],
    [20, 1],
  ];
  expect(drawn(points, (at) => at)).toEqual(points);
  expect(drawn([], (at) => at)).toEqual([]);
});
