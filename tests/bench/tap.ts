/**
 * What a tap costs: `npm run bench -- tap [taps]`. A tap is on the disk before it is answered; it is held against the same
 * row put there bare, in one process, by one durable insert after the other. Then eight phones at once, and the page's weight.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { Agent } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { demoFile } from '../../seed/demo.ts';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { hashOf, newToken } from '../../server/web/secrets.ts';
import { ask, start } from './_server.ts';

const BUILD = 'tide-wall';
const STEP = 'sand-fish';
const PHONES = 8;
const WARM_UP = 40;
const ROUNDS = 10;

export default async function bench(args: readonly string[]): Promise<void> {
  const taps = Number(args[0] ?? 300);
  const folder = mkdtempSync(join(tmpdir(), 'daywright-bench-'));
  const file = join(folder, 'tap.sqlite');
  const server = await start(file);
  try {
    const cookies = letIn(file, PHONES + 1);
    const agents = cookies.map(() => new Agent({ keepAlive: true, maxSockets: 1 }));
    const tapOf = (phone: number) => () => tap(server.port, agents[phone]!, cookies[phone]!);
    await series(WARM_UP, tapOf(0));
    const insert: number[] = [];
    const one: number[] = [];
    const eight: number[] = [];
    // In turns, so that a machine that is slow for a while is so for all three.
    for (let round = 0; round < ROUNDS; round++) {
      const each = Math.ceil(taps / ROUNDS);
      insert.push(...bareInserts(join(folder, 'bare.sqlite'), 2 * each));
      one.push(...(await series(each, tapOf(0))));
      for (const times of await Promise.all(agents.slice(1).map((_, n) => series(Math.ceil(each / 2), tapOf(n + 1))))) {
        eight.push(...times);
      }
    }
    console.log(`bare durable insert     median ${ms(quantile(insert, 0.5))}   p99 ${ms(quantile(insert, 0.99))}`);
    console.log(`one phone               median ${ms(quantile(one, 0.5))}   p99 ${ms(quantile(one, 0.99))}`);
    console.log(`  ratio of the medians  ${(quantile(one, 0.5) / quantile(insert, 0.5)).toFixed(2)} (aim: under 3)`);
    console.log(
      `${PHONES} phones at once        median ${ms(quantile(eight, 0.5))}   p99 ${ms(quantile(eight, 0.99))}`,
    );
    console.log(
      `  p99 in bare inserts   ${(quantile(eight, 0.99) / quantile(insert, 0.5)).toFixed(2)} medians (aim: under ${PHONES}), ${(quantile(eight, 0.99) / quantile(insert, 0.99)).toFixed(2)} p99s`,
    );
    await weigh(server.port);
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The same rows into the same table, one after the other, each on the disk before the next. Milliseconds each. */
function bareInserts(file: string, count: number): number[] {
  const db = openDatabase(file);
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const store = createStore(db.value);
  const { key } = store.builds.ground(BUILD) ?? store.builds.create(demoFile(minutes()).build, SAVED);
  const times: number[] = [];
  for (let n = 0; n < count; n++) {
    const entry = newEntry();
    const began = performance.now();
    store.log.append(key, [entry], entry.at);
    times.push(performance.now() - began);
  }
  store.close();
  return times;
}

const SAVED = { savedAt: new Date().toISOString(), who: 'maker', cause: 'made' };

function minutes(): number {
  return Math.floor(Date.now() / 60_000);
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

async function series(count: number, act: () => Promise<void>): Promise<number[]> {
  const times: number[] = [];
  for (let n = 0; n < count; n++) {
    const began = performance.now();
    await act();
    times.push(performance.now() - began);
  }
  return times;
}

async function tap(port: number, agent: Agent, cookie: string): Promise<void> {
  const body = JSON.stringify({ entries: [newEntry()], last: null });
  const { status, text } = await ask(port, `/b/${BUILD}/entries`, agent, body, cookie);
  if (status !== 200 || !text.includes('"stored"')) throw new Error(`${status} ${text}`);
}

let number = 0;

function newEntry() {
  number += 1;
  const at = new Date().toISOString();
  return { id: `bench-${process.pid}-${number}`, kind: 'done' as const, step: STEP, n: 1, at, phoneAt: at };
}

/** The page, everything it names, and everything that names in turn; each compressed by itself. Lettering is so already. */
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
