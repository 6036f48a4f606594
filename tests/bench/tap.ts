/**
 * What a tap costs: `npm run bench -- tap [taps]`. A tap is an HTTP request over a socket to the server as it runs for
 * a maker, on the disk before it is answered. It is compared with the same row put into the same table bare, in this
 * process: one bare insert before each tap, so that disk, caches and clock are alike for both; and against the same
 * request without a tap, which says what HTTP and the session take of it. Then eight phones at once, with taps and
 * without, and the page's weight.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { Agent } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { hashOf, newToken } from '../../server/web/secrets.ts';
import type { SendingAnswer } from '../../views/client/outbox/count-wire.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { type Phone, phone } from './parts/phone.ts';
import { ask, start } from './parts/server.ts';

const BUILD = 'tide-wall';
const STEP = 'sand-fish';
const PHONES = 8;
const WARM_UP = 40;
const ROUNDS = 10;
const CALM_MILLISECONDS = 20_000;

export default async function bench(args: readonly string[]): Promise<void> {
  const taps = Number(args[0] ?? 300);
  const folder = mkdtempSync(join(tmpdir(), 'daywright-bench-'));
  const file = join(folder, 'tap.sqlite');
  putTideWall(file);
  const server = await start(file);
  const bare = bareInserts(join(folder, 'bare.sqlite'));
  try {
    const cookies = letIn(file, PHONES + 2);
    const phones = await Promise.all(cookies.map((cookie) => phone(server.port, `/b/${BUILD}/entries`, cookie)));
    const [one, asking, ...eight] = phones as [Phone, Phone, ...Phone[]];
    for (let n = 0; n < WARM_UP; n++) {
      bare.insert();
      await tap(one);
    }
    await calm();
    const times: Times = { insert: [], nothing: [], one: [], eight: [], eightAsking: [] };
    // In turns, so that a machine that is slow for a while is so for all of them.
    for (let round = 0; round < ROUNDS; round++) {
      const each = Math.ceil(taps / ROUNDS);
      for (let n = 0; n < each; n++) {
        times.insert.push(bare.insert());
        times.one.push(await tap(one));
        times.nothing.push((await asking.post(NOTHING)).took);
      }
      // All in one minute, and fewer than the server takes from one address.
      await together(eight, each / 2, async (which) => times.eight.push(await tap(which)));
      await together(eight, each / 5, async (which) => times.eightAsking.push((await which.post(NOTHING)).took));
    }
    for (const each of phones) each.hangUp();
    tell(times);
    await weigh(server.port);
  } finally {
    bare.close();
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Each of them so often, one after the other; all of them at once. */
async function together(
  phones: readonly Phone[],
  times: number,
  act: (which: Phone) => Promise<unknown>,
): Promise<void> {
  const series = async (which: Phone) => {
    for (let n = 0; n < times; n++) await act(which);
  };
  await Promise.all(phones.map(series));
}

/** Milliseconds each. */
interface Times {
  readonly insert: number[];
  readonly nothing: number[];
  readonly one: number[];
  readonly eight: number[];
  readonly eightAsking: number[];
}

function tell({ insert, nothing, one, eight, eightAsking }: Times): void {
  const line = (name: string, values: readonly number[]) =>
    console.log(`${name.padEnd(23)} median ${ms(quantile(values, 0.5))}   p99 ${ms(quantile(values, 0.99))}`);
  const [bare, slowest] = [quantile(insert, 0.5), quantile(eight, 0.99)];
  line('bare durable insert', insert);
  line('a request without a tap', nothing);
  line('one phone', one);
  console.log(`  ratio of the medians  ${(quantile(one, 0.5) / bare).toFixed(2)} (aim: under 3)`);
  line(`${PHONES} phones at once`, eight);
  line('  without a tap', eightAsking);
  const idle = quantile(eightAsking, 0.99);
  const slow = quantile(insert, 0.99);
  console.log(
    `  p99 in bare inserts   ${(slowest / slow).toFixed(2)} p99s (aim: under ${PHONES}), ${(slowest / bare).toFixed(2)} medians; without a tap ${(idle / slow).toFixed(2)} and ${(idle / bare).toFixed(2)}`,
  );
}

/** The same rows into the same table, one after the other, each on the disk before the next. */
function bareInserts(file: string): { insert(): number; close(): void } {
  const db = openDatabase(file);
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const { builds, log, close } = createStore(db.value);
  const { key } = builds.create(tideWall(minutes()).build, SAVED);
  const insert = (): number => {
    const entry = newEntry();
    const began = performance.now();
    log.append(key, [entry], entry.at);
    return performance.now() - began;
  };
  return { insert, close };
}

