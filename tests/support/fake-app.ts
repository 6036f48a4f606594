/** The web room over a real planner and a store in memory; only the engine is replaced by a forecast made by hand. */
import type { FastifyInstance } from 'fastify';
import type { Build, Forecast, LogEntry, Problem } from '../../server/model/index.ts';
import { createPlanner, type RunningPlanner } from '../../server/planner/index.ts';
import { createStore, openDatabase, type Store } from '../../server/store/index.ts';
import { buildApp } from '../../server/web/app.ts';
import { byHand, SHORT_PAUSES } from '../planner/at-once.ts';
import { fakeBuild } from './fake-build.ts';
import { FAKE_NOW, type FakeTune, fakeForecast } from './fake-forecast.ts';

export interface FakeApp {
  readonly app: FastifyInstance;
  readonly planner: RunningPlanner;
  readonly store: Store;
  /** Changes what the next forecast says. */
  tune(tune: FakeTune): void;
  /** What the next forecasts find wrong with a build, besides what they always do. */
  find(wrong: (build: Build) => readonly Problem[]): void;
  /** Whether the next forecast fails. */
  fail(fails: boolean): void;
  close(): Promise<void>;
}

/** An app with the wall of fake-build.ts in it, or with no build at all. */
export async function fakeApp(options: { empty?: boolean } = {}): Promise<FakeApp> {
  const db = openDatabase(':memory:');
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const store = createStore(db.value);
  let tuned: FakeTune = {};
  let fails = false;
  let wrong: (build: Build) => readonly Problem[] = () => [];
  const computeForecast = (build: Build, log: readonly LogEntry[]): Forecast => {
    if (fails) throw new Error('out of memory');
    const forecast = fakeForecast({ ...tuned, fishLeft: (tuned.fishLeft ?? 96) - 2 * doneFish(log) });
    const problems = [...forecast.problems, ...wrong(build)];
    return { ...forecast, problems, build: { id: build.id, name: build.name, zone: build.zone } };
  };
  const background = byHand(computeForecast);
  const planner = createPlanner({ store, now: () => FAKE_NOW, background, pauses: SHORT_PAUSES });
  if (!options.empty) {
    const made = await planner.create(fakeBuild(), [], 'maker');
    if (!made.ok) throw new Error(made.problems[0]?.message);
  }
  await planner.settled();
  const app = await buildApp({ planner, now: () => FAKE_NOW });
  return {
    app,
    planner,
    store,
    tune: (tune) => {
      tuned = tune;
    },
    find: (next) => {
      wrong = next;
    },
    fail: (next) => {
      fails = next;
    },
    close: async () => {
      planner.close();
      await app.close();
      await planner.settled();
      store.close();
    },
  };
}

function doneFish(log: readonly LogEntry[]): number {
  return log
    .filter(({ kind, step }) => kind === 'done' && step === 'paint-fish')
    .reduce((sum, { n }) => sum + (n ?? 0), 0);
}
