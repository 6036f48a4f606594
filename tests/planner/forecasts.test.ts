import { describe, expect, it } from 'vitest';
import type { Forecast, ForecastRisk } from '../../server/model/index.ts';
import { createForecastPool } from '../../server/planner/background.ts';
import type { SearchTask } from '../../server/planner/index.ts';
import { createStore } from '../../server/store/index.ts';
import { openDb, SAVED } from '../store/helpers.ts';
import { bench, NOON, noonTap, QUARTER, simpleForecast } from './helpers.ts';

/** A search that finds an order of work an hour better than the quick one, when the test lets it; with a chance if one is given. */
function slowSearch(chance?: number) {
  const waiting: { task: SearchTask; go: () => void; fail: () => void }[] = [];
  const search = (task: SearchTask): Promise<Forecast> =>
    new Promise((resolve, reject) => {
      const go = (): void => {
        const quick = simpleForecast(task.build, task.log, task.now);
        const { target, finish } = quick.room.readyBy;
        const gain = task.depth === 'deep' ? 60 : 0;
        const readyBy = { ...quick.room.readyBy, finish: finish! - gain, clock: target - finish! + gain };
        const risk = chance === undefined ? {} : { risk: { readyBy: { target, chance, error: 0.01 } } as ForecastRisk };
        resolve({ ...quick, ...risk, room: { ...quick.room, readyBy } });
      };
      waiting.push({ task, go, fail: () => reject(new Error('out of memory')) });
    });
  const next = async () => {
    while (waiting.length === 0) await new Promise((resolve) => setTimeout(resolve, 1));
    return waiting.shift()!;
  };
  return { search, next, waiting };
}

const tick = () => new Promise((resolve) => setTimeout(resolve, 5));

describe('a snapshot', () => {
  it('is computed once for a state and a quarter of an hour', () => {
    const { planner, computed, clock } = bench();
    planner.snapshot('lantern');
    clock.now = NOON + QUARTER - 1;
    planner.snapshot('lantern');
    expect(computed.count).toBe(0);
    clock.now = NOON + QUARTER;
    expect(planner.snapshot('lantern')).toMatchObject({ computedAt: NOON + QUARTER, stale: false });
    expect(computed.count).toBe(1);
  });

  it('is computed anew where the one on disk was made by a program with another form of forecasts', () => {
    const db = openDb();
    const store = createStore(db);
    bench({ store }).planner.snapshot('lantern');
    const restarted = bench({ store });
    restarted.planner.snapshot('lantern');
    expect(restarted.computed.count).toBe(0);
    db.exec('update forecasts set format = format - 1');
    const updated = bench({ store });
    updated.planner.latest('lantern');
    expect(updated.computed.count).toBe(1);
  });

  it('keeps since when each threat has stood, over new forecasts and a restart, until it is gone', () => {
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
    const sinceAt = (hours: number, { planner, clock } = bench({ store, computeForecast })) => {
      clock.now = NOON + 60 * hours;
      return planner.snapshot('lantern')!.forecast.threats!.map(({ since }) => (since - NOON) / 60);
    };
    const one = bench({ store, computeForecast });
    expect(sinceAt(0, one)).toEqual([0]);
    expect(sinceAt(5, one)).toEqual([0]);
    expect(sinceAt(9)).toEqual([0]);
    threatens = false;
    const next = bench({ store, computeForecast });
    expect(sinceAt(10, next)).toEqual([]);
    threatens = true;
    expect(sinceAt(12, next)).toEqual([12]);
  });

  it('follows each entry and says from which state it came', () => {
    const { planner } = bench();
    planner.append('lantern', [noonTap({ n: 5 }), noonTap({ n: 7 })], 'maker');
    const snapshot = planner.snapshot('lantern')!;
    expect(snapshot.version).toEqual({ revision: 1, logSeq: 2 });
    expect(snapshot.forecast.steps[0]!.left).toBe(28);
  });

  it('follows what another process wrote into the database', () => {
    const { planner, store } = bench();
    planner.snapshot('lantern');
    store.log.append(1, [noonTap({ n: 40 })], SAVED.savedAt);
    expect(planner.snapshot('lantern')!.forecast.steps[0]!.left).toBe(0);
  });
});

