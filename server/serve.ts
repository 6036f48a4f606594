/**
 * Puts the rooms together and listens: database, planner with its threads, the demo in an empty database, the pages.
 */
import { EXAMPLES } from '../seed/index.ts';
import { isZone } from './engine/index.ts';
import { compiledChecks, type Problem, problem, problemTexts, type Result } from './model/index.ts';
import { createForecastPool, createPlanner, MAKER, type RunningPlanner } from './planner/index.ts';
import type { Settings } from './settings.ts';
import { createDisk, createStore, type Disk, openDatabase, type Store } from './store/index.ts';
import { othersTurn } from './turns/turns.ts';
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
  const certificate = await certificateOf(settings, surroundings.nowMilliseconds());
  if (!certificate.ok) return certificate;
  const db = openDatabase(settings.databaseFile);
  if (!db.ok) return db;
  const disk = createDisk(db.value);
  const rooms = openRooms(createStore(db.value, disk), disk, surroundings);
  const seeded = await seedEmpty(rooms);
  rooms.planner.resume();
  let port = settings.port;
  const { entrance, ways } = entranceOf(settings, surroundings, rooms, certificate.value, () => port);
  const app = await appOf(rooms, surroundings, ways, certificate.value);
  const close = closing(rooms, app);
  if (!seeded.ok) {
    await close();
    return seeded;
  }
  disk.fallBehind(surroundings);
  try {
    await app.listen({ port: settings.port, host: settings.host });
  } catch (error) {
    await close();
    return { ok: false, problems: [unheard(settings, error)] };
  }
  const address = app.server.address();
  if (typeof address === 'object' && address !== null) port = address.port;
  const build = rooms.planner.builds()[0] ?? null;
  void compileSoon();
  return {
    ok: true,
    value: {
      addresses: addressesOf(settings.host, port, certificate.value !== null),
      seeded: seeded.value,
      greeting: greeting({ entrance, ways, host: settings.host, port, build }),
      close,
    },
  };
}

/** What the first page, tap and edit would wait for, in turns with what is asked meanwhile: zones and checks. */
async function compileSoon(): Promise<void> {
  isZone(Intl.DateTimeFormat().resolvedOptions().timeZone);
  for (const _ of compiledChecks()) await othersTurn();
}

/** What is opened before anybody can ask for a page. */
interface Rooms {
  readonly store: Store;
  readonly disk: Disk;
  readonly pool: ReturnType<typeof createForecastPool>;
  readonly planner: RunningPlanner;
  /** Minutes since the epoch. */
  readonly now: () => number;
  /** What goes wrong from now on is given up on purpose, and not reported. */
  end(): void;
}

function openRooms(store: Store, disk: Disk, { nowMilliseconds, report }: Surroundings): Rooms {
  let isEnding = false;
  const pool = createForecastPool();
  const now = (): number => Math.floor(nowMilliseconds() / 60_000);
  const planner = createPlanner({
    store,
    now,
    stamp: () => new Date(nowMilliseconds()).toISOString(),
    background: pool,
    report: (error) => isEnding || report(error),
  });
  const end = (): void => {
    isEnding = true;
  };
  return { store, disk, pool, planner, now, end };
}

/** Who is let in, by which addresses. */
function entranceOf(
  { host, names, askKey, newKey }: Settings,
  { nowMilliseconds, show }: Surroundings,
  { store }: Rooms,
  tls: Certificate | null,
  port: () => number,
) {
  const entrance = openEntrance({
    store: store.access,
    keys: store.keys,
    nowMs: nowMilliseconds,
    host,
    secure: tls !== null,
    names: ownNames(names),
    askKey,
    renewKey: newKey,
    certificate: tls?.authority ?? null,
    show: (link, name) => show?.(helperCode(link, name)),
  });
  return { entrance, ways: entrance.ways(port) };
}

/** The pages, with what only a server that listens has: who is who, counting, the calendar, keys. */
function appOf(
  { store, planner, now }: Rooms,
  { nowMilliseconds: nowMs, report }: Surroundings,
  ways: ReturnType<typeof entranceOf>['ways'],
  tls: Certificate | null,
): ReturnType<typeof buildApp> {
  const { addresses } = ways;
  return buildApp({
    planner,
    now,
    who: nameOf,
    synced: store.synced,
    examples: EXAMPLES,
    secure: tls !== null,
    report,
    ...(tls === null ? {} : { tls }),
    before: [
      (one) => registerAccess(one, ways),
      (one, web) => registerWaysIn(one, web, ways),
      (one, web) => registerCount(one, web, { counting: planner, nowMs }),
      (one, web) => registerCalendar(one, web, { feeds: store.feeds, nowMs, addresses }),
      (one, web) => registerKeys(one, web, { keys: store.keys, nowMs, addresses }),
    ],
  });
}

/** Begins to tick; what this returns ends everything, in the order in which each needs the next. */
function closing(
  { store, disk, pool, planner, end }: Rooms,
  app: Awaited<ReturnType<typeof buildApp>>,
): () => Promise<void> {
  const timer = setInterval(() => planner.tick(), TICK_MILLISECONDS);
  timer.unref();
  return async () => {
    end();
    clearInterval(timer);
    planner.close();
    await app.close();
    await pool.close();
    await disk.close();
    store.close();
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
async function seedEmpty({ store, planner, now }: Rooms): Promise<Result<string[]>> {
  if (store.builds.everMade() > 0) return { ok: true, value: [] };
  const { build, log = [] } = EXAMPLES[0].file(now());
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
    return problem('conflict', '--port', port, problemTexts.serving.portInUse(port));
  }
  if (code === 'EACCES') return problem('shape', '--port', port, problemTexts.serving.portForbidden(port));
  return problem('shape', '--host', host, problemTexts.serving.cannotListen(host, port, message));
}
