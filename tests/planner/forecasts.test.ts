import { describe, expect, it, vi } from 'vitest';
import {
  type Build,
  FORECAST_FORMAT,
  type Forecast,
  type ForecastRisk,
  type LogEntry,
  type TurnCause,
} from '../../server/model/index.ts';
import { SIGNAL } from '../../server/planner/background/tasks.ts';
import { type Background, createForecastPool, type Hand, type PlanTask } from '../../server/planner/index.ts';
import { createStore, type Depth } from '../../server/store/index.ts';
import { lantern, openDb, SAVED } from '../store/helpers.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { type Bench, bench, byEdit, NOON, noonTap, QUARTER, ribs, simpleForecast } from './helpers.ts';

/**
 * A background whose tasks the test ends: a search finds an order of work an hour better than the quick one; with a
 * chance if one is given.
 */
function slowly(chance?: number) {
  const waiting: { task: PlanTask; hand: Hand; onPlan?: (plan: Forecast) => void; go: () => void; fail: () => void }[] =
    [];
  const search: Background['plan'] = (task, hand, onPlan) =>
    new Promise((resolve, reject) => {
      const go = (): void => {
        const quick = simpleForecast(task.build, task.log, task.now);
        const { target, finish } = quick.room.readyBy;
        const gain = task.depth === 'deep' ? 60 : 0;
        const readyBy = { ...quick.room.readyBy, finish: finish! - gain, clock: target - finish! + gain };
        const risk = chance === undefined ? null : ({ readyBy: { target, chance, error: 0.01 } } as ForecastRisk);
        resolve({ ...quick, risk, room: { ...quick.room, readyBy } });
      };
      waiting.push({ task, hand, ...(onPlan ? { onPlan } : {}), go, fail: () => reject(new Error('out of memory')) });
    });
  const next = async (depth: Depth) => {
    while (waiting.length === 0) await soon();
    const one = waiting.shift()!;
    expect(one.task.depth).toBe(depth);
    return one;
  };
  return { search, next, waiting };
}

const soon = () => new Promise((resolve) => setTimeout(resolve, 1));
const aWhile = () => new Promise((resolve) => setTimeout(resolve, 15));

