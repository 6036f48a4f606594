/** Brings the write-ahead log into the database file in a thread of its own, when it has grown. */
import { Worker } from 'node:worker_threads';
import type { Asked, Brought } from './checkpoint-thread.ts';
import type { Db } from './open.ts';

export interface Checkpoints {
  /** Something was committed: soon it is seen whether the log has grown enough. */
  look(): void;
  /** Brings nothing more there. */
  stop(): void;
  /** When the thread has closed its connection. */
  close(): Promise<void>;
}

/** Pages after which SQLite would do it by itself, in the commit that passes them. */
const PAGES = 1_000;
/** So many times that, a log that always has somebody writing or reading is brought there while they wait. */
const MOST_TIMES = 20;
/** Milliseconds from a commit to the look at the log: taps come together, and their answers first. */
const LOOK_MILLISECONDS = 300;

const here = import.meta.url;
const isSource = here.endsWith('.ts');
const THREAD = new URL(isSource ? './checkpoint-thread.ts' : './checkpoint-thread.js', here);
/** No thread begins with TypeScript: it is imported once its loader is there. */
const LOADER = [JSON.stringify('tsx/esm'), JSON.stringify(here), '{ data: true }'].join();
const AS_SOURCE = `require('node:module').register(${LOADER}); import(${JSON.stringify(THREAD.href)})`;

/**
 * Takes the checkpoints over from the connection of the thread that answers requests. Where the thread cannot be
 * started or dies, that connection does them again.
 */
export function createCheckpoints(db: Db, report: (error: unknown) => void, pages = PAGES): Checkpoints {
  let thread: Worker | null = null;
  let timer: NodeJS.Timeout | null = null;
  let isOver = false;
  let isAsked = false;
  let said: string | undefined;
  db.pragma('wal_autocheckpoint = 0');

  const giveUp = (error: unknown): void => {
    if (isOver) return;
    isOver = true;
    db.pragma(`wal_autocheckpoint = ${pages}`);
    report(error);
  };
  const begin = (): Worker => {
    const begun = new Worker(isSource ? AS_SOURCE : THREAD, { workerData: db.name, eval: isSource });
    begun.unref();
    begun.on('message', ({ error }: Brought) => {
      isAsked = false;
      // What keeps it from going over will do so again, at each commit.
      if (error !== undefined && error !== said && !isOver) {
        report(new Error(`the log could not be brought into the database: ${error}`));
      }
      said = error;
    });
    begun.on('error', giveUp);
    begun.on('exit', () => giveUp(new Error('the thread for the write-ahead log has ended')));
    return begun;
  };
  const see = (): void => {
    timer = null;
    if (isAsked || !db.open) return;
    const [log] = db.pragma('wal_checkpoint(NOOP)') as [{ log: number; checkpointed: number }];
    if (log.log - log.checkpointed < pages) return;
    isAsked = true;
    thread ??= begin();
    thread.postMessage({ whole: log.log >= pages * MOST_TIMES } satisfies Asked);
  };
  const stop = (): void => {
    isOver = true;
    if (timer !== null) clearTimeout(timer);
    timer = null;
  };
  return {
    look: () => {
      if (!isOver) timer ??= setTimeout(see, LOOK_MILLISECONDS).unref();
    },
    stop,
    close: async () => {
      stop();
      if (thread === null || thread.threadId === -1) return;
      const ended = new Promise((resolve) => thread?.once('exit', resolve));
      thread.ref();
      thread.postMessage(null);
      await ended;
    },
  };
}
