import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, BurnLine, LogEntry } from '../../../server/model/index.ts';
import { LIVELY_NOW, livelyBuild } from '../../support/makers/lively-builds.ts';

const HOUR = 60;
/** Mon 2 Nov 2026 08:00; hands are there from 8 to 18 each day. */
const BEGIN = Date.UTC(2026, 10, 2, 8) / 60_000;
const wall = (minute: number) => new Date(minute * 60_000).toISOString().slice(0, 16);

/** So many hooks, six minutes each, ready in four days. */
function hooks(count: number): Build {
  return {
    id: 'hooks',
    name: 'Hooks',
    zone: 'UTC',
    start: wall(BEGIN),
    event: wall(BEGIN + 4 * 24 * HOUR),
    people: [{ id: 'ann', name: 'Ann', hours: 'daily 08:00-18:00' }],
    parts: [{ id: 'hook', name: 'hook', source: 'make', count }],
    steps: [{ id: 'bend', name: 'bend', part: 'hook', lotSize: 10, phases: [{ kind: 'hands', perUnit: 6 }] }],
  };
}

function done(n: number, at: number, number = 0): LogEntry {
  const instant = `${wall(at)}:00Z`;
  return {
    id: `entry-${String(number).padStart(5, '0')}`,
    kind: 'done',
    step: 'bend',
    n,
    at: instant,
    seq: number + 1,
  };
}

/** The line of all steps and that of the one step. */
function burnOf(build: Build, log: readonly LogEntry[], now: number): readonly [BurnLine, BurnLine] {
  const { burn } = planBuild(build, log, now, { levelling: { seed: 1, schedules: 1 } });
  return [burn[0]!, burn[1]!];
}

