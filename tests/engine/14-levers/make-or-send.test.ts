import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { waysBeside } from '../../../server/engine/14-levers/index.ts';
import { wayLevers } from '../../../server/engine/14-levers/plan-levers.ts';
import { trialOf } from '../../../server/engine/14-levers/trial.ts';
import { batchMinutes, costByWay, costTurnOf } from '../../../server/engine/14-levers/way-costs.ts';
import { chanceOf } from '../../../server/engine/14-levers/worth.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import { applyChanges, type Build, type Part, type PartWays, type Step } from '../../../server/model/index.ts';
import { at, bench, NOW } from '../08-risk/_bench.ts';

const levelling = { seed: 1, schedules: 20 };
const MADE: Step = {
  id: 'cut',
  name: 'cut',
  part: 'bough',
  way: 'here',
  setup: 45,
  lotSize: 1000,
  phases: [{ kind: 'hands', perUnit: 6 }],
};
const HERE = { id: 'here', name: 'made here', source: 'make' } as const;
const SENT = { id: 'welder', name: 'by the welder', source: 'send-out', supplier: 'welder' } as const;

/** Boughs that are cut here or come from a welder, and are then hung. */
function boughs(given: Partial<Part> = {}, cut: Partial<Step> = {}): Build {
  return {
    ...bench([
      { ...MADE, ...cut },
      { id: 'hang', name: 'hang', part: 'arch', phases: [{ kind: 'hands', minutes: 60 }] },
    ]),
    event: '2026-12-20T17:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-13:00' }],
    suppliers: [{ id: 'welder', name: 'welder', lead: 4 }],
    parts: [
      { id: 'arch', name: 'arch', source: 'make', count: 1 },
      {
        id: 'bough',
        name: 'bough',
        source: 'make',
        usedIn: [{ part: 'arch', count: 90 }],
        ways: [HERE, SENT],
        ...given,
      },
    ],
    currency: 'EUR',
  };
}

const planOf = (build: Build) => workThrough({ build, log: [], now: NOW, levelling }, 'schedules');
const stepOf = (build: Build) => planOf(build).plans.find(({ id }) => id === 'cut')!;

function beside(build: Build, log: Parameters<typeof waysBeside>[0]['log'] = []): PartWays {
  const found = waysBeside({ build, log, now: NOW, levelling }, { seed: 1, futures: 60 });
  expect(found.isDone).toBe(true);
  return found.parts[0]!;
}

// T = setup + Q x cycle (Groover, "Automation, Production Systems, and Computer-Integrated Manufacturing", batch
// production, from memory), 45 + 6 Q by hand.
describe('the minutes of a batch', () => {
  test.each([
    [10, 105, 10.5],
    [50, 345, 6.9],
    [300, 1845, 6.15],
  ])('of %i units with a setup of 45 and 6 a unit are %i, %f a unit', (units, minutes, each) => {
    const spent = batchMinutes(stepOf(boughs()), units);
    expect(spent).toBeCloseTo(minutes, 9);
    expect(spent / units).toBeCloseTo(each, 9);
  });

  test('take the setup of each lot where it comes with each, twice the hands for two, and nothing for none', () => {
    const lots = boughs({}, { lotSize: 24, setupEach: 'lot' });
    // 13 lots of 24 over 300: 13 x 45 + 300 x 6.
    expect(batchMinutes(stepOf(lots), 300)).toBeCloseTo(13 * 45 + 1800, 9);
    const two = boughs({}, { phases: [{ kind: 'hands', perUnit: 6, people: 2 }] });
    const tom = { id: 'tom', name: 'Tom', hours: 'daily 09:00-13:00' };
    expect(batchMinutes(stepOf({ ...two, people: [...two.people!, tom] }), 10)).toBeCloseTo(210, 9);
    expect(batchMinutes(stepOf(boughs()), 0)).toBe(0);
  });
});

