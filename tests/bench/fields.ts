/**
 * `npm run bench -- fields OTHER [N]`: in which fields another checkout, built to its `dist`, forecasts otherwise: for
 * changes that are to change nothing. Plans, here and there, the demo at five instants (with and without futures, again
 * and beside what stood before), README's builds, the builds of the tests, and N random builds of each kind (200 unless
 * given): such that have sense, worked off and counted, and such that have none. Prints which forecasts differ, in
 * which fields, and how often each field does.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Build, Forecast, LogEntry } from '../../server/model/index.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { fakeBuild } from '../support/fake-build.ts';
import { type Asked, DEMO_NOW, makers, readmeBuilds, senseless, testBuilds } from './parts/asked.ts';

const DAY = 1440;
const FUTURES = 300;

/** The engine of a checkout, as far as it is asked here. */
interface Engine {
  readonly planBuild: (build: Build, log: readonly LogEntry[], now: number, options?: object) => Forecast;
  readonly keptScheduleOf: (forecast: Forecast) => unknown;
  readonly firstPlanIn: (forecast: Forecast, revision: number) => unknown;
  readonly attributeRoom: (span: object) => unknown;
}

interface Question {
  readonly name: string;
  readonly ask: (engine: Engine) => unknown;
}

export default async function fields([other, count = '200']: string[]): Promise<void> {
  if (other === undefined) throw new Error('Which other checkout? Give the folder in which its dist lies.');
  const [here, there] = [await engineOf('.'), await engineOf(other)];
  const byField = new Map<string, number>();
  let [alike, differing] = [0, 0];
  for (const { name, ask } of questions(Number(count))) {
    const differences = differencesOf(answerOf(there, ask), answerOf(here, ask));
    if (differences.size === 0) alike++;
    else differing++;
    for (const [path, { times, was, is }] of differences) {
      if (differing <= MOST_TOLD) console.log(`${name}: ${path} ${times} times, first ${was} -> ${is}`);
      byField.set(path, (byField.get(path) ?? 0) + 1);
    }
  }
  console.log(`${alike} answers are the same, ${differing} differ`);
  for (const [path, times] of [...byField].sort((a, b) => b[1] - a[1])) console.log(`  in ${times}: ${path}`);
}

/** Answers told field by field; those after them are counted. */
const MOST_TOLD = 60;

/** A thrown error is an answer too. */
function answerOf(engine: Engine, ask: Question['ask']): unknown {
  try {
    return JSON.parse(JSON.stringify(ask(engine) ?? null));
  } catch (error) {
    return { thrown: String(error) };
  }
}

/** What older checkouts call a function. */
const FORMER_NAMES: Readonly<Record<string, readonly string[]>> = { keptScheduleOf: ['formerPlanOf'] };

/** The built engine of a checkout, each function from the file that exports it, wherever that is. */
async function engineOf(checkout: string): Promise<Engine> {
  const folder = join(resolve(checkout), 'dist', 'server', 'engine');
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.js'));
  const names = ['planBuild', 'keptScheduleOf', 'firstPlanIn', 'attributeRoom'];
  const found = names.map(async (name) => {
    for (const called of [name, ...(FORMER_NAMES[name] ?? [])]) {
      const file = files.find((path) =>
        readFileSync(join(folder, path), 'utf8').includes(`export function ${called}(`),
      );
      if (file !== undefined) return [name, (await import(pathToFileURL(join(folder, file)).href))[called]];
    }
    throw new Error(`${folder} exports no ${name}; build that checkout first.`);
  });
  return Object.fromEntries(await Promise.all(found));
}

function* questions(count: number): Generator<Question> {
  for (const days of [-4, -2, 0, 3, 8]) yield* demoQuestions(DEMO_NOW, days);
  yield ledgerQuestion();
  for (const [i, example] of readmeBuilds(readFileSync('README.md', 'utf8')).entries()) {
    for (const now of ['2031-02-20T09:00Z', '2031-03-05T09:00Z']) {
      yield* bothDepths({ name: `README ${i + 1} at ${now}`, ...example, now: Date.parse(now) / 60_000 });
    }
  }
  for (const asked of testBuilds(fakeBuild())) yield* bothDepths(asked);
  for (const asked of makers(count)) yield* bothDepths(asked);
  for (const asked of senseless(count)) yield* bothDepths(asked);
}

