import { describe, expect, test } from 'vitest';
import { riskOf } from '../../../server/engine/08-risk/index.ts';
import { lossRateOf } from '../../../server/engine/08-risk/lost-days.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import { problemsOf, workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, LogEntry, Step } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { at, bench, hands, NOW, risk } from './_bench.ts';

describe('the chance to be ready', () => {
  test('is the same for a seed and nearly so for another', () => {
    const build = bench([hands('carve', 40 * 60)]);
    expect(risk(build)).toEqual(risk(build));
    const [one, other] = [risk(build), risk(build, [], 600, 2)];
    expect(other.readyAt).not.toEqual(one.readyAt);
    const error = Math.hypot(one.readyBy.error, other.readyBy.error);
    expect(Math.abs(one.readyBy.chance - other.readyBy.chance)).toBeLessThan(4 * error);
  });

  test('falls as the time gets short, from nearly sure to nearly none', () => {
    // 88 hours are open. Of 300 guessed, a gamma of shape 6 leaves fewer with chance P(Poisson(17) <= 5) = 0.0007, unit
    // noise some more.
    const chances = [8, 60, 82, 300].map((hours) => risk(bench([hands('carve', hours * 60)])).readyBy.chance);
    expect(chances[0]).toBeGreaterThan(0.99);
    expect(chances[1]).toBeLessThan(chances[0]!);
    expect(chances[2]).toBeLessThan(chances[1]!);
    expect(chances[3]).toBeLessThan(0.02);
  });

  test('has rising quantiles and never ends before now', () => {
    const { readyAt, finishAt, futures } = risk(bench([hands('carve', 40 * 60)]));
    expect(futures).toBe(600);
    expect(readyAt.p10).toBeGreaterThan(NOW);
    expect(readyAt.p50).toBeGreaterThan(readyAt.p10);
    expect(readyAt.p80).toBeGreaterThan(readyAt.p50);
    expect(readyAt.p95).toBeGreaterThan(readyAt.p80);
    expect(finishAt).toEqual(readyAt);
  });

  test('stops early once it is exact enough, and says so', () => {
    const planned = workThrough({ build: bench([hands('carve', 60)]), log: [], now: NOW }, 'schedules');
    const found = riskOf(planned, { seed: 1, futures: 5000 })!;
    expect(found.futures).toBe(500);
    expect(found.readyBy.error).toBeLessThanOrEqual(0.005);
  });

  test('says after each future what share of them is drawn, or of their time is spent', () => {
    const planned = workThrough({ build: bench([hands('carve', 40 * 60)]), log: [], now: NOW }, 'schedules');
    const shares: number[] = [];
    const onShare = (share: number) => void shares.push(share);
    riskOf(planned, { seed: 1, futures: 200, exactness: 0, onShare });
    expect(shares).toEqual(Array.from({ length: 200 }, (_, i) => (i + 1) / 200));
    let now = 0;
    const clock = () => now++;
    const found = riskOf(planned, {
      seed: 1,
      exactness: 0,
      milliseconds: 1000,
      clock,
      onShare: (s) => shares.push(s),
    })!;
    expect(found.futures).toBeLessThan(1000);
    expect(shares.at(-1)).toBe(1);
  });

  test('is null when nothing is left to do', () => {
    const done: LogEntry[] = [{ id: 'entry-001', kind: 'done', step: 'carve', at: '2026-12-01T08:00:00Z' }];
    expect(
      riskOf(workThrough({ build: bench([hands('carve', 60)]), log: done, now: NOW }, 'schedules'), { seed: 1 }),
    ).toBeNull();
  });

  test('meets the same luck with a step more beside it', () => {
    const carve = hands('carve', 40 * 60);
    const alone = risk(bench([carve]));
    const beside = risk(bench([carve, { id: 'glue', name: 'glue', takes: 5 }]));
    expect(beside.readyAt).toEqual(alone.readyAt);
  });
});

