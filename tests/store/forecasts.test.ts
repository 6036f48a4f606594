import { describe, expect, it } from 'vitest';
import type { Forecast, TurnFact } from '../../server/model/index.ts';
import { createStore, type NewTurn } from '../../server/store/index.ts';
import { lantern, openDb, openStore, SAVED } from './helpers.ts';

const forecast = { now: 5, complete: true } as unknown as Forecast;
const COUNTED: TurnFact = { code: 'logged', kind: 'done', n: 4, step: { id: 'cut', name: 'cut ribs' } };
const turn: NewTurn = {
  computedAt: 5,
  revision: 1,
  logSeq: 0,
  cause: [{ code: 'edit', edit: 1 }],
  who: 'maker',
  readyAt: 90,
  roomMinutes: -3,
  chance: null,
};

describe('forecasts', () => {
  it('keeps only the last forecast, with what it was computed from', () => {
    const { builds, forecasts } = openStore();
    const { key } = builds.create(lantern(), SAVED);
    expect(forecasts.last(key)).toBeNull();
    forecasts.keep(key, { forecast, revision: 1, logSeq: 0, computedAt: 5, depth: 'quick' }, null);
    const later = { forecast, revision: 1, logSeq: 4, computedAt: 20, depth: 'deep' } as const;
    forecasts.keep(key, later, null);
    expect(forecasts.last(key)).toEqual({ ...later, current: true });
  });

  it('keeps every change of the answer with its cause', () => {
    const { builds, forecasts } = openStore();
    const { key } = builds.create(lantern(), SAVED);
    const kept = { forecast, revision: 1, logSeq: 0, computedAt: 5, depth: 'quick' } as const;
    expect(forecasts.lastTurn(key)).toBeNull();
    forecasts.keep(key, kept, turn);
    forecasts.keep(key, kept, { ...turn, cause: [COUNTED], readyAt: null, chance: 0.25 });
    expect(forecasts.history(key)).toEqual([
      { number: 1, ...turn, parts: null, rebuilt: false },
      { number: 2, ...turn, cause: [COUNTED], readyAt: null, chance: 0.25, parts: null, rebuilt: false },
    ]);
    expect(forecasts.lastTurn(key)?.number).toBe(2);
    expect(forecasts.turn(key, 1)?.cause).toEqual([{ code: 'edit', edit: 1 }]);
    expect(forecasts.turn(key, 3)).toBeNull();
  });

  it('reads the lines that were kept of causes before they were facts, and the parts that name edits by them', () => {
    const db = openDb();
    const { builds, forecasts } = createStore(db);
    const { key } = builds.create(lantern(), SAVED);
    const kept = { forecast, revision: 1, logSeq: 0, computedAt: 5, depth: 'quick' } as const;
    for (let n = 0; n < 2; n++) forecasts.keep(key, kept, turn);
    const old = db.prepare('update forecast_history set cause = ?, facts = null, parts = ? where number = ?');
    const part = { kind: 'edit', who: 'Ana', minutes: -40 };
    old.run('edit 3; 4 done at cut ribs', JSON.stringify([{ ...part, subject: 'edit 3' }]), 1);
    old.run('step "glue" removed', JSON.stringify([{ ...part, subject: 'step "glue" removed' }]), 2);
    const history = forecasts.history(key);
    expect(history.map(({ cause }) => cause)).toEqual([
      [
        { code: 'edit', edit: 3 },
        { code: 'said', text: '4 done at cut ribs' },
      ],
      [{ code: 'said', text: 'step "glue" removed' }],
    ]);
    expect(history.map(({ parts }) => parts?.[0]?.subject)).toEqual(['3', 'step "glue" removed']);
  });

  it('keeps the parts of a change with it', () => {
    const { builds, forecasts } = openStore();
    const { key } = builds.create(lantern(), SAVED);
    const kept = { forecast, revision: 1, logSeq: 0, computedAt: 5, depth: 'quick' } as const;
    forecasts.keep(key, kept, turn);
    forecasts.keep(key, kept, turn);
    const parts = [{ kind: 'pace', subject: 'cut', who: null, minutes: -40 }] as const;
    forecasts.attribute(key, 2, parts);
    expect(forecasts.history(key).map((one) => one.parts)).toEqual([null, parts]);
  });

  it('keeps the plan before a change until its parts are there, whatever number the change gets meanwhile', () => {
    const { builds, forecasts } = openStore();
    const { key } = builds.create(lantern(), SAVED);
    const kept = { forecast, revision: 1, logSeq: 0, computedAt: 5, depth: 'quick' } as const;
    forecasts.keep(key, kept, turn);
    for (const former of ['first', 'second']) forecasts.keep(key, kept, turn, former);
    const waiting = forecasts.pending(key, [])!;
    expect([waiting.number, forecasts.former(waiting.former)]).toEqual([2, 'first']);
    forecasts.prepend(key, [{ turn, former: null }], 'of the past');
    const before = forecasts.pending(key, [])!;
    expect([before.number, forecasts.former(before.former)]).toEqual([2, 'of the past']);
    expect(forecasts.pending(key, [before.former])).toEqual({ number: 3, former: waiting.former });
    forecasts.attribute(key, 3, []);
    expect(forecasts.former(waiting.former)).toBeNull();
    const last = forecasts.pending(key, [before.former])!;
    expect([last.number, forecasts.former(last.former)]).toEqual([4, 'second']);
    expect(forecasts.pending(key, [before.former, last.former])).toBeNull();
  });

  it('waits for no disk with a forecast, and does again with what comes after it', () => {
    const db = openDb();
    const { builds, forecasts, together } = createStore(db);
    const { key } = builds.create(lantern(), SAVED);
    const kept = { forecast, revision: 1, logSeq: 0, computedAt: 5, depth: 'quick' } as const;
    forecasts.keep(key, kept, turn);
    expect(db.pragma('synchronous', { simple: true })).toBe(2);
    expect(() => forecasts.keep(key, kept, { ...turn, chance: 1.5 })).toThrow(/CHECK/);
    expect(db.pragma('synchronous', { simple: true })).toBe(2);
    together(() => forecasts.keep(key, kept, turn));
    expect(forecasts.history(key)).toHaveLength(2);
  });

  it('gives the turns of a span with the one that it began at', () => {
    const { builds, forecasts } = openStore();
    const { key } = builds.create(lantern(), SAVED);
    const kept = { forecast, revision: 1, logSeq: 0, computedAt: 5, depth: 'quick' } as const;
    for (const computedAt of [10, 20, 20, 30]) forecasts.keep(key, kept, { ...turn, computedAt });
    const numbers = (instant: number) => forecasts.turnsFrom(key, instant).map(({ number }) => number);
    expect([5, 10, 19, 20, 30, 99].map(numbers)).toEqual([[1, 2, 3, 4], [1, 2, 3, 4], [1, 2, 3, 4], [3, 4], [4], [4]]);
    expect(forecasts.turnsFrom(key + 1, 10)).toEqual([]);
  });

  it('refuses a chance that is none', () => {
    const { builds, forecasts } = openStore();
    const { key } = builds.create(lantern(), SAVED);
    const kept = { forecast, revision: 1, logSeq: 0, computedAt: 5, depth: 'quick' } as const;
    expect(() => forecasts.keep(key, kept, { ...turn, chance: 1.5 })).toThrow(/CHECK/);
    expect(forecasts.last(key)).toBeNull();
  });
});
