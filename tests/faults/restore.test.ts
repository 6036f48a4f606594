import { type ChildProcess, spawn } from 'node:child_process';
import { copyFileSync, existsSync, watch } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';
import { createStore, restoreDatabase } from '../../server/store/index.ts';
import { ARRIVED, lantern, openDb, SAVED, scratch, tap } from '../store/helpers.ts';

const ENTRIES = 1500;
const TIMED_KILLS = 4;
/** Kills that are tried for these: one that comes too late is none. */
const MOST_TRIES = 40;

interface Bench {
  readonly file: string;
  readonly backup: string;
}

/**
 * A database as a power cut leaves it, its last entry in the write-ahead log alone, and a backup of the time before.
 */
async function atPowerCut(): Promise<Bench> {
  const folder = scratch();
  const [file, backup] = [join(folder, 'a.sqlite'), join(folder, 'copy.sqlite')];
  const store = createStore(openDb(file));
  const { key } = store.builds.create(lantern(), SAVED);
  const entries = Array.from({ length: ENTRIES }, (_, i) => tap(`entry-${String(i).padStart(6, '0')}`));
  store.log.append(key, entries, ARRIVED);
  await store.backup(backup);
  store.log.append(key, [tap('after-the-backup')], ARRIVED);
  return { file, backup };
}

function copyOf({ file, backup }: Bench): Bench {
  const folder = scratch();
  for (const path of [file, `${file}-wal`, backup])
    copyFileSync(path, join(folder, path.slice(dirname(file).length + 1)));
  return { file: join(folder, 'a.sqlite'), backup: join(folder, 'copy.sqlite') };
}

/** The program that restores and kills itself, in one file, so that each start is quick. */
async function restoringProgram(): Promise<string> {
  const outfile = resolve('.cache', 'faults', `restoring-${process.pid}.mjs`);
  await build({
    entryPoints: [fileURLToPath(new URL('./restoring.ts', import.meta.url))],
    outfile,
    bundle: true,
    platform: 'node',
    format: 'esm',
    packages: 'external',
    logLevel: 'error',
  });
  return outfile;
}

function restoring(program: string, { file, backup }: Bench, call?: number): ChildProcess {
  return spawn(process.execPath, [program, backup, file, ...(call === undefined ? [] : [String(call)])]);
}

function ended(child: ChildProcess): Promise<{ out: string; killed: boolean }> {
  let out = '';
  child.stdout?.on('data', (data: Buffer) => {
    out += data.toString();
  });
  return new Promise((done) => child.on('close', (_, signal) => done({ out, killed: signal === 'SIGKILL' })));
}

/**
 * The next start finds it whole, of the time before or after; the restore that is tried again goes through. Entries
 * found.
 */
async function recovers({ file, backup }: Bench): Promise<number> {
  const db = openDb(file);
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  const entries = db.prepare('select count(*) from log').pluck().get() as number;
  db.close();
  expect(await restoreDatabase(backup, file)).toMatchObject({ ok: true });
  // Somebody who may only read can open it: no journal and no log stand beside it.
  const reader = new Database(file, { readonly: true });
  expect(reader.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(reader.prepare('select count(*) from log').pluck().get()).toBe(ENTRIES);
  reader.close();
  for (const end of ['.part', '.part-journal', '-journal', '-wal']) expect(existsSync(`${file}${end}`)).toBe(false);
  return entries;
}

describe('a restore', () => {
  it('puts no journal beside the database in place: whoever may not write could not open it after a kill', async () => {
    const { file, backup } = copyOf(await atPowerCut());
    const seen = new Set<string | null>();
    const watcher = watch(dirname(file), (_, name) => seen.add(name));
    expect(await restoreDatabase(backup, file)).toEqual({ ok: true, value: { keptAs: `${file}.before-restore` } });
    // The last file that it makes; what came before it has been heard of by then.
    await expect.poll(() => [...seen]).toContain('a.sqlite.before-restore');
    watcher.close();
    expect([...seen]).toContain('a.sqlite.part-journal');
    expect([...seen]).not.toContain('a.sqlite-journal');
  });

  it('keeps what was there in one file that can be looked into without another beside it', async () => {
    const { file, backup } = copyOf(await atPowerCut());
    await restoreDatabase(backup, file);
    const kept = new Database(`${file}.before-restore`, { readonly: true });
    expect(kept.prepare('select count(*) from log').pluck().get()).toBe(ENTRIES + 1);
    expect(existsSync(`${file}.before-restore-shm`)).toBe(false);
    kept.close();
  });
});

describe('a restore that is killed', () => {
  it('before any of its steps leaves a database that the next start opens', { timeout: 120_000 }, async () => {
    const [program, cut] = await Promise.all([restoringProgram(), atPowerCut()]);
    const calls = Number((await ended(restoring(program, copyOf(cut)))).out);
    expect(calls).toBeGreaterThan(8);
    const found = new Set<number>();
    for (let call = 1; call <= calls; call++) {
      const bench = copyOf(cut);
      expect((await ended(restoring(program, bench, call))).killed, `call ${call}`).toBe(true);
      found.add(await recovers(bench));
    }
    // Some kills came before the new one was in the place and some after, and nothing else was ever found.
    expect([...found].sort()).toEqual([ENTRIES, ENTRIES + 1]);
  });

  it('while SQLite writes leaves a database that the next start opens', { timeout: 120_000 }, async () => {
    const [program, cut] = await Promise.all([restoringProgram(), atPowerCut()]);
    const timed = async (child: ChildProcess) => {
      const before = performance.now();
      const { killed } = await ended(child);
      return { killed, took: performance.now() - before };
    };
    let whole = (await timed(restoring(program, copyOf(cut)))).took;
    let kills = 0;
    for (let tries = 0; kills < TIMED_KILLS && tries < MOST_TRIES; tries++) {
      const bench = copyOf(cut);
      const child = restoring(program, bench);
      setTimeout(() => child.kill('SIGKILL'), (whole * (kills + 5)) / (TIMED_KILLS + 5));
      const { killed, took } = await timed(child);
      if (killed) kills += 1;
      // Whatever was timed before had less of the machine.
      else whole = Math.min(whole, took);
      expect([ENTRIES, ENTRIES + 1]).toContain(await recovers(bench));
    }
    expect(kills).toBe(TIMED_KILLS);
  });
});
