/**
 * `npm run bench -- lived`: seventeen days of a maker who works three invented builds off by the sheet, with what was
 * forecast each morning, and the twenty stories told to the first of them, each with what did not come as expected.
 */
import type { Build } from '../../server/model/index.ts';
import { bookTower, FIRST_MORNING, paperReef, rainCeiling } from '../support/makers/lived-builds.ts';
import { LivedMaker, type Seen } from '../support/makers/lived-maker.ts';
import { failuresOf, STORIES } from '../support/makers/lived-stories.ts';

const DAY = 1440;

export default async function lived(): Promise<void> {
  const builds = [rainCeiling(), bookTower(), paperReef()];
  for (const build of builds) await livesOff(build);
  await tellStories(rainCeiling(2, 12));
}

async function livesOff(build: Build): Promise<void> {
  const began = performance.now();
  const maker = await LivedMaker.begin(build, FIRST_MORNING, { seed: 3, noise: 0.1, chances: true });
  const seen = await maker.workUntil(FIRST_MORNING + 17 * DAY);
  maker.end();
  const seconds = ((performance.now() - began) / 1000).toFixed(0);
  console.log(`${build.name}: ${seen.length} mornings, ${seen[0]!.forecast.lots.length} lots at first, ${seconds} s`);
  for (const one of seen) console.log(`  ${morning(one)}`);
}

function morning({ at, forecast }: Seen): string {
  const { finish } = forecast.room.readyBy;
  const chance = forecast.risk === undefined || forecast.risk === null ? '' : forecast.risk.readyBy.chance.toFixed(3);
  return `${when(at)}   ready ${finish === null ? 'unknown' : when(finish)}   chance ${chance}   ${forecast.lots.length} lots left`;
}

async function tellStories(build: Build): Promise<void> {
  const maker = await LivedMaker.begin(build, FIRST_MORNING, { seed: 3, noise: 0.1, chances: true });
  const parts = [
    ['early', FIRST_MORNING + DAY],
    ['late', FIRST_MORNING + 6 * DAY + 13 * 60],
  ] as const;
  for (const [part, until] of parts) {
    await maker.workUntil(until);
    for (const story of STORIES.filter(({ when }) => when === part)) {
      const failures = await failuresOf(story, maker);
      console.log(
        `story ${story.number}, ${story.title}: ${failures.length === 0 ? 'as expected' : failures.join('; ')}`,
      );
    }
  }
  maker.end();
}

function when(minute: number): string {
  return new Date(minute * 60_000).toISOString().slice(0, 16);
}
