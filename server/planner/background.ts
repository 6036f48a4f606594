/** Forecasts, and where the room went between them, computed in worker threads, so that no request waits for a search. */
import { Piscina } from 'piscina';
import type { LedgerSpan } from '../engine/ledger/index.ts';
import type { Forecast, LedgerPart } from '../model/index.ts';
import type { SearchForecast } from './forecasts.ts';
import type { AttributeRoom } from './ledger.ts';

export interface ForecastPool {
  readonly search: SearchForecast;
  readonly attribute: AttributeRoom;
  /** Ends the threads; what was under way is given up. */
  close(): Promise<void>;
}

const here = import.meta.url;

/** The worker beside this file: TypeScript under tsx and the tests, JavaScript when compiled. */
const WORKER = new URL(here.endsWith('.ts') ? './worker.ts' : './worker.js', here);

/**
 * A pool of worker threads (one unless asked for more) that are started with the first task and end after half a minute
 * without one. A task is copied to the thread and the forecast back.
 */
export function createForecastPool(threads = 1, worker: URL = WORKER): ForecastPool {
  const pool = new Piscina<unknown, unknown>({
    filename: worker.href,
    minThreads: 0,
    maxThreads: threads,
    idleTimeout: 30_000,
    execArgv: worker.pathname.endsWith('.ts') ? ['--import', 'tsx'] : [],
  });
  // A thread that cannot live must not take the counting down with it; its task is rejected, and that is reported.
  pool.on('error', () => undefined);
  return {
    search: (task) => pool.run(task) as Promise<Forecast>,
    attribute: (span: LedgerSpan) => pool.run(span, { name: 'attributeRoom' }) as Promise<LedgerPart[]>,
    close: () => pool.destroy(),
  };
}
