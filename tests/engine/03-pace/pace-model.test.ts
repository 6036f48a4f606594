import { describe, expect, test } from 'vitest';
import { fadePace, minutesPerUnit, paceFromMinutes, paceInterval } from '../../../server/engine/03-pace/pace-model.ts';

const near = (value: number) => expect.closeTo(value, 6);

// Recomputed from the closed forms: a belief of 0.2 an hour worth 4 units, then 30 units in 100 hours; and Gamma(2, 1),
// then 14 units in four hours.
describe('a pace learnt from counts', () => {
  test('lies between the ends of its interval', () => {
    expect(paceInterval({ shape: 34, hours: 120 }, 0.9)).toEqual({ low: near(0.208418), high: near(0.367709) });
    expect(paceInterval({ shape: 16, hours: 5 }, 0.95)).toEqual({ low: near(1.829076), high: near(4.948044) });
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
  });

  test('fade without moving their mean', () => {
    const faded = fadePace({ shape: 34, hours: 120 }, 0.25);
    expect(faded.shape / faded.hours).toBeCloseTo(34 / 120, 12);
    expect(faded.shape).toBe(8.5);
  });
});
