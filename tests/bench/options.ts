/**
 * `npm run bench -- options [rounds]`: what an option of the demo costs, as processor time of the thread that works it
 * out (the budget is half a second), beside the time that the engine takes for the plan alone; and what the comparison
 * of futures costs. Then, while a server looks for what buys time: how long its pages take to answer (50 ms are
 * allowed), and how soon a tap has its chance, beside the same with nothing else to do.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { Agent } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import { compareEnds } from '../../server/engine/index.ts';
import { applyChanges, type Change } from '../../server/model/index.ts';
import { computePlan, type PlanTask, tryPlan } from '../../server/planner/index.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { addBuilds, fromTapToChance } from './chance.ts';
import { ask, start } from './parts/server.ts';

const WARM_UP = 2;
const BUDGET_MILLISECONDS = 500;

export default async function options([rounds = '5']: string[]): Promise<void> {
  work(Number(rounds));
  await beside();
}

function work(n: number): void {
  const now = Math.floor(Date.now() / 60_000);
  const { build, log = [] } = tideWall(now);
  const [machine] = build.machines ?? [];
  const more: Change = { kind: 'set', list: 'machines', key: machine!.id, field: 'count', value: 2 };
  const made = applyChanges(build, [more]);
  if (!made.ok) throw new Error(made.problems[0]?.message);
  const task: PlanTask = { build, log, now, depth: 'quick' };
  const option = { ...task, build: made.value };
  for (let i = 0; i < WARM_UP; i++) tryPlan(task);
  const plan = milliseconds(n, () => computePlan({ ...option, noChance: true }));
  const whole = milliseconds(n, () => tryPlan(option));
  const [present, other] = [tryPlan(task), tryPlan(option)];
  const compared = milliseconds(n, () => compareEnds(present.ends!, other.ends!));
  const { readyBy } = compareEnds(present.ends!, other.ends!);
  console.log(`an option: ${whole.toFixed(0)} ms, ${(whole / BUDGET_MILLISECONDS).toFixed(2)} of the budget`);
  console.log(
    `its plan alone: ${plan.toFixed(0)} ms; comparing ${present.ends!.readyAt.length} futures: ${compared.toFixed(2)} ms`,
  );
  console.log(
    `one more ${machine!.name}: ${(100 * readyBy.mean).toFixed(1)} points ± ${(100 * readyBy.error).toFixed(1)}`,
  );
}

/** Processor time of one run, the least of some, since whoever else is at work only adds to it. */
function milliseconds(rounds: number, run: () => unknown): number {
  const times = Array.from({ length: rounds }, () => {
    const begun = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(begun);
    return (user + system) / 1000;
  });
  return Math.min(...times);
}

const PAGES = ['', '/count', '/steps', '/dates', '/options', '/levers'];

/** Pages and a tap while levers are looked for. */
async function beside(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'daywright-bench-'));
  const file = join(folder, 'options.sqlite');
  await (await start(file)).stop();
  addBuilds(file);
  const server = await start(file);
  const agent = new Agent({ keepAlive: true });
  const search = async () => JSON.parse((await ask(server.port, '/b/tide-wall/levers.json', agent)).text);
  try {
    const alone = await fromTapToChance(server.port, 'tide-wall', 'sand-fish');
    for (const page of PAGES) await ask(server.port, `/b/tide-wall${page}`, agent);
    const begun = performance.now();
    await ask(server.port, '/b/tide-wall/levers', agent, JSON.stringify({ look: '1' }));
    const times: number[] = [];
    let rows: number | null = null;
    for (let found = await search(); found?.isDone !== true; found = await search()) {
      if (rows === null && found?.rows.length > 0) rows = performance.now() - begun;
      for (const page of PAGES) {
        const asked = performance.now();
        await ask(server.port, `/b/tide-wall${page}`, agent);
        times.push(performance.now() - asked);
      }
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    const whole = performance.now() - begun;
    times.sort((a, b) => a - b);
    const at = (share: number) => times[Math.min(times.length - 1, Math.floor(share * times.length))]!.toFixed(0);
    console.log(
      `levers looked for in ${whole.toFixed(0)} ms, first rows after ${rows?.toFixed(0)} ms, by the wall clock`,
    );
    console.log(`${times.length} pages meanwhile: median ${at(0.5)} ms, p99 ${at(0.99)} ms, at most ${at(1)} ms`);
    await ask(server.port, '/b/tide-wall/levers', agent, JSON.stringify({ look: '1' }));
    const overtaking = await fromTapToChance(server.port, 'tide-wall', 'sand-fish');
    if ((await search())?.isDone === true) throw new Error('the search had ended before the tap');
    console.log(
      `a tap to its chance: ${alone.toFixed(0)} ms with nothing else, ${overtaking.toFixed(0)} ms over a search`,
    );
  } finally {
    agent.destroy();
    await server.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}
