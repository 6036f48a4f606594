/**
 * One queue of background work. The most urgent job is done first; a job that is out of date is dropped; a job that is
 * less urgent gives way to one that is more so, and begins again later. A few jobs at a time are done, as many as there
 * are hands.
 */
import { isNewer, sameVersion } from '../keeper/fresh.ts';
import type { JobKind, JobView, Version } from '../types.ts';
import { type Hand, SIGNAL } from './tasks.ts';

/** Kinds of jobs, the most urgent first. */
const JOB_KINDS: readonly JobKind[] = [
  'answer',
  'see-first',
  'search',
  'what-if',
  'levers',
  'sizes',
  'ways',
  'ledger',
  'past',
];

interface Wanted<T> {
  readonly kind: JobKind;
  /** The id of the build that it is for. */
  readonly build: string;
  /** The state of the build that it is for. */
  readonly version: Version;
  /** Whether it is wanted although the build moves on: a check that somebody waits for, a row of the past. */
  readonly lasting?: boolean;
  /** Asked when its turn comes; false: it is dropped. Left out: it is wanted. */
  readonly isWanted?: () => boolean;
  readonly run: (hand: Hand) => Promise<T>;
}

export interface Jobs {
  /**
   * Puts a job into the queue. Null: it was dropped or stopped, or gave way and was out of date by then. A job for the
   * same kind, build and version as one that is there already shares its answer. Rejects when the work fails.
   */
  ask<T>(wanted: Wanted<T>): Promise<T | null>;
  /** What waits and what is under way, of one build or of all; the most urgent first. */
  list(build?: string): JobView[];
  /**
   * Ends a job: a plan or a search with the best so far, anything else without an answer. False: there is none with
   * this number.
   */
  stop(job: number): boolean;
  /** Drops all jobs of a build that is gone. */
  drop(build: string): void;
  /** When nothing waits and nothing is under way. */
  settled(): Promise<void>;
}

/** A job that gave way so often in a row is done to its end, or it would never be done where taps rain. */
const MOST_TIMES = 8;
/** Kinds that have a best so far when they are stopped. */
const HAS_BEST: ReadonlySet<JobKind> = new Set(['answer', 'see-first', 'search', 'what-if', 'levers', 'sizes', 'ways']);

interface Entry extends Wanted<unknown> {
  readonly number: number;
  readonly answer: Promise<unknown>;
  readonly settle: (value: unknown) => void;
  readonly fail: (error: unknown) => void;
  readonly signal: Int32Array;
  done: number;
  total: number;
  isRunning: boolean;
}

