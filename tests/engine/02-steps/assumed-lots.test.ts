import { describe, expect, test } from 'vitest';
import { summaryOf } from '../../../server/cli/summary.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Step } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T18:00Z') / 60_000;

function boughs(more: Partial<Step> = {}, count = 5): Build {
  const evenings = 'daily 18:00-22:00';
  return {
    id: 'tree',
    name: 'Tree',
    zone: 'UTC',
    event: '2026-12-20T19:00',
    people: [
      { id: 'me', name: 'Me', hours: evenings },
      { id: 'helper', name: 'Helper', hours: evenings },
    ],
    machines: [{ id: 'press', name: 'press' }],
    steps: [{ id: 'wire', name: 'wire', count, phases: [{ kind: 'hands', perUnit: 150 }], ...more }],
  };
}

function wiring(build: Build) {
  return planBuild(build, [], NOW).steps[0]!;
}

describe('a lot that nobody has sized', () => {
  test('is one bough of two and a half hours, so that two people can share five', () => {
    expect(wiring(boughs())).toMatchObject({ lotSize: 1, isLotAssumed: true, lots: 5 });
    const asOne = planBuild(boughs({ lotSize: 5 }), [], NOW).room.readyBy.finish!;
    expect(planBuild(boughs(), [], NOW).room.readyBy.finish).toBeLessThan(asOne - 1440);
  });

  test.each<[string, Partial<Step>, number, number]>([
    ['about an hour of hands', { phases: [{ kind: 'hands', perUnit: 11 }] }, 100, 5],
    ['a dozen at most', { phases: [{ kind: 'hands', perUnit: 1 }] }, 100, 12],
    ['a plate of a dozen on a machine', { phases: [{ kind: 'run', machine: 'press', minutes: 200 }] }, 100, 12],
    ['a dozen where each lot is set up', { setup: 30, setupEach: 'lot' }, 100, 12],
    ['more than an hour’s worth of very many', {}, 900, 9],
  ])('is %s', (_, more, count, lotSize) => {
    expect(wiring(boughs(more, count)).lotSize).toBe(lotSize);
  });

  test('is said on the terminal; one that was typed is not', () => {
    expect(summaryOf(planBuild(boughs(), [], NOW))).toContain('in lots of 1, assumed');
    expect(summaryOf(planBuild(boughs({ lotSize: 1 }), [], NOW))).not.toContain('assumed');
  });

  test('is no word for a single job', () => {
    const { count: _, ...job } = boughs().steps[0]!;
    expect(wiring({ ...boughs(), steps: [job] }).isLotAssumed).toBe(false);
  });
});
