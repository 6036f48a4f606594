import { expect, test } from 'vitest';
import { errorsOf, forecastOf, type Outcome, outcomeOf } from '../support/calibration.ts';

// Five hundred of them, and the whole curve: `npm run bench -- calibration`.
test('of two dozen simulated makers most are ready by the 95 % finish, few by the 10 % finish, and the plug-in average is further off', () => {
  const outcomes: Outcome[] = [];
  for (let seed = 7_000_000; outcomes.length < 24; seed++) {
    const outcome = outcomeOf(seed, (build, log, now) => forecastOf(build, log, now, 200, 1));
    if (outcome !== null) outcomes.push(outcome);
  }
  const held = (p: 'p10' | 'p50' | 'p80' | 'p95') =>
    outcomes.filter(({ readyAt, risk }) => readyAt <= risk.readyAt[p]).length;
  // Binomial of 24 at 10, 50, 80 and 95 in a hundred: outside of these fewer than one time in five hundred each.
  expect(held('p10')).toBeLessThanOrEqual(8);
  expect(held('p50')).toBeGreaterThanOrEqual(5);
  expect(held('p50')).toBeLessThanOrEqual(19);
  expect(held('p80')).toBeGreaterThanOrEqual(13);
  expect(held('p95')).toBeGreaterThanOrEqual(19);
  const { forecast, plugIn } = errorsOf(outcomes);
  expect(forecast).toBeLessThan(plugIn / 2);
});
