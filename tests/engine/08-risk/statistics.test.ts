import { describe, expect, test } from 'vitest';
import { minutesAmong } from '../../../server/engine/03-pace/pace-model.ts';
import { paceFactor, paceFactorAmong, threePointFactor } from '../../../server/engine/08-risk/samplers.ts';
import { quantileOfSorted, ranksOf, shareError, spearman } from '../../../server/engine/08-risk/statistics.ts';
import { keyOf, Streams } from '../../../server/engine/08-risk/streams.ts';

describe('a stream of a thing in a future', () => {
  const first = (seed: number, future: number, key: string) => {
    const streams = new Streams(seed);
    streams.turnTo(3, keyOf('something else'));
    streams.unit();
    streams.turnTo(future, keyOf(key));
    return streams.unit();
  };

  test('depends on seed, future and key alone', () => {
    const streams = new Streams(7);
    streams.turnTo(12, keyOf('sand'));
    expect(first(7, 12, 'sand')).toBe(streams.unit());
    expect(first(8, 12, 'sand')).not.toBe(first(7, 12, 'sand'));
    expect(first(7, 13, 'sand')).not.toBe(first(7, 12, 'sand'));
    expect(first(7, 12, 'file')).not.toBe(first(7, 12, 'sand'));
  });

  test('is uniform across futures and uncorrelated across keys and seeds', () => {
    const n = 20_000;
    const draw = (seed: number, key: string) => Array.from({ length: n }, (_, i) => first(seed, i, key));
    const whole = (values: number[]) => values.map((value) => Math.round(value * 1e9));
    const [a, b, c] = [draw(1, 'a'), draw(1, 'b'), draw(2, 'a')];
    const tenths = new Array<number>(10).fill(0);
    for (const value of a) tenths[Math.floor(value * 10)]!++;
    // Chi-square with 9 degrees of freedom: 27.88 is passed once in a thousand.
    const chiSquare = tenths.reduce((sum, count) => sum + (count - n / 10) ** 2 / (n / 10), 0);
    expect(chiSquare).toBeLessThan(27.88);
    for (const other of [b, c])
      expect(Math.abs(spearman(ranksOf(whole(a)), ranksOf(whole(other)))!)).toBeLessThan(4 / Math.sqrt(n));
  });

  test('gives normal draws with mean 0 and spread 1', () => {
    const streams = new Streams(3);
    streams.turnTo(0, 1);
    const draws = Array.from({ length: 40_000 }, () => streams.normal());
    const mean = draws.reduce((sum, z) => sum + z, 0) / draws.length;
    const variance = draws.reduce((sum, z) => sum + (z - mean) ** 2, 0) / draws.length;
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(draws.length));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / draws.length));
  });
});

describe('a factor on minutes', () => {
  const mean = (sampler: (p: number) => number) => {
    const n = 20_000;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += sampler((i + 0.5) / n);
    return sum / n;
  };

  test('has mean 1 and rises with its luck', () => {
    for (const shape of [6, 13, 80]) {
      const factor = paceFactor(shape);
      // The cut of one draw in five hundred takes a little of the long tail.
      expect(mean(factor)).toBeGreaterThan(0.99);
      expect(mean(factor)).toBeLessThan(1.001);
      expect(factor(0.2)).toBeLessThan(factor(0.5));
      expect(factor(0.5)).toBeLessThan(factor(0.9));
    }
    expect(mean(threePointFactor({ low: 1, likely: 2, high: 6 }))).toBeCloseTo(1, 3);
  });

  test('of several paces has mean 1 and the ends that are said of them', () => {
    const paces = [0.6, 0.3, 0.1].map((weight, i) => ({ weight, shape: 300 / 3 ** i, hours: 60 / 3 ** i }));
    const minutes = paces.reduce((sum, { weight, shape, hours }) => sum + (60 * weight * hours) / (shape - 1), 0);
    const factor = paceFactorAmong(paces);
    expect(mean(factor)).toBeGreaterThan(0.995);
    expect(mean(factor)).toBeLessThan(1.001);
    const { low, high } = minutesAmong(paces);
    expect(factor(0.1) * minutes).toBeCloseTo(low, 2);
    expect(factor(0.9) * minutes).toBeCloseTo(high, 2);
    for (const p of [0.2, 0.5, 0.8]) expect(paceFactorAmong([{ ...paces[0]!, weight: 1 }])(p)).toBe(paceFactor(300)(p));
  });

  test('has minutes of its own for each share, each mixture and each order in which they are asked', () => {
    const one = { weight: 0.5, shape: 16, hours: 5 };
    const other = { weight: 0.5, shape: 40, hours: 20 };
    const asked = [[one, other], [other, one], [{ ...one, weight: 1 }], [one, { ...other, hours: 20.5 }]];
    const all = asked.flatMap((paces) => [0.8, 0.95].map((share) => minutesAmong(paces, share)));
    expect(new Set(all.map(({ low, high }) => `${low.toFixed(9)} ${high.toFixed(9)}`)).size).toBe(6);
    expect(all[2]!.low).toBeCloseTo(all[0]!.low, 9);
    expect(asked.flatMap((paces) => [0.8, 0.95].map((share) => minutesAmong(paces, share)))).toEqual(all);
  });

  test('is 1 where nothing is uncertain', () => {
    expect(threePointFactor({ low: 4, likely: 4, high: 4 })(0.7)).toBe(1);
  });
});

describe('figures of many futures', () => {
  test('quantiles run straight between the order statistics', () => {
    expect([0, 0.25, 0.5, 0.8, 1].map((p) => quantileOfSorted([10, 20, 30, 40], p))).toEqual([10, 17.5, 25, 34, 40]);
  });

  test('ranks of equals are averaged', () => {
    expect([...ranksOf([30, 10, 20, 20])]).toEqual([4, 1, 2.5, 2.5]);
  });

  // Spearman's worked example of ten pairs, 1 - 6 x 194 / (10 x 99) = -29/165, widely reprinted (hours of television
  // and IQ).
  test('rank correlation meets a worked example', () => {
    const iq = [106, 100, 86, 101, 99, 103, 97, 113, 112, 110];
    const hours = [7, 27, 2, 50, 28, 29, 20, 12, 6, 17];
    expect(spearman(ranksOf(iq), ranksOf(hours))).toBeCloseTo(-29 / 165, 12);
    expect(spearman(ranksOf([1, 1, 1]), ranksOf([1, 2, 3]))).toBeNull();
  });

  test('a share never seen has an error all the same', () => {
    expect(shareError(0, 100)).toBeGreaterThan(0);
    expect(shareError(5000, 10_000)).toBeCloseTo(0.005, 6);
  });
});