describe('a snapshot', () => {
  it('is computed once for a state and a quarter of an hour', async () => {
    const { planner, clock } = await bench();
    await planner.snapshot('lantern');
    clock.now = NOON + QUARTER - 1;
    expect(await planner.snapshot('lantern')).toMatchObject({ computedAt: NOON, stale: false });
    clock.now = NOON + QUARTER;
    expect(await planner.snapshot('lantern')).toMatchObject({ computedAt: NOON + QUARTER, stale: false });
  });

  it('is computed anew where the one on disk was made by a program with another form of forecasts', async () => {
    const db = openDb();
    const store = createStore(db);
    await (await bench({ store })).planner.snapshot('lantern');
    const restarted = await bench({ store });
    await restarted.planner.snapshot('lantern');
    expect(restarted.computed.count).toBe(0);
    db.exec('update forecasts set format = format - 1');
    // It is not even read, but for the order of work that it had, and that in turns.
    let [read, pieces] = [0, 0];
    const forecasts: typeof store.forecasts = {
      ...store.forecasts,
      last: (key) => {
        read += 1;
        return store.forecasts.last(key);
      },
      pieces: (key) => {
        pieces += 1;
        return store.forecasts.pieces(key);
      },
    };
    const updated = await bench({ store: { ...store, forecasts } });
    expect(updated.planner.latest('lantern')).toBeNull();
    expect(read).toBe(0);
    expect(await updated.planner.snapshot('lantern')).toMatchObject({ stale: false });
    expect([updated.computed.count, read, pieces]).toEqual([1, 0, 1]);
    // A page and what is worked out for it may ask for it at the same time.
    await vi.waitFor(() => expect(db.prepare('select format from forecasts').pluck().all()).toEqual([FORECAST_FORMAT]));
    const both = await bench({ store: { ...store, forecasts } });
    [read, pieces] = [0, 0];
    db.exec('update forecasts set format = format - 1');
    await Promise.all([both.planner.snapshot('lantern', 0), both.planner.snapshot('lantern')]);
    expect([both.computed.count, read, pieces]).toEqual([1, 0, 1]);
  });

  it('keeps since when each threat has stood, over new forecasts and a restart, until it is gone', async () => {
    const store = createStore(openDb());
    let threatens = true;
    const computeForecast: typeof simpleForecast = (build, log, now) => {
      const threat = {
        code: 'silent-step',
        step: 'cut',
        costMinutes: 60,
        since: now,
        values: { left: 1, readyNow: 1, lastLogged: now },
      } as const;
      return { ...simpleForecast(build, log, now), threats: threatens ? [threat] : [] };
    };
    const restarted = () => bench({ store, computeForecast });
    const sinceAt = async (hours: number, { planner, clock }: Bench) => {
      clock.now = NOON + 60 * hours;
      return (await planner.snapshot('lantern'))!.forecast.threats!.map(({ since }) => (since - NOON) / 60);
    };
    const one = await restarted();
    expect(await sinceAt(0, one)).toEqual([0]);
    expect(await sinceAt(5, one)).toEqual([0]);
    expect(await sinceAt(9, await restarted())).toEqual([0]);
    threatens = false;
    const next = await restarted();
    expect(await sinceAt(10, next)).toEqual([]);
    threatens = true;
    expect(await sinceAt(12, next)).toEqual([12]);
  });

  it('follows each entry and says from which state it came', async () => {
    const { planner } = await bench();
    planner.append('lantern', [noonTap({ n: 5 }), noonTap({ n: 7 })], 'maker');
    const snapshot = (await planner.snapshot('lantern'))!;
    expect(snapshot.version).toEqual({ revision: 1, logSeq: 2 });
    expect(snapshot.forecast.steps[0]!.left).toBe(28);
  });

  it('follows what another process wrote into the database', async () => {
    const { planner, store } = await bench();
    await planner.snapshot('lantern');
    store.log.append(1, [noonTap({ n: 40 })], SAVED.savedAt);
    expect((await planner.snapshot('lantern'))!.forecast.steps[0]!.left).toBe(0);
  });

  it('that takes too long is the one before, marked, and nothing where there is none before', async () => {
    const { search, next } = slowly();
    const { planner } = await bench({ search });
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    expect(await planner.snapshot('lantern', 5)).toMatchObject({ stale: true, version: { logSeq: 0 } });
    (await next('quick')).go();
    expect(await planner.snapshot('lantern', 500)).toMatchObject({ stale: false, version: { logSeq: 1 } });
    (await next('deep')).go();
    const store = createStore(openDb());
    store.builds.create(lantern(), SAVED);
    const started = await bench({ search, store });
    expect(await started.planner.snapshot('lantern', 5)).toBeNull();
    expect(started.planner.latest('lantern')).toBeNull();
    (await next('quick')).go();
    expect(await started.planner.snapshot('lantern', 500)).toMatchObject({ stale: false });
  });

  it('is the one before at once, marked, where the next will not come within the wait, as the last one did not', async () => {
    const { search, next } = slowly(0.5);
    let ms = 0;
    const { planner, clock } = await bench({ search, clock: () => ms });
    const answered = (depth: Depth, took: number) =>
      next(depth).then(async ({ go }) => {
        ms += took;
        go();
        await aWhile();
      });
    /** Whether a page would wait for it, and what it would show. */
    const asked = async (longest: number) => {
      const waits = aWhile().then(() => 'waits' as const);
      return Promise.race([planner.snapshot('lantern', longest).then((one) => one?.stale), waits]);
    };
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    await answered('quick', 1_200);
    await answered('deep', 30_000);
    expect(await asked(2_000)).toBe(false);
    // A quarter of an hour later the search alone makes a new one; what is at hand is shown until then.
    clock.now += QUARTER;
    expect([await asked(2_000), await asked(40_000)]).toEqual([true, 'waits']);
    const { go } = await next('deep');
    ms += 29_000;
    // It has gone on for long and may be there soon.
    expect(await asked(2_000)).toBe('waits');
    ms += 1_000;
    go();
    await aWhile();
    expect(await asked(2_000)).toBe(false);
    // After a tap it is the answer that is waited for.
    planner.append('lantern', [noonTap({ n: 2 })], 'maker');
    expect([await asked(2_000), await asked(1_000)]).toEqual(['waits', true]);
    await answered('quick', 1_200);
    expect(await asked(2_000)).toBe(false);
    await answered('deep', 30_000);
  });
});

