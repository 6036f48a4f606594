import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';

/** Tue 1 Dec 2026 10:00; Ria is there from 10 to 20 each day. */
const NOW = Date.UTC(2026, 11, 1, 10) / 60_000;
const loaded = (id: string, step: string): LogEntry => ({ id, kind: 'loaded', step, n: 1, at: '2026-12-01T09:30:00Z' });

function build(more: Partial<Build['steps'][number]> = {}, presses = 1): Build {
  return {
    id: 'press',
    name: 'Press',
    zone: 'UTC',
    event: '2026-12-20T19:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 10:00-20:00' }],
    machines: [{ id: 'press', name: 'press', count: presses }],
    steps: [
      { id: 'cut', name: 'cut', phases: [{ kind: 'hands', minutes: 240 }], ...more },
      {
        id: 'bond',
        name: 'bond',
        count: 1,
        phases: [
          { kind: 'hands', minutes: 10 },
          { kind: 'run', machine: 'press', minutes: 60 },
          { kind: 'hands', minutes: 10 },
        ],
        after: [{ step: 'cut', type: 'finish-finish', lag: 30 }],
      },
    ],
  };
}

const lotOf = (made: Build, log: LogEntry[], step: string) =>
  planBuild(made, log, NOW).lots.find((lot) => lot.step === step)!;
const logged = (made: Build, log: LogEntry[]) =>
  planBuild(made, log, NOW).problems.filter(({ code }) => code === 'log');

describe('a piece in the press that is to end after other work', () => {
  const log = [loaded('entry-0001', 'bond')];

  test('is taken out then, in the plan as with hands unlimited, and the press waits for it', () => {
    const bond = lotOf(build(), log, 'bond');
    const end = NOW + 240 + 30;
    expect([bond.begun, bond.levelled!.finish, bond.dates.earlyFinish]).toEqual([true, end, end]);
    expect(bond.placements.at(-1)).toMatchObject({ start: end - 10, machine: 'press' });
  });

  test('ends first where that work needs the press, and says so', () => {
    const run = { phases: [{ kind: 'run' as const, machine: 'press', minutes: 60 }] };
    expect(lotOf(build(run), log, 'bond').levelled!.finish).toBe(NOW + 40);
    expect(logged(build(run), log)[0]!.message).toContain('"bond" is in hand and must finish after work that needs');
    expect(logged(build(), log)).toEqual([]);
  });
});

test('more loads than machines are kept and said', () => {
  const wide = build();
  const two = {
    ...wide,
    steps: wide.steps.map((step) => (step.id === 'bond' ? { ...step, count: 2, lotSize: 1 } : step)),
  };
  const log = [loaded('entry-0001', 'bond'), loaded('entry-0002', 'bond')];
  expect(logged(two, log)[0]!.message).toContain('2 loads are on "press" at once, but there is one');
  expect(logged({ ...two, machines: [{ id: 'press', name: 'press', count: 2 }] }, log)).toEqual([]);
});
