import { alg, Graph } from '@dagrejs/graphlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Network, networkOf, networkProblems } from '../../../server/engine/05-network/network.ts';
import type { Link } from '../../../server/engine/types.ts';

const link = (from: number, to: number): Link => ({
  from,
  to,
  type: 'finish-start',
  lagMinutes: 0,
  lagOpen: null,
  reason: 'feed',
});
const links = (...pairs: [number, number][]) => pairs.map(([from, to]) => link(from, to));

describe('a sound network', () => {
  const network = networkOf(4, links([0, 2], [1, 2], [2, 3], [0, 3]));

  it('lists the links out of and into every lot', () => {
    expect(outOf(network)).toEqual([[0, 3], [1], [2], []]);
    expect(into(network)).toEqual([[], [], [0, 1], [2, 3]]);
  });

  it('orders every lot after what feeds it, equals by number', () => {
    expect([...network.order]).toEqual([0, 1, 2, 3]);
    expect([...networkOf(4, links([3, 0], [2, 1])).order]).toEqual([2, 3, 1, 0]);
  });

  it('has no circles and no orphans', () => {
    expect([network.circles, network.behindCircles, network.orphans]).toEqual([[], [], []]);
    expect(networkProblems(network, String)).toEqual([]);
  });

  it('keeps two links between the same lots apart', () => {
    const twice = networkOf(2, links([0, 1], [0, 1]));
    expect(outOf(twice)).toEqual([[0, 1], []]);
    expect([...twice.order]).toEqual([0, 1]);
  });
});

describe('a network that is not', () => {
  it('names the members of a circle in the order they feed each other', () => {
    const network = networkOf(6, links([0, 1], [1, 4], [4, 2], [2, 1], [2, 3], [5, 3]));
    expect(network.circles).toEqual([[1, 4, 2]]);
    expect(network.behindCircles).toEqual([3]);
    expect([...network.order]).toEqual([0, 5]);
    const names = ['cut', 'print', 'press', 'pack', 'paint', 'order'];
    expect(networkProblems(network, (lot) => names[lot]!)).toMatchObject([
      { code: 'feed-circle', severity: 'error', value: 'print -> paint -> press -> print' },
    ]);
  });

  it('finds separate circles and a lot that waits for itself', () => {
    const network = networkOf(5, links([0, 1], [1, 0], [2, 2], [3, 4]));
    expect(network.circles).toEqual([[0, 1], [2]]);
    expect([...network.order]).toEqual([3, 4]);
  });

  it('names lone lots, save where there is only one', () => {
    expect(networkOf(4, links([0, 2])).orphans).toEqual([1, 3]);
    expect(networkOf(1, []).orphans).toEqual([]);
    expect(networkProblems(networkOf(3, links([0, 2])), () => 'rehearse')).toMatchObject([
      { code: 'orphan', severity: 'warning', value: 'rehearse' },
    ]);
  });

  it('names neighbouring lots of one step once', () => {
    const network = networkOf(4, links([0, 1], [1, 2], [2, 3], [3, 0]));
    const names = ['print', 'print', 'paint', 'paint'];
    expect(networkProblems(network, (lot) => names[lot]!)[0]?.value).toBe('print -> paint -> print');
  });

  it('refuses a link to a lot that is not there', () => {
    expect(() => networkOf(2, links([0, 2]))).toThrow(RangeError);
    expect(() => networkOf(2, links([-1, 0]))).toThrow(RangeError);
    expect(() => networkOf(2, links([Number.NaN, 0]))).toThrow(RangeError);
  });
});

describe('at any size', () => {
  it('orders a chain of 100,000 lots without overflowing', () => {
    const count = 100_000;
    const network = networkOf(
      count,
      links(...Array.from({ length: count - 1 }, (_, i): [number, number] => [i + 1, i])),
    );
    expect(network.order.length).toBe(count);
    expect([network.order[0], network.order[count - 1]]).toEqual([count - 1, 0]);
  });

  it('names a circle of 100,000 lots without overflowing', () => {
    const count = 100_000;
    const network = networkOf(
      count,
      links(...Array.from({ length: count }, (_, i): [number, number] => [i, (i + 1) % count])),
    );
    expect(network.circles[0]?.length).toBe(count);
    expect(network.circles[0]?.slice(0, 3)).toEqual([0, 1, 2]);
  });

  it('agrees with the graph library on circles and on order', () => {
    const pair = fc.tuple(fc.nat(11), fc.nat(11));
    fc.assert(
      fc.property(fc.array(pair, { maxLength: 24 }), (pairs) => {
        const network = networkOf(12, links(...pairs));
        const graph = new Graph();
        for (let lot = 0; lot < 12; lot++) graph.setNode(String(lot));
        for (const [from, to] of pairs) graph.setEdge(String(from), String(to));
        expect(network.circles.length === 0).toBe(alg.isAcyclic(graph));
        const knots = alg.findCycles(graph).map((knot) => new Set(knot.map(Number)));
        for (const circle of network.circles) {
          expect(knots.some((knot) => circle.every((lot) => knot.has(lot)))).toBe(true);
          circle.forEach((lot, i) => {
            expect(graph.hasEdge(String(lot), String(circle[(i + 1) % circle.length]))).toBe(true);
          });
        }
        for (const knot of knots)
          expect(network.circles.some((circle) => circle.some((lot) => knot.has(lot)))).toBe(true);
        const position = new Map([...network.order].map((lot, i) => [lot, i]));
        for (const [from, to] of pairs) {
          if (position.has(to)) expect(position.get(from)).toBeLessThan(position.get(to)!);
        }
        const inCircles = new Set(network.circles.flat());
        const left = 12 - network.order.length;
        expect(inCircles.size + network.behindCircles.length).toBe(left);
      }),
      { seed: 12, numRuns: 400 },
    );
  });
});

function outOf({ outFirst, outLinks, lots }: Network): number[][] {
  return Array.from({ length: lots }, (_, lot) => [...outLinks.subarray(outFirst[lot], outFirst[lot + 1])]);
}

function into({ inFirst, inLinks, lots }: Network): number[][] {
  return Array.from({ length: lots }, (_, lot) => [...inLinks.subarray(inFirst[lot], inFirst[lot + 1])]);
}
