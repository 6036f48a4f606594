/**
 * The count and the ways in over a real planner and store. The engine is replaced by the forecast made by hand, with
 * its counts moved by the log, so that what is counted is what is shown.
 */
import type { FastifyInstance } from 'fastify';
import { type TimedEntry, tallyLog } from '../../server/engine/log/log-tally.ts';
import type { Build, Forecast, ForecastSet, ForecastStep, LogEntry, Step } from '../../server/model/index.ts';
import { createPlanner, type RunningPlanner } from '../../server/planner/index.ts';
import {
  type BehindParts,
  createDisk,
  createStore,
  type Db,
  openDatabase,
  type Store,
} from '../../server/store/index.ts';
import { nameOf, registerAccess } from '../../server/web/access.ts';
import { buildApp } from '../../server/web/app.ts';
import { registerWaysIn, type WaysIn } from '../../server/web/routes/access.ts';
import { registerCalendar } from '../../server/web/routes/calendar.ts';
import { registerCount } from '../../server/web/routes/count.ts';
import { registerKeys } from '../../server/web/routes/keys.ts';
import { hashOf, newToken } from '../../server/web/secrets.ts';
import { byHand, SHORT_PAUSES } from '../planner/at-once.ts';
import { fakeBuild } from './fake-build.ts';
import { FAKE_NOW, fakeForecast } from './fake-forecast.ts';

export const BUILD = 'tide-wall';
export const OTHER_BUILD = 'other-wall';

export interface CountApp {
  readonly app: FastifyInstance;
  readonly planner: RunningPlanner;
  readonly store: Store;
  readonly db: Db;
  /** Moves the server's clock; milliseconds since the epoch. */
  readonly clock: { nowMs: number };
  /** Every route behind the checks, as `GET /b/:id`. */
  readonly routes: readonly string[];
  /** Cookie headers of somebody who has been let in. */
  makerCookie(): string;
  helperCookie(name: string, build?: string): string;
  /** The token of a program's key. */
  key(name: string, build?: string): string;
  /** Units done of a step, straight from the log. */
  done(step: string): number;
  close(): Promise<void>;
}

export interface CountAppOptions {
  readonly file?: string;
  /** Commits go on the disk behind the answers, by this. */
  readonly sync?: BehindParts['sync'];
  readonly trustLoopback?: boolean;
  readonly ways?: Partial<WaysIn>;
  /** The server's clock runs as the real one, from this instant on. */
  readonly startMs?: number;
  readonly live?: boolean;
  readonly tls?: { readonly cert: string; readonly key: string };
  /** This many further steps, `more-1` and on, each of twelve units. */
  readonly more?: number;
}

/** Two builds, nobody let in yet. */
export async function countApp(options: CountAppOptions = {}): Promise<CountApp> {
  const db = openDatabase(options.file ?? ':memory:');
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const disk = createDisk(db.value);
  const store = createStore(db.value, disk);
  const clock = { nowMs: options.startMs ?? FAKE_NOW * 60_000 };
  const began = Date.now();
  const nowMs = (): number => clock.nowMs + (options.live ? Date.now() - began : 0);
  const now = (): number => Math.floor(nowMs() / 60_000);
  const planner = createPlanner({
    store,
    now,
    stamp: () => new Date(nowMs()).toISOString(),
    background: byHand((build, log, at) => countedForecast(build, log, at, options.more)),
    pauses: SHORT_PAUSES,
  });
  for (const id of [BUILD, OTHER_BUILD]) {
    if (planner.build(id) !== null) continue;
    const made = await planner.create({ ...fakeBuild(), id, steps: stepsWith(options.more ?? 0) }, [], 'maker');
    if (!made.ok) throw new Error(made.problems[0]?.message);
  }
  await planner.settled();
  const secure = options.ways?.secure ?? false;
  if (options.sync) disk.fallBehind({ report: () => undefined, sync: options.sync });
  const ways: WaysIn = {
    store: store.access,
    keys: store.keys,
    nowMs,
    trustLoopback: options.trustLoopback ?? false,
    names: [],
    secure,
    startCodeHash: null,
    addresses: () => ['http://192.0.2.7:4380'],
    certificate: null,
    ...options.ways,
  };
  const routes: string[] = [];
  const app = await buildApp({
    planner,
    now,
    who: nameOf,
    synced: store.synced,
    secure,
    ...(options.tls === undefined ? {} : { tls: options.tls }),
    before: [
      (one) => {
        one.addHook('onRoute', ({ method, url }) => {
          for (const each of [method].flat()) if (each !== 'HEAD') routes.push(`${each} ${url}`);
        });
      },
      (one) => registerAccess(one, ways),
      (one, web) => registerWaysIn(one, web, ways),
      (one, web) => registerCount(one, web, { counting: planner, nowMs }),
      (one, web) => registerCalendar(one, web, { feeds: store.feeds, nowMs, addresses: ways.addresses }),
      (one, web) => registerKeys(one, web, { keys: store.keys, nowMs, addresses: ways.addresses }),
    ],
  });
  const cookie = secure ? '__Host-daywright' : 'daywright';
  return {
    app,
    planner,
    store,
    db: db.value,
    clock,
    routes,
    makerCookie: () => {
      const token = newToken();
      store.access.openMakerSession(hashOf(token), nowMs());
      return `${cookie}=${token}`;
    },
    helperCookie: (name, build = BUILD) => {
      const token = newToken();
      const hash = hashOf(newToken());
      store.access.addJoinCode({ hash, build, createdAt: nowMs(), expiresAt: nowMs() + 1000, mostUses: 1 });
      const joined = store.access.join(hash, { id: newToken(), name, tokenHash: hashOf(token) }, nowMs());
      if (typeof joined === 'string') throw new Error(joined);
      return `${cookie}=${token}`;
    },
    key: (name, build = BUILD) => {
      const token = newToken();
      const added = store.keys.add(build, { name, tokenHash: hashOf(token), createdAt: nowMs() });
      if (added !== 'added') throw new Error(added);
      return token;
    },
    done: (step) => tallyLog(timed(planner.log(BUILD))).steps.get(step)?.good ?? 0,
    close: async () => {
      planner.close();
      await app.close();
      await planner.settled();
      await disk.close();
      store.close();
    },
  };
}