describe('a snapshot whose forecast fails', () => {
  it('is the one before, marked, and the failure is reported', async () => {
    let fails = false;
    const computeForecast = (build: Build, log: readonly LogEntry[], now: number): Forecast => {
      if (fails) throw new Error('out of memory');
      return simpleForecast(build, log, now);
    };
    const { planner, store, errors, clock } = await bench({ computeForecast });
    fails = true;
    store.log.append(1, [noonTap({ n: 40 })], SAVED.savedAt);
    clock.now += 1;
    expect(await planner.snapshot('lantern')).toMatchObject({
      stale: true,
      failedAt: NOON + 1,
      computedAt: NOON,
      version: { logSeq: 0 },
    });
    expect(String(errors[0])).toBe('Error: out of memory');
    fails = false;
    expect(await planner.snapshot('lantern')).toMatchObject({ stale: false, version: { logSeq: 1 } });
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ failedAt: null });
  });

  it('is nothing where there is none before, and said to have failed', async () => {
    const store = createStore(openDb());
    store.builds.create(lantern(), SAVED);
    const { planner } = await bench({ store, search: () => Promise.reject(new Error('out of memory')) });
    expect(await planner.snapshot('lantern')).toBeNull();
    expect(planner.failedAt('lantern')).toBe(NOON);
  });
});

describe('the latest forecast', () => {
  it('comes at once, stale, and is computed anew behind it', async () => {
    const { planner, heard } = await bench();
    planner.append('lantern', [noonTap({ n: 5 })], 'maker');
    expect(planner.latest('lantern')).toMatchObject({ stale: true, version: { logSeq: 0 } });
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, version: { logSeq: 1 } });
    expect(heard.slice(0, 3)).toEqual(['lantern ground', 'lantern forecast', 'lantern forecast']);
  });

  it('is computed once for many taps', async () => {
    const { planner, computed } = await bench();
    for (let i = 0; i < 20; i++) planner.append('lantern', [noonTap()], 'maker');
    await planner.settled();
    expect(computed.count).toBe(1);
  });

  it('is there after a restart, marked stale until it is computed anew', async () => {
    const db = openDb();
    await bench({ store: createStore(db) });
    const { planner, store, computed } = await bench({ store: createStore(db) });
    expect(planner.latest('lantern')).toMatchObject({ stale: false, version: { logSeq: 0 } });
    expect(computed.count).toBe(0);
    store.log.append(1, [noonTap()], SAVED.savedAt);
    expect(planner.latest('lantern')!.stale).toBe(true);
  });
});

describe('time that goes by', () => {
  it('makes a forecast stale after a quarter of an hour, and a tick renews it', async () => {
    const { planner, clock } = await bench();
    planner.latest('lantern');
    clock.now += QUARTER;
    planner.tick();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, computedAt: NOON + QUARTER });
  });

  it('renews nothing that nobody looks at, however long the server runs', async () => {
    const tasks: PlanTask[] = [];
    const { planner, clock } = await bench({
      computeForecast: (build, log, now, task) => {
        tasks.push(task);
        return simpleForecast(build, log, now);
      },
    });
    const before = tasks.length;
    for (let quarter = 1; quarter <= 8; quarter++) {
      clock.now = NOON + quarter * QUARTER + 5;
      planner.tick();
      await planner.settled();
    }
    expect(tasks).toHaveLength(before);
    const lookAway = planner.look('lantern');
    for (let quarter = 9; quarter <= 12; quarter++) {
      clock.now = NOON + quarter * QUARTER + 5;
      planner.tick();
      await planner.settled();
    }
    expect(tasks).toHaveLength(before + 4);
    lookAway();
    clock.now += 3 * QUARTER;
    planner.tick();
    await planner.settled();
    expect(tasks).toHaveLength(before + 4);
    expect(await planner.snapshot('lantern')).toMatchObject({ stale: false, computedAt: clock.now });
  });

  it('renews nothing that is finished', async () => {
    const { planner, clock } = await bench();
    planner.append('lantern', [noonTap({ n: 40 }), noonTap({ step: 'glue', n: 40 })], 'maker');
    await planner.settled();
    planner.look('lantern');
    clock.now += QUARTER;
    planner.tick();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ computedAt: NOON });
  });
});

