import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dependencyOrder, describeCircle } from '../../../server/engine/numbers/dependency-order.ts';

describe('dependency order', () => {
  test('puts everything after what it needs', () => {
    expect(dependencyOrder([[1], [2], []])).toEqual({ order: [2, 1, 0], circles: [], behindCircles: [] });
  });

  test('takes the lowest number first among the free', () => {
    expect(dependencyOrder([[], [3], [], [], [0]]).order).toEqual([0, 2, 3, 1, 4]);
  });

  test('names a circle in the order of need, lowest first', () => {
    expect(dependencyOrder([[], [3], [1], [2]]).circles).toEqual([[1, 3, 2]]);
  });

  test('sets apart what only stands behind a circle', () => {
    expect(dependencyOrder([[1], [0], [0], [2], []])).toEqual({ order: [4], circles: [[0, 1]], behindCircles: [2, 3] });
  });

  test('names a thing that needs itself', () => {
    expect(dependencyOrder([[0]]).circles).toEqual([[0]]);
  });

  test('names each of two separate circles once', () => {
    expect(dependencyOrder([[1], [0], [3], [2, 0]]).circles).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });

  test('joins names and closes the circle', () => {
    expect(describeCircle(['panels', 'fish'])).toBe('panels -> fish -> panels');
    const many = Array.from({ length: 2000 }, (_, i) => `p${i}`);
    const ends = ['p0', 'p1', 'p2', 'p3', 'p4', 'p5', '…', 'p1994', 'p1995', 'p1996', 'p1997', 'p1998', 'p1999', 'p0'];
    expect(describeCircle(many)).toBe(ends.join(' -> '));
  });

  test('does not overflow on a chain of 200,000', () => {
    const chain = Array.from({ length: 200_000 }, (_, i) => (i === 0 ? [] : [i - 1]));
    expect(dependencyOrder(chain).order.at(-1)).toBe(199_999);
    expect(dependencyOrder([[199_999], ...chain.slice(1)]).circles[0]).toHaveLength(200_000);
  });

  test('orders all, or names a real circle, for any net of needs', () => {
    const nets = fc.integer({ min: 1, max: 12 }).chain((count) =>
      fc.array(fc.array(fc.integer({ min: 0, max: count - 1 }), { maxLength: 3 }), {
        minLength: count,
        maxLength: count,
      }),
    );
    fc.assert(
      fc.property(nets, (needs) => {
        const { order, circles, behindCircles } = dependencyOrder(needs);
        const place = new Map(order.map((thing, at) => [thing, at]));
        for (const thing of order) {
          for (const needed of needs[thing]!) expect(place.get(needed)).toBeLessThan(place.get(thing)!);
        }
        for (const circle of circles) {
          circle.forEach((thing, i) => {
            expect(needs[thing]).toContain(circle[(i + 1) % circle.length]);
          });
        }
        expect(circles.length > 0).toBe(order.length < needs.length);
        expect(new Set([...order, ...circles.flat(), ...behindCircles]).size).toBe(needs.length);
      }),
    );
  });
});
