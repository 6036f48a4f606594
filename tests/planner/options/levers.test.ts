import { describe, expect, it } from 'vitest';
import type { Build, LeverSearch } from '../../../server/model/index.ts';
import { type Background, createPlanner } from '../../../server/planner/index.ts';
import { openStore } from '../../store/helpers.ts';
import { quickly, SHORT_PAUSES } from '../at-once.ts';

const NOW = Date.parse('2026-12-01T08:00Z') / 60_000;

/** Signs that one pair of hands saws and one press bends, with a week to go. */
const SIGNS: Build = {
  id: 'signs',
  name: 'Fair signs',
  zone: 'UTC',
  event: '2026-12-06T18:00',
  people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-14:00' }],
  machines: [{ id: 'press', name: 'press', price: 60 }],
  parts: [{ id: 'sign', name: 'sign', source: 'make', count: 24 }],
  steps: [
    { id: 'saw', name: 'saw', part: 'sign', lotSize: 4, phases: [{ kind: 'hands', perUnit: 20 }] },
    { id: 'bend', name: 'bend', part: 'sign', lotSize: 4, phases: [{ kind: 'run', machine: 'press', minutes: 300 }] },
    { id: 'pack', name: 'pack', part: 'sign', phases: [{ kind: 'hands', perUnit: 12 }] },
  ],
};

async function desk(build: Build = SIGNS, background: Background = quickly) {
  const errors: unknown[] = [];
  const planner = createPlanner({
    store: openStore(),
    now: () => NOW,
    background,
    pauses: SHORT_PAUSES,
    report: (error) => errors.push(error),
  });
  const made = await planner.create(build, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await planner.settled();
  return { planner, errors };
}

describe('what would buy time', () => {
  it('is looked for at a press, and stays at hand until the build is another', async () => {
    const { planner } = await desk();
    expect(planner.levers('signs')).toBeNull();
    expect(planner.findLevers('signs')).toBe(true);
    await planner.settled();
    const found = planner.levers('signs')!;
    expect(found).toMatchObject({ state: 'ended', isStale: false, version: { revision: 1 } });
    expect(found.search).toMatchObject({ isDone: true });
    expect(found.search!.rows.map(({ lever }) => lever.code)).toContain('one-more-machine');
    await planner.edit('signs', [{ kind: 'set', list: 'parts', key: 'sign', field: 'count', value: 20 }], 'maker');
    await planner.settled();
    expect(planner.levers('signs')).toMatchObject({ isStale: true, foundOn: 1 });
    planner.findLevers('signs');
    await planner.settled();
    expect(planner.levers('signs')).toMatchObject({ state: 'ended', foundOn: 2 });
    expect(planner.findLevers('gone')).toBe(false);
  });

  it('is looked for by itself below the chance that the maker asks for, and not above it', async () => {
    const tight = { ...SIGNS, event: '2026-12-04T12:00' };
    const below = await desk({ ...tight, askedChance: 0.95 });
    expect(below.planner.levers('signs')!.search!.present!.chance).toBeLessThan(0.95);
    expect((await desk(tight)).planner.levers('signs')).toBeNull();
    const above = await desk({ ...SIGNS, event: '2026-12-24T18:00', askedChance: 0.5 });
    expect(above.planner.latest('signs')!.forecast.risk!.readyBy.chance).toBeGreaterThan(0.5);
    expect(above.planner.levers('signs')).toBeNull();
  });

  it('shows its first rows while it goes on, and keeps what it has when it is stopped', async () => {
    let go: (() => void) | undefined;
    const slow: Background = {
      ...quickly,
      findLevers: (task, hand, onRows) =>
        new Promise((resolve, reject) => {
          void quickly
            .findLevers(task, hand, () => undefined)
            .then((whole) => {
              const some: LeverSearch = { ...whole, tried: 1, isDone: false };
              onRows(some);
              go = () => resolve(Atomics.load(hand.signal, 0) === 1 ? some : whole);
            }, reject);
        }),
    };
    const { planner } = await desk(SIGNS, slow);
    planner.findLevers('signs');
    while (go === undefined) await new Promise((resolve) => setTimeout(resolve, 2));
    expect(planner.levers('signs')).toMatchObject({ state: 'running', search: { tried: 1, isDone: false } });
    const [job] = planner.jobs('signs');
    expect(job).toMatchObject({ kind: 'levers', isRunning: true });
    expect(planner.findLevers('signs')).toBe(true);
    expect(planner.jobs('signs').length).toBe(1);
    expect(planner.stop(job!.job)).toBe(true);
    go();
    await planner.settled();
    expect(planner.levers('signs')).toMatchObject({ state: 'ended', search: { tried: 1, isDone: false } });
  });

  it('is worked out once, however often it is asked for at a time', async () => {
    const asked: string[] = [];
    const counted: Background = {
      ...quickly,
      findLevers: (...args) => {
        asked.push('levers');
        return quickly.findLevers(...args);
      },
      rightSize: (task) => {
        asked.push(task.parameter);
        return Promise.resolve(null);
      },
      waysBeside: (...args) => {
        asked.push('ways');
        return quickly.waysBeside(...args);
      },
    };
    const parameters = ['wide', 'high'].map((name) => ({ name, value: 2 }));
    const { planner } = await desk({ ...SIGNS, parameters }, counted);
    for (let n = 0; n < 3; n++) {
      planner.findLevers('signs');
      planner.layWaysBeside('signs');
      planner.rightSize('signs', 'wide');
    }
    await planner.settled();
    expect(asked.sort()).toEqual(['levers', 'ways', 'wide']);
    planner.rightSize('signs', 'high');
    await planner.settled();
    expect(asked).toContain('high');
  });

  it('says so when it fails, and can be looked for again', async () => {
    const broken = { ...quickly, findLevers: () => Promise.reject(new Error('no such luck')) };
    const { planner, errors } = await desk(SIGNS, broken);
    planner.findLevers('signs');
    await planner.settled();
    expect(planner.levers('signs')).toMatchObject({ state: 'failed', search: null });
    expect(errors).toEqual([new Error('no such luck')]);
  });

  it('is ready when a row said it would be, once the row is adopted', async () => {
    const { planner } = await desk();
    planner.findLevers('signs');
    await planner.settled();
    const rows = planner
      .levers('signs')!
      .search!.rows.filter(({ verdict }) => verdict === 'gains')
      .slice(0, 3);
    expect(rows.length).toBe(3);
    for (const { lever, readyAt } of rows) {
      const { planner: other } = await desk();
      expect(await other.edit('signs', lever.changes, 'maker', 1)).toEqual({ ok: true, value: { revision: 2 } });
      expect(other.latest('signs')!.forecast.room.readyBy.finish).toBe(readyAt);
    }
  });
});
