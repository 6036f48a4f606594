import { describe, expect, test } from 'vitest';
import { proveSets } from '../../../server/engine/14-levers/prove-sets.ts';
import type { Build, SetsCompared } from '../../../server/model/index.ts';
import { bench, NOW } from '../08-risk/_bench.ts';

const MOUNT = 600;
const GATE = 30;
const REWORK = 10 * 12;

/** Two sets: one pair of hands day and night mounts, what is mounted cures, and a gate may send ten units back. */
function twoSets(failChance: number, cure: number): Build {
  return {
    ...bench([
      { id: 'mount', name: 'mount', perSet: true, count: 50, lotSize: 50, phases: [{ kind: 'hands', perUnit: 12 }] },
      { id: 'cure', name: 'cure', perSet: true, after: ['mount'], phases: [{ kind: 'wait', minutes: cure }] },
    ]),
    start: '2026-05-01T09:00',
    event: '2026-12-20T17:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 00:00-24:00' }],
    sets: { count: 2, name: 'panel' },
    gates: [
      {
        id: 'swims',
        name: 'swims',
        perSet: true,
        after: ['cure'],
        minutes: GATE,
        failChance,
        sendsBack: [{ step: 'mount', units: 10 }],
        holds: ['mount'],
      },
    ],
  };
}

function compared(failChance: number, cure: number): SetsCompared {
  const asked = { build: twoSets(failChance, cure), log: [], now: NOW, levelling: { seed: 1, schedules: 20 } };
  return proveSets(asked, { seed: 1, futures: 1500 })[0]!;
}

// Closed form, one pair of hands, a cure longer than the other set's mounting and a gate shorter than it: one set first
// is ready after 2 (mount + cure + gate) + p (rework + gate); step by step after 2 mount + cure + gate, or, where the
// gate fails for both, a second gate that begins when its set is cured and the first is through, and takes as long.
describe('one set first, or step by step', () => {
  const CURE = 900;
  const first = (p: number) => 2 * (MOUNT + CURE + GATE) + p * (REWORK + GATE);
  const along = (p: number) => {
    const failed = 2 * GATE + REWORK;
    const fails = Math.max(2 * MOUNT + CURE, MOUNT + CURE + failed) + failed;
    return (1 - p) * (2 * MOUNT + CURE + GATE) + p * fails;
  };

  test.each([0, 0.3, 0.8])('differ as the closed form of one gate and two sets says, at a chance of %f', (p) => {
    const { onAll, sets, failChance } = compared(p, CURE);
    expect([sets, failChance]).toEqual([2, p]);
    const later = along(p) - first(p);
    expect(Math.abs(onAll.later.mean - later)).toBeLessThan(4 * onAll.later.error + 12);
    expect(onAll.first.reworkMinutes).toBeCloseTo(p * REWORK, 6);
    expect(onAll.along.reworkMinutes).toBeCloseTo(2 * p * REWORK, 6);
    expect(onAll.sure).toBeGreaterThan(0.99);
  });

  test('are equally good without a fault and without a wait, and one first the better with a fault', () => {
    const none = compared(0, 0).onAll;
    expect(Math.abs(none.later.mean)).toBeLessThan(4 * none.later.error + 2);
    const { later, sure } = compared(0.5, 0).onAll;
    // Two gates and two reworks more against one of each: p (rework + gate).
    expect(Math.abs(later.mean - 0.5 * (REWORK + GATE))).toBeLessThan(4 * later.error + 10);
    expect(sure).toBeGreaterThan(0.99);
  });

  test('send back as much either way where each set fails by itself', () => {
    const { onOne } = compared(0.4, CURE);
    const failures = [1, 2, 3, 4, 5].reduce((sum, k) => sum + 0.4 ** k, 0);
    expect(onOne.first.reworkMinutes).toBeCloseTo(2 * failures * REWORK, 6);
    expect(onOne.along.reworkMinutes).toBe(onOne.first.reworkMinutes);
    expect(onOne.later.mean).toBeLessThan(0);
  });

  test('are asked of gates by sets alone, of which two have not passed', () => {
    const asked = (build: Build) => ({ build, log: [], now: NOW, levelling: { seed: 1, schedules: 5 } });
    const options = { seed: 1, futures: 20 };
    expect(proveSets(asked(bench([])), options)).toEqual([]);
    const one = twoSets(0.2, 60);
    expect(proveSets(asked({ ...one, sets: { count: 1, name: 'panel' } }), options)).toEqual([]);
    expect(proveSets(asked({ ...one, gates: [{ ...one.gates![0]!, perSet: false }] }), options)).toEqual([]);
  });
});