const SAVED = { savedAt: new Date().toISOString(), who: 'maker', cause: { code: 'made' } } as const;

function minutes(): number {
  return Math.floor(Date.now() / 60_000);
}

/** The build that is tapped at, before the server starts, which puts its own demo into an empty database only. */
function putTideWall(file: string): void {
  const db = openDatabase(file);
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const { builds, close } = createStore(db.value);
  builds.create(tideWall(minutes()).build, SAVED);
  close();
}

/** Sessions of helpers, put into the database beside the server. */
function letIn(file: string, count: number): string[] {
  const db = openDatabase(file);
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const { access, close } = createStore(db.value);
  const cookies = Array.from({ length: count }, (_, n) => {
    const [token, code] = [newToken(), newToken()];
    const now = Date.now();
    access.addJoinCode({ hash: hashOf(code), build: BUILD, createdAt: now, expiresAt: now + 60_000, mostUses: 1 });
    access.join(hashOf(code), { id: newToken(), name: `Phone ${n}`, tokenHash: hashOf(token) }, now);
    return `daywright=${token}`;
  });
  close();
  return cookies;
}

/**
 * Until what the start has to compute is computed, the past of the demo included: a maker’s server has been up for a
 * while.
 */
function calm(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, CALM_MILLISECONDS));
}

/** A sending of no entry: all of a tap but the tap. */
const NOTHING = JSON.stringify({ entries: [], last: null });

/** As a phone sends it: with the last entry that it knows to have arrived. */
async function tap(which: Phone): Promise<number> {
  const { text, took } = await which.post(JSON.stringify({ entries: [newEntry()], last: arrived.get(which) ?? null }));
  const { receipts, knowsLast } = JSON.parse(text) as SendingAnswer;
  const [{ id, state, seq } = { id: '', state: '', seq: null }] = receipts;
  if (state !== 'stored' || seq === null || !knowsLast) throw new Error(text);
  arrived.set(which, { id, seq });
  return took;
}

const arrived = new Map<Phone, { id: string; seq: number }>();

let number = 0;

function newEntry() {
  number += 1;
  const at = new Date().toISOString();
  return { id: `bench-${process.pid}-${number}`, kind: 'done' as const, step: STEP, n: 1, at, phoneAt: at };
}

/**
 * The page, everything it names, and everything that names in turn; each compressed by itself. Lettering is so already.
 */
async function weigh(port: number): Promise<void> {
  const agent = new Agent({ keepAlive: true });
  const seen = new Set<string>();
  const elsewhere = new Set<string>();
  const wanted = [`/b/${BUILD}/count`];
  let total = 0;
  for (let path = wanted.pop(); path !== undefined; path = wanted.pop()) {
    if (seen.has(path)) continue;
    seen.add(path);
    const { status, text, bytes } = await ask(port, path, agent);
    if (status !== 200) throw new Error(`${status} for ${path}`);
    const weight = path.endsWith('.woff2') ? bytes.length : gzipSync(bytes, { level: 9 }).length;
    total += weight;
    console.log(`  ${path.padEnd(62)} ${(weight / 1024).toFixed(1).padStart(6)} kB`);
    const named = namedIn(path, text);
    for (const each of named) (each.startsWith('/') ? wanted : elsewhere.add(each) && []).push(each);
  }
  console.log(
    `Count page              ${(total / 1024).toFixed(1)} kB compressed (aim: under 60), outside requests: ${elsewhere.size}`,
  );
}

/** Lettering is fetched only where it is used: the Count page uses its own two faces of those that are declared. */
function namedIn(path: string, text: string): string[] {
  if (path.endsWith('.css')) {
    if (!path.endsWith('/count.css')) return [];
    return [...text.matchAll(/url\("([^"]+)"\)/g)].map((match) => match[1]!);
  }
  if (path.endsWith('.js')) return [...text.matchAll(/from '\.\/([^']+)'/g)].map((match) => `/assets/${match[1]}`);
  if (!path.endsWith('/count')) return [];
  const tags = [...text.matchAll(/<(?:link|script|img)[^>]*?(?:href|src)="([^"]+)"/g)].map((match) => match[1]!);
  return tags;
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;
}

function ms(value: number): string {
  return `${value.toFixed(2)} ms`.padStart(10);
}