// By hand: here 20 an hour x (45 + 6 Q) / 60 = 15 + 2 Q; there 60 + 1.5 Q and a quarter of an hour to order,
// 65 + 1.5 Q. Equal at Q = 100.
describe('the quantity at which it turns', () => {
  const priced = boughs({ count: 5, ways: [HERE, { ...SENT, unitCost: 1.5, onceCost: 60 }] });
  const sent = planOf({ ...priced, parts: priced.parts!.map((part) => ({ ...part, way: 'welder' })) });
  const [here, there] = [
    { way: HERE, planned: planOf(priced) },
    { way: priced.parts![1]!.ways![1]!, planned: sent },
  ];
  const bough = priced.parts![1]!;

  test('is where both cost as much, hours counted at their worth', () => {
    expect(costByWay(bough, here, 10, 20)).toBeCloseTo(35, 9);
    expect(costByWay(bough, there, 10, 20)).toBeCloseTo(80, 9);
    const turn = costTurnOf(bough, here, there, { wanted: 90, build: priced });
    expect(turn).toEqual({ few: 'here', many: 'welder', from: 100, upTo: 360, hourWorth: 20 });
  });

  test('is none where one way is the cheaper at any, and not known without a price', () => {
    const dear = { ...there, way: { ...there.way, unitCost: 9 } };
    expect(costTurnOf(bough, here, dear, { wanted: 90, build: priced })).toMatchObject({ many: 'here', from: 1 });
    const unknown = { ...there, way: SENT };
    expect(costTurnOf(bough, here, unknown, { wanted: 90, build: priced })).toBeNull();
  });

  test('counts what goes into the part by one way alone', () => {
    const pegged: Build = {
      ...priced,
      parts: [
        ...priced.parts!,
        { id: 'peg', name: 'peg', source: 'buy', unitCost: 0.5, usedIn: [{ part: 'bough', count: 2, way: 'here' }] },
      ],
    };
    expect(costByWay(bough, { way: HERE, planned: planOf(pegged) }, 10, 20)).toBeCloseTo(35 + 10, 9);
  });

  // 90 boughs take 180 pegs, each of one rod, and 20 pegs go elsewhere; ten boughs take 20 pegs at 0.50 and 20 rods at
  // 0.30.
  test.each([
    ['none is', {}, { unitCost: 0.3 }, 10 + 6],
    ['pegs are', { onHand: 200 }, { unitCost: 0.3 }, 0],
    ['twelve more pegs are than go elsewhere', { onHand: 32 }, { unitCost: 0.3 }, 4 + 2.4],
    ['rods are, which have no price', {}, { onHand: 400 }, 10],
    ['no rods are, which have no price', {}, {}, null],
  ])('pays for nothing that is on hand: %s', (_, peg, rod, money) => {
    const pegged: Build = {
      ...priced,
      parts: [
        ...priced.parts!,
        {
          ...{ id: 'peg', name: 'peg', source: 'make', unitCost: 0.5, count: 20, ...peg },
          usedIn: [{ part: 'bough', count: 2, way: 'here' }],
        },
        { id: 'rod', name: 'rod', source: 'buy', usedIn: [{ part: 'peg', count: 1 }], ...rod },
      ],
    };
    const cost = costByWay(bough, { way: HERE, planned: planOf(pegged) }, 10, 0);
    if (money === null) expect(cost).toBeNull();
    else expect(cost).toBeCloseTo(money, 9);
  });
});