function* bothDepths({ name, build, log, now }: Asked): Generator<Question> {
  const levelling = { seed: 1, schedules: 50 };
  const risk = { seed: 1, futures: FUTURES };
  yield { name, ask: ({ planBuild }) => planBuild(structuredClone(build), log, now, { levelling }) };
  yield {
    name: `${name} with futures`,
    ask: ({ planBuild }) => planBuild(structuredClone(build), log, now, { levelling, risk }),
  };
}

/** The demo as it was, and what the planner makes of it next: beside what stood on the sheets, and the first plan. */
function* demoQuestions(made: number, days: number): Generator<Question> {
  const { build, log = [] } = tideWall(made);
  const now = made + days * DAY;
  const known = log.filter(({ at }) => Date.parse(at) <= now * 60_000);
  yield* bothDepths({ name: `demo at ${days} days`, build, log: known, now });
  yield {
    name: `demo at ${days} days, an hour later beside what stood`,
    ask: ({ planBuild, keptScheduleOf, firstPlanIn }) => {
      const before = planBuild(build, known, now, { levelling: { seed: 1, schedules: 200 } });
      const [former, first] = [keptScheduleOf(before), firstPlanIn(before, 1) ?? undefined];
      const levelling = { seed: 1, schedules: 200 };
      const asked = {
        levelling,
        former,
        ...(first === undefined ? {} : { first }),
        risk: { seed: 1, futures: FUTURES },
      };
      return planBuild(build, known, now + 60, asked);
    },
  };
}

/** What an older program calls the number of an edit. */
const OLD_CAUSE = { cause: '2' };

/** Three days of the demo with an edit on the way, in parts. */
function ledgerQuestion(): Question {
  const { build, log = [] } = tideWall(DEMO_NOW);
  const then = DEMO_NOW - 3 * DAY;
  const before = log.filter(({ at }) => Date.parse(at) <= then * 60_000);
  const edited = { ...build, confidence: 0.95 };
  return {
    name: 'where the room of the demo went',
    ask: ({ planBuild, keptScheduleOf, attributeRoom }) => {
      const first = planBuild(build, before, then);
      return attributeRoom({
        before: { build, log: before, now: then, room: first.room.readyBy.clock },
        edits: [{ build: edited, log, now: DEMO_NOW - 60, edit: 2, who: 'maker', ...OLD_CAUSE }],
        after: { log, now: DEMO_NOW, room: planBuild(edited, log, DEMO_NOW).room.readyBy.clock },
        former: keptScheduleOf(first),
      });
    },
  };
}

interface Difference {
  times: number;
  readonly was: string;
  readonly is: string;
}

/** By field, places in lists left out: how often two answers differ there, and the first time. */
function differencesOf(was: unknown, is: unknown): Map<string, Difference> {
  const found = new Map<string, Difference>();
  const put = (path: string, a: unknown, b: unknown): void => {
    const known = found.get(path);
    if (known === undefined) found.set(path, { times: 1, was: textOf(a), is: textOf(b) });
    else known.times++;
  };
  const walk = (path: string, a: unknown, b: unknown): void => {
    if (a === b) return;
    if (Array.isArray(a) && Array.isArray(b)) {
      if (a.length !== b.length) put(`${path}.length`, a.length, b.length);
      else for (const [i, value] of a.entries()) walk(`${path}[]`, value, b[i]);
    } else if (isRecord(a) && isRecord(b)) {
      for (const key of new Set([...Object.keys(a), ...Object.keys(b)])) walk(`${path}.${key}`, a[key], b[key]);
    } else put(path, a, b);
  };
  walk('', was, is);
  return found;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function textOf(value: unknown): string {
  return (JSON.stringify(value) ?? 'nothing').slice(0, 80);
}
