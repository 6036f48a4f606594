import { expect, test } from 'vitest';
import type { Build, LogEntry } from '../../server/model/index.ts';
import { createPlanner } from '../../server/planner/index.ts';
import { lantern, openStore } from '../store/helpers.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { quickly, SHORT_PAUSES } from './at-once.ts';
import { NOON, noonTap } from './helpers.ts';

function running(store = openStore()) {
  const clock = { now: NOON };
  const planner = createPlanner({
    store,
    now: () => clock.now,
    background: quickly,
    pauses: SHORT_PAUSES,
  });
  const burn = async () => {
    const { firstPlan, burn: lines } = (await planner.snapshot('lantern'))!.forecast;
    return { firstPlan, planned: lines.find(({ step }) => step === 'cut')?.planned, all: lines[0]!.planned };
  };
  const settled = async () => {
    await planner.settled();
    clock.now += 60;
    return burn();
  };
  return { planner, store, clock, settled };
}

const more = (build: Build): void => void Object.assign(build.parts![0]!, { count: 60 });

test('the first plan stands as it was when the first thing was counted, whatever is edited later', async () => {
  const { planner, settled, store } = running();
  await planner.create(lantern(), [], 'maker');
  expect((await settled()).firstPlan).toEqual({ kind: 'open' });
  planner.append('lantern', [noonTap({ n: 3 })], 'Ana');
  const first = await settled();
  expect(first.firstPlan).toEqual({ kind: 'kept', revision: 1 });
  expect(first.planned![0]![1]).toBe(40);
  await editBy(planner, 'lantern', more);
  const edited = await settled();
  expect(edited).toEqual(first);
  const again = running(store);
  expect((await again.settled()).all).toEqual(first.all);
});

test('a log that came before the last edits is compared with the plan of the edit that stood then', async () => {
  const store = openStore();
  const without = running(store);
  await without.planner.create(lantern(), [], 'maker');
  without.planner.append('lantern', [noonTap({ n: 3 })], 'Ana');
  await without.planner.settled();
  without.planner.close();
  store.firstPlans.drop(store.builds.ground('lantern')!.key);
  without.clock.now += 60;
  await editBy(without.planner, 'lantern', more);
  const { planner, clock, settled } = running(store);
  clock.now += 120;
  planner.resume();
  await settled();
  expect(await settled()).toMatchObject({ firstPlan: { kind: 'kept', revision: 1 } });
  expect((await settled()).planned![0]![1]).toBe(40);
});

test('counts that are all taken back leave no first plan behind', async () => {
  const { planner, settled, store } = running();
  await planner.create(lantern(), [], 'maker');
  const entry = noonTap({ n: 3 });
  planner.append('lantern', [entry], 'Ana');
  expect((await settled()).firstPlan?.kind).toBe('kept');
  planner.append('lantern', [{ id: 'undo-00001', kind: 'undo', undoes: entry.id, at: entry.at }], 'Ana');
  await editBy(planner, 'lantern', more);
  expect((await settled()).firstPlan).toEqual({ kind: 'open' });
  expect(store.firstPlans.get(store.builds.ground('lantern')!.key)).toBeNull();
  planner.append('lantern', [noonTap({ n: 1 })], 'Ana');
  await settled();
  const { firstPlan, planned } = await settled();
  expect([firstPlan, planned![0]![1]]).toEqual([{ kind: 'kept', revision: 2 }, 60]);
});

test('a build that comes with a log is compared with its plan as it came', async () => {
  const log: LogEntry[] = [{ id: 'entry-0001', kind: 'done', step: 'cut', n: 2, at: '2026-11-28T12:00:00Z', seq: 1 }];
  const { planner, settled } = running();
  await planner.create(lantern(), log, 'maker');
  await settled();
  await editBy(planner, 'lantern', more);
  expect(await settled()).toMatchObject({ firstPlan: { kind: 'kept', revision: 1 } });
});

test('a first plan that an older program kept is made again', async () => {
  const { planner, settled, store } = running();
  await planner.create(lantern(), [], 'maker');
  await settled();
  planner.append('lantern', [noonTap({ n: 3 })], 'Ana');
  const first = await settled();
  const { key } = store.builds.ground('lantern')!;
  const { revision, document } = store.firstPlans.get(key)!;
  const { format, ...old } = JSON.parse(document);
  expect(format).toBeGreaterThan(1);
  store.firstPlans.keep(key, revision, JSON.stringify({ ...old, all: [[0, 1]], steps: [] }));
  const again = running(store);
  again.clock.now += 120;
  again.planner.resume();
  await again.settled();
  expect(await again.settled()).toEqual(first);
  expect(JSON.parse(store.firstPlans.get(key)!.document)).toEqual(JSON.parse(document));
});
