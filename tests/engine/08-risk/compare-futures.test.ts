import { describe, expect, test } from 'vitest';
import { compareEnds, endsOf, type Futures, riskAnswer, runFutures } from '../../../server/engine/08-risk/index.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, Gate, Step } from '../../../server/model/index.ts';
import { bench, hands, NOW } from './_bench.ts';

/** Open day and night, and half a year without a lost day: what varies is the pace. */
const open: Partial<Build> = {
  start: '2026-05-01T09:00',
  people: [{ id: 'ria', name: 'Ria', hours: 'daily 00:00-24:00' }],
};
const CARVE = hands('carve', 30 * 60);
const gate = (failChance: number): Gate => ({
  id: 'level',
  name: 'level',
  after: ['carve'],
  minutes: 20,
  failChance,
  sendsBack: [{ step: 'carve', units: 1 }],
});

function futuresOf(steps: Step[], futures: number, seed = 1, more: Partial<Build> = {}): Futures {
  const planned = workThrough({ build: bench(steps, { ...open, ...more }), log: [], now: NOW }, 'schedules');
  return runFutures(planned, { seed, futures, exactness: 0 })!;
}

const meanOf = (values: Int32Array) => values.reduce((sum, at) => sum + (at - NOW), 0) / values.length;
const spreadOf = (values: Int32Array) => {
  const mean = meanOf(values);
  const squares = values.reduce((sum, at) => sum + (at - NOW - mean) ** 2, 0);
  return Math.sqrt(squares / (values.length * (values.length - 1)));
};

/** What the second case changes beside the first. */
const compared = (before: Futures, after: Futures) => compareEnds(endsOf(before), endsOf(after));

describe('futures', () => {
  test('are worded by an answer of their own, which counts what they hold', () => {
    const futures = futuresOf([CARVE], 300, 1, { readyBy: '2026-12-02T16:00' });
    const answer = riskAnswer(futures);
    const { readyBy } = futures.planned.surroundings;
    expect(futures).toMatchObject({ count: 300, seed: 1 });
    expect(answer.readyBy.chance).toBe(futures.readyAt.filter((at) => at <= readyBy).length / 300);
    expect(answer.readyBy.chance).toBeGreaterThan(0.2);
    expect(answer.readyBy.chance).toBeLessThan(0.9);
    expect([...futures.readyAt].sort((a, b) => a - b)[149]).toBeLessThanOrEqual(answer.readyAt.p50);
  });

  test('are none where nothing is left to do', () => {
    const planned = workThrough({ build: bench([]), log: [], now: NOW }, 'schedules');
    expect(runFutures(planned, { seed: 1 })).toBeNull();
  });
});

describe('the difference of two cases', () => {
  test('is nothing, and surely so, between a case and itself', () => {
    const futures = futuresOf([CARVE], 200);
    const nothing = { mean: 0, error: 0 };
    expect(compared(futures, futuresOf([CARVE], 200))).toEqual({
      futures: 200,
      readyAt: nothing,
      finishAt: nothing,
      readyBy: nothing,
      event: nothing,
    });
  });

  test('is the difference of the two means and of the two chances', () => {
    const more = { readyBy: '2026-12-02T16:00' };
    const [one, two] = [futuresOf([CARVE], 400, 1, more), futuresOf([CARVE, hands('sand', 180)], 500, 1, more)];
    const found = compared(one, two);
    const first = { ...two, readyAt: two.readyAt.subarray(0, 400) };
    expect(found.futures).toBe(400);
    expect(found.readyAt.mean).toBeCloseTo(meanOf(first.readyAt) - meanOf(one.readyAt), 6);
    const chance = ({ readyAt, planned }: Futures) =>
      readyAt.filter((at) => at <= planned.surroundings.readyBy).length / readyAt.length;
    expect(found.readyBy.mean).toBeCloseTo(chance(first) - chance(one), 9);
    expect(found.readyBy.mean).toBeLessThan(0);
  });

  // One pair of hands day and night: a step more ends so much later, times a factor of mean 1 (an inverse gamma), and a
  // lost day now and then.
  test('is the work that was added, in closed form', () => {
    const { readyAt } = compared(futuresOf([CARVE], 2000), futuresOf([CARVE, hands('sand', 240)], 2000));
    expect(Math.abs(readyAt.mean - 240)).toBeLessThan(3 * readyAt.error + 2);
    expect(readyAt.error).toBeLessThan(10);
  });

  test('is known better by the same luck than by two lots of futures apart', () => {
    const [one, two] = [futuresOf([CARVE], 1000), futuresOf([CARVE, hands('sand', 240)], 1000)];
    const apart = Math.hypot(spreadOf(one.readyAt), spreadOf(two.readyAt));
    const found = compared(one, two);
    expect(found.readyAt.error).toBeGreaterThan(0);
    expect(found.readyAt.error).toBeLessThan(apart / 3);
    const wide = { readyBy: '2026-12-02T16:00' };
    const [a, b] = [futuresOf([CARVE], 1000, 1, wide), futuresOf([CARVE, hands('sand', 240)], 1000, 1, wide)];
    const chances = [riskAnswer(a).readyBy.error, riskAnswer(b).readyBy.error] as const;
    expect(compared(a, b).readyBy.error).toBeLessThan(Math.hypot(...chances) * 0.8);
  });

  // The truth is that of fifty times the futures, held with its own error. One error holds it 68 times in 100, 2.00
  // errors 95 times (Student, 59 degrees of freedom): of 200 between 117 and 155, and 180 and 199 (binomial, three
  // sigmas).
  test.each([
    ['a step more', [], [hands('sand', 150)]],
    ['a gate that fails less often', [gate(0.5)], [gate(0.15)]],
  ] as const)('holds the truth within its error as often as an error says: %s', (_, one, other) => {
    const more = (gates: readonly (Gate | Step)[]): Build => {
      const [steps, checks] = [gates.filter((it) => 'phases' in it), gates.filter((it) => 'minutes' in it)];
      return bench([CARVE, ...steps], { ...open, readyBy: '2026-12-02T15:00', gates: checks });
    };
    const planned = [one, other].map((it) => workThrough({ build: more(it), log: [], now: NOW }, 'schedules'));
    const differ = (seed: number, futures: number) => {
      const [before, after] = planned.map((each) => runFutures(each, { seed, futures, exactness: 0 })!);
      const { readyAt, readyBy } = compared(before!, after!);
      return [readyAt, readyBy];
    };
    const truth = differ(77, 50 * 60);
    const held = [0, 0].map(() => [0, 0]);
    for (let seed = 1000; seed < 1200; seed++) {
      for (const [i, { mean, error }] of differ(seed, 60).entries()) {
        const is = truth[i]!;
        for (const k of [1, 2]) held[i]![k - 1]! += Number(Math.abs(mean - is.mean) <= Math.hypot(k * error, is.error));
      }
    }
    expect(Math.abs(truth[1]!.mean)).toBeGreaterThan(0.05);
    for (const [once, twice] of held) {
      expect(once).toBeGreaterThanOrEqual(117);
      expect(once).toBeLessThanOrEqual(155);
      expect(twice).toBeGreaterThanOrEqual(180);
      expect(twice).toBeLessThanOrEqual(199);
    }
  });

  test('is refused between futures of different luck, and of a single one', () => {
    expect(() => compared(futuresOf([CARVE], 20), futuresOf([CARVE], 20, 2))).toThrow(/seeds 1 and 2/);
    expect(() => compared(futuresOf([CARVE], 1), futuresOf([CARVE], 20))).toThrow(/Two futures at least/);
  });
});
