/*
 * The critical path test (DCMA metric 12, threshold from memory: 600 days there, ten for a small build): a critical
 * step made longer moves the end as far. Exactly where nothing closes. Through hours closed time may swallow a little
 * or add some; but hours that repeat every day move a plan by whole days as it is, and weekly hours by whole weeks, so
 * there the ten days (two weeks) must come out exactly.
 */
import { describe, expect, test } from 'vitest';
import { readWall } from '../../../server/engine/calendar/clock.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build } from '../../../server/model/index.ts';

const DAY = 1440;
const START = '2026-12-01T18:00';

function at(text: string): number {
  const read = readWall(text, 'UTC');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

/** With hands and machines unlimited: the search for an order of work is not asked. */
const QUICK = { levelling: { seed: 1, schedules: 1 } };
const endOf = (build: Build) => planBuild(build, [], at(START), QUICK).room.readyBy.unlimitedFinish!;

const criticalSteps = (build: Build) => {
  const { criticalPath, lots } = planBuild(build, [], at(START), QUICK);
  return [...new Set(criticalPath.map((id) => lots.find((lot) => lot.id === id)!.step))];
};

/** The same build with a wait at the end of every lot of a step. */
function longer(build: Build, id: string, minutes: number): Build {
  return {
    ...build,
    steps: build.steps.map((step) =>
      step.id !== id
        ? step
        : step.takes !== undefined
          ? { ...step, takes: Number(step.takes) + minutes }
          : { ...step, phases: [...(step.phases ?? []), { kind: 'wait', minutes }] },
    ),
  };
}

const base = { id: 'piece', name: 'Piece', zone: 'UTC', start: START, event: '2027-03-01T18:00' } as const;

/** Eight activities (Heizer and Render, Operations Management) with days for weeks: 15 days, critical A-C-E-G-H. */
const milwaukee: Build = {
  ...base,
  steps: [
    ['a', 2, []],
    ['b', 3, []],
    ['c', 2, ['a']],
    ['d', 4, ['a', 'b']],
    ['e', 4, ['c']],
    ['f', 3, ['c']],
    ['g', 5, ['d', 'e']],
    ['h', 2, ['f', 'g']],
  ].map(([id, days, after]) => ({
    id: id as string,
    name: id as string,
    takes: (days as number) * DAY,
    after: after as string[],
  })),
};

/** Printed, filed, painted and dried in lots, beside a board that has room. */
const inEvenings = (hours: string): Build => ({
  ...base,
  people: [{ id: 'ria', name: 'Ria', hours }],
  machines: [{ id: 'printer', name: 'Printer' }],
  parts: [{ id: 'hook', name: 'hook', source: 'make', count: 40 }],
  steps: [
    {
      id: 'print',
      name: 'print',
      part: 'hook',
      lotSize: 10,
      phases: [
        { kind: 'hands', minutes: 10 },
        { kind: 'run', machine: 'printer', minutes: '5 h' },
        { kind: 'hands', minutes: 5 },
      ],
    },
    { id: 'file', name: 'file', part: 'hook', lotSize: 10, phases: [{ kind: 'hands', perUnit: 13 }] },
    {
      id: 'paint',
      name: 'paint',
      part: 'hook',
      lotSize: 20,
      phases: [
        { kind: 'hands', perUnit: 4 },
        { kind: 'wait', minutes: '7 h' },
      ],
    },
    { id: 'board', name: 'board', phases: [{ kind: 'hands', minutes: '3 h' }] },
    { id: 'hang', name: 'hang', after: ['paint', 'board'], phases: [{ kind: 'hands', minutes: '5 h' }] },
  ],
});

describe('a critical step made longer by ten days', () => {
  test('moves the end of a textbook network by ten days', () => {
    expect(criticalSteps(milwaukee)).toEqual(['a', 'c', 'e', 'g', 'h']);
    const moves = milwaukee.steps.map(({ id }) => (endOf(longer(milwaukee, id, 10 * DAY)) - endOf(milwaukee)) / DAY);
    // B and D have one day of slack, F six: those move it by so much less.
    expect(moves).toEqual([10, 9, 10, 9, 10, 4, 10, 10]);
  });

  test('moves the end of a build in evenings by ten days', () => {
    const build = inEvenings('daily 18:00-22:00');
    const critical = criticalSteps(build);
    expect(critical).toEqual(['print', 'file', 'paint', 'hang']);
    for (const id of critical.slice(0, -1))
      expect([id, endOf(longer(build, id, 10 * DAY)) - endOf(build)]).toEqual([id, 10 * DAY]);
  });

  test('made longer by two weeks moves the end by two weeks where the hours are weekly', () => {
    const build = inEvenings('mon-fri 18:00-22:00; sat 10:00-16:00');
    for (const id of criticalSteps(build))
      expect([id, endOf(longer(build, id, 14 * DAY)) - endOf(build)]).toEqual([id, 14 * DAY]);
  });

  test('of hands alone moves the end by as many evenings of work', () => {
    const work = (minutes: number): Build => ({
      ...inEvenings('daily 18:00-22:00'),
      parts: [],
      steps: [
        { id: 'saw', name: 'saw', phases: [{ kind: 'hands', minutes: 100 }] },
        { id: 'glue', name: 'glue', after: ['saw'], phases: [{ kind: 'hands', minutes }] },
        { id: 'sand', name: 'sand', after: ['glue'], phases: [{ kind: 'hands', minutes: 90 }] },
      ],
    });
    expect(endOf(work(50 + 10 * 240)) - endOf(work(50))).toBe(10 * DAY);
  });
});
