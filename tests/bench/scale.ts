/**
 * How the server behaves as builds grow: `npm run bench -- scale [lots …]`, for about 300, 1,000, 3,000 and 10,000 lots
 * where none are named. The server runs as it does for a maker, with one Countdown open that fetches itself as a page
 * does. Prints how long from a tap to the new plan, to the new chance and until it is settled; what a second tap waits
 * for its chance; how long the thread that answers requests is held at most; what pages weigh and take; memory; and
 * with what power of the lots each of them grows.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { Agent } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { createStore, openDatabase, type Store } from '../../server/store/index.ts';
import { texts } from '../../views/texts/index.ts';
import { largeBuild, SIZES, type Size } from './parts/large.ts';
import { type Live, listen } from './parts/live.ts';
import { ask, type Started, start } from './parts/server.ts';

const BUILD = 'large';
const STEP = 'part-0-file';
const TAPS = 3;
const SECOND_TAP_MS = 600;
const LOOK_MS = 25;
const LONGEST_MS = 400_000;
const PAGES = ['', '/steps', '/balance', '/burn-down', '/dates', '/count'] as const;

/** What was measured at one size, by what it is; printed as it comes, for the largest takes minutes. */
class Figures extends Map<string, number> {
  override set(name: string, value: number): this {
    console.log(`  ${name.padEnd(46)} ${shown(value).padStart(9)}`);
    return super.set(name, value);
  }
}

export default async function scale(asked: readonly string[]): Promise<void> {
  const sizes = SIZES.filter(({ lots }) => asked.length === 0 || asked.includes(String(lots)));
  const all: Figures[] = [];
  for (const size of sizes) {
    console.log(`\n${size.steps} steps, ${size.people} people, ${size.machines} machines`);
    all.push(await measured(size));
  }
  if (all.length > 1) tellPowers(all);
}

