/** Forecasts, and where the room went between them, computed in worker threads, so that no request waits for a search. */
import { Piscina } from 'piscina';
import type { LedgerSpan } from '../engine/index.ts';
import type { Forecast, LedgerPart } from '../model/index.ts';
import type { AttributeRoom } from './ledger.ts';
import type { SearchForecast } from './tasks.ts';

export interface ForecastPool {
  readonly search: SearchForecast;
  readonly attribute: AttributeRoom;
  /** Ends the threads; what was under way is given up. */
  close(): Promise<void>;
}

const here = import.meta.url;

/** The worker beside this file: TypeScript under tsx and the tests, JavaScript when compiled. */
const WORKER = new URL(here.endsWith('.ts') ? './worker.ts' : './worker.js', here);

/** Far longer than a search takes for thousands of lots: a thread that is not back by then will not come back. */
const LONGEST_MILLISECONDS = 5 * 60_000;

/**
 * A pool of worker threads (one unless asked for more) that are started with the first task and end after half a minute
 * without one. A task is copied to the thread and the forecast back. A task is rejected when its thread dies or has not ended it after
 * `longest` milliseconds, and all that wait when a thread cannot even begin; the next task tries anew.
 */
export function createForecastPool(threads = 1, worker: URL = WORKER, longest = LONGEST_MILLISECONDS): ForecastPool {
  let pool: Piscina<unknown, unknown> | null = null;
  const waiting = new Set<(error: unknown) => void>();

  const begin = (): Piscina<unknown, unknown> => {
    const begun = new Piscina<unknown, unknown>({
      filename: worker.href,
      minThreads: 0,
      maxThreads: threads,
      idleTimeout: 30_000,
      execArgv: worker.pathname.endsWith('.ts') ? ['--import', 'tsx'] : [],
    });
    // Of a thread that dies without a task. It must not take the counting down with it, nor leave tasks that no thread will take.
    begun.on('error', (error) => {
      if (pool === begun) pool = null;
      for (const reject of waiting) reject(error);
      begun.destroy().catch(() => undefined);
    });
    return begun;
  };

  const run = <T>(task: unknown, name?: string): Promise<T> =>
    new Promise<unknown>((resolve, reject) => {
      waiting.add(reject);
      pool ??= begin();
      const signal = AbortSignal.timeout(longest);
      const done = pool.run(task, name === undefined ? { signal } : { name, signal });
      done.then(resolve, reject).finally(() => waiting.delete(reject));
    }) as Promise<T>;

  return {
    search: (task) => run<Forecast>(task),
    attribute: (span: LedgerSpan) => run<LedgerPart[]>(span, 'attributeRoom'),
    close: async () => {
      await pool?.destroy();
    },
  };
}
