/**
 * Where the boxes of a large picture of what waits for what lie: worked out in a thread of its own, since that takes
 * tenths of a second.
 */
import { Worker } from 'node:worker_threads';
import { type ToLayOut, type WaitsLayout, waitsLayout } from '../../../views/pictures/waits-layout.ts';

export interface Layouts {
  /** Rejects where the thread dies. */
  of(asked: ToLayOut): Promise<WaitsLayout>;
  /** Ends the thread. */
  close(): Promise<void>;
}

/** What the thread is given and what it answers. */
export interface Numbered {
  readonly number: number;
  readonly asked: ToLayOut;
}

export interface LaidOut {
  readonly number: number;
  readonly layout: WaitsLayout;
}

/** Fewer are laid out here: the library's first layout takes as long for a dozen boxes as for a hundred. */
const FEWEST_BOXES = 3;
const IDLE_MILLISECONDS = 60_000;
const here = import.meta.url;
/** No thread begins with TypeScript: what is not compiled lays out here. */
const isCompiled = here.endsWith('.js');
const THREAD = new URL('./layout-thread.js', here);

interface Waiting {
  readonly resolve: (layout: WaitsLayout) => void;
  readonly reject: (error: unknown) => void;
}

/** The thread begins with the first large picture, and ends when none has been asked for in a minute. */
export function createLayouts(): Layouts {
  const waiting = new Map<number, Waiting>();
  let thread: Worker | null = null;
  let idle: NodeJS.Timeout | undefined;
  let numbers = 0;

  const begin = (): Worker => {
    const begun = new Worker(THREAD);
    const end = (error: unknown): void => {
      if (thread !== begun) return;
      thread = null;
      for (const { reject } of waiting.values()) reject(error);
      waiting.clear();
    };
    begun.unref();
    begun.on('message', ({ number, layout }: LaidOut) => {
      waiting.get(number)?.resolve(layout);
      waiting.delete(number);
    });
    begun.on('error', end);
    begun.on('exit', () => end(new Error('the thread that lays pictures out has ended')));
    return begun;
  };

  const end = async (): Promise<void> => {
    clearTimeout(idle);
    await thread?.terminate();
  };

  return {
    of: (asked) => {
      if (!isCompiled || asked.sizes.length < FEWEST_BOXES) return Promise.resolve(waitsLayout(asked));
      numbers += 1;
      const number = numbers;
      thread ??= begin();
      thread.postMessage({ number, asked } satisfies Numbered);
      clearTimeout(idle);
      idle = setTimeout(() => (waiting.size === 0 ? void end() : undefined), IDLE_MILLISECONDS).unref();
      return new Promise((resolve, reject) => waiting.set(number, { resolve, reject }));
    },
    close: end,
  };
}
