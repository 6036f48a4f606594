/** Puts the rooms together and listens: database, planner with its threads, the demo in an empty database, the pages. */
import { isIP } from 'node:net';
import { networkInterfaces } from 'node:os';
import { demoFile } from '../seed/demo.ts';
import { type Problem, problem, type Result } from './model/index.ts';
import { computeQuick, createForecastPool, createPlanner, MAKER, type RunningPlanner } from './planner/index.ts';
import type { Settings } from './settings.ts';
import { createStore, openDatabase, type Store } from './store/index.ts';
import { buildApp } from './web/app.ts';

export interface Serving {
  /** Where a browser finds it, first this machine's own address. */
  readonly addresses: readonly string[];
  /** Builds that were put into an empty database. */
  readonly seeded: readonly string[];
  /** Answers what was asked, ends the threads and closes the database. */
  close(): Promise<void>;
}

export interface Surroundings {
  /** Milliseconds since the epoch. */
  readonly nowMilliseconds: () => number;
  readonly report: (error: unknown) => void;
}

const TICK_MILLISECONDS = 60_000;

/** Starts serving; what cannot be (a port in use, a newer database) is said in words and nothing is left running. */
export async function serve(settings: Settings, { nowMilliseconds, report }: Surroundings): Promise<Result<Serving>> {
  const refused = notYet(settings);
  if (refused) return { ok: false, problems: [refused] };
  const db = openDatabase(settings.databaseFile);
  if (!db.ok) return db;
  const store = createStore(db.value);
  const pool = createForecastPool();
  const now = (): number => Math.floor(nowMilliseconds() / 60_000);
  let closing = false;
  const planner = createPlanner({
    store,
    now,
    stamp: () => new Date(nowMilliseconds()).toISOString(),
    computeForecast: computeQuick,
    search: pool.search,
    // What is given up at the end is no error.
    report: (error) => closing || report(error),
  });
  const seeded = seedEmpty(store, planner, now());
  const app = await buildApp({ planner, now, who: () => MAKER });
  const timer = setInterval(() => planner.tick(), TICK_MILLISECONDS);
  timer.unref();
  const close = async (): Promise<void> => {
    closing = true;
    clearInterval(timer);
    await app.close();
    await pool.close();
    store.close();
  };
  if (!seeded.ok) {
    await close();
    return seeded;
  }
  try {
    await app.listen({ port: settings.port, host: settings.host });
  } catch (error) {
    await close();
    return { ok: false, problems: [unheard(settings, error)] };
  }
  const address = app.server.address();
  const port = typeof address === 'object' && address !== null ? address.port : settings.port;
  return { ok: true, value: { addresses: addressesOf(settings.host, port), seeded: seeded.value, close } };
}

/** The demo goes into a database that never held a build; one that was emptied on purpose stays empty. */
function seedEmpty(store: Store, planner: RunningPlanner, now: number): Result<string[]> {
  if (store.builds.everMade() > 0) return { ok: true, value: [] };
  const { build, log = [] } = demoFile(now);
  const made = planner.create(build, log, MAKER);
  return made.ok ? { ok: true, value: [made.value.id] } : made;
}

/** Until nobody is let in without leave, the pages are for this machine alone. */
function notYet({ host, tls }: Settings): Problem | null {
  if (tls.kind !== 'off') return problem('shape', '--tls', tls.kind, 'HTTPS cannot be served yet; leave out --tls.');
  if (isLoopback(host)) return null;
  const message = `Pages can be served to this machine only so far; --host must be 127.0.0.1, ::1 or localhost, not "${host}".`;
  return problem('shape', '--host', host, message);
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || (isIP(host) === 4 && host.startsWith('127.'));
}

/** For an address that means all of them, those by which the machine is called on its networks. */
function addressesOf(host: string, port: number): string[] {
  const url = (name: string): string => `http://${isIP(name) === 6 ? `[${name}]` : name}:${port}/`;
  if (host !== '0.0.0.0' && host !== '::') return [url(host)];
  const others = Object.values(networkInterfaces())
    .flatMap((one) => one ?? [])
    .filter((one) => one.family === 'IPv4' && !one.internal)
    .map((one) => one.address);
  return ['127.0.0.1', ...others].map(url);
}

function unheard({ port, host }: Settings, error: unknown): Problem {
  const { code, message } = error as NodeJS.ErrnoException;
  if (code === 'EADDRINUSE') {
    return problem(
      'conflict',
      '--port',
      port,
      `Port ${port} is in use; stop what runs there or choose another with --port.`,
    );
  }
  if (code === 'EACCES')
    return problem('shape', '--port', port, `Port ${port} may not be used; choose one above 1023.`);
  return problem('shape', '--host', host, `It cannot listen on ${host}, port ${port}: ${message}.`);
}
