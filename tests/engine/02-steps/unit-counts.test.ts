/** Whose set units are that were counted without saying which: a program at the bench names none. */
import { describe, expect, test } from 'vitest';
import { Random } from '../../../server/engine/numbers/random.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T17:00Z') / 60_000;
const STEPS = ['cut', 'sand', 'oil'];

/** Slats in bays, each passing three steps bay by bay. */
function slats(bays: number, each: number): Build {
  return {
    id: 'slats',
    name: 'slats',
    zone: 'UTC',
    event: '2026-12-20T18:00',
    sets: { count: bays, name: 'bay' },
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 17:00-22:00' }],
    parts: [{ id: 'slat', name: 'slat', source: 'make', count: bays * each }],
    steps: STEPS.map((id) => ({ id, name: id, part: 'slat', perSet: true, phases: [{ kind: 'hands', perUnit: 5 }] })),
  };
}

type Told = Pick<LogEntry, 'kind' | 'step'> & { readonly n: number; readonly set?: number; readonly counted?: boolean };

function logOf(told: readonly Told[]): LogEntry[] {
  return told.map((entry, i) => ({
    id: `entry-${1000 + i}`,
    seq: i + 1,
    at: new Date((NOW - 1000 + i) * 60_000).toISOString(),
    ...entry,
  }));
}

/** By step, the good units of each bay. */
function bySet(build: Build, told: readonly Told[]): Record<string, number[]> {
  const { plans } = workThrough({ build, log: logOf(told), now: NOW }, 'work');
  return Object.fromEntries(plans.map(({ id, sets }) => [id, sets.map(({ counted }) => counted)]));
}

describe('units counted without a set', () => {
  test('fill the sets in their order', () => {
    expect(bySet(slats(2, 4), [{ kind: 'done', step: 'cut', n: 6 }]).cut).toEqual([4, 2]);
  });

  test('are of the set in which a later step has counted them', () => {
    const told: Told[] = [
      { kind: 'done', step: 'cut', n: 3 },
      { kind: 'done', step: 'sand', n: 2, set: 2 },
    ];
    expect(bySet(slats(2, 4), told).cut).toEqual([1, 2]);
  });

  test('are of the set in which the step before has passed them', () => {
    const told: Told[] = [
      { kind: 'done', step: 'cut', n: 3, set: 2 },
      { kind: 'done', step: 'sand', n: 2 },
    ];
    expect(bySet(slats(2, 4), told).sand).toEqual([0, 2]);
  });

  test('make no set fuller than it is where one of them was scrapped there', () => {
    const told: Told[] = [
      { kind: 'done', step: 'cut', n: 9 },
      { kind: 'scrapped', step: 'sand', n: 1, set: 1, counted: false },
    ];
    expect(bySet(slats(2, 4), told).cut).toEqual([4, 4]);
  });

  test('are lost last where later steps have counted them', () => {
    const told: Told[] = [
      { kind: 'done', step: 'cut', n: 6 },
      { kind: 'done', step: 'sand', n: 2, set: 2 },
      { kind: 'scrapped', step: 'sand', n: 2, counted: false },
    ];
    expect(bySet(slats(2, 4), told).cut).toEqual([2, 2]);
  });

  test('of whatever was really made leave no step ahead of the one before it, in any set', () => {
    let filled = 0;
    for (let seed = 1; seed <= 400; seed++) {
      const random = new Random(seed);
      const [bays, each] = [2 + random.below(3), 2 + random.below(5)];
      const passed = STEPS.map(() => new Array<number>(bays).fill(0));
      const told: Told[] = [];
      for (let i = 0; i < 14; i++) {
        const [place, set] = [random.below(STEPS.length), random.below(bays)];
        const there = (place === 0 ? each : passed[place - 1]![set]!) - passed[place]![set]!;
        if (there <= 0) continue;
        const n = 1 + random.below(there);
        const named = random.below(2) === 0 ? { set: set + 1 } : {};
        const step = STEPS[place]!;
        if (random.below(5) > 0) {
          passed[place]![set]! += n;
          told.push({ kind: 'done', step, n, ...named });
        } else if (place > 0) {
          for (let earlier = 0; earlier < place; earlier++) passed[earlier]![set]! -= n;
          told.push({ kind: 'scrapped', step, n, set: set + 1, counted: false });
        }
        if (named.set === undefined) filled += n;
      }
      const counted = bySet(slats(bays, each), told);
      const inAll = (units: readonly number[]) => units.reduce((sum, one) => sum + one, 0);
      STEPS.forEach((step, i) => {
        expect(inAll(counted[step]!), `log ${seed}, ${step}`).toBe(inAll(passed[i]!));
        if (i === 0) return;
        const ahead = counted[step]!.filter((units, s) => units > counted[STEPS[i - 1]!]![s]!);
        expect(ahead, `log ${seed}, ${step}: ${JSON.stringify([told, counted])}`).toEqual([]);
      });
    }
    expect(filled).toBeGreaterThan(1000);
  });
});
