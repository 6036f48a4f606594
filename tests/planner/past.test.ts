import { expect, test } from 'vitest';
import type { LedgerSpan } from '../../server/engine/11-ledger/index.ts';
import type { LedgerPart, LogEntry } from '../../server/model/index.ts';
import { atOnce, createPlanner, type PlanTask } from '../../server/planner/index.ts';
import { lantern, openStore } from '../store/helpers.ts';
import { byHand, SHORT_PAUSES } from './at-once.ts';
import { byEdit, NOON, noonTap, ribs, simpleForecast } from './helpers.ts';

const DAY = 1440;
const atNoon = (daysAgo: number): string => new Date((NOON - daysAgo * DAY) * 60_000).toISOString();

/** Five ribs three days ago, eight a day ago, arrived in the other order. */
const LOG: LogEntry[] = [
  { id: 'entry-0001', kind: 'done', step: 'cut', n: 8, at: atNoon(1), seq: 1, who: 'Tom' },
  { id: 'entry-0002', kind: 'done', step: 'cut', n: 5, at: atNoon(3), seq: 2, who: 'Ana' },
];

const wholeChange = async ({ before, after }: LedgerSpan): Promise<LedgerPart[]> => [
  { kind: 'pace', subject: 'cut', who: null, minutes: after.room - before.room },
];

/** A planner with a background, which may stop answering. */
function running(store = openStore(), attribute: (span: LedgerSpan) => Promise<LedgerPart[]> = wholeChange) {
  const tasks: PlanTask[] = [];
  const errors: unknown[] = [];
  const clock = { now: NOON };
  const planner = createPlanner({
    store,
    now: () => clock.now,
    background: {
      plan: async (task) => {
        tasks.push(task);
        return simpleForecast(task.build, task.log, task.now);
      },
      attribute,
      findLevers: atOnce.findLevers,
      rightSize: atOnce.rightSize,
      waysBeside: atOnce.waysBeside,
      read: atOnce.read,
      tryOut: async (task) => ({ forecast: simpleForecast(task.build, task.log, task.now), ends: null }),
    },
    pauses: SHORT_PAUSES,
    report: (error) => errors.push(error),
  });
  return { planner, store, tasks, errors, clock };
}

const brought = async (one = running()) => {
  expect((await one.planner.create(lantern(), LOG, 'maker')).ok).toBe(true);
  return one;
};

test('a build that comes with a log gets the rows of its past, cut to what had happened by then, with parts', async () => {
  const { planner, errors } = await brought();
  expect(planner.rebuilding('lantern')).toBe(false);
  await planner.settled();
  expect(errors).toEqual([]);
  expect(planner.rebuilding('lantern')).toBe(false);
  const history = planner.history('lantern');
  expect(history.map(({ number }) => number)).toEqual(history.map((_, i) => i + 1));
  expect(history.map(({ rebuilt, who, cause, logSeq }) => [rebuilt, who, cause, logSeq])).toEqual([
    [true, null, [{ code: 'nothing-counted' }], 0],
    [true, 'Ana', [ribs(5)], 2],
    [true, null, [], 2],
    [true, 'Tom', [ribs(8)], 2],
    [false, 'maker', [byEdit(1)], 2],
  ]);
  for (const [i, { parts, roomMinutes }] of history.entries()) {
    if (i > 0) expect(parts![0]!.minutes).toBe(roomMinutes! - history[i - 1]!.roomMinutes!);
  }
  expect(planner.history('lantern', NOON - 2 * DAY)[0]).toMatchObject({ cause: [ribs(5)] });
});

test('each look says how far all of them are', async () => {
  const heard: (readonly [number, number])[] = [];
  const planner = createPlanner({
    store: openStore(),
    now: () => NOON,
    background: {
      ...byHand(simpleForecast),
      plan: async ({ build, log, now }, hand) => {
        if (now < NOON) {
          hand.progress(1, 2);
          const { done, total } = planner.jobs('lantern').find(({ isRunning }) => isRunning)!;
          heard.push([done, total]);
        }
        return simpleForecast(build, log, now);
      },
    },
    pauses: SHORT_PAUSES,
  });
  await planner.create(lantern(), LOG, 'maker');
  await planner.settled();
  const looks = heard.length;
  expect(looks).toBeGreaterThan(3);
  expect(heard).toEqual(heard.map((_, i) => [100 * i + 50, 100 * looks]));
});

