/**
 * What the disk costs the thread that answers requests: `npm run bench -- disk [seconds]`. A tap is committed every 20
 * ms, first so that the commit waits for the disk, then behind it (see `server/store/disk.ts`), each alone and while
 * another program writes to the same disk. Prints milliseconds that the commit holds the thread, and until it may be
 * answered: the middle, the 99th of 100, the longest.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Build } from '../../server/model/index.ts';
import { createDisk, createStore, openDatabase } from '../../server/store/index.ts';

const EVERY_MS = 20;
const SECONDS = 8;
/** Writes 64 MB and waits for the disk, again and again. */
const WRITER = `
  const fs = require('node:fs');
  const block = Buffer.alloc(1 << 20, 1);
  for (;;) {
    const file = fs.openSync(process.argv[1], 'w');
    for (let n = 0; n < 64; n++) fs.writeSync(file, block);
    fs.fsyncSync(file);
    fs.closeSync(file);
  }`;

const BUILD: Build = {
  id: 'lantern',
  name: 'Lantern',
  zone: 'UTC',
  event: '2036-12-20T18:00',
  steps: [{ id: 'cut', name: 'cut ribs', count: 4000, phases: [{ kind: 'hands', perUnit: 1 }] }],
};

export default async function disk([seconds = String(SECONDS)]: readonly string[]): Promise<void> {
  console.log('held and until it may be answered, ms: middle, 99th of 100, longest');
  for (const isBusy of [false, true]) {
    for (const isBehind of [false, true]) await taps(Number(seconds), isBehind, isBusy);
  }
}

async function taps(seconds: number, isBehind: boolean, isBusy: boolean): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'daywright-bench-'));
  const db = openDatabase(join(folder, 'disk.sqlite'));
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const under = createDisk(db.value);
  const store = createStore(db.value, under);
  const at = new Date().toISOString();
  store.builds.create(BUILD, { savedAt: at, who: 'maker', cause: { code: 'made' } });
  const { key } = store.builds.ground(BUILD.id)!;
  if (isBehind) under.fallBehind({ report: console.error });
  await store.synced();
  const writer = isBusy ? spawn(process.execPath, ['-e', WRITER, join(folder, 'other')]) : null;
  const [held, answered]: [number[], number[]] = [[], []];
  const waiting: Promise<unknown>[] = [];
  for (let n = 0; n < (seconds * 1000) / EVERY_MS; n++) {
    await new Promise((resolve) => setTimeout(resolve, EVERY_MS));
    const began = performance.now();
    store.log.append(key, [{ id: `bench-${process.pid}-${n}`, kind: 'done', step: 'cut', n: 1, at }], at);
    held.push(performance.now() - began);
    waiting.push(Promise.resolve(store.synced()).then(() => answered.push(performance.now() - began)));
  }
  await Promise.all(waiting);
  if (writer) await ended(writer);
  await under.close();
  store.close();
  rmSync(folder, { recursive: true, force: true });
  const name = `${isBehind ? 'behind' : 'at once'}${isBusy ? ', another writes' : ''}`;
  console.log(`  ${name.padEnd(26)}${shown(held)}   ${shown(answered)}`);
}

function ended(writer: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    writer.once('exit', () => resolve());
    writer.kill('SIGKILL');
  });
}

function shown(times: readonly number[]): string {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (part: number): number => sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))]!;
  return [at(0.5), at(0.99), at(1)].map((one) => one.toFixed(1).padStart(7)).join('');
}
