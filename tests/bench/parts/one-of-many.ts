/**
 * One build of `many.ts` in a process of its own: `one-of-many.ts THING N` prints what it took and what was said, as
 * JSON.
 */

import { computePlan } from '../../../server/planner/background/compute.ts';
import { readBuildFile } from '../../../server/planner/build-text.ts';
import { MANY_NOW, MANY_OF } from '../../support/builds/many-of.ts';
import type { Asked } from '../many.ts';

const [thing, n] = [process.argv[2]!, Number(process.argv[3])];
const text = JSON.stringify(MANY_OF[thing]!(n));
const before = process.memoryUsage().rss;
const idle = process.cpuUsage();
const began = performance.now();
const read = readBuildFile(text, 'many.json');
const readMs = performance.now() - began;
const answer: Asked = {
  read: readMs,
  plan: 0,
  processor: 0,
  early: 0,
  megabytes: 0,
  said: read.ok ? '' : read.problems[0]!.message,
};
if (!read.ok) tell(answer);
else {
  const { build, log = [] } = read.value;
  const from = performance.now();
  let early = 0;
  const forecast = computePlan({ build, log, now: MANY_NOW, depth: 'quick' }, undefined, () => {
    early = performance.now() - from;
  });
  const error = forecast.problems.find(({ severity }) => severity === 'error');
  const said = error?.message ?? `${forecast.lots.length} lots, ready ${forecast.room.readyBy.finish}`;
  const plan = performance.now() - from;
  tell({ ...answer, plan, early: early || plan, said });
}

function tell(asked: Asked): void {
  const megabytes = (process.resourceUsage().maxRSS * 1024 - before) / 2 ** 20;
  const { user, system } = process.cpuUsage(idle);
  process.stdout.write(JSON.stringify({ ...asked, processor: (user + system) / 1000, megabytes }));
}
