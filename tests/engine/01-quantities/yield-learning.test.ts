import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, LogEntry, LogKind } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T18:00Z') / 60_000;

/** 160 cams and four spares, printed and, where asked for, cleaned; a share that comes out good where one is typed. */
function cams(typed: number | undefined, steps: readonly string[] = ['print']): Build {
  const share = typed === undefined ? {} : { yield: typed };
  return {
    id: 'ceiling',
    name: 'Ceiling',
    zone: 'UTC',
    event: '2026-12-30T19:00',
    people: [{ id: 'me', name: 'Me', hours: 'daily 08:00-22:00' }],
    parts: [
      { id: 'cam', name: 'Cam', source: 'make', count: 160, spares: 4, ...share },
      { id: 'pin', name: 'Pin', source: 'make', usedIn: [{ part: 'cam', count: 1 }] },
    ],
    steps: [
      { id: 'turn', name: 'turn', part: 'pin', phases: [{ kind: 'hands', perUnit: 1 }] },
      ...steps.map((id) => ({ id, name: id, part: 'cam', phases: [{ kind: 'hands' as const, perUnit: 2 }] })),
    ],
  };
}

function entry(kind: LogKind, n: number, step = 'print', minute = 10): LogEntry {
  return { id: `entry-${kind}-${step}-${minute}-${n}`, kind, step, n, at: `2026-12-01T10:${minute}:00Z` };
}

function seen(build: Build, log: readonly LogEntry[]) {
  const forecast = planBuild(build, log, NOW);
  const step = (id: string) => forecast.steps.find((one) => one.id === id)!;
  return { part: forecast.parts.find(({ id }) => id === 'cam')!, left: step('print').left, step };
}

/** The same without dates. */
function counted(build: Build, log: readonly LogEntry[]) {
  const { quantities, plans } = workThrough({ build, log, now: NOW }, 'work');
  return { part: quantities.parts.get('cam')!, left: plans.find(({ id }) => id === 'print')!.left };
}

/** Chance of `need` good ones or more out of n, summed term by term. */
function chanceOf(need: number, n: number, share: number): number {
  let term = share ** n;
  let sum = 0;
  for (let good = n; good >= need; good--) {
    sum += term;
    term = (term * good * (1 - share)) / ((n - good + 1) * share);
  }
  return sum;
}

function startsFor(need: number, share: number): number {
  let n = need;
  while (chanceOf(need, n, share) < 0.9) n++;
  return n;
}

describe('a yield is learnt from what was scrapped', () => {
  test('48 good and 8 scrapped of a typed 92 % leave more than 92 % would and less than the 86 % seen', () => {
    const { left, part } = seen(cams(0.92), [entry('done', 48), entry('scrapped', 8, 'print', 20)]);
    expect([startsFor(116, 0.92), startsFor(116, 48 / 56)]).toEqual([130, 142]);
    expect(part.yield).toBeCloseTo((0.92 * 30 + 48) / 86, 12);
    expect(left).toBe(startsFor(116, (0.92 * 30 + 48) / 86));
    expect(left).toBeGreaterThan(130);
    expect(left).toBeLessThan(142);
    expect(part.yieldLearnt).toMatchObject({ given: 0.92, tried: 56, scrapped: 8, origin: 'measured' });
    expect(part.yieldLearnt!.toMakeAsGiven).toBe(56 + startsFor(116, 0.92));
    expect(part.toMake).toBe(56 + left);
  });

  test('a share left empty moves sooner', () => {
    const log = [entry('done', 34), entry('scrapped', 6, 'print', 20)];
    const { part, left } = seen(cams(undefined), log);
    expect(part.yield).toBeCloseTo(44 / 50, 12);
    expect(left).toBe(startsFor(130, 0.88));
  });

  test('what a part goes into asks for as many as are begun', () => {
    const log = [entry('done', 48), entry('scrapped', 8, 'print', 20)];
    const { step, left } = seen(cams(0.92), log);
    expect(step('turn').total).toBe(56 + left);
  });

  test('more good ones than were thought leave fewer', () => {
    const { left } = seen(cams(0.92), [entry('done', 80)]);
    expect(left).toBeLessThan(startsFor(84, 0.92));
    expect(left).toBeGreaterThanOrEqual(84);
  });

  test('units on their way have only the steps before them that failed so often', () => {
    const log = [entry('done', 40), entry('done', 20, 'clean', 20), entry('scrapped', 10, 'clean', 30)];
    const late = seen(cams(0.92, ['print', 'clean']), log);
    const early = seen(cams(0.92, ['print', 'clean']), [
      entry('done', 30),
      entry('scrapped', 10, 'print', 20),
      entry('done', 20, 'clean', 30),
    ]);
    expect(late.part.yieldLearnt).toMatchObject({ tried: 40, scrapped: 10 });
    expect(late.step('clean').left).toBeGreaterThan(early.step('clean').left);
  });
});

describe('over logs', () => {
  const typed = fc.option(fc.constantFrom(0.6, 0.8, 0.92, 0.99, 1), { nil: undefined });
  const counts = fc.record({
    typed,
    done: fc.integer({ min: 0, max: 170 }),
    scrapped: fc.integer({ min: 0, max: 60 }),
  });

  test('more scrap never lowers what is left, nor what is to be started', () => {
    fc.assert(
      fc.property(counts, fc.integer({ min: 1, max: 20 }), ({ typed: share, done, scrapped }, more) => {
        const log = [
          ...(done > 0 ? [entry('done', done)] : []),
          ...(scrapped > 0 ? [entry('scrapped', scrapped)] : []),
        ];
        const before = counted(cams(share), log);
        const after = counted(cams(share), [...log, entry('scrapped', more, 'print', 30)]);
        expect(after.left).toBeGreaterThanOrEqual(before.left);
        expect(after.part.toMake).toBeGreaterThanOrEqual(before.part.toMake);
        expect(after.part.yield).toBeLessThan(before.part.yield + 1e-12);
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  test('a log that counts no unit of the part changes nothing', () => {
    fc.assert(
      fc.property(typed, fc.integer({ min: 1, max: 100 }), (share, pins) => {
        const before = counted(cams(share), []);
        const after = counted(cams(share), [entry('done', pins, 'turn'), entry('scrapped', 3, 'turn', 20)]);
        expect(after.part).toEqual(before.part);
        expect(after.left).toBe(before.left);
      }),
      { numRuns: 30, seed: 12 },
    );
  });

  test('a few scrapped before many were tried, of what was said never to fail, are made again and no more', () => {
    const { part, left } = counted(cams(undefined), [entry('done', 4), entry('scrapped', 6, 'print', 20)]);
    expect(part.learnt).toBeUndefined();
    expect(left).toBe(160);
  });

  test('nothing scrapped of what never fails changes nothing', () => {
    const { part, left } = counted(cams(undefined), [entry('done', 40)]);
    expect(part.learnt).toBeUndefined();
    expect([part.toMake, left]).toEqual([164, 124]);
  });
});
