import { describe, expect, it } from 'vitest';
import { keptScheduleOf, previousScheduleIn } from '../../../server/engine/07-levelling/replan/kept-schedule.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, LogEntry, Step } from '../../../server/model/index.ts';

const now = Date.parse('2026-12-01T07:00Z') / 60_000;
const done = (n: number): LogEntry[] =>
  n === 0 ? [] : [{ id: 'tap-000001', kind: 'done', step: 'make', n, at: '2026-12-01T06:00:00Z' } as LogEntry];

function build(step: Partial<Step>): Build {
  return {
    id: 'lots',
    name: 'Lots',
    zone: 'UTC',
    event: '2026-12-20T18:00',
    people: [{ id: 'ada', name: 'Ada', hours: 'daily 08:00-16:00' }],
    machines: [{ id: 'oven', name: 'Oven', unattended: true }],
    steps: [{ id: 'make', name: 'make', count: 30, lotSize: 10, ...step }],
  };
}
const ends = (step: Partial<Step>, n: number) =>
  planBuild(build(step), done(n), now).lots.map(({ firstUnit, lastUnit }) => [firstUnit, lastUnit]);

describe('lots of a step that is partly done', () => {
  it('keep their ends where hands do the work', () => {
    const hands: Partial<Step> = {
      phases: [
        { kind: 'hands', perUnit: 5 },
        { kind: 'wait', minutes: 60 },
      ],
    };
    expect(ends(hands, 0)).toEqual([
      [1, 10],
      [11, 20],
      [21, 30],
    ]);
    expect(ends(hands, 14)).toEqual([
      [15, 20],
      [21, 30],
    ]);
  });

  it('are filled where a machine runs them or each must be set up', () => {
    const filled = [
      [15, 24],
      [25, 30],
    ];
    expect(ends({ phases: [{ kind: 'run', machine: 'oven', minutes: 60 }] }, 14)).toEqual(filled);
    expect(ends({ phases: [{ kind: 'hands', perUnit: 5 }], setup: 20, setupEach: 'lot' }, 14)).toEqual(filled);
  });
});

describe('a former plan', () => {
  const hands: Partial<Step> = { phases: [{ kind: 'hands', perUnit: 5 }] };

  it('knows the lots again by their units, though they are numbered anew', () => {
    const before = planBuild(build(hands), [], now);
    const planned = workThrough({ build: build(hands), log: done(14), now }, 'schedules');
    const previous = previousScheduleIn(keptScheduleOf(before), planned.plans, planned.work);
    const startOf = (first: number) => before.lots.find(({ firstUnit }) => firstUnit === first)!.levelled!.start;
    expect([...previous].map(([id, { start, people }]) => [id, start, people])).toEqual([
      ['make/1', startOf(11), [[0]]],
      ['make/2', startOf(21), [[0]]],
    ]);
  });

  it('counts them within their set, so that another set may grow', () => {
    const perSet = { ...build({ ...hands, count: 'n', perSet: true }), sets: { count: 2, name: 'arch' } };
    const sized = (value: number): Build => ({ ...perSet, parameters: [{ name: 'n', value }] });
    const former = keptScheduleOf(planBuild(sized(10), [], now));
    const planned = workThrough({ build: sized(12), log: [], now }, 'schedules');
    const previous = previousScheduleIn(former, planned.plans, planned.work);
    expect([...previous.keys()]).toEqual(['make/1/1', 'make/2/1']);
    expect(previous.get('make/2/1')!.start).toBe(former.find(({ set }) => set === 2)!.start);
  });
});