describe('a snapshot whose forecast fails', () => {
  it('is the one before, marked, and the failure is reported', () => {
    let fails = false;
    const computeForecast = (...asked: Parameters<typeof simpleForecast>): Forecast => {
      if (fails) throw new Error('out of memory');
      return simpleForecast(...asked);
    };
    const { planner, store, errors, clock } = bench({ computeForecast });
    fails = true;
    store.log.append(1, [noonTap({ n: 40 })], SAVED.savedAt);
    clock.now += 1;
    expect(planner.snapshot('lantern')).toMatchObject({
      stale: true,
      failedAt: NOON + 1,
      computedAt: NOON,
      version: { logSeq: 0 },
    });
    expect(String(errors[0])).toBe('Error: out of memory');
    fails = false;
    expect(planner.snapshot('lantern')).toMatchObject({ stale: false, failedAt: null, version: { logSeq: 1 } });
  });
});

describe('the latest forecast', () => {
  it('comes at once, stale, and is computed anew behind it', async () => {
    const { planner, heard } = bench();
    planner.append('lantern', [noonTap({ n: 5 })], 'maker');
    expect(planner.latest('lantern')).toMatchObject({ stale: true, version: { logSeq: 0 } });
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, version: { logSeq: 1 } });
    expect(heard).toEqual(['lantern ground', 'lantern forecast']);
  });

  it('is computed once for many taps', async () => {
    const { planner, computed } = bench();
    for (let i = 0; i < 20; i++) planner.append('lantern', [noonTap()], 'maker');
    await planner.settled();
    expect(computed.count).toBe(1);
  });

  it('is stale when a quarter of an hour has gone by, and a tick renews it', async () => {
    const { planner, clock } = bench();
    clock.now += QUARTER;
    planner.tick();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, computedAt: NOON + QUARTER });
  });

  it('is there after a restart, marked stale until it is computed anew', async () => {
    const db = openDb();
    bench({ store: createStore(db) });
    const { planner, store, computed } = bench({ store: createStore(db) });
    expect(planner.latest('lantern')).toMatchObject({ stale: false, version: { logSeq: 0 } });
    expect(computed.count).toBe(0);
    store.log.append(1, [noonTap()], SAVED.savedAt);
    expect(planner.latest('lantern')!.stale).toBe(true);
  });
});

describe('the search', () => {
  it('takes the place of the first answer when it is done', async () => {
    const { search, next } = slowSearch();
    const { planner, heard } = bench({ search });
    expect(planner.snapshot('lantern')!.forecast.room.readyBy.finish).toBe(NOON + 800);
    const job = await next();
    expect(job.task).toMatchObject({ depth: 'deep', now: NOON });
    job.go();
    await planner.settled();
    expect(planner.snapshot('lantern')).toMatchObject({ stale: false });
    expect(planner.snapshot('lantern')!.forecast.room.readyBy.finish).toBe(NOON + 740);
    expect(heard).toEqual(['lantern forecast']);
  });

  it('gives a quick answer first after a tap', async () => {
    const { search, next } = slowSearch();
    const { planner } = bench({ search });
    (await next()).go();
    await planner.settled();
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    const quick = await next();
    expect(quick.task.depth).toBe('quick');
    quick.go();
    await tick();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, version: { logSeq: 1 } });
    const deep = await next();
    expect(deep.task.depth).toBe('deep');
    deep.go();
    await planner.settled();
    expect(planner.latest('lantern')!.forecast.room.readyBy.finish).toBe(NOON + 640);
  });

  it('is not believed when the build has moved on meanwhile, and runs again', async () => {
    const { search, next } = slowSearch();
    const { planner } = bench({ search });
    const old = await next();
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    planner.snapshot('lantern');
    old.go();
    const fresh = await next();
    expect(fresh.task.log).toHaveLength(1);
    expect(planner.latest('lantern')!.version.logSeq).toBe(1);
    fresh.go();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, version: { logSeq: 1 } });
  });

  it('keeps the order found before where only time has gone by', async () => {
    const { search, next } = slowSearch();
    const { planner, clock } = bench({ search });
    (await next()).go();
    await planner.settled();
    clock.now += QUARTER;
    expect(planner.latest('lantern')!.stale).toBe(true);
    const job = await next();
    expect(job.task.depth).toBe('deep');
    job.go();
    await planner.settled();
    expect(planner.latest('lantern')!.forecast.room.readyBy.finish).toBe(NOON + QUARTER + 740);
  });

  it('that fails is reported, and the stale answer stays marked', async () => {
    const { search, next } = slowSearch();
    const { planner, errors } = bench({ search });
    (await next()).go();
    await planner.settled();
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    (await next()).fail();
    await planner.settled();
    expect(String(errors[0])).toBe('Error: out of memory');
    expect(planner.latest('lantern')).toMatchObject({ stale: true, failedAt: NOON, version: { logSeq: 0 } });
    (await next()).go();
    (await next()).go();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, failedAt: null, version: { logSeq: 1 } });
  });

  it('that fails behind a first answer is said until one succeeds, and told once', async () => {
    const { search, next } = slowSearch();
    const { planner, heard, clock } = bench({ search });
    (await next()).fail();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, failedAt: NOON });
    expect(heard).toEqual(['lantern forecast']);
    clock.now += QUARTER;
    planner.tick();
    (await next()).fail();
    await planner.settled();
    expect(heard).toEqual(['lantern forecast']);
    planner.tick();
    (await next()).go();
    await planner.settled();
    expect(planner.latest('lantern')).toMatchObject({ stale: false, failedAt: null });
  });

  it('leaves the last chance on show, said to be old and from when, until the new one is drawn', async () => {
    const { search, next } = slowSearch(0.8);
    const { planner } = bench({ search });
    expect(planner.latest('lantern')!.forecast.risk).toBeUndefined();
    expect(planner.latest('lantern')!.settled).toBe(false);
    (await next()).go();
    await planner.settled();
    const first = planner.latest('lantern')!.forecast;
    expect([first.risk!.readyBy.chance, first.riskFrom]).toEqual([0.8, undefined]);
    expect(planner.latest('lantern')!.settled).toBe(true);
    const from = { revision: 1, logSeq: 0, computedAt: NOON };
    for (const logSeq of [1, 2]) {
      planner.append('lantern', [noonTap({ n: 10 })], 'maker');
      expect(planner.snapshot('lantern')).toMatchObject({ version: { logSeq }, forecast: { riskFrom: from } });
    }
    const soon = await next();
    expect(soon.task).toMatchObject({ depth: 'quick' });
    expect(soon.task.log).toHaveLength(2);
    soon.go();
    await tick();
    const second = planner.latest('lantern')!.forecast;
    expect([second.risk!.readyBy.chance, second.riskFrom]).toEqual([0.8, undefined]);
    (await next()).go();
    await planner.settled();
    expect(planner.history('lantern').map(({ chance }) => chance)).toEqual([0.8, 0.8]);
  });

  it('runs in a thread of its own and gives what the engine would', async () => {
    const pool = createForecastPool(1, new URL('./worker-of-test.ts', import.meta.url));
    try {
      const { planner } = bench({ search: pool.search });
      planner.append('lantern', [noonTap({ n: 10 })], 'maker');
      await planner.settled();
      expect(planner.latest('lantern')).toMatchObject({ stale: false, forecast: { seed: 1, room: { readyBy: {} } } });
      expect(planner.latest('lantern')!.forecast.steps[0]!.left).toBe(30);
    } finally {
      await pool.close();
    }
  });
});

