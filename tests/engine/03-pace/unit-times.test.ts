import { describe, expect, test } from 'vitest';
import {
  learnLogMean,
  nextUnitTime,
  nextUnitTimeQuantile,
  summarizeLogs,
  totalOfUnits,
} from '../../../server/engine/03-pace/unit-times.ts';

const near = (value: number) => expect.closeTo(value, 6);

// Recomputed.
describe('unit times with a lognormal scatter', () => {
  const minutes = [4.1, 3.6, 5.2, 3.9, 4.4, 6.0, 3.8, 4.0];
  const counted = summarizeLogs(minutes);

  test('are summed up by their logarithms', () => {
    expect(counted).toEqual({ count: 8, mean: near(1.462027), sd: near(0.17379) });
    expect(Math.exp(counted.mean)).toBeCloseTo(4.314696, 6);
    expect(Math.exp(counted.mean + counted.sd ** 2 / 2)).toBeCloseTo(4.380349, 6);
    expect(minutes.reduce((sum, x) => sum + x, 0) / 8).toBeCloseTo(4.375, 12);
  });

  test('join a first belief of about 5 minutes', () => {
    const belief = learnLogMean({ mean: Math.log(5), sd: 0.3 }, counted, 0.25);
    expect(belief).toEqual({ mean: near(1.473801), sd: near(0.084785) });
    const next = nextUnitTime(belief, 0.25);
    expect([next.median, next.mean, next.quantile(0.9)]).toEqual([near(4.365798), near(4.520602), near(6.123369)]);
  });

  test('foretell the next piece from the counts alone', () => {
    expect(nextUnitTimeQuantile(0.9, counted)).toBeCloseTo(5.600425, 6);
    expect(nextUnitTimeQuantile(0.5, counted)).toBeCloseTo(Math.exp(counted.mean), 12);
    expect(nextUnitTimeQuantile(0.9, summarizeLogs([4]))).toBeNaN();
  });

  test('of a hundred independent pieces spread over 40 minutes only', () => {
    const total = totalOfUnits(100, 10, 4);
    expect([total.mean, total.sd]).toEqual([1000, 40]);
    expect(total.quantile(0.9)).toBeCloseTo(1051.26, 2);
  });
});
