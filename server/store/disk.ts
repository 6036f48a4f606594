/**
 * When what was committed is on the disk: when the commit returns, or, in a server, behind the thread that answers
 * requests, so that it waits for no disk and others are answered meanwhile.
 */
import { closeSync, fdatasync, openSync, realpathSync } from 'node:fs';
import { type Checkpoints, createCheckpoints } from './checkpoints.ts';
import type { Db } from './open.ts';

export interface Disk {
  /**
   * Null: all that was committed and that somebody may be answered for is on the disk. Else it resolves when what was
   * committed so far is there, and rejects with `DiskLost` where the disk does not take it. Nobody may be answered for
   * a commit before.
   */
  synced(): Promise<void> | null;
  /**
   * Commits what can be computed again: nobody waits for it. It is on the disk with the next commit that somebody is
   * answered for, or when the system writes it.
   */
  unawaited<T>(commit: () => T): T;
  /**
   * From now on a commit returns before it is on the disk: whoever answers for it waits for `synced`. One sync is
   * shared by all commits that wait for it, and brings all those before them too. What the log holds goes into the
   * database file in a thread. Does nothing where the database has no write-ahead log, or the log cannot be opened.
   */
  fallBehind(parts: BehindParts): void;
  /** When the thread has let go of the database, which may then be closed. */
  close(): Promise<void>;
}

export interface BehindParts {
  /** Told of what goes wrong where nobody waits for an answer. */
  readonly report: (error: unknown) => void;
  /** Brings all that was written to an open file onto the disk, in a thread of the system; left out: `fdatasync`. */
  readonly sync?: (file: number) => Promise<void>;
  /** Pages of the log after which it is brought into the database file; left out: as many as SQLite takes by itself. */
  readonly pages?: number;
}

/**
 * The disk did not take what was committed. Whether it is there is known when the database is opened again, and until
 * then nothing more is written: a second sync that goes well says nothing of the first, whose pages the system may have
 * let go of.
 */
export class DiskLost extends Error {
  readonly code = 'DISK_LOST';

  constructor(cause: unknown) {
    super(`the disk did not take what was saved: ${(cause as Error).message}`, { cause });
  }
}

/** The disk under an open database: at first every commit is on it when it returns. */
export function createDisk(db: Db): Disk {
  let behind: Behind | null = null;
  return {
    synced: () => behind?.synced() ?? null,
    unawaited: (commit) => {
      if (db.inTransaction) return commit();
      return behind === null ? withoutSync(db, commit) : behind.unawaited(commit);
    },
    fallBehind: (parts) => {
      if (db.memory || db.pragma('journal_mode', { simple: true }) !== 'wal') return;
      try {
        behind = fallenBehind(db, parts);
      } catch (error) {
        parts.report(error);
      }
    },
    close: async () => {
      await behind?.close();
      behind = null;
    },
  };
}

function withoutSync<T>(db: Db, commit: () => T): T {
  db.pragma('synchronous = NORMAL');
  try {
    return commit();
  } finally {
    db.pragma('synchronous = FULL');
  }
}

type Behind = Omit<Disk, 'fallBehind'>;

/** Somebody who is to be answered for this many changes, the first ones. */
interface Waiting {
  readonly changes: number;
  readonly resolve: () => void;
  readonly reject: (error: unknown) => void;
}

/**
 * The log is synced by a number of its own. The database file is never opened here: to close it once would give up the
 * locks that SQLite has on it for the whole process. The log stays the same file while the database is open.
 *
 * SQLite itself still syncs the head of a log that begins again, and with it the folder of one that is new.
 *
 * On macOS the sync of `node:fs` reaches the disk (`F_FULLFSYNC`), as SQLite’s own does there by `fullfsync` alone;
 * on Windows both are `FlushFileBuffers`.
 */
function fallenBehind(db: Db, { report, sync = syncSoon, pages }: BehindParts): Behind {
  const log = openSync(`${realpathSync(db.name)}-wal`, 'r+');
  db.pragma('synchronous = NORMAL');
  const checkpoints = createCheckpoints(db, report, pages);
  const changes = countedChanges(db);
  const queue = createQueue(changes.count, () => sync(log));

  const lose = (error: unknown): void => {
    // What would bring the log into the database file could bring there what the disk never took.
    checkpoints.stop();
    db.pragma('query_only = ON');
    report(error);
  };
  return {
    synced: () => queue.synced(checkpoints.look, lose),
    unawaited: (commit) => {
      const made = changes.leaveOut(commit);
      checkpoints.look();
      return made;
    },
    close: async () => {
      await queue.idle();
      await checkpoints.close();
      closeSync(log);
      db.pragma('synchronous = FULL');
    },
  };
}

/** Rows that were ever changed through this connection, but for those of commits that nobody waits for. */
function countedChanges(db: Db) {
  const total = db.prepare('select total_changes()').pluck();
  let leftOut = 0;
  const count = (): number => (total.get() as number) - leftOut;
  return {
    count,
    leaveOut: <T>(commit: () => T): T => {
      const before = count();
      try {
        return commit();
      } finally {
        leftOut += count() - before;
      }
    },
  };
}

/** One sync at a time; whoever comes while it is under way waits for the next, all of them for the same. */
function createQueue(count: () => number, sync: () => Promise<void>) {
  let waiting: Waiting[] = [];
  // A program that was killed may have left what it had answered nobody for, and the same sent again is known.
  let synced = -1;
  let underWay: Promise<void> | null = null;
  let lost: DiskLost | null = null;

  const once = async (): Promise<void> => {
    const changes = count();
    await sync();
    synced = changes;
    const there = waiting.filter((one) => one.changes <= changes);
    waiting = waiting.filter((one) => one.changes > changes);
    for (const { resolve } of there) resolve();
  };
  const work = async (done: Checkpoints['look'], lose: (error: unknown) => void): Promise<void> => {
    try {
      while (waiting.length > 0) {
        await once();
        done();
      }
    } catch (error) {
      lost = new DiskLost(error);
      lose(lost);
      for (const { reject } of waiting.splice(0)) reject(lost);
    }
    underWay = null;
  };

  return {
    synced: (done: Checkpoints['look'], lose: (error: unknown) => void): Promise<void> | null => {
      if (lost !== null) return Promise.reject(lost);
      const changes = count();
      if (changes <= synced) return null;
      return new Promise((resolve, reject) => {
        waiting.push({ changes, resolve, reject });
        underWay ??= work(done, lose);
      });
    },
    idle: async (): Promise<void> => {
      await underWay;
    },
  };
}

function syncSoon(file: number): Promise<void> {
  return new Promise((resolve, reject) => {
    fdatasync(file, (error) => (error === null ? resolve() : reject(error)));
  });
}
