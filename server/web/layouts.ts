/**
 * Where the boxes of a large picture of what waits for what lie: worked out in a thread of its own, since that takes
 * tenths of a second.
 */
import { Piscina } from 'piscina';
import { type ToLayOut, type WaitsLayout, waitsLayout } from '../../views/pictures/waits-layout.ts';

export interface Layouts {
  of(asked: ToLayOut): Promise<WaitsLayout>;
  /** Ends the thread. */
  close(): Promise<void>;
}

/** Fewer are laid out sooner than a thread has begun. */
const FEWEST_BOXES = 40;
const IDLE_MILLISECONDS = 60_000;
const here = import.meta.url;
const isSource = here.endsWith('.ts');
const THREAD = new URL(isSource ? './layout-thread.ts' : './layout-thread.js', here);

/** The thread begins with the first large picture, and ends when none has been asked for in a minute. */
export function createLayouts(): Layouts {
  let pool: Piscina<ToLayOut, WaitsLayout> | null = null;
  const begin = () =>
    new Piscina<ToLayOut, WaitsLayout>({
      filename: THREAD.href,
      minThreads: 0,
      maxThreads: 1,
      idleTimeout: IDLE_MILLISECONDS,
      execArgv: isSource ? ['--import', 'tsx'] : [],
    });
  return {
    of: async (asked) => {
      if (asked.sizes.length < FEWEST_BOXES) return waitsLayout(asked);
      pool ??= begin();
      return pool.run(asked);
    },
    close: async () => pool?.destroy(),
  };
}
