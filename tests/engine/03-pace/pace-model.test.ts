import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chanceOfCount,
  chanceOfUnitsWithin,
  countMoments,
  countQuantile,
  fadePace,
  hoursForUnitsMean,
  hoursForUnitsQuantile,
  learnPace,
  minutesPerUnit,
  paceFromEstimate,
  paceFromMinutes,
  paceInterval,
  paceMoments,
} from '../../../server/engine/03-pace/pace-model.ts';
import { gammaQuantile, poissonCdf } from '../../../server/engine/numbers/distributions.ts';

const near = (value: number) => expect.closeTo(value, 6);
const expectRelative = (actual: number, expected: number) => {
  expect(Math.abs(actual / expected - 1), `${actual} against ${expected}`).toBeLessThan(1e-6);
};

// Recomputed from the closed forms and by simulation: a belief of 0.2 an hour worth 4 units, then 30 units in 100 hours.
describe('a pace learnt from counts', () => {
  const pace = learnPace(paceFromEstimate(0.2, 4), 30, 100);

  test('adds units and hours to the belief', () => {
    expect(paceFromEstimate(0.2, 4)).toEqual({ shape: 4, hours: 20 });
    expect(pace).toEqual({ shape: 34, hours: 120 });
    expect(paceMoments(pace)).toMatchObject({ mean: near(0.283333), mode: near(0.275) });
    expect(paceInterval(pace, 0.9)).toEqual({ low: near(0.208418), high: near(0.367709) });
  });

  test('foretells the count of the next 50 hours', () => {
    expect(countMoments(pace, 50)).toEqual({ mean: near(14.166667), sd: near(4.479893) });
    expect([0.1, 0.5, 0.9].map((p) => countQuantile(p, pace, 50))).toEqual([9, 14, 20]);
    expect([10, 12, 16].map((units) => chanceOfCount(units, pace, 50))).toEqual([
      near(0.854713),
      near(0.709314),
      near(0.3595),
    ]);
  });

  test.each([
    [10, 36.3636, [21.146, 34.463, 46.436, 53.966, 60.947]],
    [50, 181.8182, [133.304, 177.028, 213.846, 236.323, 256.842]],
    [200, 727.2727, [564.233, 711.67, 834.875, 909.821, 978.105]],
  ])('foretells the hours of the next %d units', (units, mean, quantiles) => {
    expect(hoursForUnitsMean(pace, units)).toBeCloseTo(mean, 4);
    [0.1, 0.5, 0.8, 0.9, 0.95].forEach((p, i) => {
      expect(hoursForUnitsQuantile(p, pace, units)).toBeCloseTo(quantiles[i]!, 3);
      expect(chanceOfUnitsWithin(hoursForUnitsQuantile(p, pace, units), pace, units)).toBeCloseTo(p, 9);
    });
  });

  test('promises later than a rate taken as known', () => {
    const known = 34 / 120;
    expect(200 / known).toBeCloseTo(705.8824, 4);
    expect(gammaQuantile(0.9, 200, known)).toBeCloseTo(770.557, 3);
    expect(hoursForUnitsQuantile(0.9, pace, 200)).toBeGreaterThan(900);
  });

  // Recomputed: Gamma(2, 1), counts 3, 4, 2, 5 in four hours.
  test('joins a weak belief with four counts', () => {
    const four = [3, 4, 2, 5].reduce((belief, units) => learnPace(belief, units, 1), { shape: 2, hours: 1 });
    expect(four).toEqual({ shape: 16, hours: 5 });
    expect(paceInterval(four, 0.95)).toEqual({ low: near(1.829076), high: near(4.948044) });
    expect(1 - chanceOfCount(1, four, 1)).toBeCloseTo(0.054088, 6);
    const { mean, sd } = countMoments(four, 1);
    expect([mean, sd ** 2]).toEqual([near(3.2), near(3.84)]);
  });
});

describe('pace beliefs', () => {
  test('from minutes and their spread give these minutes back', () => {
    const pace = paceFromMinutes(5, 0.3);
    const { mean, low, high, median } = minutesPerUnit(pace, 0.8);
    expect(mean).toBeCloseTo(5, 12);
    expect(low).toBeLessThan(median);
    expect(high).toBeGreaterThan(median);
    // The inverse gamma has variance mean^2 / (shape - 2).
    expect(Math.sqrt(1 / (pace.shape - 2))).toBeCloseTo(0.3, 12);
  });

  test('have no mean minutes while they are worth one unit or less', () => {
    expect(minutesPerUnit({ shape: 1, hours: 1 }).mean).toBeNull();
    expect(hoursForUnitsMean({ shape: 0.5, hours: 1 }, 3)).toBeNull();
    expect(paceMoments({ shape: 0.5, hours: 1 }).mode).toBeNull();
  });

  test('fade without moving their mean', () => {
    const faded = fadePace({ shape: 34, hours: 120 }, 0.25);
    expect(paceMoments(faded).mean).toBeCloseTo(34 / 120, 12);
    expect(faded.shape).toBe(8.5);
  });

  test('need no time for no units and count none in no time', () => {
    const pace = { shape: 3, hours: 2 };
    expect([
      hoursForUnitsQuantile(0.9, pace, 0),
      chanceOfUnitsWithin(0, pace, 0),
      chanceOfUnitsWithin(0, pace, 1),
    ]).toEqual([0, 1, 0]);
    expect([countQuantile(0.9, pace, 0), chanceOfCount(1, pace, 0), chanceOfCount(0, pace, 0)]).toEqual([0, 0, 1]);
  });

  test('ask the same of units in hours and of hours for units', () => {
    const numbers = fc.double({ min: 0.5, max: 200, noNaN: true });
    fc.assert(
      fc.property(numbers, numbers, numbers, fc.integer({ min: 1, max: 300 }), (shape, hours, within, units) => {
        const pace = { shape, hours };
        expect(chanceOfCount(units, pace, within)).toBeCloseTo(chanceOfUnitsWithin(within, pace, units), 9);
      }),
    );
  });

  test('worth very many units count as a known rate does', () => {
    const sure = paceFromEstimate(3, 1e9);
    expectRelative(1 - chanceOfCount(31, sure, 10), poissonCdf(30, 30));
  });
});
