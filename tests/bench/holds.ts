/**
 * How long the thread that answers requests is held by each request on large builds: `npm run bench -- holds
 * [build …]`. The builds are those of `scale` with 3,000 and 10,000 lots, one with as many steps, one with as many
 * gates and one with as many parts as a build may have, and one with 100,000 log entries. Each page is asked for twice;
 * then something is edited, taken in from a file, and given out. Prints milliseconds of the thread's own work at a
 * stretch, by the clock, and until the answer came.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { Agent, request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Build, type BuildFile, MOST } from '../../server/model/index.ts';
import { createStore, openDatabase, type Store } from '../../server/store/index.ts';
import { formValues } from '../../server/web/edits/form-text.ts';
import { MANY_OF } from '../support/builds/many-of.ts';
import { largeBuild, SIZES } from './parts/large.ts';
import { type Started, start } from './parts/server.ts';

const BUILD = 'held';
const SHEETS = ['', '/now', '/design', '/steps', '/hands', '/dates', '/balance', '/burn-down', '/waits', '/ledger'];
const MORE = ['/history', '/options', '/orders', '/money', '/show', '/count', '/count/now', '/steps.json'];
const GIVEN_OUT = [
  '/forecast.json',
  '/file.json',
  '/calendar.ics',
  '/tables/parts.csv',
  '/tables/steps.csv',
  '/tables/log.csv',
  '/paper',
];
const LONGEST_MS = 300_000;

const BUILDS: Readonly<Record<string, () => BuildFile>> = {
  '3000-lots': () => fileOf(largeBuild(SIZES[2]!, Date.now())),
  '10000-lots': () => fileOf(largeBuild(SIZES[3]!, Date.now())),
  'most-steps': () => MANY_OF['steps in a row']!(MOST.steps),
  'most-gates': () => MANY_OF.gates!(MOST.gates),
  'most-parts': () => MANY_OF['parts that are made']!(MOST.parts),
  'log-entries': () => MANY_OF['entries of units']!(100_000),
};

export default async function holds(asked: readonly string[]): Promise<void> {
  for (const [name, make] of Object.entries(BUILDS)) {
    if (asked.length === 0 || asked.includes(name)) await holdsOf(name, make());
  }
}

async function holdsOf(name: string, { build, log = [] }: BuildFile): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'daywright-bench-'));
  const file = join(folder, 'holds.sqlite');
  const db = openDatabase(file);
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const store = createStore(db.value);
  const held = { ...build, id: BUILD };
  store.builds.create(held, { savedAt: new Date().toISOString(), who: 'maker', cause: { code: 'made' } });
  const { key } = store.builds.ground(BUILD)!;
  store.log.append(key, log, new Date().toISOString());
  const server = await start(file);
  const agent = new Agent({ keepAlive: true });
  try {
    console.log(`\n${name}: own work at a stretch, by the clock, until the answer, ms; kB`);
    await tell(server, agent, 'first page', { path: `/b/${BUILD}` });
    await settled(store, key, 0);
    for (const path of [...SHEETS, ...MORE, ...GIVEN_OUT]) {
      await tell(server, agent, path || '/countdown', { path: `/b/${BUILD}${path}` }, 2);
    }
    await tell(server, agent, 'edit of a step', edited(held));
    await settled(store, key, 0);
    await tell(server, agent, 'afterwards', null);
    await tell(server, agent, 'taken in from a file', taken({ ...held, id: 'again' }, log));
    await tell(server, agent, 'afterwards', null);
  } finally {
    agent.destroy();
    await server.stop();
    store.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

interface Asked {
  readonly path: string;
  readonly type?: string;
  readonly body?: string;
}

/** What the thread was held for; `null` waits for what is done after an answer. */
async function tell(server: Started, agent: Agent, name: string, asked: Asked | null, times = 1): Promise<void> {
  for (let n = 0; n < times; n++) {
    await server.pulse();
    const began = performance.now();
    const { status, bytes } = asked === null ? await later() : await send(server.port, agent, asked);
    const took = performance.now() - began;
    await new Promise((resolve) => setTimeout(resolve, 50));
    const { busy, hold } = await server.pulse();
    const figures = [busy, hold, took, bytes / 1024].map((one) => one.toFixed(0).padStart(7)).join('');
    console.log(`  ${(n === 0 ? name : '').padEnd(24)}${figures}${status >= 400 ? `  ${status}` : ''}`);
  }
}

async function later(): Promise<{ status: number; bytes: number }> {
  await new Promise((resolve) => setTimeout(resolve, 5000));
  return { status: 200, bytes: 0 };
}

function edited(build: Build): Asked {
  const step = build.steps.at(-1)!;
  const values = Object.entries(formValues('steps', { ...step, name: `${step.name} again` }));
  const body = new URLSearchParams(values.flatMap(([name, value]) => [value].flat().map((one) => [name, String(one)])));
  body.set('edit', '1');
  body.set('do', 'save');
  const type = 'application/x-www-form-urlencoded';
  return { path: `/b/${BUILD}/steps?open=steps/${step.id}`, type, body: body.toString() };
}

function taken(build: Build, log: BuildFile['log']): Asked {
  const edge = 'edge-of-a-part';
  const head = `--${edge}\r\nContent-Disposition: form-data; name="file"; filename="again.json"\r\n\r\n`;
  const body = `${head}${JSON.stringify({ ...fileOf(build), log })}\r\n--${edge}--\r\n`;
  return { path: '/builds/file', type: `multipart/form-data; boundary=${edge}`, body };
}

function send(port: number, agent: Agent, { path, type, body }: Asked): Promise<{ status: number; bytes: number }> {
  return new Promise((resolve, reject) => {
    const headers = { accept: 'text/html', ...(type === undefined ? {} : { 'content-type': type }) };
    const method = body === undefined ? 'GET' : 'POST';
    const sent = request({ host: '127.0.0.1', port, path, method, agent, headers }, (response) => {
      let bytes = 0;
      response.on('data', (chunk: Buffer) => {
        bytes += chunk.length;
      });
      response.on('end', () => resolve({ status: response.statusCode ?? 0, bytes }));
    });
    sent.on('error', reject);
    sent.end(body);
  });
}

/** When a settled forecast is on the disk. */
async function settled({ forecasts }: Store, key: number, seq: number): Promise<void> {
  const began = performance.now();
  while ((forecasts.head(key)?.logSeq ?? -1) < seq && performance.now() - began < LONGEST_MS)
    await new Promise((resolve) => setTimeout(resolve, 100));
}

function fileOf(build: Build): BuildFile {
  return { format: 'daywright-build', version: 1, build };
}
