/**
 * `npm run bench -- options [rounds]`: what an option of the demo costs, as processor time of the thread that works it
 * out (the budget is half a second), beside the time that the engine takes for the plan alone; and what the comparison
 * of futures costs.
 */

import { compareEnds } from '../../server/engine/index.ts';
import { applyChanges, type Change } from '../../server/model/index.ts';
import { computePlan, type PlanTask, tryPlan } from '../../server/planner/index.ts';
import { tideWall } from '../support/builds/tide-wall.ts';

const WARM_UP = 2;
const BUDGET_MILLISECONDS = 500;

export default function options([rounds = '5']: string[]): void {
  const now = Math.floor(Date.now() / 60_000);
  const { build, log = [] } = tideWall(now);
  const [machine] = build.machines ?? [];
  const more: Change = { kind: 'set', list: 'machines', key: machine!.id, field: 'count', value: 2 };
  const made = applyChanges(build, [more]);
  if (!made.ok) throw new Error(made.problems[0]?.message);
  const task: PlanTask = { build, log, now, depth: 'quick' };
  const option = { ...task, build: made.value };
  for (let i = 0; i < WARM_UP; i++) tryPlan(task);
  const n = Number(rounds);
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