describe('what is left', () => {
  test('is compared with what the first schedule has left at the same hour', () => {
    const [all, bend] = burnOf(hooks(100), [done(25, BEGIN + 3 * HOUR)], BEGIN + 4 * HOUR);
    expect([bend.left, bend.plannedLeft]).toEqual([75, 60]);
    expect(all.plannedLeft).toBe(60 * 6);
  });

  test('is divided by the hours since the step was begun and by those up to its last moment', () => {
    const [, bend] = burnOf(hooks(100), [done(40, BEGIN + 3 * HOUR)], BEGIN + 5 * HOUR);
    expect(bend.countedPerHour).toBeCloseTo(40 / 5, 9);
    // Four days of ten hours less the first five.
    expect(bend.neededPerHour).toBeCloseTo(60 / 35, 9);
  });

  test('has no pace yet where only minutes were counted, none needed when all is done, and none that helps past the event', () => {
    const [, soon] = burnOf(hooks(100), [done(5, BEGIN + 20)], BEGIN + 25);
    expect(soon.countedPerHour).toBeNull();
    const [all, finished] = burnOf(hooks(100), [done(100, BEGIN + 9 * HOUR)], BEGIN + 10 * HOUR);
    expect([finished.left, finished.neededPerHour, finished.needed]).toEqual([0, 0, []]);
    expect([all.left, all.neededPerHour]).toEqual([0, 0]);
    const [, late] = burnOf(hooks(100), [done(99, BEGIN + 9 * HOUR)], BEGIN + 5 * 24 * HOUR);
    expect([late.left, late.neededPerHour, late.plannedLeft]).toEqual([1, null, 0]);
  });

  test('was never less than nothing, where what is done again takes less than it took', () => {
    const build = hooks(20);
    const learnt = { ...build, steps: [{ ...build.steps[0]!, learning: 0.6 }] };
    const back: LogEntry = { ...done(8, BEGIN + 4 * HOUR, 1), kind: 'sent-back' };
    const [all] = burnOf(learnt, [done(20, BEGIN + 3 * HOUR), back], BEGIN + 5 * HOUR);
    expect(Math.min(...all.counted.map(([, left]) => left))).toBe(0);
    expect(all.counted.at(-1)![1]).toBe(all.left);
  });

  test('begins with the first count, where that came before the build was to begin', () => {
    const build = { ...hooks(20), start: wall(BEGIN + 3 * HOUR) };
    const [, bend] = burnOf(build, [done(12, BEGIN + HOUR)], BEGIN + 5 * HOUR);
    expect(bend.counted.map(([at, left]) => [(at - BEGIN) / HOUR, left])).toEqual([
      [1, 20],
      [1, 8],
      [5, 8],
    ]);
  });

  test('is compared with a first plan that knew of no hours lost since', () => {
    const lost: LogEntry = {
      ...done(1, BEGIN + HOUR, 1),
      kind: 'lost',
      until: `${wall(BEGIN + 4 * HOUR)}:00Z`,
    };
    const [, bend] = burnOf(hooks(100), [done(10, BEGIN + HOUR), lost], BEGIN + 5 * HOUR);
    expect([bend.left, bend.plannedLeft]).toEqual([90, 50]);
  });

  test('rises again when a unit is scrapped at a later step, and not only now', () => {
    const build = hooks(20);
    const hang = { id: 'hang', name: 'hang', part: 'hook', phases: [{ kind: 'hands' as const, perUnit: 6 }] };
    const scrapped: LogEntry = { ...done(3, BEGIN + 2 * HOUR, 1), kind: 'scrapped', step: 'hang' };
    const log = [done(12, BEGIN + HOUR), scrapped];
    const [, bend] = burnOf({ ...build, steps: [...build.steps, hang] }, log, BEGIN + 5 * HOUR);
    expect(bend.counted.map(([at, left]) => [(at - BEGIN) / HOUR, left])).toEqual([
      [0, 20],
      [1, 8],
      [2, 11],
      [5, 11],
    ]);
  });

  test('of all steps together is the work of hands that the steps themselves say is left, gates and helpers counted', () => {
    const pair: Build = {
      ...hooks(45),
      people: [...hooks(45).people!, { id: 'ben', name: 'Ben', hours: 'daily 08:00-18:00' }],
      gates: [{ id: 'look', name: 'look', after: ['bend'], minutes: 30 }],
    };
    pair.steps.push({
      id: 'carry',
      name: 'carry',
      after: ['look'],
      phases: [{ kind: 'hands', minutes: 45, people: 2 }],
    });
    const { burn, steps } = planBuild(pair, [done(12, BEGIN + 2 * HOUR)], BEGIN + 2 * HOUR);
    expect(burn[0]!.left).toBe(steps.reduce((sum, step) => sum + step.handsMinutesLeft, 0));
    expect(burn[0]!.left).toBe(33 * 6 + 30 + 2 * 45);
    expect(burn[0]!.total).toBe(45 * 6 + 30 + 2 * 45);
  });

  test('that no time is found for stays left in every line, and piles up and starves nobody', () => {
    const build = hooks(20);
    build.steps.push({
      id: 'gild',
      name: 'gild',
      part: 'hook',
      phases: [{ kind: 'hands', minutes: 11 * HOUR, oneGo: true }],
    });
    const { burn, balance } = planBuild(build, [], BEGIN, { levelling: { seed: 1, schedules: 1 } });
    expect(burn.find(({ step }) => step === 'gild')!.planned).toEqual([[BEGIN, 20]]);
    expect(balance!.steps.find(({ step }) => step === 'gild')!.scheduled).toEqual([[BEGIN, 0]]);
    expect(balance!.feeds).toMatchObject([{ from: 'bend', to: 'gild', starves: null, pile: null }]);
  });

  test('on site is left over at the last moment of the workshop, and asks no pace of the hours before', () => {
    const build = hooks(30);
    build.readyBy = wall(BEGIN + 2 * 24 * HOUR);
    build.loadIn = wall(BEGIN + 3 * 24 * HOUR);
    build.steps.push({
      id: 'hang',
      name: 'hang',
      onSite: true,
      after: ['bend'],
      phases: [{ kind: 'hands', minutes: 2 * HOUR }],
    });
    const [all] = burnOf(build, [], BEGIN);
    expect(all.left).toBe(30 * 6 + 2 * HOUR);
    expect(all.needed[1]![1]).toBe(2 * HOUR);
    // Two days of ten hours for three hours of work in the workshop.
    expect(all.neededPerHour).toBeCloseTo((30 * 6) / 20, 9);
  });

  test('needs no log', () => {
    const [, bend] = burnOf(hooks(100), [], BEGIN);
    expect(bend).toMatchObject({ left: 100, plannedLeft: 100, countedPerHour: null });
    expect(bend.planned.at(-1)).toEqual([BEGIN + 10 * HOUR, 0]);
  });

  test('of two thousand units counted one by one is a line of some hundred points that ends where the count does', () => {
    const log = Array.from({ length: 1500 }, (_, i) => done(1, BEGIN + i, i));
    const [all, bend] = burnOf(hooks(2000), log, BEGIN + 1500);
    for (const { counted, left } of [all, bend]) {
      expect(counted.length).toBeLessThanOrEqual(162);
      expect(counted.at(-1)).toEqual([BEGIN + 1500, left]);
      expect(counted.every(([, units], i) => i === 0 || units <= counted[i - 1]![1])).toBe(true);
    }
    expect(bend.left).toBe(500);
    expect(bend.counted[80]![1]).toBeCloseTo(2000 - (bend.counted[80]![0] - BEGIN + 1), 9);
  });
});