describe('the search', () => {
  it('takes the place of the first answer when it is done', async () => {
    const { search, next } = slowly();
    const { planner, heard } = await bench({ search });
    (await next('quick')).go();
    expect((await planner.snapshot('lantern'))!.forecast.room.readyBy.finish).toBe(NOON + 800);
    const job = await next('deep');
    expect(job.task).toMatchObject({ now: NOON });
    job.go();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, settled: true });
    expect(planner.latest('lantern')!.forecast.room.readyBy.finish).toBe(NOON + 740);
    expect(heard.slice(0, 2)).toEqual(['lantern forecast', 'lantern forecast']);
  });

  it('is preceded by the plan and the chance of its answer, as each is there', async () => {
    const { search, next } = slowly(0.8);
    const { planner, heard } = await bench({ search });
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    const quick = await next('quick');
    const { risk, ...plan } = simpleForecast(quick.task.build, quick.task.log, NOON);
    quick.onPlan!(plan as Forecast);
    expect(planner.latest('lantern')).toMatchObject({ stale: false, version: { logSeq: 1 } });
    expect(planner.latest('lantern')!.forecast.risk).toBeUndefined();
    quick.go();
    await aWhile();
    expect(planner.latest('lantern')!.forecast.risk).toMatchObject({ readyBy: { chance: 0.8 } });
    expect(heard).toEqual(['lantern ground', 'lantern forecast', 'lantern forecast']);
    (await next('deep')).go();
    await planner.settled();
    expect(planner.latest('lantern')!.forecast.room.readyBy.finish).toBe(NOON + 640);
  });

  it('gives way to a newer tap, which is answered first, and is not believed any more', async () => {
    const { search, next } = slowly();
    const { planner } = await bench({ search });
    (await next('quick')).go();
    const old = await next('deep');
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    await aWhile();
    expect(Atomics.load(old.hand.signal, 0)).toBe(SIGNAL.leave);
    old.fail();
    const fresh = await next('quick');
    expect(fresh.task.log).toHaveLength(1);
    fresh.go();
    (await next('deep')).go();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, version: { logSeq: 1 }, failedAt: null });
  });

  it('keeps the order found before where only time has gone by', async () => {
    const { search, next } = slowly();
    const { planner, clock } = await bench({ search });
    (await next('quick')).go();
    (await next('deep')).go();
    await planner.settled();
    clock.now += QUARTER;
    expect(planner.latest('lantern')!.stale).toBe(true);
    (await next('deep')).go();
    await planner.settled();
    expect(planner.latest('lantern')!.forecast.room.readyBy.finish).toBe(NOON + QUARTER + 740);
  });

  it('is told how large the build is, and is shown with how far it is', async () => {
    const { search, next } = slowly();
    const { planner } = await bench({ search });
    (await next('quick')).go();
    const job = await next('deep');
    expect(job.task.lots).toBe(0);
    job.hand.progress(40, 200);
    const [shown, ...others] = planner.jobs('lantern');
    expect(others).toEqual([]);
    expect(shown).toMatchObject({ kind: 'search', build: 'lantern', isRunning: true, done: 40, total: 200 });
    expect(planner.stop(shown!.job)).toBe(true);
    expect(Atomics.load(job.hand.signal, 0)).toBe(SIGNAL.enough);
    job.go();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ settled: true });
    expect(planner.stop(shown!.job)).toBe(false);
  });

  it('that fails is reported, and the stale answer stays marked', async () => {
    const { search, next } = slowly();
    const { planner, errors } = await bench({ search });
    (await next('quick')).go();
    (await next('deep')).go();
    await planner.settled();
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    (await next('quick')).fail();
    await planner.settled();
    expect(String(errors[0])).toBe('Error: out of memory');
    expect(planner.latest('lantern')).toMatchObject({ stale: true, failedAt: NOON, version: { logSeq: 0 } });
    (await next('quick')).go();
    (await next('deep')).go();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, failedAt: null, version: { logSeq: 1 } });
  });

  it('that fails behind a first answer is said until one succeeds, and told once', async () => {
    const { search, next } = slowly();
    const { planner, heard, clock } = await bench({ search });
    (await next('quick')).go();
    (await next('deep')).fail();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, failedAt: NOON });
    const told = heard.length;
    clock.now += QUARTER;
    planner.tick();
    (await next('deep')).fail();
    await planner.settled();
    expect(heard).toHaveLength(told);
    planner.tick();
    (await next('deep')).go();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, failedAt: null });
  });

  it('leaves the last chance on show, said to be old and from when, until the new one is drawn', async () => {
    const { search, next } = slowly(0.8);
    const { planner } = await bench({ search });
    expect(planner.latest('lantern')!.forecast.risk).toBeUndefined();
    expect(planner.latest('lantern')!.settled).toBe(false);
    (await next('quick')).go();
    (await next('deep')).go();
    await planner.settled();
    const first = planner.latest('lantern')!.forecast;
    expect([first.risk!.readyBy.chance, first.riskFrom]).toEqual([0.8, undefined]);
    const from = { revision: 1, logSeq: 0, computedAt: NOON };
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    const quick = await next('quick');
    const { risk, ...plan } = simpleForecast(quick.task.build, quick.task.log, NOON);
    quick.onPlan!(plan as Forecast);
    expect(planner.latest('lantern')).toMatchObject({ version: { logSeq: 1 }, forecast: { riskFrom: from } });
    quick.go();
    await aWhile();
    const second = planner.latest('lantern')!.forecast;
    expect([second.risk!.readyBy.chance, second.riskFrom]).toEqual([0.8, undefined]);
    (await next('deep')).go();
    await planner.settled();
    expect(planner.history('lantern').map(({ chance }) => chance)).toEqual([0.8, 0.8]);
  });

  it('runs in a thread of its own and gives what the engine would', async () => {
    const pool = createForecastPool(1, new URL('./worker-of-test.ts', import.meta.url));
    try {
      const { planner, errors } = await bench({ search: pool.plan });
      planner.append('lantern', [noonTap({ n: 10 })], 'maker');
      await planner.settled();
      expect(errors).toEqual([]);
      expect(planner.latest('lantern')).toMatchObject({ stale: false, forecast: { seed: 1, room: { readyBy: {} } } });
      expect(planner.latest('lantern')!.forecast.steps[0]!.left).toBe(30);
    } finally {
      await pool.close();
    }
  });
});