async function measured(size: Size): Promise<Figures> {
  const folder = mkdtempSync(join(tmpdir(), 'daywright-bench-'));
  const file = join(folder, 'scale.sqlite');
  const store = opened(file);
  store.builds.create(largeBuild(size, Date.now()), SAVED());
  const server = await start(file);
  try {
    return await figuresOf(server, store);
  } finally {
    await server.stop();
    store.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** All figures, in the order in which they are measured. */
async function figuresOf(server: Started, store: Store): Promise<Figures> {
  const figures = new Figures();
  const bench = { server, store, agent: new Agent({ keepAlive: true }) };
  const idle = (await server.pulse()).processor;
  const note = async (name: string): Promise<void> => {
    const { hold, busy, processor } = await server.pulse();
    if (name === 'new build') figures.set('new build: processor, ms', processor - idle);
    figures.set(`${name}: request thread held, ms`, hold);
    figures.set(`${name}: of it worked, ms`, busy);
  };
  const first = await firstTimes(bench);
  figures.set('lots', store.forecasts.last(store.builds.ground(BUILD)!.key)!.forecast.lots.length);
  figures.set('new build: plan, ms', first.plan);
  figures.set('new build: chance, ms', first.chance);
  figures.set('new build: settled, ms', first.settled);
  await note('new build');
  const live = await listen(server.port, BUILD);
  try {
    const taps: Times[] = [];
    const before = await server.pulse();
    for (let n = 0; n < TAPS; n++) taps.push(await timesOfTap(bench, live, true));
    const after = await server.pulse();
    for (const what of ['answer', 'plan', 'chance', 'settled', 'changes'] as const) {
      figures.set(`tap: ${what}${what === 'changes' ? ' told' : ', ms'}`, middle(taps.map((one) => one[what])));
    }
    figures.set('tap: processor, ms', (after.processor - before.processor) / TAPS);
    figures.set('tap: request thread held, ms', after.hold);
    figures.set('tap: of it worked, ms', after.busy);
    await timesOfTap(bench, live, false);
    await sleep(SECOND_TAP_MS);
    const second = await timesOfTap(bench, live, true);
    figures.set('second tap: chance, ms', second.chance);
    figures.set('second tap: chance, first ones', second.chance / figures.get('tap: chance, ms')!);
    await note('second tap');
    for (const path of PAGES) await weigh(bench, path, figures);
    await note('pages');
    const { rss, heap } = await server.pulse();
    figures.set('memory, MB', rss);
    figures.set('heap, MB', heap);
    return figures;
  } finally {
    live.close();
    bench.agent.destroy();
  }
}

interface Bench {
  readonly server: Started;
  readonly store: Store;
  readonly agent: Agent;
}

/** Milliseconds. */
interface Times {
  readonly answer: number;
  readonly plan: number;
  readonly chance: number;
  readonly settled: number;
  /** Changes that the open page was told. */
  readonly changes: number;
}

async function firstTimes({ server, store, agent }: Bench): Promise<Omit<Times, 'answer' | 'changes'>> {
  const began = performance.now();
  let [plan, chance] = [0, 0];
  const settled = settledAt(store, 0, began);
  while (chance === 0) {
    const { status, text } = await ask(server.port, `/b/${BUILD}`, agent);
    const took = performance.now() - began;
    if (status >= 400 || took > LONGEST_MS) throw new Error(`${status} ${text.slice(0, 500)}`);
    if (status === 200 && plan === 0) plan = took;
    if (hasNewChance(text)) chance = took;
    await sleep(LOOK_MS);
  }
  return { plan, chance, settled: await settled };
}

let number = 0;

/** Posts a tap and follows what the open page is told; to the chance, or until it is settled. */
async function timesOfTap({ server, store, agent }: Bench, live: Live, toTheEnd: boolean): Promise<Times> {
  number += 1;
  const at = new Date().toISOString();
  const entry = { id: `bench-${process.pid}-${number}`, kind: 'done', step: STEP, n: 1, at, phoneAt: at };
  live.forget();
  const come = live.come();
  const began = performance.now();
  const since = (): number => performance.now() - began;
  const body = JSON.stringify({ entries: [entry], last: null });
  const { status, text } = await ask(server.port, `/b/${BUILD}/entries`, agent, body);
  const answer = since();
  if (status !== 200 || !text.includes('"stored"')) throw new Error(`${status} ${text}`);
  const seq = (JSON.parse(text) as { receipts: { seq: number }[] }).receipts[0]!.seq;
  const settled = settledAt(store, seq, began);
  let [plan, chance] = [0, 0];
  while (chance === 0) {
    await live.event();
    const sheet = (await ask(server.port, `/b/${BUILD}`, agent)).text;
    if (!sheet.includes(`/live?seen=1.${seq}.`)) continue;
    if (plan === 0) plan = since();
    if (hasNewChance(sheet)) chance = since();
  }
  const end = toTheEnd ? await settled : 0;
  await sleep(toTheEnd ? 300 : 0);
  return { answer, plan, chance, settled: end, changes: live.come() - come };
}

/** What a page says of a chance that is old: the words before its instant. */
const OLD = texts.countdown.oldChance('|', 1, 0, false).split('|')[0]!;

function hasNewChance(text: string): boolean {
  return text.includes('class="chances"') && !text.includes(OLD);
}

/** Milliseconds since `began` when a settled forecast of the log up to `seq` is on the disk. */
async function settledAt({ builds, forecasts }: Store, seq: number, began: number): Promise<number> {
  const { key } = builds.ground(BUILD)!;
  while ((forecasts.head(key)?.logSeq ?? -1) < seq) {
    if (performance.now() - began > LONGEST_MS) return Number.NaN;
    await sleep(LOOK_MS);
  }
  return performance.now() - began;
}

async function weigh({ server, agent }: Bench, path: string, figures: Figures): Promise<void> {
  const began = performance.now();
  const { status, bytes } = await ask(server.port, `/b/${BUILD}${path}`, agent);
  if (status !== 200) throw new Error(`${status} for ${path}`);
  figures.set(`page ${path === '' ? '/countdown' : path}, ms`, performance.now() - began);
  figures.set(`page ${path === '' ? '/countdown' : path}, kB`, bytes.length / 1024);
  figures.set(`page ${path === '' ? '/countdown' : path}, kB compressed`, gzipSync(bytes).length / 1024);
}

/** With what power of the lots each figure grows: the slope of the straight line through the logarithms. */
function tellPowers(all: readonly Figures[]): void {
  console.log('\ngrows with the lots to the power of');
  for (const name of all[0]!.keys()) {
    const points = all.map((one) => [Math.log(one.get('lots')!), Math.log(Math.max(0.001, one.get(name)!))] as const);
    if (name !== 'lots') console.log(`  ${name.padEnd(46)} ${slope(points).toFixed(2).padStart(9)}`);
  }
}

function slope(points: readonly (readonly [number, number])[]): number {
  const mean = (i: 0 | 1): number => points.reduce((sum, point) => sum + point[i], 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const up = points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0);
  return up / points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0);
}

function opened(file: string): Store {
  const db = openDatabase(file);
  if (!db.ok) throw new Error(db.problems[0]?.message);
  return createStore(db.value);
}

const SAVED = () => ({ savedAt: new Date().toISOString(), who: 'maker', cause: { code: 'made' } }) as const;

function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

function shown(value: number): string {
  return value >= 100 ? value.toFixed(0) : value.toPrecision(3);
}

function sleep(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}
