import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';

const HOUR = 60;
/** Tue 1 Dec 2026 18:00; Ria is there day and night. */
const NOW = Date.UTC(2026, 11, 1, 18) / 60_000;
const wall = (minute: number) => new Date(minute * 60_000).toISOString().slice(0, 16);

/** Boards primed ten at a time, which dry four hours, then painted and pressed on a machine, ten at a time. */
const BUILD: Build = {
  id: 'boards',
  name: 'Boards',
  zone: 'UTC',
  event: '2026-12-20T19:00',
  people: [{ id: 'ria', name: 'Ria', hours: 'always' }],
  machines: [{ id: 'press', name: 'press' }],
  parts: [{ id: 'board', name: 'board', source: 'make', count: 40 }],
  steps: [
    {
      id: 'prime',
      name: 'prime',
      part: 'board',
      lotSize: 10,
      phases: [
        { kind: 'hands', minutes: 30 },
        { kind: 'wait', minutes: '4 h' },
      ],
    },
    {
      id: 'press',
      name: 'press',
      part: 'board',
      lotSize: 10,
      phases: [
        { kind: 'hands', minutes: 10 },
        { kind: 'run', machine: 'press', minutes: 60 },
      ],
    },
  ],
};

let number = 0;
function entry(kind: LogEntry['kind'], hours: number, step: string, n: number): LogEntry {
  number += 1;
  return { id: `entry-${1000 + number}`, kind, step, n, at: `${wall(NOW + hours * HOUR)}:00Z`, seq: number };
}

function pressing(log: LogEntry[]) {
  const { steps, lots } = planBuild(BUILD, log, NOW, { levelling: { seed: 1, schedules: 1 } });
  const step = steps.find(({ id }) => id === 'press')!;
  const starts = lots.filter((lot) => lot.step === 'press' && !lot.begun).map((lot) => lot.dates.earlyStart! - NOW);
  return { readyNow: step.readyNow, waitsFor: step.waitsFor, starts: starts.map((minutes) => minutes / HOUR) };
}

describe('units that were counted a moment ago', () => {
  test('hold up the lots that need them, and not those that go on with what is dry', () => {
    const { readyNow, waitsFor, starts } = pressing([
      entry('done', -6, 'prime', 10),
      entry('done', -1, 'prime', 10),
      entry('done', -0.5, 'prime', 10),
    ]);
    // Primed five hours ago and before: dry. An hour ago: three more. Not primed yet: half an hour and four.
    expect(starts).toEqual([0, 3, 3.5, 4.5]);
    expect([readyNow, waitsFor]).toEqual([10, 'prime']);
  });

  test('are asked for instead of those that were lost since', () => {
    const { starts } = pressing([
      entry('done', -6, 'prime', 10),
      entry('done', -1, 'prime', 10),
      entry('scrapped', -0.5, 'press', 2),
    ]);
    // Eight of the ten that are dry are left, so the first ten are together in three hours.
    expect(starts[0]).toBe(3);
  });

  test('are not ready twice where a machine has them', () => {
    const { readyNow } = pressing([entry('done', -6, 'prime', 20), entry('loaded', -0.1, 'press', 10)]);
    expect(readyNow).toBe(10);
  });
});

test('what is here for one set is not ready for another', () => {
  const bySets: Build = {
    ...BUILD,
    sets: { count: 2, name: 'panel' },
    steps: BUILD.steps.map((step) => ({ ...step, perSet: true })),
  };
  const log = [
    { ...entry('done', -9, 'prime', 20), set: 1 },
    { ...entry('done', -8, 'prime', 5), set: 2 },
    { ...entry('done', -7, 'press', 20), set: 1 },
    { ...entry('done', -6, 'press', 3), set: 2 },
  ];
  const readyNow = (upTo: number) =>
    planBuild(bySets, log.slice(0, upTo), NOW).steps.find(({ id }) => id === 'press')!.readyNow;
  expect([readyNow(2), readyNow(3), readyNow(4)]).toEqual([25, 5, 2]);
  // Ten of set 2 are pressed whose priming nobody counted; they use up nothing of set 1.
  const crossed = planBuild(bySets, [log[0]!, { ...log[3]!, n: 10 }], NOW).steps.find(({ id }) => id === 'press')!;
  expect(crossed.readyNow).toBe(20);
});

test('what is counted of a step that does nothing but wait has waited, and what was begun is back when it is over', () => {
  const polish = { id: 'polish', name: 'polish', after: ['cure'], phases: [{ kind: 'hands' as const, minutes: 60 }] };
  const build: Build = { ...BUILD, parts: [], steps: [{ id: 'cure', name: 'cure', takes: '2 d' }, polish] };
  const polished = (log: LogEntry[]) => {
    const { lots } = planBuild(build, log, NOW);
    return (lots.find(({ step }) => step === 'polish')!.levelled!.start - NOW) / HOUR;
  };
  expect(polished([])).toBe(48);
  expect(polished([entry('loaded', -30, 'cure', 1)])).toBe(18);
  expect(polished([entry('loaded', -48, 'cure', 1), entry('done', 0, 'cure', 1)])).toBe(0);
});
