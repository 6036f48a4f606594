import { expect, test } from 'vitest';
import { errorsOf, forecastOf, type Outcome, outcomeOf } from '../../support/calibration.ts';

// Five hundred of them, and the whole curve: `npm run bench -- calibration`.
test('of twenty simulated makers most are ready by the 95 % finish, few by the 10 % finish, and the plug-in average is further off', () => {
  const outcomes: Outcome[] = [];
  for (let seed = 7_000_000; outcomes.length < 20; seed++) {
    const outcome = outcomeOf(seed, (build, log, now) => forecastOf(build, log, now, 200, 1));
    if (outcome !== null) outcomes.push(outcome);
  }
  const held = (p: 'p10' | 'p50' | 'p80' | 'p95') =>
    outcomes.filter(({ readyAt, risk }) => readyAt <= risk.readyAt[p]).length;
  // Binomial of 20 at 10, 50, 80 and 95 in a hundred: outside of these fewer than one time in two hundred each.
  expect(held('p10')).toBeLessThanOrEqual(6);
  expect(held('p50')).toBeGreaterThanOrEqual(4);
  expect(held('p50')).toBeLessThanOrEqual(16);
  expect(held('p80')).toBeGreaterThanOrEqual(11);
  expect(held('p95')).toBeGreaterThanOrEqual(16);
  const { forecast, plugIn } = errorsOf(outcomes);
  expect(forecast).toBeLessThan(plugIn / 2);
});
