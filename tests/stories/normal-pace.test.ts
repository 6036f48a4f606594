import { expect, test } from 'vitest';
import type { Build } from '../../server/model/index.ts';
import { bookTower, FIRST_MORNING, paperReef, rainCeiling } from '../support/makers/lived-builds.ts';
import { LivedMaker, type Seen, type World } from '../support/makers/lived-maker.ts';

const DAY = 1440;

/** What was forecast on the mornings of a build that a maker works off. */
async function lived(build: Build, world: World, days = 17): Promise<readonly Seen[]> {
  const maker = await LivedMaker.begin(build, FIRST_MORNING, world);
  const seen = await maker.workUntil(FIRST_MORNING + days * DAY);
  maker.end();
  return seen;
}

/** The ready finish of each morning on which work was left for the workshop. */
function datesOf(seen: readonly Seen[]): number[] {
  return seen
    .filter(({ forecast }) => forecast.lots.some(({ step }) => step !== 'put-up'))
    .map(({ forecast }) => forecast.room.readyBy.finish!);
}

const spread = (dates: readonly number[]): number => Math.max(...dates) - Math.min(...dates);

test.each([
  ['a book tower', bookTower(40)],
  ['a paper reef', paperReef(180)],
])(
  'the date of %s stays where it was, evening for evening, when all goes as estimated',
  async (_, build) => {
    const dates = datesOf(await lived(build, { seed: 5, noise: 0.05 }));
    expect(dates.length).toBeGreaterThan(3);
    expect(spread(dates)).toBeLessThan(DAY);
  },
  240_000,
);

test('runs that take longer than the machine’s maker says move the date, and the forecast learns them in two days', async () => {
  const runs = { print: 1.5 };
  const seen = await lived(rainCeiling(2, 12), { seed: 5, runs }, 2);
  const last = seen.at(-1)!.forecast.steps.find(({ id }) => id === 'print')!;
  expect(last.runTime!.minutes).toBeGreaterThan(1.3 * 200);
  expect(last.runTime!.minutes).toBeLessThan(1.7 * 200);
}, 240_000);

test('what takes twice as long as thought is learnt from the first lots, and the date moves', async () => {
  const seen = await lived(bookTower(40), { seed: 5, hands: { cut: 2 } }, 6);
  const cut = seen.at(-1)!.forecast.steps.find(({ id }) => id === 'cut')!;
  // Thought were 5 min, and it takes 10; the last ten, counted 20 min after the others, were not made in that time.
  expect(cut.pace!.minutesPerUnit).toBeGreaterThan(9);
  expect(seen.at(-1)!.forecast.room.readyBy.finish!).toBeGreaterThan(seen[0]!.forecast.room.readyBy.finish!);
}, 240_000);

test('a gate that fails once sends its unit back before its next try, and the others are not packed before', async () => {
  const maker = await LivedMaker.begin(rainCeiling(2, 6), FIRST_MORNING, { seed: 5, gateFails: 1 });
  await maker.workUntil(FIRST_MORNING + 10 * DAY);
  const kinds = maker.planner
    .log('rain-ceiling')
    .filter(({ step, set }) => set === 1 && ['hang', 'test', 'pack'].includes(step!))
    .filter(({ kind }) => !['began', 'paused'].includes(kind))
    .map(({ kind, step }) => `${step} ${kind}`);
  expect(kinds).toEqual(['hang done', 'test failed', 'hang sent-back', 'hang done', 'test passed', 'pack done']);
  maker.end();
}, 240_000);