describe('what is drawn', () => {
  const gate = (failChance: number): Partial<Build> => ({
    gates: [
      { id: 'look', name: 'look', after: ['carve'], minutes: 60, failChance, sendsBack: [{ step: 'carve', units: 1 }] },
    ],
  });

  test('a gate that never fails costs nothing, one that may fail costs, one that must costs most', () => {
    const [never, may, must] = [0, 0.4, 1].map((chance) => risk(bench([hands('carve', 8 * 60)], gate(chance))));
    expect(must!.readyAt.p50).toBeGreaterThan(may!.readyAt.p80);
    expect(may!.readyAt.p80).toBeGreaterThan(never!.readyAt.p80);
    const cost = (found: typeof may) => found!.steps.find(({ step }) => step === 'look')!.costMinutes;
    expect(cost(must)).toBeGreaterThan(cost(may));
    expect(cost(may)).toBeGreaterThan(0);
  });

  test('a supplier arrives between the low and the high of the lead time', () => {
    const build = bench([], {
      suppliers: [{ id: 'mill', name: 'Mill', workingDays: 'daily', lead: { low: 2, likely: 3, high: 6 } }],
      parts: [{ id: 'board', name: 'board', source: 'buy', count: 1, supplier: 'mill' }],
    });
    const { readyAt } = risk(build);
    const days = (t: number) => (t - NOW) / 1440;
    expect(days(readyAt.p10)).toBeGreaterThan(1.5);
    expect(days(readyAt.p95)).toBeLessThan(7);
    expect(days(readyAt.p95) - days(readyAt.p10)).toBeGreaterThanOrEqual(1);
  });

  test('scrap beyond the allowance takes longer than none', () => {
    const parts = (yieldShare: number): Partial<Build> => ({
      confidence: 0.5,
      parts: [{ id: 'peg', name: 'peg', source: 'make', count: 40, yield: yieldShare }],
    });
    const turn: Step = {
      id: 'turn',
      name: 'turn',
      part: 'peg',
      phases: [{ kind: 'hands', perUnit: 10 }],
      origin: 'measured',
    };
    const mean = (yieldShare: number) => {
      const planned = workThrough({ build: bench([turn], parts(yieldShare)), log: [], now: NOW }, 'schedules');
      const found = riskOf(planned, { seed: 1, futures: 600, exactness: 0 })!;
      return found.readyAt.p80 - planned.schedule!.readyAt;
    };
    expect(mean(0.7)).toBeGreaterThan(mean(1));
  });

  test('days are lost as often as the log lost them', () => {
    const lost = (id: string, day: string): LogEntry => ({
      id,
      kind: 'lost',
      at: `${day}T09:00:00Z`,
      until: `${day}T17:00:00Z`,
    });
    const build = bench([hands('carve', 40 * 60)], { start: '2026-11-21T09:00' });
    const entries = [lost('entry-001', '2026-11-23'), lost('entry-002', '2026-11-25'), lost('entry-003', '2026-11-26')];
    // Ten days since the start, three of them lost whole, on top of half a day in fourteen.
    const rate = lossRateOf(workThrough({ build, log: entries, now: NOW }, 'schedules'));
    expect(rate.shape).toBeCloseTo(3.5, 9);
    expect(rate.days).toBeCloseTo(24, 9);
    const [quiet, stormy] = [risk(build), risk(build, entries)];
    expect(stormy.lostDaysPerHundred).toBeGreaterThan(quiet.lostDaysPerHundred);
    expect(stormy.readyAt.p80).toBeGreaterThan(quiet.readyAt.p80);
    expect(stormy.readyBy.chance).toBeLessThanOrEqual(quiet.readyBy.chance);
  });

  test('a day on which nobody would have come is not lost, nor one on which a machine stood, and of a short day all', () => {
    const lost = (id: string, from: string, until: string, more: Partial<LogEntry> = {}): LogEntry => ({
      id,
      kind: 'lost',
      at: `2026-11-${from}:00Z`,
      until: `2026-11-${until}:00Z`,
      ...more,
    });
    const hours = 'mon-fri 09:00-17:00; sat 09:00-12:00';
    const people = ['ana', 'ben'].map((id) => ({ id, name: id, hours }));
    const machines = [{ id: 'mill', name: 'Mill' }];
    const build = bench([hands('carve', 40 * 60)], { start: '2026-11-16T09:00', people, machines });
    const rate = (...entries: LogEntry[]) =>
      lossRateOf(workThrough({ build, log: entries, now: Date.UTC(2026, 10, 30) / 60_000 }, 'schedules'));
    // Two weeks of six days.
    expect(rate(lost('entry-001', '22T00:00', '23T00:00'))).toEqual({ shape: 0.5, days: 26 });
    expect(rate(lost('entry-001', '17T09:00', '19T17:00', { machine: 'mill' }))).toEqual({ shape: 0.5, days: 26 });
    expect(rate(lost('entry-001', '21T00:00', '22T00:00')).shape).toBeCloseTo(1.5, 9);
    expect(rate(lost('entry-001', '18T13:00', '18T17:00', { person: 'ana' })).shape).toBeCloseTo(0.75, 9);
    expect(rate(lost('entry-001', '18T09:00', '18T17:00'), lost('entry-002', '18T09:00', '18T12:00')).shape).toBe(1.5);
  });

  test('hands that are counted as fitful leave the end of the same work less sure', () => {
    const file: Step = { id: 'file', name: 'file', count: 120, lotSize: 1, phases: [{ kind: 'hands', perUnit: 10 }] };
    const counted = (minutes: readonly number[]): LogEntry[] => {
      const clock = Date.UTC(2026, 10, 26, 10) / 60_000;
      let at = clock;
      const stamp = () => new Date(at * 60_000).toISOString();
      return [
        { id: 'entry-began', kind: 'began', step: 'file', at: stamp() },
        ...Array.from({ length: 24 }, (_, i): LogEntry => {
          at += minutes[i % minutes.length]!;
          return { id: `entry-${1000 + i}`, kind: 'done', step: 'file', n: 1, at: stamp() };
        }),
        { id: 'entry-ended', kind: 'paused', step: 'file', at: stamp() },
      ];
    };
    const build = bench([file], { start: '2026-11-26T10:00' });
    const spread = (minutes: readonly number[]) => {
      const { p10, p90 } = risk(build, counted(minutes)).readyAt;
      return p90 - p10;
    };
    expect(spread([1, 2, 4, 33])).toBeGreaterThan(1.3 * spread([9, 10, 10, 11]));
  });

  test('a step on no chain has no criticality, one that all hangs on has all', () => {
    const found = risk(bench([hands('carve', 40 * 60), { id: 'dry', name: 'dry', takes: 30 }]));
    const of = (id: string) => found.steps.find(({ step }) => step === id)!;
    expect(of('carve')).toMatchObject({ criticality: 1 });
    expect(of('carve').cruciality).toBeGreaterThan(0.7);
    expect(of('dry')).toMatchObject({ criticality: 0, sensitivity: 0, costMinutes: 0 });
  });

  // By definition criticality x spread of the step / spread of the end. Half a year without a lost day leaves the steps
  // as all that varies.
  test('a step that is all there is has sensitivity 1, and of two alike each has the square root of a half', () => {
    const steady = { start: '2026-05-01T09:00', event: '2026-12-31T17:00' };
    const [alone] = risk(bench([hands('carve', 40 * 60)], steady)).steps;
    expect(Math.abs(alone!.sensitivity! - 1)).toBeLessThan(0.05);
    const pair = risk(bench([hands('carve', 20 * 60), hands('paint', 20 * 60)], steady)).steps;
    for (const { sensitivity } of pair) expect(Math.abs(sensitivity! - Math.SQRT1_2)).toBeLessThan(0.1);
  });

  test('two lots of one pair of hands drive each other without a link', () => {
    const found = risk(bench([hands('carve', 20 * 60), hands('paint', 20 * 60)]));
    expect(found.steps.map(({ criticality }) => criticality)).toEqual([1, 1]);
  });
});