/** The forecast by hand with the counts of the log added to its own. */
export function countedForecast(build: Build, log: readonly LogEntry[], now: number, more = 0): Forecast {
  const fake = fakeForecast();
  const forecast = { ...fake, steps: [...fake.steps, ...Array.from({ length: more }, (_, i) => furtherStep(fake, i))] };
  const tally = tallyLog(timed(log));
  const steps = forecast.steps.map((step): ForecastStep => {
    const counts = tally.steps.get(step.id);
    if (counts === undefined) return step;
    const moved = (set: ForecastSet): ForecastSet => {
      const one = set.set === null ? counts : (counts.sets.get(set.set) ?? { good: 0, scrapped: 0 });
      const counted = set.counted + one.good;
      const done = Math.min(set.total, counted);
      return { ...set, done, counted, scrapped: set.scrapped + one.scrapped, left: set.total - done };
    };
    const loads = counts.starts.map((start) => ({
      kind: start.kind,
      entry: start.entry,
      set: null,
      units: start.open,
      since: start.at,
      backAt: start.promisedAt ?? start.at + (step.runMinutesPerLot ?? 0),
      promised: start.promisedAt !== null,
      machine: start.machine,
    }));
    const sets = step.sets.map(moved);
    const left = sets.reduce((sum, set) => sum + set.left, 0);
    const ready = step.readyNow === null ? null : Math.max(0, Math.min(left, step.readyNow - counts.good));
    return {
      ...step,
      sets,
      done: step.done + counts.good,
      left,
      readyNow: ready,
      underWay: [...step.underWay, ...loads],
    };
  });
  return { ...forecast, build: { ...forecast.build, id: build.id, name: build.name }, now, steps };
}

function stepsWith(more: number): Step[] {
  const further = Array.from({ length: more }, (_, i) => ({ id: `more-${i + 1}`, name: `more ${i + 1}`, count: 12 }));
  return [...fakeBuild().steps, ...further];
}

function furtherStep({ steps }: Forecast, i: number): ForecastStep {
  const press = steps.find(({ id }) => id === 'press')!;
  const sets = [{ ...press.sets[0]!, total: 12, counted: 0, done: 0, scrapped: 0, left: 12 }];
  return { ...press, id: `more-${i + 1}`, name: `more ${i + 1}`, part: null, sets, feeds: [], fedBy: [], readyNow: 12 };
}

function timed(log: readonly LogEntry[]): TimedEntry[] {
  return log.map((entry) => ({
    ...entry,
    at: Math.floor(Date.parse(entry.at) / 60_000),
    until: entry.until === undefined ? null : Math.floor(Date.parse(entry.until) / 60_000),
  }));
}
