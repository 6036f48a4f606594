/**
 * Threads in which the background's work is done, so that no request waits for a plan or for the reading of a large
 * file.
 */
import { MessageChannel, type MessagePort } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Forecast, LedgerPart, LeverSearch, Sizing, WaysBeside } from '../../model/index.ts';
import { joinedInTurns, type Piece } from '../../store/forecast-pieces.ts';
import { knowSchedule } from './former.ts';
import { wrapSpan, wrapTask } from './parcel.ts';
import { createReaders } from './readers.ts';
import type { Background, Hand, Tried } from './tasks.ts';
import { flagsOf } from './threads.ts';

interface ForecastPool extends Background {
  /** Ends the threads; what was under way is given up. */
  close(): Promise<void>;
}

/** What a thread says of its work while it is at it. */
export type Said =
  | { readonly done: number; readonly total: number }
  | { readonly plan: readonly Piece[] }
  | { readonly levers: LeverSearch }
  | { readonly ways: WaysBeside };

/** Who hears of what is found on the way. */
interface Hears {
  readonly onPlan?: ((plan: Forecast) => void) | undefined;
  readonly onRows?: (found: LeverSearch) => void;
  readonly onParts?: (found: WaysBeside) => void;
}

/**
 * A forecast as a thread answers it; with the text of its schedule where that is what the next one is compared with.
 */
export interface Planned {
  readonly pieces: readonly Piece[];
  readonly schedule?: string;
}

/** A plan that was tried out, likewise. */
export type TriedPieces = Omit<Tried, 'forecast'> & { readonly pieces: readonly Piece[] };

const here = import.meta.url;

/** The worker beside this file: TypeScript under tsx and the tests, JavaScript when compiled. */
const WORKER = new URL(here.endsWith('.ts') ? './worker.ts' : './worker.js', here);

/** Far longer than anything takes that ends by itself: a thread that is not back by then will not come back. */
const LONGEST_MILLISECONDS = 5 * 60_000;

/** How long a thread stays without work: at the bench taps come minutes apart, and a cold start costs seconds. */
const IDLE_MILLISECONDS = 5 * 60_000;

/**
 * A pool of worker threads (one unless asked for more) that are started with the first task and end after five minutes
 * without one. A task is copied to the thread and its answer back. A task is rejected when its thread dies or has not
 * ended it `longest` milliseconds after its beginning, and all that are under way when a thread cannot even begin; the
 * next task tries again. No more tasks than threads are to be given at a time: the queue sees to that, and so the limit
 * counts from the beginning of a task.
 */
export function createForecastPool(threads = 1, worker: URL = WORKER, longest = LONGEST_MILLISECONDS): ForecastPool {
  const { run, close: closeThreads } = createThreads(threads, worker, longest);
  const { read, close: closeReaders } = createReaders(worker);
  return {
    read,
    plan: async (task, hand, onPlan) => {
      const { pieces, schedule } = await run<Planned>('plan', { task: await wrapTask(task) }, hand, { onPlan });
      const forecast = await joinedInTurns(pieces);
      return schedule === undefined ? forecast : knowSchedule(forecast, schedule);
    },
    tryOut: async (task, hand) => {
      const { pieces, ...rest } = await run<TriedPieces>('tryOut', { task: await wrapTask(task) }, hand);
      return { ...rest, forecast: await joinedInTurns(pieces) };
    },
    findLevers: (task, hand, onRows) => run<LeverSearch>('findLevers', { task }, hand, { onRows }),
    rightSize: (task, hand) => run<Sizing | null>('rightSize', { task }, hand),
    waysBeside: (task, hand, onParts) => run<WaysBeside>('waysBeside', { task }, hand, { onParts }),
    attribute: async (span, hand) => run<LedgerPart[]>('attribute', { span: await wrapSpan(span) }, hand),
    close: async () => {
      await Promise.all([closeThreads(), closeReaders()]);
    },
  };
}

/**
 * Futures make much that is soon gone: with this much room for it a plan of 1,000 lots and its futures cost a fifth
 * less work than with what a thread has by itself, for some 30 MB more.
 */
const YOUNG_MEGABYTES = 64;

type Run = <T>(name: string, task: object, hand: Hand, hears?: Hears) => Promise<T>;

/** The threads that plan: started when they are first needed, and again after they have died. */
function createThreads(threads: number, worker: URL, longest: number): { run: Run; close: () => Promise<void> } {
  let pool: Piscina<unknown, unknown> | null = null;
  const underWay = new Set<(error: unknown) => void>();

  const begin = (): Piscina<unknown, unknown> => {
    const begun = new Piscina<unknown, unknown>({
      filename: worker.href,
      name: 'plan',
      minThreads: 0,
      maxThreads: threads,
      idleTimeout: IDLE_MILLISECONDS,
      resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MEGABYTES },
      execArgv: flagsOf(worker),
    });
    // A thread that dies without a task must not take the counting down with it, nor leave tasks that no thread will
    // take.
    begun.on('error', (error) => {
      if (pool === begun) pool = null;
      for (const reject of underWay) reject(error);
      begun.destroy().catch(() => undefined);
    });
    return begun;
  };

  const run = <T>(name: string, task: object, hand: Hand, hears: Hears = {}): Promise<T> =>
    new Promise<unknown>((resolve, reject) => {
      underWay.add(reject);
      pool ??= begin();
      const { port1: ours, port2: theirs } = new MessageChannel();
      const heard = listen(ours, hand, hears, reject);
      const done = pool.run(
        { ...task, signal: hand.signal, port: theirs },
        { name, signal: AbortSignal.timeout(longest), transferList: [theirs] },
      );
      done
        .then((answer) => heard().then(() => answer))
        .then(resolve, reject)
        .finally(() => {
          underWay.delete(reject);
          ours.close();
        });
    }) as Promise<T>;

  return { run, close: async () => pool?.destroy() };
}

/** Passes on what a thread says on the way; what this returns waits until the plan in it has been heard. */
function listen(port: MessagePort, hand: Hand, hears: Hears, reject: (error: unknown) => void): () => Promise<unknown> {
  // What was planned is heard of before the answer, though it is put together in turns with others' work.
  let heard: Promise<unknown> = Promise.resolve();
  const hear = (pieces: readonly Piece[]): void => {
    heard = heard.then(() => joinedInTurns(pieces)).then(hears.onPlan);
    // Before the answer is there, nobody else waits for it.
    heard.catch(reject);
  };
  port.on('message', (said: Said) => {
    if ('plan' in said) hear(said.plan);
    else if ('levers' in said) hears.onRows?.(said.levers);
    else if ('ways' in said) hears.onParts?.(said.ways);
    else hand.progress(said.done, said.total);
  });
  return () => heard;
}
