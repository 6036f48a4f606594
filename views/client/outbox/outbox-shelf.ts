/** Where what was counted is on the phone: in the browser's database, or, where it keeps nothing, in an array. */
import type { WireEntry } from './count-wire.ts';
import type { ClockReading, Heard } from './phone-clock.ts';

export const DATABASE = 'daywright-count';
const ENTRIES = 'entries';
const FIRST_WAIT_MS = 50;
const LONGEST_WAIT_MS = 1000;

export interface Kept {
  /** Order of tapping; given by the storage. */
  readonly number: number;
  readonly id: string;
  readonly build: string;
  /** While not `frozen`, `at` is what the phone's clock said. */
  readonly entry: WireEntry;
  readonly phoneMs: number;
  /** What the clocks said when it was kept. */
  readonly read: ClockReading;
  /**
   * By how much the phone's clock was set between its keeping and its correction, in milliseconds; null before that.
   */
  readonly shiftMs: number | null;
  /** The instant has been corrected and will not change again: every sending says the same. */
  readonly frozen: boolean;
  readonly state: 'waiting' | 'arrived' | 'refused';
  readonly seq: number | null;
  readonly reasons: readonly string[];
  /** The refusal has been read and put away. */
  readonly settled: boolean;
}

export interface Shelf {
  readonly durable: boolean;
  read(): Promise<readonly Kept[]>;
  /** Gives new entries their numbers; they are in storage when it resolves. */
  add(entries: readonly Omit<Kept, 'number'>[]): Promise<readonly Kept[]>;
  /**
   * One transaction: `change` is given what is there now and names what to put and what to drop. What is there then.
   */
  write(change: (now: readonly Kept[]) => Change): Promise<readonly Kept[]>;
  /** When the server's clock was heard last, by whichever page of this phone; null: never. */
  heard(): Heard | null;
  hear(heard: Heard): void;
  /** How many entries were kept again because the browser had cleared its storage under the page. */
  putBack(): number;
  /** Called when the browser has closed the storage under the page. */
  onClosed(listener: () => void): void;
}

export interface Change {
  readonly put?: readonly Kept[];
  readonly drop?: readonly number[];
}

/** The shelf of a build; one in memory only where the browser keeps nothing. */
export async function openShelf(build: string): Promise<Shelf> {
  const database = await openDatabase().catch(() => null);
  return database === null ? memoryShelf() : databaseShelf(database, build);
}

/** Whether it is a tap of somebody's, not what the run clock notes by itself. */
export function isCount({ entry }: Kept): boolean {
  return entry.kind !== 'began' && entry.kind !== 'paused';
}

/** How many counts wait on this phone, of whatever build; makes no outbox where there is none. */
export async function countWaiting(): Promise<number> {
  const request = indexedDB.open(DATABASE);
  request.onupgradeneeded = () => request.transaction!.abort();
  const database = await answer(request);
  const all = await answer(database.transaction(ENTRIES).objectStore(ENTRIES).getAll() as IDBRequest<Kept[]>);
  database.close();
  return all.filter((one) => one.state === 'waiting' && isCount(one)).length;
}

/** Keeps entries as long as the page. */
export function memoryShelf(): Shelf {
  let all: readonly Kept[] = [];
  let number = 0;
  let last: Heard | null = null;
  return {
    durable: false,
    putBack: () => 0,
    onClosed: () => {},
    heard: () => last,
    hear: (heard) => {
      last = heard;
    },
    read: async () => all,
    add: async (entries) => {
      const fresh = entries.map((entry) => {
        number += 1;
        return { ...entry, number };
      });
      all = [...all, ...fresh];
      return fresh;
    },
    write: async (change) => {
      all = applied(all, change(all));
      return all;
    },
  };
}

/** What a build has in the browser's database; `known` is what the page has seen there, should it be cleared. */
function databaseShelf(first: IDBDatabase, build: string): Shelf {
  let known: readonly Kept[] = [];
  const remembered = (entries: readonly Kept[]): readonly Kept[] => {
    known = entries;
    return entries;
  };
  const { begin, attempt, putBack, onClosed } = createLasting(first, build, () => known);
  return {
    durable: true,
    putBack,
    onClosed,
    heard: () => readHeard(build),
    hear: (heard) => writeHeard(build, heard),
    read: () => attempt(async () => remembered(await readAll(begin('readonly').entries, build))),
    add: (fresh) =>
      attempt(async () => {
        const { entries, done } = begin('readwrite');
        const numbers = await Promise.all(fresh.map((entry) => answer(entries.add(entry) as IDBRequest<number>)));
        await done;
        const added = fresh.map((entry, index) => ({ ...entry, number: numbers[index]! }));
        known = [...known, ...added];
        return added;
      }),
    write: (change) =>
      attempt(async () => {
        const { entries, done } = begin('readwrite');
        const now = await readAll(entries, build);
        const changes = change(now);
        for (const number of changes.drop ?? []) entries.delete(number);
        for (const entry of changes.put ?? []) entries.put(entry);
        await done;
        return remembered(applied(now, changes));
      }),
  };
}

