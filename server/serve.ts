/**
 * Puts the rooms together and listens: database, planner with its threads, the demo in an empty database, the pages.
 */
import { EXAMPLES } from '../seed/index.ts';
import { type Problem, problem, type Result } from './model/index.ts';
import { createForecastPool, createPlanner, MAKER, type RunningPlanner } from './planner/index.ts';
import type { Settings } from './settings.ts';
import { createStore, openDatabase, type Store } from './store/index.ts';
import { nameOf, registerAccess } from './web/access.ts';
import { buildApp } from './web/app.ts';
import { addressText, networkAddresses, openEntrance } from './web/entrance.ts';
import { greeting, helperCode } from './web/greeting.ts';
import { registerWaysIn } from './web/routes/access.ts';
import { registerCalendar } from './web/routes/calendar.ts';
import { registerCount } from './web/routes/count.ts';
import { registerKeys } from './web/routes/keys.ts';
import { type Certificate, certificateFolder, certificateFrom, ownCertificate, ownNames } from './web/tls.ts';

export interface Serving {
  /** Where a browser finds it, first this machine's own address. */
  readonly addresses: readonly string[];
  /** Builds that were put into an empty database. */
  readonly seeded: readonly string[];
  /** What the terminal, and nothing else, is to show: the key when it is new, links and codes to come in. */
  readonly greeting: readonly string[];
  /** Answers what was asked, ends the threads and closes the database. */
  close(): Promise<void>;
}

interface Surroundings {
  /** Milliseconds since the epoch. */
  readonly nowMilliseconds: () => number;
  readonly report: (error: unknown) => void;
  /** Shows lines to whoever sits before the machine; left out: nobody does. */
  readonly show?: (lines: readonly string[]) => void;
}

const TICK_MILLISECONDS = 60_000;

/** Starts serving; what cannot be (a port in use, a newer database) is said in words and nothing is left running. */
export async function serve(settings: Settings, surroundings: Surroundings): Promise<Result<Serving>> {
  const { nowMilliseconds, report } = surroundings;
  const certificate = await certificateOf(settings, nowMilliseconds());
  if (!certificate.ok) return certificate;
  const tls = certificate.value;
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
    background: pool,
    // What is given up at the end is no error.
    report: (error) => closing || report(error),
  });
  const seeded = await seedEmpty(store, planner, now());
  planner.resume();
  const secure = tls !== null;
  const entrance = openEntrance({
    store: store.access,
    keys: store.keys,
    nowMs: nowMilliseconds,
    host: settings.host,
    secure,
    names: ownNames(settings.names),
    askKey: settings.askKey,
    renewKey: settings.newKey,
    certificate: tls?.authority ?? null,
    show: (link, name) => surroundings.show?.(helperCode(link, name)),
  });
  let port = settings.port;
  const ways = entrance.ways(() => port);
  const app = await buildApp({
    planner,
    now,
    who: nameOf,
    examples: EXAMPLES,
    secure,
    report,
    ...(tls === null ? {} : { tls }),
    before: [
      (one) => registerAccess(one, ways),
      (one, web) => registerWaysIn(one, web, ways),
      (one, web) => registerCount(one, web, { counting: planner, nowMs: nowMilliseconds }),
      (one, web) =>
        registerCalendar(one, web, { feeds: store.feeds, nowMs: nowMilliseconds, addresses: ways.addresses }),
      (one, web) => registerKeys(one, web, { keys: store.keys, nowMs: nowMilliseconds, addresses: ways.addresses }),
    ],
  });
  const timer = setInterval(() => planner.tick(), TICK_MILLISECONDS);
  timer.unref();
  const close = async (): Promise<void> => {
    closing = true;
    clearInterval(timer);
    planner.close();
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
  if (typeof address === 'object' && address !== null) port = address.port;
  return {
    ok: true,
    value: {
      addresses: addressesOf(settings.host, port, secure),
      seeded: seeded.value,
      greeting: greeting({ entrance, ways, host: settings.host, port, build: planner.builds()[0] ?? null }),
      close,
    },
  };
}

/** Null: pages are served plainly. */
async function certificateOf(
  { tls, databaseFile, names }: Settings,
  nowMs: number,
): Promise<Result<Certificate | null>> {
  if (tls.kind === 'off') return { ok: true, value: null };
  if (tls.kind === 'files') return certificateFrom(tls.cert, tls.key);
  return { ok: true, value: await ownCertificate(certificateFolder(databaseFile), ownNames(names), nowMs) };
}

/** The demo goes into a database that never held a build; one that was emptied on purpose stays empty. */
async function seedEmpty(store: Store, planner: RunningPlanner, now: number): Promise<Result<string[]>> {
  if (store.builds.everMade() > 0) return { ok: true, value: [] };
  const { build, log = [] } = EXAMPLES[0].file(now);
  const made = await planner.create(build, log, MAKER);
  return made.ok ? { ok: true, value: [made.value.id] } : made;
}

/** For an address that means all of them, those by which the machine is called on its networks. */
function addressesOf(host: string, port: number, secure: boolean): string[] {
  const everywhere = host === '0.0.0.0' || host === '::';
  const hosts = everywhere ? ['127.0.0.1', ...networkAddresses()] : [host];
  return hosts.map((one) => `${addressText(one, port, secure)}/`);
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
