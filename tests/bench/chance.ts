/**
 * From a tap to the new chance on an open Countdown: `npm run bench -- chance [taps]`, after `npm run build`. The
 * server runs as it does for a maker; a tap is posted, and after each live event the sheet is fetched as the page
 * would, until it shows a chance that is not old.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { Agent } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createStore, openDatabase } from '../../server/store/index.ts';
import { texts } from '../../views/texts/index.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { threeHundredLots } from './parts/build.ts';
import { listen } from './parts/live.ts';
import { ask, start } from './parts/server.ts';

const DAY = 86_400_000;

export default async function bench([asked]: string[]): Promise<void> {
  const taps = Number(asked ?? 15);
  const folder = mkdtempSync(join(tmpdir(), 'daywright-bench-'));
  const file = join(folder, 'chance.sqlite');
  let server = await start(file);
  try {
    // The demo that the first start makes is left alone; the builds are put beside it.
    await server.stop();
    addBuilds(file);
    server = await start(file);
    for (const [build, step] of [
      ['tide-wall', 'sand-fish'],
      ['bench', 'part-0-file'],
    ] as const) {
      const times: number[] = [];
      for (let n = 0; n < taps; n++) times.push(await fromTapToChance(server.port, build, step));
      times.sort((a, b) => a - b);
      const at = (share: number) => times[Math.min(taps - 1, Math.floor(share * taps))]!.toFixed(0).padStart(5);
      console.log(
        `${build.padEnd(10)} tap to new chance: median ${at(0.5)} ms, fastest ${at(0)} ms, slowest ${at(1)} ms`,
      );
    }
  } finally {
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Puts the wall of the tests and a build of 300 lots into a database. */
export function addBuilds(file: string): void {
  const db = openDatabase(file);
  if (!db.ok) throw new Error(db.problems[0]?.message);
  const store = createStore(db.value);
  const event = `${new Date(Date.now() + 60 * DAY).toISOString().slice(0, 10)}T19:00`;
  const saved = { savedAt: new Date().toISOString(), who: 'maker', cause: { code: 'made' } } as const;
  const wall = tideWall(Math.floor(Date.now() / 60_000));
  const { key } = store.builds.create(wall.build, saved);
  store.log.bring(key, wall.log ?? [], saved.savedAt);
  store.builds.create(threeHundredLots(event), saved);
  store.close();
}

let number = 0;

/** Milliseconds from a tap to the page that shows its chance; before it, the chance that there is is waited for. */
export async function fromTapToChance(port: number, build: string, step: string): Promise<number> {
  const agent = new Agent({ keepAlive: true });
  const page = async () => (await ask(port, `/b/${build}`, agent)).text;
  const isNew = (text: string) => text.includes('class="chances"') && !text.includes(OLD);
  const live = await listen(port, build);
  try {
    while (!isNew(await page())) await live.event();
    await calm();
    number += 1;
    const at = new Date().toISOString();
    const entry = { id: `bench-${process.pid}-${number}`, kind: 'done', step, n: 1, at, phoneAt: at };
    live.forget();
    const began = performance.now();
    const { status, text } = await ask(
      port,
      `/b/${build}/entries`,
      agent,
      JSON.stringify({ entries: [entry], last: null }),
    );
    if (status !== 200 || !text.includes('"stored"')) throw new Error(`${status} ${text}`);
    do await live.event();
    while (!isNew(await page()));
    return performance.now() - began;
  } finally {
    live.close();
    agent.destroy();
  }
}

/** What a page says of a chance that is old: the words before its instant. */
const OLD = texts.countdown.oldChance('|', 1, 0, false).split('|')[0]!;

/** Long enough for the search that follows a first answer, so that it does not run into the next tap. */
function calm(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 1500));
}