interface Lasting extends Pick<Shelf, 'putBack' | 'onClosed'> {
  begin(mode: IDBTransactionMode): { readonly entries: IDBObjectStore; readonly done: Promise<void> };
  /** Does the work, and once more where the database was closed under it. */
  attempt<T>(work: () => Promise<T>): Promise<T>;
}

/**
 * A database that is opened again where the browser closes it under the page (its data was cleared); what the page
 * knows to have been in it is put back.
 */
function createLasting(first: IDBDatabase, build: string, known: () => readonly Kept[]): Lasting {
  let database = first;
  let putBack = 0;
  let reopening: Promise<void> | null = null;
  const listeners: (() => void)[] = [];
  const watch = (): void => {
    database.onclose = () => {
      for (const listener of listeners) listener();
    };
  };
  const begin: Lasting['begin'] = (mode) => {
    const transaction = database.transaction(ENTRIES, mode, mode === 'readonly' ? {} : { durability: 'strict' });
    const done = finished(transaction);
    done.catch(() => {});
    return { entries: transaction.objectStore(ENTRIES), done };
  };
  const reopen = async (): Promise<void> => {
    database.close();
    database = await openDatabase();
    watch();
    const { entries, done } = begin('readwrite');
    const count = await putBackInto(entries, known(), build);
    await done;
    putBack += count;
  };
  watch();
  return {
    begin,
    putBack: () => putBack,
    onClosed: (listener) => void listeners.push(listener),
    attempt: async (work) => {
      try {
        return await work();
      } catch (error) {
        if (!isClosed(error)) throw error;
        reopening ??= untilOpen(reopen).finally(() => {
          reopening = null;
        });
        await reopening;
        return await work();
      }
    },
  };
}

/** While the browser is still clearing, opening fails too. */
async function untilOpen(reopen: () => Promise<void>): Promise<void> {
  for (let waitMs = FIRST_WAIT_MS; ; waitMs *= 2) {
    try {
      return await reopen();
    } catch (error) {
      if (!isClosed(error) || waitMs > LONGEST_WAIT_MS) throw error;
      await new Promise((resolve) => setTimeout(resolve, waitMs));
    }
  }
}

/**
 * Whether the browser closed the database, or gave up what was under way because it was closing it. A full storage is
 * no such thing.
 */
function isClosed(error: unknown): boolean {
  return error instanceof DOMException && ['InvalidStateError', 'AbortError', 'UnknownError'].includes(error.name);
}

/** Puts back what is not there, under its number unless another has taken it; says how many. */
async function putBackInto(entries: IDBObjectStore, known: readonly Kept[], build: string): Promise<number> {
  const there = await readAll(entries, build);
  const [ids, numbers] = [new Set(there.map(({ id }) => id)), new Set(there.map(({ number }) => number))];
  const missing = known.filter(({ id }) => !ids.has(id));
  for (const { number, ...entry } of missing) entries.put(numbers.has(number) ? entry : { ...entry, number });
  return missing.length;
}

function readHeard(build: string): Heard | null {
  try {
    return JSON.parse(localStorage.getItem(heardKey(build)) ?? 'null') as Heard | null;
  } catch {
    return null;
  }
}

function writeHeard(build: string, heard: Heard): void {
  try {
    localStorage.setItem(heardKey(build), JSON.stringify(heard));
  } catch {
    // Without it the clock is taken as it is at the next answer.
  }
}

function heardKey(build: string): string {
  return `daywright-heard:${build}`;
}

function applied(now: readonly Kept[], { put = [], drop = [] }: Change): readonly Kept[] {
  const changed = new Map(put.map((entry) => [entry.number, entry]));
  const dropped = new Set(drop);
  return now.filter((entry) => !dropped.has(entry.number)).map((entry) => changed.get(entry.number) ?? entry);
}

async function readAll(entries: IDBObjectStore, build: string): Promise<Kept[]> {
  const all = await answer(entries.index('build').getAll(build) as IDBRequest<Kept[]>);
  return all.map(readKept);
}

/** An older page kept entries without what the clocks said. */
function readKept(entry: Kept): Kept {
  const { read = { wallMs: entry.phoneMs, steadyMs: 0, page: '' }, shiftMs = null } = entry as Partial<Kept>;
  return { ...entry, read, shiftMs };
}

async function openDatabase(): Promise<IDBDatabase> {
  const request = indexedDB.open(DATABASE, 1);
  request.onupgradeneeded = () => {
    const entries = request.result.createObjectStore(ENTRIES, { keyPath: 'number', autoIncrement: true });
    entries.createIndex('build', 'build');
    entries.createIndex('id', 'id', { unique: true });
  };
  return answer(request);
}

function answer<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function finished(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error('the storage gave up'));
    transaction.onerror = () => reject(transaction.error);
  });
}
