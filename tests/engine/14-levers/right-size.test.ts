import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rightSize } from '../../../server/engine/14-levers/index.ts';
import type { Build } from '../../../server/model/index.ts';
import { bench, NOW } from '../08-risk/_bench.ts';

function posts(count: number, minutes = 30): Build {
  return {
    ...bench([
      { id: 'turn', name: 'turn', part: 'post', lotSize: 4, phases: [{ kind: 'hands', perUnit: minutes }] },
      { id: 'oil', name: 'oil', part: 'post', lotSize: 4, phases: [{ kind: 'hands', perUnit: 5 }] },
    ]),
    parameters: [{ name: 'posts', value: count, unit: 'posts' }],
    parts: [{ id: 'post', name: 'post', source: 'make', count: 'posts' }],
  };
}
const sized = (build: Build, futures = 120) =>
  rightSize(
    { build, log: [], now: NOW, levelling: { seed: 1, schedules: 10 } },
    { parameter: 'posts', seed: 1, futures },
  );

describe('right-sizing', () => {
  test('finds the largest count that has the chance: the next has not', () => {
    fc.assert(
      fc.property(fc.integer({ min: 4, max: 150 }), fc.integer({ min: 10, max: 60 }), (count, minutes) => {
        const found = sized(posts(count, minutes), 60)!;
        const [often, most] = found.largest;
        expect(often!.value ?? 0).toBeGreaterThanOrEqual(most!.value ?? 0);
        const chances = new Map(found.curve.map(({ value, chance }) => [value, chance]));
        for (const { chance, value } of found.largest) {
          if (value === null) continue;
          expect(chances.get(value)).toBeGreaterThanOrEqual(chance);
          const next = found.curve.find((one) => one.value > value);
          if (!found.isOpen && next !== undefined && next.value === value + 1) expect(next.chance).toBeLessThan(chance);
        }
      }),
      { seed: 3, numRuns: 8 },
    );
  });

  test('draws the chance against the count, which falls', () => {
    const { curve, present, unit, largest } = sized(posts(90))!;
    expect([present, unit]).toEqual([90, 'posts']);
    expect(curve.length).toBeGreaterThan(8);
    expect(curve.map(({ value }) => value)).toEqual(curve.map(({ value }) => value).sort((a, b) => a - b));
    expect(curve[0]!.chance).toBeGreaterThan(0.9);
    expect(curve.at(-1)!.chance).toBeLessThan(0.5);
    // 80 working hours until the event, 35 minutes each: 137 if all went as planned, and fewer to be sure of it.
    expect(largest[0]!.value).toBeGreaterThan(80);
    expect(largest[0]!.value).toBeLessThan(150);
  });

  test('says none where even a few are too many, and nothing of what is no parameter', () => {
    expect(sized({ ...posts(40), event: '2026-12-01T09:30' })!.largest).toMatchObject([
      { value: null },
      { value: null },
    ]);
    expect(sized({ ...posts(40), parameters: [] })).toBeNull();
    expect(sized(posts(0))).toBeNull();
  });

  test('stops when it should end', () => {
    let looks = 0;
    const isOver = () => ++looks > 4;
    const asked = { build: posts(60), log: [], now: NOW, levelling: { seed: 1, schedules: 5 } };
    expect(rightSize(asked, { parameter: 'posts', seed: 1, futures: 40, isOver })!.curve.length).toBe(4);
  });
});
