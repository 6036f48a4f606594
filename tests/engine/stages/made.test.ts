import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LogEntry } from '../../../server/model/index.ts';
import { wordedDoubts } from '../../support/words.ts';

const at = (text: string): number => Date.parse(`${text}Z`) / 60_000;

/** Evenings of one pair of hands: ten hooks filed and oiled, then hung up where they will stand. */
function hooks(): Build {
  return {
    id: 'hooks',
    name: 'Hooks',
    zone: 'UTC',
    event: '2026-12-12T19:00',
    loadIn: '2026-12-12T09:00',
    readyBy: '2026-12-11T20:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-22:00' }],
    steps: [
      { id: 'file', name: 'file', count: 10, lotSize: 10, phases: [{ kind: 'hands', perUnit: 3 }] },
      {
        id: 'oil',
        name: 'oil',
        count: 10,
        lotSize: 10,
        after: ['file'],
        phases: [
          { kind: 'hands', perUnit: 2 },
          { kind: 'wait', minutes: '2 h' },
        ],
      },
      { id: 'hang', name: 'hang', onSite: true, after: ['oil'], phases: [{ kind: 'hands', minutes: 90 }] },
    ],
  };
}

const done = (step: string, n: number, when: string): LogEntry => ({
  id: `entry-${step}`,
  kind: 'done',
  step,
  n,
  at: `${when}:00Z`,
});
const WORKSHOP = [done('file', 10, '2026-12-10T18:30'), done('oil', 10, '2026-12-10T19:00')];
const ALL = [...WORKSHOP, done('hang', 1, '2026-12-12T11:00')];
const risk = { seed: 1, futures: 50 };

describe('what is made', () => {
  test.each([
    ['an evening on', '2026-12-11T18:00'],
    ['on the day', '2026-12-12T10:00'],
  ])('was ready when it was last counted and dry, and stays so %s', (_, when) => {
    const forecast = planBuild(hooks(), WORKSHOP, at(when), { risk });
    expect(forecast.room.readyBy).toMatchObject({ finish: at('2026-12-10T21:00'), clock: 23 * 60 });
    expect(forecast.room.event.finish).toBeGreaterThan(at(when));
    expect([forecast.risk!.readyBy.chance, forecast.risk!.loadIn!.chance]).toEqual([1, 1]);
    expect([forecast.lowerBound, forecast.why, forecast.threats]).toEqual([null, [], []]);
  });

  test('too late is late for good', () => {
    const log = [done('file', 10, '2026-12-10T18:30'), done('oil', 10, '2026-12-12T08:00')];
    const forecast = planBuild(hooks(), log, at('2026-12-12T12:00'), { risk });
    expect(forecast.room.readyBy.clock).toBe(-14 * 60);
    expect([forecast.risk!.readyBy.chance, forecast.risk!.loadIn!.chance]).toEqual([0, 0]);
  });

  test('in all keeps its date when the event is over, and nothing is to be mended', () => {
    const forecast = planBuild(hooks(), ALL, at('2026-12-20T09:00'), { risk });
    expect(forecast.room.readyBy.clock).toBe(23 * 60);
    expect(forecast.room.event.finish).toBe(at('2026-12-12T11:00'));
    expect([forecast.problems, forecast.risk]).toEqual([[], null]);
    expect(forecast.soundness!.filter(({ fine }) => !fine)).toEqual([]);
  });

  test('is not made later by what is counted beyond it, but by a gate that is passed anew', () => {
    const more = { ...done('file', 2, '2026-12-11T12:00'), id: 'entry-more' };
    expect(planBuild(hooks(), [...WORKSHOP, more], at('2026-12-11T18:00')).room.readyBy.finish).toBe(
      at('2026-12-10T21:00'),
    );
    const gate = { id: 'look', name: 'look', after: ['oil'], before: ['hang'], minutes: 5 };
    const passed = (id: string, kind: LogEntry['kind'], when: string): LogEntry => ({
      id,
      kind,
      step: 'look',
      at: `${when}:00Z`,
    });
    const looks = [
      passed('entry-look-1', 'passed', '2026-12-11T09:00'),
      passed('entry-look-2', 'failed', '2026-12-11T10:00'),
      passed('entry-look-3', 'passed', '2026-12-11T11:00'),
    ];
    const build = { ...hooks(), gates: [gate] };
    expect(planBuild(build, [...WORKSHOP, ...looks], at('2026-12-11T18:00')).room.readyBy.finish).toBe(
      at('2026-12-11T11:00'),
    );
  });

  test('of two sets is made when the second is', () => {
    const build = { ...hooks(), sets: { count: 2, name: 'panel' } };
    build.steps = [{ id: 'wire', name: 'wire', perSet: true, count: 2, phases: [{ kind: 'hands', perUnit: 5 }] }];
    const log = [
      { ...done('wire', 4, '2026-12-10T18:00'), id: 'entry-set-1', set: 1 },
      { ...done('wire', 2, '2026-12-10T20:00'), id: 'entry-set-2', set: 2 },
    ];
    expect(planBuild(build, log, at('2026-12-11T18:00')).room.readyBy.finish).toBe(at('2026-12-10T20:00'));
  });

  test('had not to dry where the next work was done sooner', () => {
    const log = [...WORKSHOP, done('hang', 1, '2026-12-10T20:15')];
    expect(planBuild(hooks(), log, at('2026-12-10T20:30')).room.readyBy.finish).toBe(at('2026-12-10T20:15'));
  });

  test('asks for no spares any more for what was scrapped', () => {
    const parts: Build['parts'] = [
      { id: 'hook', name: 'hook', source: 'make', count: 10 },
      { id: 'eye', name: 'eye', source: 'buy', usedIn: [{ part: 'hook', count: 1 }], onHand: 20 },
    ];
    const build: Build = {
      ...hooks(),
      parts,
      steps: [{ id: 'file', name: 'file', part: 'hook', phases: [{ kind: 'hands', perUnit: 3 }] }],
    };
    const scrapped: LogEntry = { ...done('file', 3, '2026-12-10T18:10'), id: 'entry-scrap', kind: 'scrapped' };
    const codes = (log: readonly LogEntry[]) =>
      planBuild(build, log, at('2026-12-11T18:00')).doubts.map(({ code }) => code);
    const some = { ...done('file', 5, '2026-12-10T18:00'), id: 'entry-some' };
    expect(codes([some, scrapped])).toContain('scrapped-parts');
    expect(codes([some, scrapped, done('file', 5, '2026-12-10T19:00')])).not.toContain('scrapped-parts');
  });

  test('is not while a unit is left, whatever was counted', () => {
    const forecast = planBuild(hooks(), WORKSHOP.with(0, done('file', 9, '2026-12-10T18:30')), at('2026-12-11T18:00'));
    expect(forecast.room.readyBy.finish).toBeGreaterThan(at('2026-12-11T18:00'));
  });
});

