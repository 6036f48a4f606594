/** The hands that do the jobs of the queue: the most urgent first; a less urgent one gives way and begins again. */
import { byUrgency, isOutOfDate, type Job, keyOf, type Line, leastUrgent, leave } from './job.ts';
import { type Hand, SIGNAL } from './tasks.ts';

interface Hands {
  /** Begins what waits while hands are free. */
  next(): void;
  /** Has the least urgent job give way to this one, if any may and no hand is free. */
  makeWay(asked: Job): void;
  /** Ends a job without an answer. */
  giveUp(job: Job): void;
  /** When nothing waits and nothing is under way. */
  idle(): Promise<void>;
}

/** A job that gave way so often in a row is done to its end, or it would never be done where taps rain. */
const MOST_TIMES = 8;

/** This many hands for the jobs of a line; `changed` hears of the build of a job that is another. */
export function createHands({ waiting, running }: Line, hands: number, changed: (build: string) => void): Hands {
  const line = { waiting, running };
  /** How often in a row the job of a kind of a build has given way. */
  const gaveWay = new Map<string, number>();
  /** Jobs under way that are told to leave their work for good. */
  const dropped = new WeakSet<Job>();
  const sleepers: (() => void)[] = [];
  const isIdle = (): boolean => running.size === 0 && waiting.length === 0;

  const begin = async (job: Job): Promise<void> => {
    Atomics.store(job.signal, 0, SIGNAL.goOn);
    try {
      const value = await job.run(handOf(job, changed));
      end(line, job);
      gaveWay.delete(keyOf(job));
      job.settle(value);
    } catch (error) {
      end(line, job);
      if (Atomics.load(job.signal, 0) !== SIGNAL.leave) job.fail(error);
      else if (dropped.has(job) || isOutOfDate(line, job)) job.settle(null);
      else waiting.push(job);
    }
    changed(job.build);
    next();
  };

  const next = (): void => {
    waiting.sort(byUrgency);
    while (running.size < hands && waiting.length > 0) {
      const job = waiting.shift()!;
      if (job.isWanted?.() === false) {
        job.settle(null);
        continue;
      }
      running.add(job);
      job.isRunning = true;
      changed(job.build);
      void begin(job);
    }
    if (isIdle()) for (const wake of sleepers.splice(0)) wake();
  };

  return {
    next,
    makeWay: (asked) => {
      const least = running.size < hands ? undefined : leastUrgent(line, asked);
      if (least === undefined) return;
      const times = gaveWay.get(keyOf(least)) ?? 0;
      if (times >= MOST_TIMES || Atomics.load(least.signal, 0) !== SIGNAL.goOn) return;
      gaveWay.set(keyOf(least), times + 1);
      leave(least);
    },
    giveUp: (job) => {
      if (job.isRunning) {
        dropped.add(job);
        leave(job);
        return;
      }
      waiting.splice(waiting.indexOf(job), 1);
      job.settle(null);
      changed(job.build);
    },
    idle: () => (isIdle() ? Promise.resolve() : new Promise((resolve) => void sleepers.push(resolve))),
  };
}

/** What a job says of itself while it is done. */
function handOf(job: Job, changed: (build: string) => void): Hand {
  return {
    signal: job.signal,
    progress: (done, total) => {
      Object.assign(job, { done, total });
      changed(job.build);
    },
  };
}

function end({ running }: Line, job: Job): void {
  running.delete(job);
  Object.assign(job, { isRunning: false, done: 0, total: 0 });
}
