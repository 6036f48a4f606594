import { chmodSync, existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import {
  backupDatabase,
  createStore,
  newestSchemaVersion,
  openDatabase,
  restoreDatabase,
  schemaVersion,
} from '../../server/store/index.ts';
import { ARRIVED, lantern, openDb, openStore, SAVED, scratch, tap } from './helpers.ts';

describe('opening a database', () => {
  it('makes the folder and the file and brings them up to date', () => {
    const db = openDb(join(scratch(), 'deep', 'down.sqlite'));
    expect(schemaVersion(db)).toBe(newestSchemaVersion());
    expect(newestSchemaVersion()).toBeGreaterThanOrEqual(3);
  });

  it('puts every commit on the disk and keeps foreign keys', () => {
    const db = openDb(join(scratch(), 'a.sqlite'));
    expect(db.pragma('journal_mode', { simple: true })).toBe('wal');
    expect(db.pragma('synchronous', { simple: true })).toBe(2);
    expect(db.pragma('foreign_keys', { simple: true })).toBe(1);
    expect(() =>
      db.prepare("insert into log (build_key, seq, id, arrived, entry) values (99, 1, 'a', 'b', '{}')").run(),
    ).toThrow(/FOREIGN KEY/);
  });

  it('leaves what is there when it is opened a second time', () => {
    const file = join(scratch(), 'a.sqlite');
    const first = openStore(file);
    first.builds.create(lantern(), SAVED);
    first.close();
    expect(
      openStore(file)
        .builds.list()
        .map((b) => b.id),
    ).toEqual(['lantern']);
  });

  it('finds the plans before changes that an older Daywright kept in their rows', () => {
    const file = join(scratch(), 'a.sqlite');
    const db = openDb(file);
    const { key } = createStore(db).builds.create(lantern(), SAVED);
    db.exec(`
      drop table forecast_formers;
      alter table forecast_history add column former text check (former is null or json_valid(former));
      pragma user_version = 18`);
    const add = db.prepare(`
      insert into forecast_history (build_key, number, computed_at, revision, log_seq, cause, facts, former)
      values (?, ?, 5, 1, 0, '', '[]', ?)`);
    for (const [i, former] of [null, '["one"]', null, '["two"]'].entries()) add.run(key, i + 1, former);
    db.close();
    const { forecasts } = openStore(file);
    const first = forecasts.pending(key, [])!;
    const second = forecasts.pending(key, [first.former])!;
    expect([first, second].map(({ number, former }) => [number, forecasts.former(former)])).toEqual([
      [2, '["one"]'],
      [4, '["two"]'],
    ]);
    expect(forecasts.pending(key, [first.former, second.former])).toBeNull();
    expect(forecasts.history(key)).toHaveLength(4);
  });

  it('refuses in words a database that a newer Daywright wrote', () => {
    const file = join(scratch(), 'a.sqlite');
    const db = openDb(file);
    db.pragma(`user_version = ${newestSchemaVersion() + 1}`);
    db.close();
    const result = openDatabase(file);
    expect(result.ok ? [] : result.problems.map((p) => [p.code, p.field])).toEqual([['version', 'db']]);
    expect(result.ok ? '' : result.problems[0]!.message).toMatch(/newer Daywright.*update Daywright/);
  });

  it('leaves the database of another program alone', () => {
    const file = join(scratch(), 'a.sqlite');
    const other = new Database(file);
    other.exec('create table recipes (name text)');
    other.close();
    const before = readFileSync(file);
    const result = openDatabase(file);
    expect(result.ok ? '' : result.problems[0]!.message).toMatch(/another program/);
    expect(readFileSync(file)).toEqual(before);
  });

  it('says of a text file that it is no database', () => {
    const file = join(scratch(), 'a.sqlite');
    writeFileSync(file, 'a shopping list, much longer than a hundred bytes. '.repeat(40));
    const result = openDatabase(file);
    expect(result.ok ? '' : result.problems[0]!.message).toMatch(/is not a database/);
  });
});

describe('backing up and restoring', () => {
  it('copies a database in use, and later entries are not in the copy', async () => {
    const folder = scratch();
    const db = openDb(join(folder, 'a.sqlite'));
    const store = createStore(db);
    const { key } = store.builds.create(lantern(), SAVED);
    store.log.append(key, [tap('entry-0001')], ARRIVED);
    await backupDatabase(db, join(folder, 'copy.sqlite'));
    store.log.append(key, [tap('entry-0002')], ARRIVED);
    const copy = openStore(join(folder, 'copy.sqlite'));
    expect(copy.log.since(key).map((e) => e.id)).toEqual(['entry-0001']);
    expect(existsSync(join(folder, 'copy.sqlite.part'))).toBe(false);
  });

  it('puts a backup back and keeps what was there beside it', async () => {
    const folder = scratch();
    const file = join(folder, 'a.sqlite');
    const store = openStore(file);
    const { key } = store.builds.create(lantern(), SAVED);
    await store.backup(join(folder, 'copy.sqlite'));
    store.log.append(key, [tap('entry-0001')], ARRIVED);
    store.close();
    const result = await restoreDatabase(join(folder, 'copy.sqlite'), file);
    expect(result).toEqual({ ok: true, value: { keptAs: `${file}.before-restore` } });
    const restored = openStore(file);
    expect(restored.log.since(key)).toEqual([]);
    // A phone that had counted after the backup brings its entry again, and it is new here.
    expect(restored.log.append(key, [tap('entry-0001')], ARRIVED)[0]!.state).toBe('stored');
    expect(openStore(`${file}.before-restore`).log.since(key)).toHaveLength(1);
  });

  it('refuses to restore over a database that is open', async () => {
    const folder = scratch();
    const file = join(folder, 'a.sqlite');
    const store = openStore(file);
    store.builds.create(lantern(), SAVED);
    await store.backup(join(folder, 'copy.sqlite'));
    const result = await restoreDatabase(join(folder, 'copy.sqlite'), file);
    expect(result.ok ? '' : result.problems[0]!.message).toMatch(/stop Daywright/);
    expect(store.builds.list()).toHaveLength(1);
  });

  it.each([
    ['missing', null, /no file/],
    ['text', 'x'.repeat(5000), /is not a database/],
    ['empty', '', /not a backup/],
  ])('refuses a backup that is %s', async (_, content, words) => {
    const folder = scratch();
    const backup = join(folder, 'copy.sqlite');
    if (content !== null) writeFileSync(backup, content);
    const result = await restoreDatabase(backup, join(folder, 'a.sqlite'));
    expect(result.ok ? '' : result.problems[0]!.message).toMatch(words);
    expect(existsSync(join(folder, 'a.sqlite'))).toBe(false);
  });
});

describe('what stands on the disk', () => {
  const rights = (path: string) => (statSync(path).mode & 0o777).toString(8);

  it('is its owner’s alone: folder, database, log and copies', async () => {
    const folder = join(scratch(), 'data');
    const file = join(folder, 'a.sqlite');
    const store = openStore(file);
    store.builds.create(lantern(), SAVED);
    await store.backup(join(folder, 'a.sqlite.copy'));
    expect([folder, file, `${file}-wal`, `${file}.copy`].map(rights)).toEqual(['700', '600', '600', '600']);
    store.close();
    await restoreDatabase(`${file}.copy`, file);
    expect([file, `${file}.before-restore`].map(rights)).toEqual(['600', '600']);
  });

  it('becomes so at the next start where an older Daywright made it', () => {
    const folder = join(scratch(), 'data');
    const file = join(folder, 'a.sqlite');
    openStore(file).close();
    chmodSync(folder, 0o755);
    chmodSync(file, 0o644);
    writeFileSync(`${file}.before-restore`, '', { mode: 0o644 });
    openStore(file).close();
    expect([folder, file, `${file}.before-restore`].map(rights)).toEqual(['700', '600', '600']);
  });

  it('leaves the rights of a folder that holds other things', () => {
    const folder = scratch();
    writeFileSync(join(folder, 'recipes.txt'), 'soup');
    chmodSync(folder, 0o755);
    openStore(join(folder, 'a.sqlite')).close();
    expect(rights(folder)).toBe('755');
  });
});
