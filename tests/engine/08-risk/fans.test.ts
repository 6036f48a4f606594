import { describe, expect, test } from 'vitest';
import type { Build, Step } from '../../../server/model/index.ts';
import { at, bench, hands, NOW, risk } from './_bench.ts';

const PEGS: Partial<Build> = { parts: [{ id: 'peg', name: 'peg', source: 'make', count: 60 }] };
const turn: Step = { id: 'turn', name: 'turn', part: 'peg', lotSize: 5, phases: [{ kind: 'hands', perUnit: 20 }] };
const sand: Step = { ...turn, id: 'sand', name: 'sand', phases: [{ kind: 'hands', perUnit: 10 }] };

describe('the fan of what may be left', () => {
  const found = risk(bench([turn, sand], PEGS));
  const [all, first, second] = found.fans!;

  test('has all steps together in minutes of hands first, then each step in its units', () => {
    expect(found.fans!.map(({ step }) => step)).toEqual([null, 'turn', 'sand']);
    expect([all!.p50[0], first!.p50[0], second!.p50[0]]).toEqual([60 * 30, 60, 60]);
  });

  test('begins now, never rises, and its 10 lie below its 90', () => {
    for (const { instants, p10, p50, p90 } of found.fans!) {
      expect(instants[0]).toBe(NOW);
      expect(instants.length).toBeLessThanOrEqual(40);
      for (let i = 1; i < instants.length; i++) {
        expect(instants[i]).toBeGreaterThan(instants[i - 1]!);
        for (const line of [p10, p50, p90]) expect(line[i]).toBeLessThanOrEqual(line[i - 1]!);
        expect(p10[i]).toBeLessThanOrEqual(p50[i]!);
        expect(p50[i]).toBeLessThanOrEqual(p90[i]!);
      }
      expect(p10.some((low, i) => low < p90[i]!)).toBe(true);
    }
  });

  test('reaches to the event in all, and for a step to where its last unit is likely', () => {
    expect(all!.instants.at(-1)).toBeGreaterThanOrEqual(at('2026-12-11T17:00'));
    expect(all!.p90.at(-1)).toBe(0);
    for (const fan of [first!, second!]) {
      expect(fan.instants.at(-1)).toBeGreaterThanOrEqual(fan.lastUnitAt.p95);
      expect(fan.p90.at(-1)).toBe(0);
      // At the median of the last unit, in half of the futures something is left.
      const last = fan.instants.findIndex((instant) => instant >= fan.lastUnitAt.p50);
      expect(fan.p90[last - 1]).toBeGreaterThan(0);
    }
  });

  test('has all finished when the chance says so, by every future and not the first 500 of them', () => {
    expect(found.futures).toBeGreaterThan(500);
    expect(all!.lastUnitAt).toEqual(found.finishAt);
    expect(all!.lastUnitAt).toEqual(found.readyAt);
  });

  test('leaves out what is done and what has no units', () => {
    const done = [{ id: 'entry-001', kind: 'done' as const, step: 'carve', at: '2026-12-01T08:00:00Z' }];
    const gates = [{ id: 'look', name: 'look', after: ['turn'], minutes: 30 }];
    const fans = risk(bench([hands('carve', 60), turn], { ...PEGS, gates }), done, 50).fans!;
    expect(fans.map(({ step }) => step)).toEqual([null, 'turn']);
  });
});