describe('units through a later step than they were counted at', () => {
  const turned: Build = {
    ...hooks(),
    parts: [{ id: 'hook', name: 'hook', source: 'make', count: 10 }],
    steps: ['cast', 'file', 'wax'].map((id) => ({
      id,
      name: id,
      part: 'hook',
      phases: [{ kind: 'hands', perUnit: 3 }],
    })),
  };
  const asked = (log: readonly LogEntry[], build = turned) =>
    planBuild(build, log, at('2026-12-11T18:00'))
      .doubts.filter(({ code }) => code === 'passed-more')
      .map(({ values }) => values);

  test('are asked about at each step that still has them to make', () => {
    const log = [done('cast', 4, '2026-12-10T18:00'), done('wax', 7, '2026-12-10T19:00')];
    expect(asked(log)).toEqual([
      { step: 'cast', counted: 4, later: 'wax', passed: 7 },
      { step: 'file', counted: 0, later: 'wax', passed: 7 },
    ]);
    expect(wordedDoubts(planBuild(turned, log, at('2026-12-11T18:00'))).map(({ message }) => message)).toContain(
      '“cast”: 4 counted, but 7 are through “wax” after it. If those were made, count 3 more at “cast”; until then the plan makes them.',
    );
  });

  test('are not where as many were counted before, nor past a step that says what it comes after', () => {
    expect(asked([done('cast', 7, '2026-12-10T18:00'), done('file', 7, '2026-12-10T19:00')])).toEqual([]);
    const [cast, file, wax] = turned.steps;
    const apart = { ...turned, steps: [cast!, { ...file!, after: [] }, wax!] };
    expect(asked([done('file', 7, '2026-12-10T19:00')], apart)).toEqual([]);
  });
});
