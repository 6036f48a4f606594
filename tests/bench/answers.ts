/**
 * What each part of a plan costs as builds grow, in milliseconds of the processor, and with what power of the lots it
 * grows: `npm run bench -- answers [lots …]`, for the builds of `scale`.
 */

import { boundOf, compile, level, levelBackwards } from '../../server/engine/07-levelling/index.ts';
import { threatsOf } from '../../server/engine/09-threats/index.ts';
import {
  balanceAnswer,
  baselineOf,
  burnAnswer,
  capacityAnswer,
  daySheetsAnswer,
  decisionsAnswer,
  duesAnswer,
  lotsAnswer,
  missingOf,
  moneyAnswer,
  ordersAnswer,
  partsAnswer,
  roomAnswer,
  spellsOf,
  stepsAnswer,
  suppliesAnswer,
  uncertainAnswer,
  whyAnswer,
  withHighs,
  workHoursAnswer,
  yardstickLinesOf,
} from '../../server/engine/10-answers/index.ts';
import { doubtsOf, soundnessOf } from '../../server/engine/12-soundness/index.ts';
import { showAnswer } from '../../server/engine/15-show/index.ts';
import { planBuild } from '../../server/engine/plan.ts';
import { problemsOf, workThrough } from '../../server/engine/stages/index.ts';
import { largeBuild, SIZES } from './parts/large.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;
const OPTIONS = { seed: 1, schedules: 20 };
const ROUNDS = 1;

export default function answers(asked: readonly string[]): void {
  const sizes = SIZES.filter(({ lots }) => asked.length === 0 || asked.includes(String(lots)));
  const all = sizes.map((size) => measured(largeBuild(size, NOW * 60_000)));
  const lots = all.map((one) => one.lots);
  console.log(`${''.padEnd(24)}${lots.map((n) => String(n).padStart(9)).join('')}    power`);
  for (const name of all[0]!.parts.keys()) {
    const times = all.map((one) => one.parts.get(name)!);
    const power = sizes.length < 2 ? '' : slope(lots, times).toFixed(2).padStart(9);
    console.log(`${name.padEnd(24)}${times.map((ms) => ms.toPrecision(3).padStart(9)).join('')}${power}`);
  }
}

function measured(build: ReturnType<typeof largeBuild>): { lots: number; parts: Map<string, number> } {
  const parts = new Map<string, number>();
  const time = <T>(name: string, work: () => T): T => {
    let [least, found] = [Number.POSITIVE_INFINITY, work()];
    for (let round = 0; round < ROUNDS; round++) {
      const began = process.cpuUsage();
      found = work();
      const { user, system } = process.cpuUsage(began);
      least = Math.min(least, (user + system) / 1000);
    }
    parts.set(name, least);
    return found;
  };
  const asked = { build, log: [], now: NOW, levelling: OPTIONS };
  const dated = time('lots, links, dates', () => workThrough(asked, 'dates'));
  const compiled = time('compile', () => compile(dated.work));
  const found = time('20 passes and proof', () => level(dated.work, OPTIONS, compiled));
  time('bound', () => boundOf(compile(dated.work)));
  time('mirror', () => levelBackwards(dated.work, OPTIONS, compiled, found));
  const planned = workThrough(asked, 'schedules');
  const orders = withHighs(planned, ordersAnswer(planned));
  const decisions = decisionsAnswer(planned);
  const spells = time('spells', () => spellsOf(planned));
  const steps = time('steps', () => stepsAnswer(planned));
  const baseline = time('baseline', () => baselineOf(planned));
  const { supplies } = time('supplies', () => suppliesAnswer(planned, steps, orders));
  time('why', () => whyAnswer(planned));
  time('day sheets', () => daySheetsAnswer(planned, spells, orders, decisions));
  time('balance', () => balanceAnswer(planned, yardstickLinesOf(planned, baseline)));
  time('burn', () => burnAnswer(planned, baseline));
  time('capacity', () => capacityAnswer(planned));
  time('room', () => roomAnswer(planned, true));
  time('lots', () => lotsAnswer(planned));
  time('parts', () => partsAnswer(planned));
  time('money', () => moneyAnswer(planned, steps, supplies, spells));
  time('dues', () => duesAnswer(planned));
  time('uncertain', () => uncertainAnswer(planned, orders));
  time('work hours', () => workHoursAnswer(planned, spells));
  time('problems', () => problemsOf(planned));
  time('missing', () => missingOf(planned.plans, planned.quantities, [], planned.work.lots));
  time('doubts', () => doubtsOf(planned));
  const forecast = planBuild(build, [], NOW, { levelling: OPTIONS });
  time('threats', () => threatsOf(forecast, null, NOW, build.machines));
  time('soundness', () => soundnessOf({ planned, forecast }));
  time('show', () => showAnswer({ planned, spells, forecast: { ...forecast, soundness: [] } }));
  time('whole quick plan', () => planBuild(build, [], NOW, { levelling: OPTIONS }));
  return { lots: planned.work.lots.length, parts };
}

/** The slope of the straight line through the logarithms. */
function slope(lots: readonly number[], times: readonly number[]): number {
  const points = lots.map((n, i) => [Math.log(n), Math.log(Math.max(0.01, times[i]!))] as const);
  const mean = (i: 0 | 1): number => points.reduce((sum, point) => sum + point[i], 0) / points.length;
  const [x, y] = [mean(0), mean(1)];
  const up = points.reduce((sum, point) => sum + (point[0] - x) * (point[1] - y), 0);
  return up / points.reduce((sum, point) => sum + (point[0] - x) ** 2, 0);
}
