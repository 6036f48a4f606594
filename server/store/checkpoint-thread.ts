/**
 * The thread beside `checkpoints.ts`: a connection of its own that brings what the log holds into the database file,
 * while others read and write. Asked for nothing, it ends.
 */
import { parentPort, workerData } from 'node:worker_threads';
import Database from 'better-sqlite3';

export interface Asked {
  /** Whoever reads or writes waits, so that all of the log goes over. */
  readonly whole: boolean;
}

export interface Brought {
  /** What kept it from going over. */
  readonly error?: string;
}

/** Commits that come while the log goes over leave little for the next time. */
const TIMES = 3;
/** Milliseconds to wait for whoever reads or writes: nobody can commit while the whole log waits for a reader. */
const LONGEST_WAIT = 20;

const db = new Database(workerData as string, { fileMustExist: true, timeout: LONGEST_WAIT });
db.pragma('synchronous = NORMAL');
db.pragma('wal_autocheckpoint = 0');

parentPort?.on('message', (asked: Asked | null) => {
  if (asked === null) {
    db.close();
    parentPort?.close();
    return;
  }
  parentPort?.postMessage(bring(asked));
});

function bring({ whole }: Asked): Brought {
  try {
    let over = false;
    for (let n = 0; n < TIMES && !over; n++) over = isOver('PASSIVE');
    if (whole) over = isOver('TRUNCATE');
    if (over) beginAgain();
    return {};
  } catch (error) {
    return { error: (error as Error).message };
  }
}

/** Whether nothing is left in the log. */
function isOver(mode: 'PASSIVE' | 'TRUNCATE'): boolean {
  const [at] = db.pragma(`wal_checkpoint(${mode})`) as [{ log: number; checkpointed: number }];
  return at.log === at.checkpointed;
}

/**
 * Whoever writes first to a log that has gone over begins it again at its head, and waits for the disk for it: so that
 * this is nobody who answers requests, the number of the version is written once more. Somebody else is quicker now and
 * then.
 */
function beginAgain(): void {
  const again = db.transaction(() => {
    db.pragma(`user_version = ${db.pragma('user_version', { simple: true })}`);
  });
  try {
    again.immediate();
  } catch (error) {
    if ((error as { code?: string }).code !== 'SQLITE_BUSY') throw error;
  }
}
