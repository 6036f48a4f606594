import { expect, test } from 'vitest';
import { errorsOf, forecastOf, type Outcome, outcomeOf } from '../../support/calibration.ts';
import { drawMaker } from '../../support/makers/simulated-makers.ts';
import { isOpen, isThere, liveThrough } from '../../support/makers/simulated-work.ts';

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

// Whoever did better than a sheet can ask for would make every forecast look careful.
test.each([1, 2, 3, 4, 5, 6])('simulated maker %i works in their hours alone, and only these part a lot', (seed) => {
  const maker = drawMaker(seed);
  const { log } = liveThrough(maker, seed);
  const personOf = (who: string) => Number(who.slice(1)) - 1;
  const counted = new Set(log.map(({ kind, who, step, at }) => `${kind} ${who} ${step} ${at}`));
  let [parted, seen] = [0, 0];
  for (const { kind, step, person, at } of log) {
    const minute = Date.parse(at) / 60_000;
    const isMachine = kind === 'loaded' || (kind === 'done' && step === 'print');
    if (isMachine) expect(isOpen(maker, minute - 1), `${kind} ${at}`).toBe(true);
    if (kind === 'began') expect(isThere(maker, personOf(person!), minute), `began ${at}`).toBe(true);
    if (kind !== 'paused') continue;
    expect(isThere(maker, personOf(person!), minute - 1), `paused ${at}`).toBe(true);
    const goes = !isThere(maker, personOf(person!), minute);
    // Painted units are counted when they are dry.
    const isDone = step === 'paint' || counted.has(`done ${person} ${step} ${at}`);
    expect(goes || isDone, `${person} leaves ${step} at ${at}`).toBe(true);
    parted += Number(goes);
    seen++;
  }
  expect(parted).toBeGreaterThan(0);
  expect(seen).toBeGreaterThan(parted);
});