describe('work that was done', () => {
  const said = (build: Build, log: readonly LogEntry[], now: number) => {
    const [all] = planBuild(build, log, now, { levelling: { seed: 1, schedules: 1 } }).burn;
    return { left: all!.left, of: all!.total };
  };
  /** The hooks of brass that is ordered, and a plate for eight that takes 8 min to load and 4 to empty. */
  const busy: Build = {
    ...hooks(20),
    suppliers: [{ id: 'mill', name: 'the mill', lead: 1 }],
    parts: [...hooks(20).parts!, { id: 'rod', name: 'rod', source: 'buy', count: 30, supplier: 'mill' }],
    machines: [{ id: 'printer', name: 'printer', unattended: true, overnight: true }],
    steps: [
      {
        id: 'print',
        name: 'print',
        part: 'hook',
        lotSize: 8,
        phases: [
          { kind: 'hands', minutes: 8 },
          { kind: 'run', machine: 'printer', minutes: 60 },
          { kind: 'hands', minutes: 4 },
        ],
      },
      { id: 'bend', name: 'bend', part: 'hook', lotSize: 10, setup: 30, phases: [{ kind: 'hands', perUnit: 6 }] },
    ],
  };
  const all = 15 + 3 * 12 + 30 + 20 * 6;
  const entry = (kind: LogEntry['kind'], step: string, n: number, at: number, number: number): LogEntry => ({
    ...done(n, at, number),
    kind,
    step,
  });

  test('stays in the total when an order is placed, a plate is loaded and its units are counted', () => {
    const now = BEGIN + 8 * HOUR;
    expect(said(busy, [], now)).toEqual({ left: all, of: all });
    const log = [entry('ordered', 'order-rod', 30, BEGIN, 1)];
    expect(said(busy, log, now)).toEqual({ left: all - 15, of: all });
    log.push(entry('loaded', 'print', 8, now - 10, 2));
    expect(said(busy, log, now)).toEqual({ left: all - 15 - 8, of: all });
    log[1] = entry('loaded', 'print', 8, BEGIN + HOUR, 2);
    log.push(entry('done', 'print', 8, BEGIN + 2 * HOUR, 3));
    expect(said(busy, log, now)).toEqual({ left: all - 15 - 12, of: all });
  });

  test('falls out of what is left at the moment of the order', () => {
    const [line] = burnOf(busy, [entry('ordered', 'order-rod', 30, BEGIN + HOUR, 1)], BEGIN + 8 * HOUR);
    expect(line.counted.map(([at, left]) => [(at - BEGIN) / HOUR, left])).toEqual([
      [0, all],
      [1, all - 15],
      [8, all - 15],
    ]);
  });

  test('is more than was planned where the log says so: an order that went out in two', () => {
    const log = [entry('ordered', 'order-rod', 10, BEGIN, 1)];
    expect(said(busy, log, BEGIN + HOUR)).toEqual({ left: all, of: all + 15 });
    log.push(entry('received', 'order-rod', 10, BEGIN + HOUR, 2), entry('ordered', 'order-rod', 20, BEGIN + HOUR, 3));
    expect(said(busy, log, BEGIN + HOUR)).toEqual({ left: all - 15, of: all + 15 });
  });

  test('stays in the total with the setup that is made once, and with the first units of what is learnt', () => {
    const learnt = { ...busy, steps: [{ ...busy.steps[1]!, learning: 0.8 }] };
    const before = said(learnt, [], BEGIN);
    // Two minutes before the count nothing was counted: no pace can be read from it.
    const after = said(learnt, [entry('done', 'bend', 10, BEGIN, 1)], BEGIN);
    expect(after.of).toBe(before.of);
    expect(before.left - after.left).toBeGreaterThan(30 + 10 * 6 * 0.8 ** Math.log2(10));
  });

  test('never leaves the total of any build, whatever is loaded or ordered of it', () => {
    for (let seed = 1; seed <= 24; seed++) {
      const { build } = livelyBuild(seed);
      const bought: Build = {
        ...build,
        suppliers: [{ id: 'shop', name: 'the shop', lead: 2 }],
        parts: [...build.parts!, { id: 'cord', name: 'cord', source: 'buy', count: 12, supplier: 'shop' }],
      };
      const { lotSize = 1, perSet } = build.steps.find(({ id }) => id === 'mill')!;
      const whole = said(bought, [], LIVELY_NOW);
      const log = [
        entry('ordered', 'order-cord', seed % 3 === 0 ? 5 : 12, LIVELY_NOW - 2 * HOUR, 1),
        { ...entry('loaded', 'mill', 1 + (seed % Number(lotSize)), LIVELY_NOW - 5, 2), ...(perSet ? { set: 1 } : {}) },
      ];
      for (let n = 1; n <= log.length; n++) {
        const { of } = said(bought, log.slice(0, n), LIVELY_NOW);
        expect(of, `seed ${seed}, ${n} entries`).toBeGreaterThanOrEqual(whole.of);
      }
    }
  });
});
