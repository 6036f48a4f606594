import { describe, expect, test } from 'vitest';
import { networkOf } from '../../../server/engine/05-network/network.ts';
import { criticalPath } from '../../../server/engine/06-critical-path/critical-path.ts';
import { level } from '../../../server/engine/07-levelling/index.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { type TextbookActivity, textbookWork } from '../../support/textbook-work.ts';

interface Case {
  readonly name: string;
  readonly capacities: readonly number[];
  readonly activities: readonly TextbookActivity[];
  readonly criticalPath: number;
  readonly optimum: number;
}

/** Activities from durations, demands by resource, and links numbered from 1. */
function activities(
  minutes: readonly number[],
  demands: readonly (readonly number[])[],
  links: readonly (readonly [number, number])[],
): TextbookActivity[] {
  return minutes.map((length, i) => ({
    minutes: length,
    demands: demands.map((resource) => resource[i]!),
    successors: links.filter(([from]) => from === i + 1).map(([, to]) => to - 1),
  }));
}

/** Jobs as chains of (machine, minutes). */
function jobShop(machines: number, jobs: readonly (readonly (readonly [number, number])[])[]): TextbookActivity[] {
  const all: TextbookActivity[] = [];
  for (const job of jobs) {
    job.forEach(([machine, minutes], i) => {
      const demands = Array.from({ length: machines }, (_, m) => (m === machine ? 1 : 0));
      all.push({ minutes, demands, successors: i + 1 < job.length ? [all.length + 1] : [] });
    });
  }
  return all;
}

const garage = activities(
  [6, 4, 3, 2, 2, 3, 5, 4, 3, 1],
  [
    [0, 0, 1, 1, 1, 1, 2, 1, 1, 2],
    [0, 0, 1, 0, 0, 0, 0, 0, 0, 0],
    [1, 1, 0, 0, 0, 0, 0, 0, 0, 0],
  ],
  [
    [1, 6],
    [3, 4],
    [4, 5],
    [6, 7],
    [5, 7],
    [2, 7],
    [7, 9],
    [8, 9],
    [9, 10],
  ],
);

const cases: readonly Case[] = [
  {
    // RC-1: documentation example of a general MIP modelling library, solved again by MILP and exhaustive list search.
    name: 'ten jobs on two resources',
    capacities: [6, 8],
    activities: activities(
      [3, 2, 5, 4, 2, 3, 4, 2, 4, 6],
      [
        [5, 0, 1, 1, 3, 3, 2, 4, 5, 2],
        [1, 4, 4, 3, 2, 1, 4, 0, 2, 5],
      ],
      [
        [1, 4],
        [1, 5],
        [2, 9],
        [2, 10],
        [3, 8],
        [4, 6],
        [4, 7],
        [5, 9],
        [5, 10],
        [6, 8],
        [6, 9],
        [7, 8],
      ],
    ),
    criticalPath: 14,
    optimum: 21,
  },
  {
    // RC-2: documentation example of a general optimisation library; optimum by MILP and brute force.
    name: 'three jobs on three machines',
    capacities: [1, 1, 1],
    activities: jobShop(3, [
      [
        [0, 3],
        [1, 2],
        [2, 2],
      ],
      [
        [0, 2],
        [2, 1],
        [1, 4],
      ],
      [
        [1, 4],
        [2, 3],
      ],
    ]),
    criticalPath: 7,
    optimum: 11,
  },
  {
    // RC-3: Fisher & Thompson 1963, the 6x6 job shop; optimum 55 proved by MILP.
    name: 'the six by six job shop',
    capacities: [1, 1, 1, 1, 1, 1],
    activities: jobShop(6, [
      [
        [2, 1],
        [0, 3],
        [1, 6],
        [3, 7],
        [5, 3],
        [4, 6],
      ],
      [
        [1, 8],
        [2, 5],
        [4, 10],
        [5, 10],
        [0, 10],
        [3, 4],
      ],
      [
        [2, 5],
        [3, 4],
        [5, 8],
        [0, 9],
        [1, 1],
        [4, 7],
      ],
      [
        [1, 5],
        [0, 5],
        [2, 5],
        [3, 3],
        [4, 8],
        [5, 9],
      ],
      [
        [2, 9],
        [1, 3],
        [4, 5],
        [5, 4],
        [0, 3],
        [3, 1],
      ],
      [
        [1, 3],
        [3, 3],
        [5, 9],
        [0, 10],
        [4, 4],
        [2, 1],
      ],
    ]),
    criticalPath: 47,
    optimum: 55,
  },
  // RC-4: a garage build made for the check values; optima by MILP and exhaustive search.
  { name: 'a garage build', capacities: [2, 1, 1], activities: garage, criticalPath: 18, optimum: 19 },
  {
    name: 'a garage build with a second printer',
    capacities: [2, 1, 2],
    activities: garage,
    criticalPath: 18,
    optimum: 18,
  },
  {
    name: 'a garage build with a third person',
    capacities: [3, 1, 1],
    activities: garage,
    criticalPath: 18,
    optimum: 19,
  },
  { name: 'a garage build with both', capacities: [3, 1, 2], activities: garage, criticalPath: 18, optimum: 18 },
];

