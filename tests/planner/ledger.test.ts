import { expect, test } from 'vitest';
import type { LedgerSpan } from '../../server/engine/11-ledger/index.ts';
import type { LedgerPart } from '../../server/model/index.ts';
import { LeftOff, SIGNAL } from '../../server/planner/background/tasks.ts';
import { computePlan, createForecastPool, type PlanTask } from '../../server/planner/index.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { bench, NOON, noonTap, QUARTER, ribs } from './helpers.ts';

/** All of the change as one part. */
function asOne(spans: LedgerSpan[]) {
  return async (span: LedgerSpan): Promise<LedgerPart[]> => {
    spans.push(span);
    return [{ kind: 'pace', subject: 'cut', who: null, minutes: span.after.room - span.before.room }];
  };
}

test('a row of the history gets its parts, from the row before to this one', async () => {
  const spans: LedgerSpan[] = [];
  const { planner, clock, heard } = await bench({ attribute: asOne(spans) });
  planner.append('lantern', [noonTap({ n: 5 })], 'Ana');
  await planner.settled();
  clock.now += 2;
  await editBy(planner, 'lantern', (build) => void build.steps.pop());
  await planner.settled();
  planner.append('lantern', [noonTap({ n: 3 })], 'Tom');
  await planner.settled();
  const history = planner.history('lantern');
  expect(history.map(({ who, roomMinutes, parts }) => [who, roomMinutes, parts?.[0]?.minutes])).toEqual([
    ['maker', 200, undefined],
    ['Ana', 250, 50],
    ['maker', 648, 398],
    ['Tom', 678, 30],
  ]);
  const [counted, edited, last] = spans;
  expect(counted).toMatchObject({ before: { now: NOON, log: [], room: 200 }, edits: [], after: { room: 250 } });
  expect(counted!.after.log).toHaveLength(1);
  expect(edited).toMatchObject({ edits: [{ edit: 2, who: 'maker' }], after: { now: NOON + 2 } });
  expect(edited!.before.build.steps).toHaveLength(2);
  expect(edited!.edits[0]!.build.steps).toHaveLength(1);
  expect(edited!.edits[0]).toMatchObject({ now: NOON + 2, log: [{ who: 'Ana' }] });
  expect(last!.before.log).toHaveLength(1);
  expect(heard.at(-1)).toBe('lantern forecast');
});

test('a row whose parts cannot be worked out keeps its cause, and that is reported', async () => {
  const { planner, errors } = await bench({ attribute: () => Promise.reject(new Error('out of memory')) });
  planner.append('lantern', [noonTap({ n: 5 })], 'Ana');
  await planner.settled();
  expect(planner.history('lantern')[1]).toMatchObject({ cause: [ribs(5)], parts: null });
  expect(String(errors[0])).toBe('Error: out of memory');
});

test('parts that are stopped leave the row its cause; the rows after it get theirs with the next change', async () => {
  const stops = { stop: true };
  const { planner, errors } = await bench({
    attribute: async (_, hand) => {
      if (stops.stop) {
        const [job] = planner.jobs('lantern').filter(({ kind }) => kind === 'ledger');
        expect(planner.stop(job!.job)).toBe(true);
        expect(Atomics.load(hand.signal, 0)).toBe(SIGNAL.leave);
        throw new LeftOff();
      }
      return [{ kind: 'pace', subject: 'cut', who: null, minutes: 50 }];
    },
  });
  planner.append('lantern', [noonTap({ n: 5 })], 'Ana');
  await planner.settled();
  expect(planner.history('lantern')[1]).toMatchObject({ parts: null });
  stops.stop = false;
  planner.append('lantern', [noonTap({ n: 3 })], 'Ana');
  await planner.settled();
  expect(planner.history('lantern').map(({ parts }) => parts?.length)).toEqual([undefined, undefined, 1]);
  expect(errors).toEqual([]);
});

test('the history since an instant begins with the row that stood then', async () => {
  const { planner, clock } = await bench();
  for (let i = 1; i <= 3; i++) {
    clock.now += 4 * QUARTER;
    planner.append('lantern', [noonTap()], 'Ana');
    await planner.settled();
  }
  expect(planner.history('lantern', NOON + 9 * QUARTER).map(({ number }) => number)).toEqual([3, 4]);
  expect(planner.history('lantern', NOON - 1)).toHaveLength(4);
  expect(planner.history('nothing', NOON)).toEqual([]);
});

test('the thread works out the parts, which add up', async () => {
  const pool = createForecastPool();
  try {
    const { planner, clock, errors } = await bench({
      computeForecast: (_build, _log, _now, task: PlanTask) => computePlan({ ...task, depth: 'quick', noChance: true }),
      attribute: pool.attribute,
    });
    clock.now += 60;
    planner.append('lantern', [noonTap({ n: 8 }), noonTap({ kind: 'scrapped', step: 'glue', n: 2 })], 'Ana');
    await planner.settled();
    expect(errors).toEqual([]);
    const [made, turn] = planner.history('lantern');
    expect(turn!.parts!.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['counted', 'scrap', 'time']));
    const sum = turn!.parts!.reduce((minutes, part) => minutes + part.minutes, 0);
    expect(sum).toBe(turn!.roomMinutes! - made!.roomMinutes!);
  } finally {
    await pool.close();
  }
});
