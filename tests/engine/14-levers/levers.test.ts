import { describe, expect, test } from 'vitest';
import { findLevers } from '../../../server/engine/14-levers/index.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import {
  applyChanges,
  type Build,
  type LeverCode,
  type LeverSearch,
  type LogEntry,
  type Step,
} from '../../../server/model/index.ts';
import { at, bench, hands, NOW } from '../08-risk/_bench.ts';
import { rowsOf, SEED, search } from './_search.ts';

const codesOf = (found: LeverSearch): LeverCode[] => [...new Set(found.rows.map(({ lever }) => lever.code))].sort();
const ALWAYS = 'always';
const carved = (units: number): Step => ({
  id: 'carve',
  name: 'carve',
  count: units,
  lotSize: 1,
  phases: [{ kind: 'hands', minutes: 150 }],
});
const twoHands = ['ria', 'tom'].map((id) => ({ id, name: id, hours: ALWAYS }));

// RC-4: a garage build made for the check values; its optima by mixed-integer programming and by exhaustive search. Two
// people, a router that somebody stays with, a printer: 19 hours; with one more printer 18, with one more person 19.
describe('the garage build', () => {
  const HOUR = 60;
  const work = (id: string, hours: number, people: number, after: string[] = []): Step => ({
    id,
    name: id,
    phases: [{ kind: 'hands', minutes: hours * HOUR, people }],
    after,
  });
  const print = (id: string, hours: number): Step => ({
    id,
    name: id,
    phases: [{ kind: 'run', machine: 'printer', minutes: hours * HOUR }],
    after: [],
  });
  const garage: Build = {
    ...bench([
      print('print-arms', 6),
      print('print-hubs', 4),
      {
        id: 'cut-rings',
        name: 'cut-rings',
        phases: [{ kind: 'run', machine: 'router', minutes: 3 * HOUR, attended: true }],
        after: [],
      },
      work('prime-rings', 2, 1, ['cut-rings']),
      work('paint-rings', 2, 1, ['prime-rings']),
      work('press-inserts', 3, 1, ['print-arms']),
      work('assemble', 5, 2, ['press-inserts', 'paint-rings', 'print-hubs']),
      work('wire', 4, 1),
      work('test', 3, 1, ['assemble', 'wire']),
      work('pack', 1, 2, ['test']),
    ]),
    people: twoHands,
    machines: [
      { id: 'printer', name: 'printer', price: 300 },
      { id: 'router', name: 'router' },
    ],
  };
  const found = search(garage, NOW);
  const hoursOf = (readyAt: number | null) => (readyAt! - NOW) / HOUR;

  test('is ready after 19 hours as it is', () => {
    expect(hoursOf(found.present!.readyAt)).toBe(19);
  });

  test('is ready after 18 with one more printer, whose price is its cost', () => {
    const [printer] = rowsOf(found, 'one-more-machine').filter(({ lever }) =>
      JSON.stringify(lever).includes('printer'),
    );
    expect(hoursOf(printer!.readyAt)).toBe(18);
    expect(printer!.lever.cost).toEqual({ money: 300, handsMinutes: 0 });
    expect(printer!.verdict).toBe('gains');
  });

  test('is ready after 19 with one more person, who buys nothing of the plan: it goes through the printer', () => {
    const [person] = rowsOf(found, 'one-more-person');
    expect(hoursOf(person!.readyAt)).toBe(19);
    expect(found.neck).toMatchObject({ kind: 'machine', name: 'printer', until: NOW + 10 * HOUR });
  });
});

