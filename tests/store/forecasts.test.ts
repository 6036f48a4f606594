import { describe, expect, it } from 'vitest';
import type { Forecast } from '../../server/model/index.ts';
import { lantern, openStore, SAVED } from './helpers.ts';

const forecast = { now: 5, complete: true } as unknown as Forecast;
const turn = {
  computedAt: 5,
  revision: 1,
  logSeq: 0,
  cause: 'made',
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
    forecasts.keep(key, kept, { ...turn, cause: '4 done', readyAt: null, chance: 0.25 });
    expect(forecasts.history(key)).toEqual([
      { number: 1, ...turn, parts: null, rebuilt: false },
      { number: 2, ...turn, cause: '4 done', readyAt: null, chance: 0.25, parts: null, rebuilt: false },
    ]);
    expect(forecasts.lastTurn(key)?.number).toBe(2);
    expect(forecasts.turn(key, 1)?.cause).toBe('made');
    expect(forecasts.turn(key, 3)).toBeNull();
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
