import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openDb, scratch } from '../store/helpers.ts';
import { prepare } from './servers.ts';

const KILLS = 10;

describe('a program whose log goes into the database in a thread', () => {
  it('loses no entry that it had synced, whenever it is killed', { timeout: 120_000 }, async () => {
    const file = join(scratch(), 'a.sqlite');
    prepare(file);
    const program = await bundled();
    const said: string[] = [];
    for (let kill = 0; kill < KILLS; kill++) {
      const child = spawn(process.execPath, [program, file]);
      const over = outputOf(child);
      // Every other kill comes while the log goes over and begins again, the others before.
      if (kill % 2 === 0)
        await expect.poll(() => timesBegun(file), { timeout: 20_000, interval: 5 }).toBeGreaterThan(0);
      else await expect.poll(() => existsSync(`${file}-wal`), { timeout: 20_000, interval: 5 }).toBe(true);
      await new Promise((later) => setTimeout(later, (kill * 37) % 150));
      child.kill('SIGKILL');
      said.push(...(await over));
      const db = openDb(file);
      expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
      const there = new Set(db.prepare('select id from log').pluck().all());
      expect(said.filter((id) => !there.has(id))).toEqual([]);
      db.close();
    }
    expect(said.length).toBeGreaterThan(KILLS * 10);
  });
});

/** How often the log has begun again since it was made: a number in its head (sqlite.org/fileformat2.html, 4.1). */
function timesBegun(file: string): number {
  if (!existsSync(`${file}-wal`)) return 0;
  const log = readFileSync(`${file}-wal`);
  return log.length < 32 ? 0 : log.readUInt32BE(12);
}

/** The whole lines that it said until it was killed. */
function outputOf(child: ChildProcess): Promise<string[]> {
  let out = '';
  let wrong = '';
  child.stdout?.on('data', (data: Buffer) => {
    out += data.toString();
  });
  child.stderr?.on('data', (data: Buffer) => {
    wrong += data.toString();
  });
  return new Promise((done, reject) =>
    child.on('close', (_, signal) => {
      if (signal === 'SIGKILL' && wrong === '') done(out.split('\n').slice(0, -1));
      else reject(new Error(wrong));
    }),
  );
}

/** The program and its thread, each in one file, so that a start is quick. */
async function bundled(): Promise<string> {
  const outdir = resolve('.cache', 'faults', `behind-${process.pid}`);
  onTestFinished(() => rmSync(outdir, { recursive: true, force: true }));
  mkdirSync(outdir, { recursive: true });
  await build({
    entryPoints: ['./behind.ts', '../../server/store/checkpoint-thread.ts'].map((path) =>
      fileURLToPath(new URL(path, import.meta.url)),
    ),
    outdir,
    entryNames: '[name]',
    bundle: true,
    platform: 'node',
    format: 'esm',
    outExtension: { '.js': '.js' },
    packages: 'external',
    logLevel: 'error',
  });
  return join(outdir, 'behind.js');
}
