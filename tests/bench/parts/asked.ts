/** What two programs are asked to plan: builds with their logs, such as both of them can read. */
import fc from 'fast-check';
import { type Build, checkBuild, checkBuildFile, type LogEntry } from '../../../server/model/index.ts';
import { parseBuildText } from '../../../server/planner/index.ts';
import { filing, log as logOf } from '../../engine/_filing.ts';
import { BAD_LOGS } from '../../support/bad-logs.ts';
import { BEGIN, drawMaker } from '../../support/makers/simulated-makers.ts';
import { liveThrough, tappedBefore } from '../../support/makers/simulated-work.ts';
import { anyBuild, anyLog, entriesOf, NOW as RANDOM_NOW } from '../../support/random-builds.ts';
import { threeHundredLots } from './build.ts';
import type { Engine } from './engines.ts';

const DAY = 1440;
/** Sun 29 Nov 2026 20:00 UTC, when the demo is six days old. */
export const DEMO_NOW = Math.floor(Date.UTC(2026, 10, 29, 20) / 60_000);

export interface Asked {
  readonly name: string;
  readonly build: Build;
  readonly log: readonly LogEntry[];
  readonly now: number;
}

/**
 * The demo of the older program at five instants, the builds of its README at two, the builds of the tests, and N
 * random builds: half of them such that have sense, worked off and counted, half such that have none.
 */
export function* askedOf({ demoFile, fakeBuild }: Engine, readme: string, count: number): Generator<Asked> {
  const { build, log = [] } = demoFile!(DEMO_NOW);
  for (const days of [-4, -2, 0, 3, 8]) {
    const now = DEMO_NOW + days * DAY;
    yield { name: `demo at ${days} days`, build, log: log.filter(({ at }) => Date.parse(at) <= now * 60_000), now };
  }
  for (const [i, example] of readmeBuilds(readme).entries()) {
    for (const now of ['2031-02-20T09:00Z', '2031-03-05T09:00Z']) {
      yield { name: `README ${i + 1} at ${now}`, ...example, now: Date.parse(now) / 60_000 };
    }
  }
  yield* testBuilds(fakeBuild!());
  yield* makers(Math.ceil(count / 2));
  yield* senseless(Math.floor(count / 2));
}

export function readmeBuilds(readme: string): { readonly build: Build; readonly log: readonly LogEntry[] }[] {
  return [...readme.matchAll(/```yaml\n([\s\S]*?)```/g)].flatMap(([, example]) => {
    const value = parseBuildText(example!, 'the example');
    const file = value.ok ? checkBuildFile(value.value) : value;
    return file.ok ? [{ build: file.value.build, log: file.value.log ?? [] }] : [];
  });
}

export function testBuilds(testWall: Build): Asked[] {
  const thursday = Date.parse('2026-12-10T18:00Z') / 60_000;
  const wall = Date.parse('2026-11-25T09:12Z') / 60_000;
  const counted = logOf(['08T18:00', 'done', 30], ['09T12:00', 'done', 25], ['09T20:00', 'scrapped', 5]);
  return [
    ...BAD_LOGS.map(({ build, log }) => ({ name: `bad log ${build.id}`, build, log, now: thursday })),
    { name: 'the test wall', build: testWall, log: [], now: wall },
    { name: 'the test wall, counted', build: testWall, log: wallLog(), now: wall },
    { name: 'filing', build: filing({ units: 20, minutes: 60 }, { learning: 0.9 }), log: counted, now: thursday },
    { name: 'three hundred lots', build: threeHundredLots(), log: [], now: thursday },
  ];
}

function wallLog(): LogEntry[] {
  const told: [LogEntry['kind'], string, number, string, number?][] = [
    ['loaded', 'print-cranks', 8, '16T09:30'],
    ['done', 'print-cranks', 8, '16T13:00'],
    ['done', 'paint-fish', 24, '18T12:00'],
    ['scrapped', 'paint-fish', 2, '18T12:05'],
    ['done', 'press', 12, '19T15:00'],
    ['done', 'mount-fish', 6, '20T11:00', 1],
    ['done', 'mount-fish', 5, '20T16:00', 2],
  ];
  return told.map(([kind, step, n, at, set], i) => ({
    id: `wall-${i}-entry`,
    kind,
    step,
    n,
    at: `2026-11-${at}:00Z`,
    seq: i + 1,
    ...(set === undefined ? {} : { set }),
  }));
}

/** Simulated makers who worked and tapped, every fourth at the beginning, the rest when half of it is done. */
export function* makers(count: number): Generator<Asked> {
  for (let i = 0; i < count; i++) {
    const maker = drawMaker(5_000 + i);
    if (i % 4 === 0) yield { name: `maker ${i} at the beginning`, build: maker.build, log: [], now: BEGIN };
    else {
      const story = liveThrough(maker, i);
      yield {
        name: `maker ${i}`,
        build: maker.build,
        log: tappedBefore(story, story.halfAt),
        now: story.halfAt,
      };
    }
  }
}

/** Without ways, which came later. */
export function* senseless(count: number): Generator<Asked> {
  const drawn = fc.sample(fc.tuple(anyBuild, anyLog), { seed: 7, numRuns: 4 * count });
  let kept = 0;
  for (const [i, [build, told]] of drawn.entries()) {
    const checked = checkBuild(JSON.parse(JSON.stringify(build, (key, it) => (WAYS.has(key) ? undefined : it))));
    if (!checked.ok) continue;
    yield { name: `senseless build ${i}`, build: checked.value, log: entriesOf(told), now: RANDOM_NOW };
    if (++kept === count) return;
  }
}

const WAYS = new Set(['way', 'ways']);