describe('the history', () => {
  it('has a row with its cause for each change of the answer', async () => {
    const { planner, clock } = await bench();
    planner.append('lantern', [noonTap({ n: 5 }), noonTap({ n: 7 }), noonTap({ kind: 'scrapped', n: 1 })], 'Ana');
    await planner.settled();
    clock.now += 2;
    await editBy(planner, 'lantern', (build) => void build.steps.pop());
    await planner.settled();
    expect(planner.history('lantern')).toEqual([
      row(1, NOON, [1, 0], [byEdit(1)], 'maker', NOON + 800),
      row(2, NOON, [1, 3], [ribs(12), ribs(1, 'scrapped')], 'Ana', NOON + 680),
      row(3, NOON + 2, [2, 3], [byEdit(2)], 'maker', NOON + 2 + 280),
    ]);
  });

  it('has none for what changed nothing, nor for a quarter of an hour', async () => {
    const { planner, clock } = await bench();
    planner.append('lantern', [noonTap({ kind: 'began', n: undefined as never })], 'Ana');
    await editBy(planner, 'lantern', (build) => Object.assign(build, { name: 'Lamp' }));
    await planner.settled();
    clock.now += QUARTER;
    await planner.snapshot('lantern');
    await planner.settled();
    expect(planner.history('lantern')).toHaveLength(1);
    clock.now += QUARTER;
    await planner.snapshot('lantern');
    await planner.settled();
    expect(planner.history('lantern')[1]).toMatchObject({ cause: [], who: null, roomMinutes: 170 });
  });

  it('counts what the search found, not the first answer', async () => {
    const { search, next } = slowly();
    const { planner } = await bench({ search });
    expect(planner.history('lantern')).toEqual([]);
    (await next('quick')).go();
    await soon();
    expect(planner.history('lantern')).toEqual([]);
    (await next('deep')).go();
    await planner.settled();
    expect(planner.history('lantern')).toEqual([row(1, NOON, [1, 0], [byEdit(1)], 'maker', NOON + 740)]);
  });
});

function row(
  number: number,
  computedAt: number,
  [revision, logSeq]: [number, number],
  cause: TurnCause,
  who: string,
  readyAt: number,
) {
  const roomMinutes = NOON + 1000 - readyAt;
  return {
    number,
    computedAt,
    revision,
    logSeq,
    cause,
    who,
    readyAt,
    roomMinutes,
    chance: null,
    parts: number === 1 ? null : [],
    rebuilt: false,
  };
}