describe('the levers of a build', () => {
  test('are those that it has: of one pair of hands by day, no machine, no supplier', () => {
    const carving = hands('carve', 2000);
    const most = ['helper-day', 'helper-days', 'one-more-person'];
    expect(codesOf(search(bench([carving]), NOW))).toEqual(most);
    const fewHours = [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-15:00' }];
    const found = search({ ...bench([carving]), people: fewHours }, NOW);
    expect(codesOf(found)).toEqual([...most, 'longer-evenings'].sort());
  });

  test('are a coat left out, fewer units and cheaper lots where the maker allows them, and not elsewhere', () => {
    const coats = (mayDrop: boolean): Build => ({
      ...bench([
        { id: 'sand', name: 'sand', part: 'sign', phases: [{ kind: 'hands', perUnit: 30 }] },
        { id: 'coat', name: 'coat', part: 'sign', phases: [{ kind: 'hands', perUnit: 10 }], mayDrop },
        { id: 'letter', name: 'letter', part: 'sign', phases: [{ kind: 'hands', perUnit: 20 }], after: ['coat'] },
      ]),
      parts: [{ id: 'sign', name: 'sign', source: 'make', count: 20, ...(mayDrop ? { atLeast: 15 } : {}) }],
    });
    const found = search(coats(true), NOW);
    expect(rowsOf(found, 'fewer').map(({ lever }) => lever.values)).toEqual(
      expect.arrayContaining([
        { name: 'sign', from: 20, to: 18 },
        { name: 'sign', from: 20, to: 15 },
      ]),
    );
    const [out] = rowsOf(found, 'left-out');
    expect(out!.verdict).toBe('gains');
    const made = applyChanges(coats(true), out!.lever.changes);
    if (!made.ok) throw new Error(made.problems[0]!.message);
    expect(made.value.steps.map(({ id, after }) => [id, after])).toEqual([
      ['sand', undefined],
      ['letter', ['sand']],
    ]);
    expect(codesOf(search(coats(false), NOW))).not.toContain('left-out');
    expect(codesOf(search(coats(false), NOW))).not.toContain('fewer');
  });

  test('are no coat that is begun, and no fewer than are made', () => {
    const build: Build = {
      ...bench([
        { id: 'sand', name: 'sand', part: 'sign', phases: [{ kind: 'hands', perUnit: 30 }], mayDrop: true },
        { id: 'letter', name: 'letter', part: 'sign', phases: [{ kind: 'hands', perUnit: 20 }] },
      ]),
      parts: [{ id: 'sign', name: 'sign', source: 'make', count: 20, atLeast: 4 }],
    };
    const log: LogEntry[] = [{ id: 'entry-one-xx', at: '2026-12-01T08:00:00Z', kind: 'done', step: 'sand', n: 15 }];
    const found = search(build, NOW, 100, log);
    expect(codesOf(found)).not.toContain('left-out');
    const [least] = rowsOf(found, 'fewer').filter(({ lever }) => JSON.stringify(lever.values).includes('"to":4'));
    expect(least).toMatchObject({ verdict: 'nothing', reason: { code: 'made', made: 15 } });
  });

  test('are an express at its price, which an order that nobody has typed can say too', () => {
    const build: Build = {
      ...bench([hands('fit', 60, { part: 'sign', uses: ['bolt'] })]),
      parts: [
        { id: 'sign', name: 'sign', source: 'make', count: 1 },
        { id: 'bolt', name: 'bolt', source: 'buy', usedIn: [{ part: 'sign', count: 4 }], supplier: 'mill' },
      ],
      suppliers: [{ id: 'mill', name: 'mill', lead: 5, express: { lead: 1, extraCost: 40 } }],
    };
    const [express] = rowsOf(search(build, NOW), 'express');
    expect(express).toMatchObject({ verdict: 'gains', lever: { cost: { money: 40, handsMinutes: 0 } } });
    expect(express!.room! - search(build, NOW).present!.room!).toBeGreaterThan(2 * 1440);
    const made = applyChanges(build, express!.lever.changes);
    expect(made.ok && made.value.steps[0]).toMatchObject({ id: 'order-bolt', part: 'bolt' });
  });

  test('are another worker, or both, for what one alone is asked to do', () => {
    const build: Build = {
      ...bench([hands('wire', 400, { pinnedTo: ['ria'], count: 6, lotSize: 1 }), hands('carve', 1200)]),
      people: [
        { id: 'ria', name: 'Ria', hours: 'daily 09:00-12:00' },
        { id: 'tom', name: 'Tom', hours: 'daily 09:00-17:00' },
      ],
    };
    const found = search(build, NOW);
    expect(rowsOf(found, 'other-worker')[0]!.lever.values).toEqual({ step: 'wire', from: 'Ria', to: 'Tom' });
    const [split] = rowsOf(found, 'split-step');
    expect(split!.lever.values).toEqual({ step: 'wire', how: 'either', people: ['Ria', 'Tom'] });
    expect(split!.verdict).toBe('gains');
  });

  test('are the plan without nights where somebody has night hours, at what it costs', () => {
    const nights: Build = {
      ...bench([hands('carve', 3000)]),
      people: [
        {
          id: 'ria',
          name: 'Ria',
          hours: 'daily 21:00-03:00',
          exceptions: [{ date: '2026-12-03', hours: '01:00-07:00' }],
        },
      ],
    };
    const [row] = rowsOf(search(nights, NOW), 'no-nights');
    expect(row!.verdict).toBe('costs');
    expect(row!.lever.changes).toEqual([
      { kind: 'set', list: 'people', key: 'ria', field: 'hours', value: 'daily 21:00-24:00' },
      {
        kind: 'set',
        list: 'people',
        key: 'ria',
        field: 'exceptions',
        value: [{ date: '2026-12-03', hours: '05:00-07:00' }],
      },
    ]);
    expect(codesOf(search(bench([hands('carve', 300)]), NOW))).not.toContain('no-nights');
  });

  test('warn of the hours that they ask of somebody', () => {
    const build: Build = {
      ...bench([hands('carve', 6000)], { event: '2026-12-24T17:00' }),
      people: [{ id: 'ria', name: 'Ria', hours: 'mon-sun 09:00-15:30' }],
    };
    const rows = rowsOf(search(build, NOW), 'longer-evenings');
    expect(rows.map(({ lever }) => lever.values)).toContainEqual(expect.objectContaining({ limit: 'week' }));
    const found = search(build, NOW).rows.filter(({ warnings }) => warnings.length > 0);
    expect(found.every(({ warnings }) => warnings.every(({ person }) => person !== null))).toBe(true);
  });
});

describe('a search for levers', () => {
  /** Signs that are sawn, bent on one press and fitted with what comes from a mill. */
  const build: Build = {
    ...bench([
      { id: 'saw', name: 'saw', part: 'sign', lotSize: 6, phases: [{ kind: 'hands', perUnit: 25 }] },
      { id: 'bend', name: 'bend', part: 'sign', lotSize: 6, phases: [{ kind: 'run', machine: 'press', minutes: 300 }] },
      { id: 'fit', name: 'fit', part: 'sign', uses: ['bolt'], phases: [{ kind: 'hands', perUnit: 15 }] },
    ]),
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-14:00' }],
    machines: [{ id: 'press', name: 'press', price: 60 }],
    parts: [
      { id: 'sign', name: 'sign', source: 'make', count: 24 },
      { id: 'bolt', name: 'bolt', source: 'buy', count: 48, supplier: 'mill' },
    ],
    suppliers: [{ id: 'mill', name: 'mill', lead: 3, express: { lead: 1, extraCost: 20 } }],
  };
  const asked = { build, log: [], now: NOW, levelling: { seed: SEED, schedules: 10 } };

  test('ranks what gains first, and gives every row a verdict and what gains nothing a reason', () => {
    const found = findLevers(asked, { seed: SEED, futures: 160 });
    const verdicts = found.rows.map(({ verdict }) => ['gains', 'nothing', 'costs'].indexOf(verdict));
    expect(verdicts.slice(0, found.tried)).toEqual([...verdicts.slice(0, found.tried)].sort());
    expect(found.rows.filter(({ verdict }) => verdict === 'gains').length).toBeGreaterThan(2);
    expect(found.rows.filter(({ verdict, reason }) => verdict === 'nothing' && reason === null)).toEqual([]);
    const gaining = found.rows.filter(({ verdict }) => verdict === 'gains').map(({ score }) => score);
    expect(gaining).toEqual([...gaining].sort((a, b) => b - a));
    expect(found.pair!.rows.length).toBe(2);
    expect(found.triple!.rows).toEqual(expect.arrayContaining([...found.pair!.rows]));
    expect(found.isDone).toBe(true);
    expect(found).toEqual(findLevers(asked, { seed: SEED, futures: 160 }));
  });

  test('says of each row the chance of the plan as it is and what the row adds, however few futures it had', () => {
    const tight = { ...asked, build: { ...build, readyBy: '2026-12-09T12:00' } };
    const { rows, present, pair } = findLevers(tight, { seed: SEED, futures: 160 });
    const worths = [...rows, pair!].filter(({ compared }) => compared !== null);
    expect(new Set(worths.map(({ compared }) => compared!.futures)).size).toBeGreaterThan(1);
    expect(present!.chance).toBeGreaterThan(0);
    expect(present!.chance).toBeLessThan(1);
    for (const { chance, compared } of worths) {
      expect(chance).toBeCloseTo(Math.min(1, Math.max(0, present!.chance! + compared!.readyBy.mean)), 9);
    }
  });

  test('tells its first rows long before its last, and stops when its time is over with what it has', () => {
    const told: LeverSearch[] = [];
    findLevers(asked, { seed: SEED, futures: 80, onRows: (found) => told.push(found) });
    expect(told[0]).toMatchObject({ tried: 1, isDone: false });
    expect(told.at(-1)!.tried).toBe(told.at(-1)!.toTry);
    let time = 0;
    const stopped = findLevers(asked, { seed: SEED, futures: 80, clock: () => time++, milliseconds: 6 });
    expect(stopped.isDone).toBe(false);
    expect(stopped.tried).toBeGreaterThan(1);
    expect(stopped.tried).toBeLessThan(stopped.toTry);
    expect(stopped.rows.length).toBeGreaterThan(0);
  });

  test('says of a date that is missed what it would take, and by when an order costs the finish nothing', () => {
    const late: Build = {
      ...bench([carved(10), hands('fit', 300, { part: 'sign', uses: ['bolt'], after: ['carve'] })], {
        readyBy: '2026-12-03T17:00',
      }),
      parts: [
        { id: 'sign', name: 'sign', source: 'make', count: 1 },
        { id: 'bolt', name: 'bolt', source: 'buy', usedIn: [{ part: 'sign', count: 4 }], supplier: 'mill' },
      ],
      suppliers: [{ id: 'mill', name: 'mill', lead: 1 }],
    };
    const found = search(late, NOW);
    expect(found.present!.room).toBeLessThan(0);
    expect(found.takes).toMatchObject({ keeps: true });
    expect(found.takes!.room).toBeGreaterThanOrEqual(0);
    expect(planBuild(late, [], NOW, { levelling: { seed: SEED, schedules: 20 } }).freeUntil).toEqual(found.freeUntil);
    expect(planBuild({ ...late, readyBy: '2026-12-10T17:00' }, [], NOW)).not.toHaveProperty('freeUntil');
    const [order] = found.freeUntil;
    expect(order).toMatchObject({ kind: 'order', name: 'bolt' });
    expect(order!.until).toBeGreaterThan(at('2026-12-01T12:00'));
    expect(order!.until).toBeLessThan(found.present!.readyAt!);
  });

  test('says where nothing it knows of keeps the date', () => {
    const hopeless = bench([carved(60)], { readyBy: '2026-12-02T17:00' });
    const { takes, present } = search(hopeless, NOW);
    expect(takes).toMatchObject({ keeps: false });
    expect(takes!.readyAt).toBeLessThan(present!.readyAt!);
    expect(search(bench([hands('carve', 9000)], { readyBy: '2026-12-02T17:00' }), NOW).takes).toBeNull();
    expect(search(bench([hands('carve', 60)]), NOW).takes).toBeNull();
  });

  test('finds nothing where there is no date, and where nothing is left', () => {
    const dateless = bench([{ id: 'carve', name: 'carve' }]);
    expect(search(dateless, NOW)).toMatchObject({ present: null, rows: [], isDone: true });
    expect(search(bench([]), NOW)).toMatchObject({ present: null, rows: [], isDone: true });
  });
});
