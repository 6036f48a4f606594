import { copyFileSync, existsSync, readFileSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { createCheckpoints } from '../../server/store/checkpoints.ts';
import { type BehindParts, createDisk, createStore, type Db, type Disk } from '../../server/store/index.ts';
import { ARRIVED, lantern, openDb, openStore, SAVED, scratch, tap } from './helpers.ts';

/** A store that has fallen behind, with a build in it. */
async function behind(parts: Partial<BehindParts> = {}, file = join(scratch(), 'a.sqlite')) {
  const db = openDb(file);
  const disk = createDisk(db);
  onTestFinished(() => disk.close());
  const store = createStore(db, disk);
  const { key } = store.builds.create(lantern(), SAVED);
  const reported: unknown[] = [];
  disk.fallBehind({ report: (error) => reported.push(error), ...parts });
  await disk.synced();
  let made = 0;
  const count = (changes = {}): string => {
    made += 1;
    const id = `entry-${String(made).padStart(6, '0')}`;
    store.log.append(key, [tap(id, changes)], ARRIVED);
    return id;
  };
  return { file, db, disk, store, key, count, reported };
}

/** Syncs that end when they are told to, but for the first. */
function byHand() {
  const begun: { end: () => void; fail: (error: Error) => void }[] = [];
  let times = 0;
  const sync = (): Promise<void> =>
    new Promise((resolve, reject) => {
      times += 1;
      if (times === 1) resolve();
      else begun.push({ end: resolve, fail: reject });
    });
  return { begun, sync };
}

/** Whether a promise has resolved by now. */
function watched(promise: Promise<void> | null): { isOver: boolean } {
  const state = { isOver: promise === null };
  promise?.then(() => {
    state.isOver = true;
  });
  return state;
}

const framesOf = (db: Db) => (db.pragma('wal_checkpoint(NOOP)') as [{ log: number; checkpointed: number }])[0];

const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

describe('a disk that has not fallen behind', () => {
  it('has every commit when it returns', () => {
    const db = openDb(join(scratch(), 'a.sqlite'));
    const disk = createDisk(db);
    createStore(db, disk).builds.create(lantern(), SAVED);
    expect(disk.synced()).toBeNull();
    expect(db.pragma('synchronous', { simple: true })).toBe(2);
  });

  it('stays so where there is no write-ahead log, and where the log cannot be opened', () => {
    const inMemory = openDb();
    const without = createDisk(inMemory);
    const reported: unknown[] = [];
    without.fallBehind({ report: (error) => reported.push(error) });
    createStore(inMemory, without).builds.create(lantern(), SAVED);
    expect([without.synced(), reported]).toEqual([null, []]);

    const file = join(scratch(), 'a.sqlite');
    const db = openDb(file);
    const disk = createDisk({ name: `${file}-elsewhere`, memory: false, pragma: db.pragma.bind(db) } as unknown as Db);
    disk.fallBehind({ report: (error) => reported.push(error) });
    expect([disk.synced(), reported.length]).toEqual([null, 1]);
    expect(db.pragma('synchronous', { simple: true })).toBe(2);
  });
});

describe('a disk that has fallen behind', () => {
  it('answers for a commit only after a sync that began when it was made', async () => {
    const { begun, sync } = byHand();
    const { disk, count } = await behind({ sync });
    expect(disk.synced()).toBeNull();
    count();
    const first = watched(disk.synced());
    count();
    const second = watched(disk.synced());
    await turn();
    expect([begun.length, first.isOver, second.isOver]).toEqual([1, false, false]);
    begun[0]!.end();
    await turn();
    expect([begun.length, first.isOver, second.isOver]).toEqual([2, true, false]);
    begun[1]!.end();
    await turn();
    expect([second.isOver, disk.synced()]).toEqual([true, null]);
  });

  it('shares one sync among all commits that came while another was under way', async () => {
    const { begun, sync } = byHand();
    const { disk, count } = await behind({ sync });
    count();
    const first = disk.synced();
    const others = Array.from({ length: 20 }, () => {
      count();
      return disk.synced();
    });
    begun[0]!.end();
    await first;
    await turn();
    begun[1]!.end();
    await Promise.all(others);
    expect(begun).toHaveLength(2);
  });

  it('has whoever asks for nothing new wait for what others have committed', async () => {
    const { begun, sync } = byHand();
    const { disk, store, key, count } = await behind({ sync });
    const id = count();
    expect(store.log.append(key, [tap(id)], ARRIVED)[0]!.state).toBe('known');
    const known = watched(disk.synced());
    await turn();
    expect(known.isOver).toBe(false);
    begun[0]!.end();
    await turn();
    expect(known.isOver).toBe(true);
  });

  it('sees every write, also those outside a transaction', async () => {
    const { disk, store } = await behind();
    const writes: (() => unknown)[] = [
      () => store.access.openMakerSession('hash', 1),
      () => store.access.endMakerSession('hash', 2),
      () => store.keys.add('lantern', { name: 'scale', tokenHash: 'other', createdAt: 1 }),
      () => store.builds.remove('lantern', ARRIVED),
    ];
    for (const write of writes) {
      write();
      expect(disk.synced(), String(write)).not.toBeNull();
      await disk.synced();
      expect(disk.synced()).toBeNull();
    }
  });

  it('has nobody wait for what can be computed again', async () => {
    const { db, disk } = await behind();
    disk.unawaited(() => db.exec("insert into maker_sessions (token_hash, created_at) values ('later', 1)"));
    expect(disk.synced()).toBeNull();
    db.exec("insert into maker_sessions (token_hash, created_at) values ('now', 1)");
    expect(disk.synced()).not.toBeNull();
  });

  it('finds the log of a database that is behind a link', async () => {
    const folder = scratch();
    openDb(join(folder, 'real.sqlite'));
    symlinkSync(join(folder, 'real.sqlite'), join(folder, 'link.sqlite'));
    const { disk, count, reported } = await behind({}, join(folder, 'link.sqlite'));
    count();
    await disk.synced();
    expect(reported).toEqual([]);
  });
});

describe('what a program that was killed has left in the log', () => {
  it('is synced before anybody is answered', async () => {
    const db = openDb(join(scratch(), 'a.sqlite'));
    const disk = createDisk(db);
    onTestFinished(() => disk.close());
    let end: (() => void) | undefined;
    disk.fallBehind({
      report: () => undefined,
      sync: () =>
        new Promise((resolve) => {
          end = resolve;
        }),
    });
    const first = watched(disk.synced());
    await turn();
    expect(first.isOver).toBe(false);
    end!();
    await turn();
    expect([first.isOver, disk.synced()]).toEqual([true, null]);
  });
});

describe('a disk that does not take what was committed', () => {
  it('answers for none of it, writes nothing more, and claims nothing after a sync that would go well', {
    timeout: 30_000,
  }, async () => {
    const { begun, sync } = byHand();
    const { db, disk, count, reported } = await behind({ sync, pages: 5 });
    const fill = async (): Promise<void> => {
      for (let n = 0; n < 30; n++) count({ note: 'x'.repeat(1500) });
      const there = disk.synced();
      await turn();
      for (const { end } of begun.splice(0)) end();
      await there;
    };
    await fill();
    await expect.poll(() => framesOf(db).log, { timeout: 20_000 }).toBe(1);
    await fill();
    count();
    const first = disk.synced();
    count();
    const second = disk.synced();
    await turn();
    begun[0]!.fail(new Error('EIO: i/o error'));
    await expect(first).rejects.toMatchObject({ code: 'DISK_LOST', message: expect.stringMatching(/EIO/) });
    await expect(second).rejects.toMatchObject({ code: 'DISK_LOST' });
    expect(() => count()).toThrow(/readonly/);
    await expect(disk.synced()).rejects.toMatchObject({ code: 'DISK_LOST' });
    expect([begun.length, reported.length]).toEqual([1, 1]);
    // The log, which is long enough, goes over no more.
    const before = framesOf(db);
    await new Promise((resolve) => setTimeout(resolve, 1000));
    expect(framesOf(db)).toEqual(before);
    expect(before).toMatchObject({ checkpointed: 0 });
  });
});

describe('a power cut', () => {
  /** What the disk has: the database file, and of the log what was there when the last whole sync began. */
  function cutting(file: string, took: () => number) {
    const disk = { log: readFileSync(`${file}-wal`) };
    copyFileSync(file, `${file}.cut`);
    const sync = async (): Promise<void> => {
      const log = readFileSync(`${file}-wal`);
      await new Promise((resolve) => setTimeout(resolve, took()));
      disk.log = log;
    };
    const cut = (): string => {
      writeFileSync(`${file}.cut-wal`, disk.log);
      return `${file}.cut`;
    };
    return { sync, cut };
  }

  it('loses nothing that was answered, at whatever moment it comes', async () => {
    for (let n = 0; n < 12; n++) {
      const file = join(scratch(), 'a.sqlite');
      let sync: BehindParts['sync'];
      const { disk, count } = await behind({ sync: async (log) => sync?.(log) }, file);
      let syncs = 0;
      const power = cutting(file, () => (++syncs * 3 + n) % 5);
      sync = power.sync;
      const answered: string[] = [];
      for (let i = 0; i < 40; i++) {
        if (i % 3 === 0) await new Promise((resolve) => setTimeout(resolve, (i + n) % 4));
        const ids = [count(), count()];
        void disk.synced()?.then(() => answered.push(...ids));
      }
      const there = [...answered];
      const kept = openDb(power.cut()).prepare('select id from log order by seq').pluck().all();
      expect(kept).toEqual(expect.arrayContaining(there));
      expect(there.length, 'answered').toBeGreaterThan(0);
      // The last ones were on their way.
      expect(kept.length).toBeLessThan(80);
      await disk.synced();
    }
  });
});

describe('the write-ahead log', () => {
  const synced = (disk: Disk) => disk.synced() ?? Promise.resolve();

  it('goes into the database file in a thread once it has grown, and begins again', { timeout: 30_000 }, async () => {
    const { file, db, disk, count, reported } = await behind({ pages: 50 });
    expect(db.pragma('wal_autocheckpoint', { simple: true })).toBe(0);
    while (framesOf(db).log < 60) count({ note: 'x'.repeat(1500) });
    await synced(disk);
    await expect.poll(() => framesOf(db).log, { timeout: 20_000 }).toBe(1);
    const length = statSync(`${file}-wal`).size;
    count();
    await synced(disk);
    expect(statSync(`${file}-wal`).size).toBe(length);
    expect(reported).toEqual([]);
    // What went over is in the file itself.
    const before = db.prepare('select count(*) from log').pluck().get();
    copyFileSync(file, `${file}.alone`);
    const alone = new Database(`${file}.alone`);
    expect(alone.prepare('select count(*) from log').pluck().get()).toBe((before as number) - 1);
    alone.close();
  });

  it('does not grow for ever while somebody always reads', { timeout: 60_000 }, async () => {
    const { db, disk, count, file } = await behind({ pages: 5 });
    const reader = new Database(file, { readonly: true });
    reader.exec('begin; select 1 from log');
    for (let n = 0; n < 60; n++) count({ note: 'x'.repeat(1500) });
    await synced(disk);
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(framesOf(db).log).toBeGreaterThan(60);
    reader.close();
    count();
    await synced(disk);
    await expect.poll(() => framesOf(db).log, { timeout: 40_000 }).toBeLessThan(10);
  });

  it('is gone when the database is closed', async () => {
    const { file, db, disk, count } = await behind({ pages: 5 });
    for (let n = 0; n < 30; n++) count({ note: 'x'.repeat(1500) });
    await synced(disk);
    await new Promise((resolve) => setTimeout(resolve, 400));
    await disk.close();
    db.close();
    expect(['-wal', '-shm'].map((end) => existsSync(`${file}${end}`))).toEqual([false, false]);
    expect(openStore(file).log.since(1)).toHaveLength(30);
  });

  it('is brought over by the connection itself again where the thread cannot work', { timeout: 30_000 }, async () => {
    const { file, db, count } = await behind();
    const reported: unknown[] = [];
    const misnamed = Object.create(db, { name: { value: `${file}-nowhere` } }) as Db;
    const checkpoints = createCheckpoints(misnamed, (error) => reported.push(error), 5);
    for (let n = 0; n < 30; n++) count({ note: 'x'.repeat(1500) });
    checkpoints.look();
    await expect.poll(() => reported.length, { timeout: 20_000 }).toBe(1);
    expect(db.pragma('wal_autocheckpoint', { simple: true })).toBe(5);
    count();
    expect(framesOf(db).checkpointed).toBeGreaterThan(0);
    await checkpoints.close();
    expect(existsSync(`${file}-nowhere`)).toBe(false);
  });
});