describe('the history', () => {
  it('has a row with its cause for each change of the answer', async () => {
    const { planner, clock } = bench();
    planner.append('lantern', [noonTap({ n: 5 }), noonTap({ n: 7 }), noonTap({ kind: 'scrapped', n: 1 })], 'Ana');
    await planner.settled();
    clock.now += 2;
    planner.edit('lantern', 'step "glue" removed', 'maker', (build) => void build.steps.pop());
    expect(planner.history('lantern')).toEqual([
      row(1, NOON, [1, 0], 'made', 'maker', NOON + 800),
      row(2, NOON, [1, 3], '12 done at cut ribs; 1 scrapped at cut ribs', 'Ana', NOON + 680),
      row(3, NOON + 2, [2, 3], 'step "glue" removed', 'maker', NOON + 2 + 280),
    ]);
  });

  it('has none for what changed nothing, nor for a quarter of an hour', async () => {
    const { planner, clock } = bench();
    planner.append('lantern', [noonTap({ kind: 'began', n: undefined as never })], 'Ana');
    planner.edit('lantern', 'name changed', 'maker', (build) => Object.assign(build, { name: 'Lamp' }));
    clock.now += QUARTER;
    planner.snapshot('lantern');
    expect(planner.history('lantern')).toHaveLength(1);
    clock.now += QUARTER;
    planner.snapshot('lantern');
    expect(planner.history('lantern')[1]).toMatchObject({ cause: 'time went by', who: null, roomMinutes: 170 });
  });

  it('counts what the search found, not the first answer', async () => {
    const { search, next } = slowSearch();
    const { planner } = bench({ search });
    expect(planner.history('lantern')).toEqual([]);
    (await next()).go();
    await planner.settled();
    expect(planner.history('lantern')).toEqual([row(1, NOON, [1, 0], 'made', 'maker', NOON + 740)]);
  });
});

function row(
  number: number,
  computedAt: number,
  [revision, logSeq]: [number, number],
  cause: string,
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
    parts: null,
    rebuilt: false,
  };
}