/** The queue, with `hands` jobs at a time; `changed` hears of the build when what `list` says of it is another. */
export function createJobs(hands = 1, changed: (build: string) => void = () => undefined): Jobs {
  const waiting: Entry[] = [];
  const running = new Set<Entry>();
  /** How often in a row the job of a kind of a build has given way. */
  const gaveWay = new Map<string, number>();
  /** Jobs under way that are told to leave their work for good. */
  const dropped = new WeakSet<Entry>();
  const idle: (() => void)[] = [];
  let numbers = 0;

  const begin = async (entry: Entry): Promise<void> => {
    Atomics.store(entry.signal, 0, SIGNAL.goOn);
    const hand = {
      signal: entry.signal,
      progress: (done: number, total: number) => {
        Object.assign(entry, { done, total });
        changed(entry.build);
      },
    };
    try {
      const value = await entry.run(hand);
      end(entry);
      gaveWay.delete(keyOf(entry));
      entry.settle(value);
    } catch (error) {
      end(entry);
      if (Atomics.load(entry.signal, 0) !== SIGNAL.leave) entry.fail(error);
      else if (dropped.has(entry) || isOutOfDate(entry)) entry.settle(null);
      else waiting.push(entry);
    }
    changed(entry.build);
    next();
  };

  const end = (entry: Entry): void => {
    running.delete(entry);
    Object.assign(entry, { isRunning: false, done: 0, total: 0 });
  };

  /** Whether something newer was asked for the same build meanwhile. */
  const isOutOfDate = (entry: Entry): boolean =>
    entry.lasting !== true &&
    [...waiting, ...running].some(
      (other) => other.lasting !== true && other.build === entry.build && isNewer(other.version, entry.version),
    );

  const next = (): void => {
    waiting.sort(byUrgency);
    while (running.size < hands && waiting.length > 0) {
      const entry = waiting.shift()!;
      if (entry.isWanted?.() === false) {
        entry.settle(null);
        continue;
      }
      running.add(entry);
      entry.isRunning = true;
      changed(entry.build);
      void begin(entry);
    }
    if (running.size === 0 && waiting.length === 0) for (const wake of idle.splice(0)) wake();
  };

  /** Tells the least urgent job that should give way to this one to leave its work. */
  const makeWay = (asked: Entry): void => {
    const [least] = [...running].filter((entry) => mayGiveWay(entry, asked)).sort((a, b) => byUrgency(b, a));
    if (least === undefined) return;
    const key = keyOf(least);
    const times = gaveWay.get(key) ?? 0;
    if (times >= MOST_TIMES || Atomics.load(least.signal, 0) !== SIGNAL.goOn) return;
    gaveWay.set(key, times + 1);
    leave(least);
  };

  return {
    ask: <T>(wanted: Wanted<T>): Promise<T | null> => {
      const same = [...waiting, ...running].find((entry) => isSame(entry, wanted));
      if (same !== undefined) return same.answer as Promise<T | null>;
      if (wanted.lasting !== true) dropOlder(waiting, wanted);
      numbers += 1;
      const entry = entryOf(wanted as Wanted<unknown>, numbers);
      waiting.push(entry);
      if (running.size >= hands) makeWay(entry);
      changed(entry.build);
      next();
      return entry.answer as Promise<T | null>;
    },
    list: (build) =>
      [...running, ...[...waiting].sort(byUrgency)]
        .filter((entry) => build === undefined || entry.build === build)
        .map(({ number, kind, build: of, version, isRunning, done, total }) => ({
          job: number,
          kind,
          build: of,
          version,
          isRunning,
          done,
          total,
        })),
    stop: (job) => {
      const entry = [...running, ...waiting].find(({ number }) => number === job);
      if (entry === undefined) return false;
      if (entry.isRunning && HAS_BEST.has(entry.kind)) Atomics.store(entry.signal, 0, SIGNAL.enough);
      else giveUp(entry);
      return true;
    },
    drop: (build) => {
      for (const entry of [...running, ...waiting]) if (entry.build === build) giveUp(entry);
    },
    settled: () =>
      running.size === 0 && waiting.length === 0
        ? Promise.resolve()
        : new Promise((resolve) => void idle.push(resolve)),
  };

  function giveUp(entry: Entry): void {
    if (entry.isRunning) {
      dropped.add(entry);
      leave(entry);
    } else {
      waiting.splice(waiting.indexOf(entry), 1);
      entry.settle(null);
      changed(entry.build);
    }
  }
}

function leave({ signal }: Entry): void {
  Atomics.store(signal, 0, SIGNAL.leave);
}

function keyOf({ kind, build }: Pick<Entry, 'kind' | 'build'>): string {
  return `${kind} ${build}`;
}

function byUrgency(a: Entry, b: Entry): number {
  return JOB_KINDS.indexOf(a.kind) - JOB_KINDS.indexOf(b.kind) || a.number - b.number;
}

function isSame(entry: Entry, wanted: Wanted<unknown>): boolean {
  if (entry.lasting === true || wanted.lasting === true) return false;
  return keyOf(entry) === keyOf(wanted) && sameVersion(entry.version, wanted.version);
}

function mayGiveWay(running: Entry, asked: Entry): boolean {
  return JOB_KINDS.indexOf(running.kind) > JOB_KINDS.indexOf(asked.kind);
}

/** What waits for an older state of a build is not wanted any more once a newer one is asked for. */
function dropOlder(waiting: Entry[], wanted: Wanted<unknown>): void {
  const isOlder = (entry: Entry): boolean =>
    entry.lasting !== true && entry.build === wanted.build && isNewer(wanted.version, entry.version);
  for (const old of waiting.filter(isOlder)) {
    waiting.splice(waiting.indexOf(old), 1);
    old.settle(null);
  }
}

function entryOf(wanted: Wanted<unknown>, number: number): Entry {
  let settle: (value: unknown) => void = () => undefined;
  let fail: (error: unknown) => void = () => undefined;
  const answer = new Promise((resolve, reject) => {
    settle = resolve;
    fail = reject;
  });
  const signal = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  return { ...wanted, number, answer, settle, fail, signal, done: 0, total: 0, isRunning: false };
}
