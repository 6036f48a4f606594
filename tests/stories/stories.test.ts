import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FIRST_MORNING, rainCeiling } from '../support/makers/lived-builds.ts';
import { LivedMaker } from '../support/makers/lived-maker.ts';
import { failuresOf, STORIES } from '../support/makers/lived-stories.ts';

/** Until when the maker works before stories of that part of a build are told. */
const PARTS = [
  ['on the second morning', 'early', FIRST_MORNING + 1440],
  ['when most is made', 'late', FIRST_MORNING + 6 * 1440 + 13 * 60],
] as const;

let maker: LivedMaker;
beforeAll(async () => {
  maker = await LivedMaker.begin(rainCeiling(2, 12), FIRST_MORNING, { seed: 3, noise: 0.1, chances: true });
});
afterAll(() => maker.end());

describe.each(PARTS)('a story told to a maker who works by the sheet, %s', (_, when, until) => {
  beforeAll(async () => {
    await maker.workUntil(until);
  }, 240_000);

  test.each(STORIES.filter((story) => story.when === when).map((story) => [story.title, story] as const))(
    '%s: all comes as a person expects, and goes when it is taken back',
    async (_, story) => {
      expect(await failuresOf(story, maker)).toEqual([]);
    },
    120_000,
  );
});

test('all twenty stories are told', () => {
  expect(STORIES.map(({ number }) => number).sort((a, b) => a - b)).toEqual(
    Array.from({ length: 20 }, (_, i) => i + 1),
  );
});