describe('make or send out', () => {
  // Four hours a day, 585 minutes of cutting: 2.4 days here; the welder takes four working days.
  const found = beside(boughs({ ways: [HERE, { ...SENT, unitCost: 1.5, onceCost: 60 }] }));
  const [here, there] = found.ways;

  test('lays hours here against lead there, with cost, chance and the error of the difference', () => {
    expect(found).toMatchObject({ part: 'bough', units: 90, made: 0, refused: [] });
    expect(here).toMatchObject({ way: 'here', isPresent: true, units: 90, handsMinutes: 585, lead: null, money: 0 });
    expect(there).toMatchObject({ way: 'welder', isPresent: false, units: 90, money: 195 });
    expect(there!.lead).toMatchObject({ supplier: 'welder', workingDays: 4 });
    expect(there!.handsMinutes).toBeLessThan(60);
    expect(here!.worth.compared).toMatchObject({ readyAt: { mean: 0, error: 0 } });
    expect(there!.worth.compared!.readyAt.error).toBeGreaterThanOrEqual(0);
    expect(there!.worth.readyAt).toBeGreaterThan(here!.worth.readyAt!);
  });

  test('says the last day on which each is still possible: later for the way that needs less time', () => {
    expect([here!.last.kind, there!.last.kind]).toEqual(['until', 'until']);
    if (here!.last.kind !== 'until' || there!.last.kind !== 'until') return;
    // Hanging begins on the last day at 12:00 at the latest; 585 minutes of four-hour days before it.
    expect(here!.last.at).toBeGreaterThan(at('2026-12-17T00:00'));
    expect(there!.last.at).toBeGreaterThan(at('2026-12-11T00:00'));
    expect(there!.last.at).toBeLessThan(here!.last.at);
  });

  test('says how many would be made here by the time that the others would be back', () => {
    expect(found.time).toMatchObject({ made: 'here', sent: 'welder' });
    expect(found.time!.units).toBe(90);
    const slow = beside(boughs({}, { lotSize: 10, phases: [{ kind: 'hands', perUnit: 60 }] }));
    expect(slow.time!.units).toBeGreaterThan(0);
    expect(slow.time!.units).toBeLessThan(90);
  });

  test('finds a split the better where both ways are slow alone', () => {
    const slow = boughs({}, { lotSize: 5, setup: 0, phases: [{ kind: 'hands', perUnit: 24 }] });
    const { splits, best, ways } = beside({ ...slow, suppliers: [{ id: 'welder', name: 'welder', lead: 4 }] });
    expect(splits.map(({ units }) => units)).toEqual([11, 23, 34, 45, 56, 68, 79]);
    expect(splits.every(({ rest, units }) => rest + units === 90)).toBe(true);
    const ready = splits.map(({ worth }) => worth.readyAt!);
    expect(Math.min(...ready)).toBeLessThan(ways[0]!.worth.readyAt!);
    expect(best === null || ready[best]! <= ways[0]!.worth.readyAt!).toBe(true);
  });

  test('leaves what is made where it is: only the rest comes another way', () => {
    const done = { id: 'e1-xxxx-xxxx', kind: 'done', step: 'cut', n: 30, at: '2026-11-30T12:00:00Z' } as const;
    const { made, ways, splits } = beside(boughs(), [done]);
    expect(made).toBe(30);
    expect(ways.map(({ units }) => units)).toEqual([90, 60]);
    expect(splits.every(({ rest }) => rest >= 30)).toBe(true);
    const made2 = applyChanges(boughs(), ways[1]!.changes);
    if (!made2.ok) throw new Error(made2.problems[0]!.message);
    expect(made2.value.parts![1]!.ways!.map(({ units }) => units)).toEqual([undefined, 60]);
  });

  test('lets come another way what was made and lost, and counts no other part among its own', () => {
    const done = { id: 'e1-xxxx-xxxx', kind: 'done', step: 'cut', n: 30, at: '2026-11-30T12:00:00Z' } as const;
    const late = { id: 'e2-xxxx-xxxx', kind: 'scrapped', step: 'cut', n: 30, at: '2026-11-30T13:00:00Z' } as const;
    const { made, ways } = beside(boughs(), [done, { ...late, counted: true }]);
    expect([made, ...ways.map(({ units }) => units)]).toEqual([0, 90, 90]);
    const build = boughs();
    const peg: Part = { id: 'bough--peg', name: 'peg', source: 'make', count: 7 };
    const turn: Step = { id: 'turn', name: 'turn', part: 'bough--peg', phases: [{ kind: 'hands', perUnit: 1 }] };
    expect(beside({ ...build, parts: [...build.parts!, peg], steps: [...build.steps, turn] }).units).toBe(90);
  });

  test('costs what the lever says that goes over to it, bad ones paid for too', () => {
    const build = boughs({ ways: [HERE, { ...SENT, unitCost: 2, onceCost: 5, yield: 0.9 }] });
    const { ways } = beside(build);
    const [lever] = wayLevers(planOf(build));
    expect(ways[1]!.money).toBeGreaterThan(5 + 2 * 90);
    expect(lever!.lever.cost.money).toBe(ways[1]!.money! - ways[0]!.money!);
  });

  test('tells the orders of two ways apart where both come from outside', () => {
    const quick = { id: 'quick', name: 'by the smith', source: 'send-out', supplier: 'smith' } as const;
    const build = boughs({ ways: [SENT, quick], source: 'send-out' });
    const suppliers = [
      { id: 'welder', name: 'welder', lead: 9 },
      { id: 'smith', name: 'smith', lead: 2 },
    ];
    const ordered = {
      id: 'e1-xxxx-xxxx',
      kind: 'ordered',
      step: 'order-bough',
      n: 30,
      at: '2026-11-30T12:00:00Z',
    } as const;
    const { ways } = beside({ ...build, suppliers, steps: build.steps.slice(1) }, [ordered]);
    expect(ways.map(({ units, lead }) => [units, lead!.supplier])).toEqual([
      [90, 'welder'],
      [60, 'smith'],
    ]);
  });

  test('says until when each costs the finish that it has nothing, where the date is missed', () => {
    const late = beside({ ...boughs(), readyBy: '2026-12-02T12:00' });
    expect(late.ways.map(({ last }) => last.kind)).toEqual(['finish', 'finish']);
    expect(late.ways.every(({ last }) => last.kind !== 'finish' || last.at >= NOW)).toBe(true);
  });

  test('names a way that cannot be, with the reason, and leaves out parts with one way', () => {
    const lost = beside(boughs({ ways: [HERE, { ...SENT, supplier: 'gone' }] }));
    expect(lost.refused.map(({ way }) => way)).toEqual(['welder']);
    expect(lost.refused[0]!.problems.length).toBeGreaterThan(0);
    const none = waysBeside({ build: bench([MADE]), log: [], now: NOW, levelling }, { seed: 1, futures: 20 });
    expect(none.parts).toEqual([]);
  });

  test('gives exactly the dates that it showed once its changes are made, on any build', () => {
    const any = fc.record({ perUnit: fc.integer({ min: 2, max: 40 }), lead: fc.integer({ min: 1, max: 9 }) });
    fc.assert(
      fc.property(any, ({ perUnit, lead }) => {
        const base = boughs({}, { lotSize: 10, phases: [{ kind: 'hands', perUnit }] });
        const build = { ...base, suppliers: [{ id: 'welder', name: 'welder', lead }] };
        const shown = beside(build);
        for (const { changes, worth } of [...shown.ways, ...shown.splits]) {
          const made = applyChanges(build, changes);
          if (!made.ok) throw new Error(made.problems[0]!.message);
          const after = trialOf({ build: made.value, log: [], now: NOW, levelling }, { seed: 1, futures: 60 });
          expect(after.readyAt).toBe(worth.readyAt);
          expect(chanceOf(after.ends!(60))).toBe(worth.chance);
        }
      }),
      { seed: 3, numRuns: 3 },
    );
  });
});