interface FlowCase {
  readonly name: string;
  /** Minutes on the first and on the second machine. */
  readonly jobs: readonly (readonly [number, number])[];
  /** Jobs in the order of Johnson's rule. */
  readonly rule: readonly number[];
  readonly optimum: number;
  readonly worst: number;
}

// RC-5: two machines one after the other (S. M. Johnson 1954). Data of the textbooks named; optima by trying every
// order.
const flows: readonly FlowCase[] = [
  {
    name: 'five jobs (Heizer and Render, from memory)',
    jobs: [
      [5, 2],
      [3, 6],
      [8, 4],
      [10, 7],
      [7, 12],
    ],
    rule: [1, 4, 3, 2, 0],
    optimum: 35,
    worst: 48,
  },
  {
    name: 'five motors (Krajewski)',
    jobs: [
      [12, 22],
      [4, 5],
      [5, 3],
      [15, 16],
      [10, 8],
    ],
    rule: [1, 0, 3, 4, 2],
    optimum: 65,
    worst: 73,
  },
  {
    name: 'five jobs, the second machine idle at first',
    jobs: [
      [10, 2],
      [5, 4],
      [7, 5],
      [3, 6],
      [1, 7],
    ],
    rule: [4, 3, 2, 1, 0],
    optimum: 28,
    worst: 40,
  },
  {
    name: 'six jobs',
    jobs: [
      [3, 8],
      [12, 10],
      [5, 9],
      [2, 6],
      [9, 3],
      [11, 1],
    ],
    rule: [3, 0, 2, 1, 4, 5],
    optimum: 43,
    worst: 65,
  },
  {
    name: 'five jobs that keep the first machine busy',
    jobs: [
      [4, 2],
      [5, 6],
      [9, 8],
      [7, 1],
      [3, 11],
    ],
    rule: [4, 1, 2, 0, 3],
    optimum: 31,
    worst: 45,
  },
];

const flowWork = (jobs: FlowCase['jobs']) =>
  textbookWork(
    [1, 1],
    jobShop(
      2,
      jobs.map(([first, second]): [number, number][] => [
        [0, first],
        [1, second],
      ]),
    ),
  );

/** Finish of jobs done in this order on two machines, by hand. */
function finishOf(jobs: FlowCase['jobs'], order: readonly number[]): number {
  let [first, second] = [0, 0];
  for (const job of order) {
    first += jobs[job]![0];
    second = Math.max(first, second) + jobs[job]![1];
  }
  return second;
}

function ordersOf(jobs: number): number[][] {
  if (jobs === 0) return [[]];
  return ordersOf(jobs - 1).flatMap((order) =>
    Array.from({ length: jobs }, (_, i) => [...order.slice(0, i), jobs - 1, ...order.slice(i)]),
  );
}

describe("two machines one after the other, by Johnson's rule", () => {
  test.each(flows)('levels $name to its optimum and proves it', ({ jobs, rule, optimum, worst }) => {
    const finishes = ordersOf(jobs.length).map((order) => finishOf(jobs, order));
    expect([Math.min(...finishes), Math.max(...finishes), finishOf(jobs, rule)]).toEqual([optimum, worst, optimum]);
    const work = flowWork(jobs);
    const { schedule, bound } = level(work, { seed: 1, nodes: 100_000 });
    expect(faultsOf(work, schedule)).toEqual([]);
    expect([bound.readyAt, schedule.finishAt]).toEqual([optimum, optimum]);
  });
});

describe('levelling of published instances', () => {
  test.each(cases)('gives $name a schedule without fault', ({ capacities, activities: asked }) => {
    const work = textbookWork(capacities, asked);
    expect(faultsOf(work, level(work, { seed: 1 }).schedule)).toEqual([]);
  });

  test.each(cases)(
    'reaches the published optimum of $name within 2,000 schedules and proves it',
    ({ capacities, activities: asked, optimum }) => {
      const work = textbookWork(capacities, asked);
      const { schedule, schedules, bound, verdict } = level(work, { seed: 1, schedules: 2_000, nodes: 100_000 });
      expect(faultsOf(work, schedule)).toEqual([]);
      expect(schedule.finishAt).toBe(optimum);
      expect([bound.readyAt, verdict]).toEqual([optimum, 'proved-best']);
      expect(schedules).toBeLessThanOrEqual(2_000);
    },
  );

  test.each(cases)('is never shorter than the bounds of $name and never a third above its optimum', (instance) => {
    const work = textbookWork(instance.capacities, instance.activities);
    const { finishAt } = level(work, { seed: 1 }).schedule;
    const path = criticalPath(work, networkOf(work.lots.length, work.links), 'finish');
    expect(path.finishAt).toBe(instance.criticalPath);
    const energy = instance.capacities.map((capacity, r) =>
      Math.ceil(instance.activities.reduce((sum, it) => sum + it.minutes * it.demands[r]!, 0) / capacity),
    );
    expect(Math.max(path.finishAt, ...energy)).toBeLessThanOrEqual(instance.optimum);
    expect(finishAt).toBeGreaterThanOrEqual(instance.optimum);
    expect(finishAt).toBeLessThanOrEqual(Math.floor((instance.optimum * 4) / 3));
  });
});
