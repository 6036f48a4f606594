/**
 * `npm run bench -- levers [builds]`: how long the search for levers takes on the demo (processor time; budgets: first
 * rows in a second, all in five), and how well its order agrees with that of all levers at ten times the futures and
 * other luck, on so many random builds (Spearman's rank correlation of the scores).
 */

import { ranksOf, spearman } from '../../server/engine/08-risk/statistics.ts';
import { findLevers } from '../../server/engine/14-levers/index.ts';
import { changedTrial, isTrial, trialOf } from '../../server/engine/14-levers/trial.ts';
import { costMinutes, worthOf } from '../../server/engine/14-levers/worth.ts';
import { Random } from '../../server/engine/numbers/index.ts';
import type { Build } from '../../server/model/index.ts';
import { tideWall } from '../support/builds/tide-wall.ts';

const NOW = Date.parse('2026-12-01T08:00Z') / 60_000;
const FUTURES = 200;
const levelling = { seed: 1, schedules: 20 };

export default function levers([builds = '10']: string[]): void {
  speed();
  const found = Array.from({ length: Number(builds) }, (_, i) => agreement(randomBuild(i + 1)));
  const all = found.flatMap(({ correlation }) => correlation ?? []);
  for (const [i, { levers: tried, correlation }] of found.entries()) {
    console.log(`build ${i + 1}: ${tried} levers, rank correlation ${correlation?.toFixed(2) ?? 'none'}`);
  }
  console.log(`mean ${(all.reduce((sum, one) => sum + one, 0) / all.length).toFixed(2)} of ${all.length} builds`);
}

function speed(): void {
  const { build, log = [] } = tideWall(Math.floor(Date.now() / 60_000));
  const asked = { build, log, now: Math.floor(Date.now() / 60_000), levelling };
  findLevers(asked, { seed: 1, futures: 100 });
  const begun = process.cpuUsage();
  const cpu = (): number => {
    const { user, system } = process.cpuUsage(begun);
    return (user + system) / 1000;
  };
  let inFirst = 0;
  const { tried, futures } = findLevers(asked, {
    seed: 1,
    onRows: (rows) => {
      if (cpu() < 1000) inFirst = rows.tried;
    },
  });
  console.log(`${tried} levers at ${futures} futures: ${cpu().toFixed(0)} ms, ${inFirst} rows in the first second`);
}

/** The order that the search finds beside that of every lever at ten times the futures, with other luck. */
function agreement(build: Build): { readonly levers: number; readonly correlation: number | null } {
  const asked = { build, log: [], now: NOW, levelling };
  const rows = findLevers(asked, { seed: 1, futures: FUTURES }).rows.filter(({ compared }) => compared !== null);
  const options = { seed: 2, futures: 10 * FUTURES };
  const present = trialOf(asked, options);
  const whole = rows.map(({ lever }) => {
    const trial = changedTrial(asked, lever.changes, options, present);
    if (!isTrial(trial)) return 0;
    return worthOf(present, trial, { futures: options.futures, relaxes: false, cost: costMinutes(lever.cost, build) })
      .score;
  });
  const scaled = (scores: readonly number[]) => scores.map((score) => Math.round(score * 10));
  return {
    levers: rows.length,
    correlation: spearman(ranksOf(scaled(rows.map(({ score }) => score))), ranksOf(scaled(whole))),
  };
}

function randomBuild(seed: number): Build {
  const random = new Random(seed);
  const upTo = (least: number, most: number) => least + random.below(most - least + 1);
  return {
    id: 'arch',
    name: 'arch',
    zone: 'UTC',
    event: '2026-12-12T18:00',
    suppliers: [{ id: 'mill', name: 'mill', lead: upTo(1, 5), express: { lead: 1, extraCost: upTo(10, 90) } }],
    people: [
      { id: 'ria', name: 'Ria', hours: 'daily 18:00-21:00' },
      { id: 'tom', name: 'Tom', hours: 'sat-sun 10:00-16:00', can: ['cut', 'fit'] },
    ],
    machines: [{ id: 'press', name: 'press', price: upTo(20, 200) }],
    parts: [
      { id: 'bracket', name: 'bracket', source: 'make', count: upTo(8, 30), yield: 0.95 },
      { id: 'bolt', name: 'bolt', source: 'buy', count: 40, supplier: 'mill' },
    ],
    steps: [
      {
        id: 'cut',
        name: 'cut',
        part: 'bracket',
        lotSize: upTo(2, 8),
        phases: [{ kind: 'hands', perUnit: upTo(4, 20) }],
      },
      {
        id: 'bend',
        name: 'bend',
        part: 'bracket',
        lotSize: upTo(2, 6),
        phases: [
          { kind: 'hands', minutes: 5 },
          { kind: 'run', machine: 'press', minutes: upTo(30, 300) },
        ],
      },
      { id: 'fit', name: 'fit', part: 'bracket', uses: ['bolt'], phases: [{ kind: 'hands', perUnit: upTo(3, 12) }] },
      {
        id: 'hang',
        name: 'hang',
        after: ['fit'],
        phases: [{ kind: 'hands', minutes: upTo(60, 300) }],
        pinnedTo: ['ria'],
      },
    ],
  };
}