describe('with next to nothing to go by', () => {
  const carve = hands('carve', 8 * 60);
  const saysEvent = (build: Build, now: number) =>
    problemsOf(workThrough({ build, log: [], now }, 'schedules')).map(({ code }) => code);

  test('a build whose event has passed has no chance, and says that it has passed', () => {
    const build = bench([carve]);
    const late = at('2026-12-12T09:00');
    const found = risk(build, [], 100, 1, late);
    expect([found.readyBy.chance, found.event.chance]).toEqual([0, 0]);
    expect(found.readyAt.p10).toBeGreaterThan(late);
    expect(saysEvent(build, late)).toContain('event-past');
  });

  test('no hour left before the event, or too few within the calendars, leave no chance', () => {
    const evening = at('2026-12-11T16:59');
    expect(risk(bench([carve]), [], 100, 1, evening).readyBy.chance).toBe(0);
    const minutes = bench([carve], { people: [{ id: 'ria', name: 'Ria', hours: 'mon 09:00-09:01' }] });
    const found = risk(minutes, [], 100);
    expect([found.readyBy.chance, found.beyond]).toEqual([0, 100]);
    expect(found.readyAt.p10).toBeGreaterThan(found.until!);
    expect(risk(bench([carve]), [], 100).readyAt.p95).toBeLessThan(risk(bench([carve]), [], 100).until!);
  });

  test('a step that nobody may do has no chance at all, and is named', () => {
    const nobody = bench([carve], { people: [{ id: 'ria', name: 'Ria', hours: '' }] });
    const forecast = planBuild(nobody, [], NOW, { risk: { seed: 1, futures: 100 } });
    expect(forecast.risk).toBeNull();
    expect(forecast.problems.map(({ message }) => message).join(' ')).toMatch(/"carve" needs somebody/);
  });

  test('one entry, a log with weeks between, and all units on one instant are enough', () => {
    const turn: Step = { id: 'turn', name: 'turn', part: 'peg', lotSize: 5, phases: [{ kind: 'hands', perUnit: 20 }] };
    const build = bench([turn], { parts: [{ id: 'peg', name: 'peg', source: 'make', count: 40 }] });
    const done = (id: string, when: string, n = 1): LogEntry => ({ id, kind: 'done', step: 'turn', n, at: when });
    const logs = [
      [done('entry-001', '2026-12-01T08:00:00Z')],
      [done('entry-001', '2026-10-12T10:00:00Z', 3), done('entry-002', '2026-11-30T16:00:00Z', 4)],
      Array.from({ length: 12 }, (_, i) => done(`entry-0${i + 10}`, '2026-11-30T16:00:00Z')),
    ];
    for (const log of logs) {
      const found = risk(build, log, 100);
      expect(found.readyAt.p95).toBeGreaterThan(NOW);
      expect(found.steps[0]!.criticality).toBe(1);
    }
  });
});

test('the demo has a chance between none and all', () => {
  const now = at('2026-12-01T12:00');
  const { build, log } = tideWall(now);
  const planned = workThrough({ build, log: log ?? [], now }, 'schedules');
  const found = riskOf(planned, { seed: 1, futures: 500 })!;
  expect(found.beyond).toBe(0);
  expect(found.readyBy.chance).toBeGreaterThan(0.5);
  expect(found.readyBy.chance).toBeLessThan(1);
  expect(found.loadIn!.chance).toBeGreaterThanOrEqual(found.readyBy.chance);
});
