/**
 * One queue of background work. The most urgent job is done first; a job that is out of date is dropped; a job that is
 * less urgent gives way to one that is more so, and begins again later. A few jobs at a time are done, as many as there
 * are hands.
 */
import type { JobKind, JobView } from '../types.ts';
import { createHands } from './hands.ts';
import { byUrgency, isOlder, isSame, jobOf, type Line, viewOf, type Wanted } from './job.ts';
import { SIGNAL } from './tasks.ts';

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

/** Kinds that have a best so far when they are stopped. */
const HAS_BEST: ReadonlySet<JobKind> = new Set(['answer', 'see-first', 'search', 'what-if', 'levers', 'sizes', 'ways']);

/** The queue, with `hands` jobs at a time; `changed` hears of the build when what `list` says of it is another. */
export function createJobs(hands = 1, changed: (build: string) => void = () => undefined): Jobs {
  const line: Line = { waiting: [], running: new Set() };
  const { waiting, running } = line;
  const { next, makeWay, giveUp, idle } = createHands(line, hands, changed);
  let numbers = 0;

  return {
    ask: <T>(wanted: Wanted<T>): Promise<T | null> => {
      const same = [...waiting, ...running].find((job) => isSame(job, wanted));
      if (same !== undefined) return same.answer as Promise<T | null>;
      if (wanted.lasting !== true) dropOlder(line, wanted);
      numbers += 1;
      const job = jobOf(wanted as Wanted<unknown>, numbers);
      waiting.push(job);
      makeWay(job);
      changed(job.build);
      next();
      return job.answer as Promise<T | null>;
    },
    list: (build) =>
      [...running, ...[...waiting].sort(byUrgency)]
        .filter((job) => build === undefined || job.build === build)
        .map(viewOf),
    stop: (number) => {
      const job = [...running, ...waiting].find((one) => one.number === number);
      if (job === undefined) return false;
      if (job.isRunning && HAS_BEST.has(job.kind)) Atomics.store(job.signal, 0, SIGNAL.enough);
      else giveUp(job);
      return true;
    },
    drop: (build) => {
      for (const job of [...running, ...waiting]) if (job.build === build) giveUp(job);
    },
    settled: idle,
  };
}

function dropOlder({ waiting }: Line, wanted: Wanted<unknown>): void {
  for (const old of waiting.filter((job) => isOlder(job, wanted))) {
    waiting.splice(waiting.indexOf(old), 1);
    old.settle(null);
  }
}