test('looks that are stopped leave the ledger as it was until the next start', async () => {
  const store = openStore();
  const one = running(store);
  one.planner.onChange(() => {
    for (const { job, kind } of one.planner.jobs('lantern')) if (kind === 'past') one.planner.stop(job);
  });
  await one.planner.create(lantern(), LOG, 'maker');
  await one.planner.settled();
  expect(one.planner.history('lantern')).toHaveLength(1);
  expect([one.errors, one.planner.rebuilding('lantern')]).toEqual([[], false]);
  const { planner } = running(store);
  planner.resume();
  await planner.settled();
  expect(planner.history('lantern')).toHaveLength(5);
});

test('the past is worked out once, and what is counted afterwards follows it', async () => {
  const { planner, tasks } = await brought();
  await planner.settled();
  const looks = tasks.length;
  planner.append('lantern', [noonTap({ n: 3 })], 'Ana');
  planner.resume();
  await planner.settled();
  expect(tasks.slice(looks).every(({ now }) => now === NOON)).toBe(true);
  expect(planner.history('lantern').at(-1)).toMatchObject({ number: 6, cause: [ribs(3)], rebuilt: false });
});

test('a build whose log began here has no past to work out', async () => {
  const one = running();
  await one.planner.create(lantern(), [], 'maker');
  await one.planner.settled();
  one.planner.append('lantern', [noonTap({ n: 3 })], 'Ana');
  await one.planner.settled();
  one.planner.resume();
  await one.planner.settled();
  expect(one.planner.history('lantern').map(({ rebuilt }) => rebuilt)).toEqual([false, false]);
});

test('a stop on the way leaves the ledger as it was, and the next start works the past out', async () => {
  const store = openStore();
  const background = byHand((build, log, now) => {
    if (now < NOON) throw new Error('stopped');
    return simpleForecast(build, log, now);
  });
  const parts = { store, now: () => NOON, background, pauses: SHORT_PAUSES };
  const first = createPlanner(parts);
  await first.create(lantern(), LOG, 'maker');
  await first.settled();
  const stopped = createPlanner(parts);
  stopped.resume();
  expect(stopped.rebuilding('lantern')).toBe(true);
  await stopped.settled();
  expect(store.forecasts.history(store.builds.ground('lantern')!.key)).toHaveLength(1);
  const { planner } = running(store);
  planner.resume();
  await planner.settled();
  expect(planner.history('lantern')).toHaveLength(5);
});

test('parts that were wanted when the server stopped are worked out after the next start', async () => {
  const store = openStore();
  const stopped = running(store, () => Promise.reject(new Error('stopped')));
  await stopped.planner.create(lantern(), [], 'maker');
  await stopped.planner.settled();
  stopped.planner.append('lantern', [noonTap({ n: 3 })], 'Ana');
  await stopped.planner.settled();
  stopped.planner.append('lantern', [noonTap({ n: 4 })], 'Ana');
  await stopped.planner.settled();
  expect(stopped.planner.history('lantern').map(({ parts }) => parts)).toEqual([null, null, null]);
  expect(stopped.errors.map(String)).toEqual(['Error: stopped', 'Error: stopped']);
  const spans: LedgerSpan[] = [];
  const { planner } = running(store, (span) => {
    spans.push(span);
    return wholeChange(span);
  });
  planner.resume();
  await planner.settled();
  expect(planner.history('lantern').map(({ parts }) => parts?.[0]?.minutes)).toEqual([undefined, 30, 40]);
  expect(spans.map(({ before, after }) => [before.log.length, after.log.length])).toEqual([
    [0, 1],
    [1, 2],
  ]);
});
