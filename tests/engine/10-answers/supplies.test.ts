import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { summaryOf } from '../../../server/cli/summary.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import { type Build, checkBuild, type LogEntry, type Part } from '../../../server/model/index.ts';
import { wallClock } from '../../../server/web/wall-clock.ts';
import { needWords, noDayText } from '../../../views/words/supply-words.ts';
import { anyBuild, anyLog, entriesOf, NOW as RANDOM_NOW } from '../../support/random-builds.ts';
import { wordedThreats } from '../../support/words.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;

/** 43 slats, oiled, corded and hung; the oil comes in tins, the cord by the metre, the hooks in bags. */
function slats(parts: readonly Part[], more: Partial<Build> = {}): Build {
  return {
    id: 'slats',
    name: 'Slats',
    zone: 'UTC',
    event: '2026-12-24T19:00',
    currency: 'EUR',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    suppliers: [{ id: 'shop', name: 'the shop', lead: 3 }],
    parts: [{ id: 'slat', name: 'Slat', source: 'make', count: 43 }, ...parts],
    steps: [{ id: 'oil-it', name: 'Oil', part: 'slat', lotSize: 10, phases: [{ kind: 'hands', perUnit: 4 }] }],
    ...more,
  };
}

const OIL: Part = {
  id: 'oil',
  name: 'Oil',
  source: 'buy',
  unit: 'L',
  packSize: 2.5,
  usedIn: [{ part: 'slat', count: 0.02 }],
  supplier: 'shop',
  unitCost: 18,
};

function supplyIn(build: Build, log: readonly LogEntry[] = [], id = 'oil') {
  return planBuild(build, log, NOW).supplies!.find((supply) => supply.id === id)!;
}

type Told = Partial<LogEntry> & Pick<LogEntry, 'kind'>;

function told(...entries: readonly Told[]): LogEntry[] {
  return entries.map((entry, i) => ({
    id: `entry-000${i}`,
    at: `2026-12-01T0${i + 1}:00:00Z`,
    seq: i + 1,
    step: 'order-oil',
    ...entry,
  }));
}

describe('what is measured', () => {
  test('is needed by its unit and ordered in whole packs that may hold a fraction', () => {
    expect(supplyIn(slats([OIL]))).toMatchObject({
      measure: { unit: 'L', pack: 2.5, waste: 0 },
      need: expect.closeTo(0.86, 9),
      packs: 1,
      units: 1,
      amount: 2.5,
      cost: 45,
      state: 'to-order',
    });
  });

  test('is not rounded up before it is put into packs: 2.3 L are one tin of 2.5 L', () => {
    const oil = { ...OIL, usedIn: [{ part: 'slat', count: 2.3 / 43 }] };
    expect(supplyIn(slats([oil])).units).toBe(1);
    const byLitre = planBuild(slats([{ ...oil, packSize: 1 }]), [], NOW).supplies!.find(({ id }) => id === 'oil')!;
    expect([byLitre.units, byLitre.amount]).toEqual([3, 3]);
  });

  test('is bought with its waste, which is a share of what is bought, and with what is to spare', () => {
    const cord: Part = { id: 'oil', name: 'Cord', source: 'buy', unit: 'm', supplier: 'shop', count: 43, waste: 0.14 };
    // 43 m are 86 of 100 bought: 50 m.
    expect(supplyIn(slats([cord])).units).toBe(50);
    expect(supplyIn(slats([{ ...cord, spares: 0.5 }])).units).toBe(51);
  });

  test('needs nothing more where enough of it is on hand, in an opened tin too', () => {
    expect(supplyIn(slats([{ ...OIL, onHand: 0.9 }]))).toMatchObject({ units: 0, toOrder: 0, state: 'here', cost: 0 });
    expect(supplyIn(slats([{ ...OIL, onHand: 0.8 }])).units).toBe(1);
  });

  test('is lost of what is on hand too, so that Design misses what Orders buys', () => {
    const cord: Part = { id: 'oil', name: 'Cord', source: 'buy', unit: 'm', supplier: 'shop', count: 43, waste: 0.14 };
    const [some, enough] = [43, 50].map((onHand) => planBuild(slats([{ ...cord, onHand }]), [], NOW));
    const cordOf = ({ parts }: typeof some & object) => parts.find(({ id }) => id === 'oil')!;
    expect([cordOf(some!).toBuy, cordOf(some!).missing]).toEqual([7, expect.closeTo(7, 9)]);
    expect([cordOf(enough!).toBuy, cordOf(enough!).missing]).toEqual([0, 0]);
    const hand = supplyIn(slats([{ ...cord, onHand: 43 }]));
    expect(needWords(hand).join(', ')).toMatch(/43.m on hand, good for 36\.98.m/);
  });

  test('comes in the fewest packs that hold it, over random parts, by exact arithmetic in thousandths', () => {
    const thousandths = fc.integer({ min: 1, max: 5000 });
    const any = fc.record({
      each: thousandths,
      own: thousandths,
      spare: thousandths,
      hand: thousandths,
      pack: thousandths,
    });
    fc.assert(
      fc.property(any, fc.constantFrom(0, 100, 250, 500), ({ each, own, spare, hand, pack }, waste) => {
        const amount = (n: number) => n / 1000;
        const part: Part = {
          ...OIL,
          ...{ count: amount(own), usedIn: [{ part: 'slat', count: amount(each) }], spares: amount(spare) },
          ...{ onHand: amount(hand), packSize: amount(pack), waste: amount(waste) },
        };
        const [need, kept] = [BigInt(43 * each + own) * 1000n, BigInt(spare - hand) * BigInt(1000 - waste)];
        const inPack = BigInt(pack) * BigInt(1000 - waste);
        const sum = need + kept;
        const fewest = sum <= 0n ? 0n : (sum + inPack - 1n) / inPack;
        expect(supplyIn(slats([part])).units).toBe(Number(fewest));
      }),
      { numRuns: 30 },
    );
  });

  test('takes what goes into it by its unit, not by its pack: 43 L in tins of 5 L take 10 g a litre', () => {
    const glaze: Part = { id: 'oil', name: 'Glaze', source: 'make', unit: 'L', usedIn: [{ part: 'slat', count: 1 }] };
    const pigment: Part = { id: 'pigment', name: 'Pigment', source: 'buy', usedIn: [{ part: 'oil', count: 10 }] };
    const grams = (packSize: number, more: Partial<Part> = {}) =>
      planBuild(
        slats([
          { ...glaze, packSize },
          { ...pigment, ...more },
        ]),
        [],
        NOW,
      ).parts.find(({ id }) => id === 'pigment')!;
    // Whole tins are mixed: 43 of 1 L, 9 of 5 L.
    expect([grams(1).need, grams(5).need]).toEqual([430, 450]);
    expect(grams(5, { unit: 'g', packSize: 100 })).toMatchObject({ need: expect.closeTo(450, 9), toBuy: 500 });
    expect([grams(1).usedIn, grams(5).usedIn]).toEqual([pigment.usedIn, pigment.usedIn]);
  });

  test('is fed to what takes it by the pack: the second tin is needed by the units that the first does not reach', () => {
    const oil = { ...OIL, packSize: 0.5 };
    const forecast = planBuild(slats([oil]), told({ kind: 'ordered', n: 1 }, { kind: 'received', n: 1 }), NOW);
    const step = forecast.steps.find(({ id }) => id === 'oil-it')!;
    expect(step).toMatchObject({ readyNow: 25, waitsFor: 'order-oil' });
    expect(forecast.parts.find(({ id }) => id === 'oil')).toMatchObject({ toBuy: 1, good: 0.5 });
  });

  test.each([
    ['packSize', { packSize: 2.5 }, /"packSize" of Hook is 2.5. Pieces are whole numbers/],
    ['onHand', { onHand: 0.5 }, /"onHand" of Hook is 0.5/],
    ['waste', { waste: 0.1 }, /"waste" of Hook is 0.1, but it counts only for what is measured/],
  ])('is told by its unit: a %s of pieces is refused', (field, more, message) => {
    const checked = checkBuild(slats([{ id: 'hook', name: 'Hook', source: 'buy', count: 3, ...more }]));
    expect(checked).toMatchObject({
      ok: false,
      problems: [{ field: `parts.hook.${field}`, message: expect.stringMatching(message) }],
    });
  });
});

describe('how far a thing is', () => {
  const tins = slats([{ ...OIL, packSize: 0.5 }]);

  test.each([
    ['to order', [], { state: 'to-order', here: 0, onTheWay: 0, toOrder: 2 }],
    ['ordered', told({ kind: 'ordered', n: 2 }), { state: 'ordered', onTheWay: 2, toOrder: 0, orderBy: null }],
    [
      'promised',
      told({ kind: 'ordered', n: 2 }, { kind: 'promised', until: '2026-12-09T10:00:00Z' }),
      { state: 'promised', arrives: Date.parse('2026-12-09T10:00Z') / 60_000 },
    ],
    [
      'partly here',
      told({ kind: 'ordered', n: 2 }, { kind: 'received', n: 1 }),
      { state: 'part-here', here: 1, onTheWay: 1, toOrder: 0 },
    ],
    [
      'here',
      told({ kind: 'ordered', n: 2 }, { kind: 'received', n: 2 }),
      { state: 'here', here: 2, onTheWay: 0, toOrder: 0, arrives: null },
    ],
  ])('is said by the log: %s', (_, log, expected) => {
    expect(supplyIn(tins, log)).toMatchObject(expected);
  });

  test('arrives when the plan counts on it, on every sheet: what is overdue not before now', () => {
    const late = told({ kind: 'ordered', n: 2 }, { kind: 'promised', until: '2026-12-01T05:00:00Z' });
    const { supplies, orders, days } = planBuild(tins, late, NOW);
    const oil = supplies!.find(({ id }) => id === 'oil')!;
    expect(oil.orders[0]!.due).toBeLessThan(NOW);
    const comes = days.flatMap(({ arrivals }) => arrivals).find(({ step }) => step === oil.step);
    expect([oil.arrives, orders.find(({ step }) => step === oil.step)!.arrives, comes!.at]).toEqual([NOW, NOW, NOW]);
  });

  test('is late where the last moment has passed, and nobody’s where no supplier is named', () => {
    expect(supplyIn({ ...tins, event: '2026-12-03T10:00' }).state).toBe('late');
    const { supplier: _, ...oil } = OIL;
    expect(supplyIn(slats([oil]))).toMatchObject({ state: 'nobody', step: null, toOrder: 1, orderBy: null });
  });

  test('is asked of work that a supplier does too, by its step', () => {
    const coat = { id: 'coat', name: 'Coat', part: 'slat', phases: [{ kind: 'lead' as const, supplier: 'shop' }] };
    const build = slats([], { steps: [...slats([]).steps, coat] });
    expect(supplyIn(build, [], 'coat')).toMatchObject({ part: null, step: 'coat', units: 43, supplier: 'shop' });
  });
});

describe('the last day to order', () => {
  /** Needed on Monday 7 September at 8, when its work must begin. */
  const build = (holidays: string[]): Build =>
    slats([{ ...OIL, count: 1, usedIn: [] }], {
      readyBy: '2026-09-07T12:00',
      event: '2026-09-07T19:00',
      people: [{ id: 'ria', name: 'Ria', hours: 'mon-fri 08:00-12:00' }],
      suppliers: [{ id: 'shop', name: 'the shop', lead: 12, deliveryTime: '07:00', holidays }],
      steps: [{ id: 'oil-it', name: 'Oil', uses: ['oil'], phases: [{ kind: 'hands', minutes: 240 }] }],
    });

  // Dates by numpy's busday_offset: 12 working days before 2026-09-07, and before the Friday where that is a holiday.
  test.each([
    ['2026-08-20', []],
    ['2026-08-19', ['2026-09-07']],
  ])('is %s with holidays %s for 12 working days before Monday 2026-09-07', (date, holidays) => {
    const now = Date.parse('2026-08-03T06:00Z') / 60_000;
    const supply = planBuild(build(holidays), [], now).supplies!.find(({ id }) => id === 'oil')!;
    expect(new Date(supply.orderBy! * 60_000).toISOString().slice(0, 10)).toBe(date);
  });
});

describe('a supplier who has no working day left before the event', () => {
  const holidays = Array.from({ length: 24 }, (_, i) => `2026-12-${String(i + 1).padStart(2, '0')}`);
  const build = slats([OIL], { suppliers: [{ id: 'shop', name: 'the shop', lead: 3, holidays }] });

  test('is said to have none, with the next, wherever the order is', () => {
    const forecast = planBuild(build, [], NOW);
    const said = 'supplier has no working day left before the event (the next is Fri 25 Dec)';
    expect(forecast.orders[0]!.noDay).toEqual({ kind: 'working', next: Date.parse('2026-12-25T00:00Z') / 60_000 });
    expect(noDayText(forecast, wallClock('UTC'), 'order-oil')).toBe(`the ${said}`);
    expect(wordedThreats(forecast)[0]!.message).toContain(`The ${said}.`);
    expect(summaryOf(forecast)).toContain(said);
  });

  test('is needed by when its work must begin, not by a day on which the supplier still came', () => {
    expect(planBuild(build, [], NOW).orders[0]!.neededBy).toBeGreaterThan(Date.parse('2026-12-20T00:00Z') / 60_000);
  });

  test('is not said of one who has', () => {
    expect(planBuild(slats([OIL]), [], NOW).orders[0]!.noDay).toBeUndefined();
  });
});

describe('an order beside another that comes weeks too late', () => {
  test('has its own last moment before the event', () => {
    const cord: Part = { ...OIL, id: 'cord', name: 'Cord', supplier: 'far' };
    const far = { id: 'far', name: 'far away', lead: 60 };
    const build = slats([OIL, cord], { suppliers: [{ id: 'shop', name: 'the shop', lead: 3 }, far] });
    const { orders } = planBuild(build, [], NOW);
    const [late, other] = ['order-cord', 'order-oil'].map((id) => orders.find(({ step }) => step === id)!);
    expect(late!.state).toBe('late');
    expect(other!.state).toBe('to-order');
    expect(other!.neededBy).toBeLessThan(Date.parse('2026-12-24T19:00Z') / 60_000);
  });
});

describe('loads of a machine', () => {
  test('are counted set by set, and those that are back are not left', () => {
    const build = slats([], {
      sets: { count: 2, name: 'panel' },
      machines: [{ id: 'press', name: 'Press' }],
      steps: [
        {
          ...{ id: 'plate', name: 'Press plates', perSet: true, count: 9, lotSize: 4 },
          phases: [{ kind: 'run', machine: 'press', minutes: 30 }],
        },
      ],
    });
    const log = told({ kind: 'done', step: 'plate', set: 1, n: 4 });
    expect(planBuild(build, log, NOW).loads).toEqual([
      { step: 'plate', name: 'Press plates', machine: 'press', size: 4, total: 6, left: 5 },
    ]);
  });

  test('are as large as the lots of their step: a job is a load of one', () => {
    const lift = { id: 'lift', name: 'Lift', phases: [{ kind: 'run' as const, machine: 'press', minutes: 30 }] };
    const { loads, steps } = planBuild(
      slats([], { machines: [{ id: 'press', name: 'Press' }], steps: [lift] }),
      [],
      NOW,
    );
    expect(loads![0]).toMatchObject({ size: steps[0]!.lotSize, total: 1, left: 1 });
    expect(steps[0]!.lotSize).toBe(1);
  });
});

describe('what it costs', () => {
  const hook: Part = { id: 'hook', name: 'Hook', source: 'buy', count: 30, packSize: 20, unitCost: 0.5, onceCost: 4 };
  const build = slats(
    [OIL, { ...hook, supplier: 'shop' }, { id: 'eye', name: 'Eye', source: 'buy', count: 2, supplier: 'shop' }],
    {
      contingency: 0.1,
      people: [
        { id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' },
        { id: 'tom', name: 'Tom', hours: 'wed 10:00-14:00', rate: 15 },
      ],
      suppliers: [{ id: 'shop', name: 'the shop', lead: 3, express: { lead: 1, extraCost: 12 } }],
      steps: [
        ...slats([]).steps,
        {
          ...{ id: 'get-eyes', name: 'get eyes', part: 'eye' },
          phases: [{ kind: 'lead', supplier: 'shop', express: true }],
        },
        { id: 'help', name: 'help', phases: [{ kind: 'hands', minutes: 60, who: ['tom'] }] },
      ],
    },
  );

  test('is what is committed, what is to come, and a share of that kept back', () => {
    // Oil 2.5 L at 18; hooks 40 at 0.5 and 4 once; express 12; Tom's four hours of Wednesday at 15.
    const { money } = planBuild(build, [], NOW);
    expect(money).toMatchObject({
      committed: 0,
      toCome: 45 + 24 + 12 + 60,
      contingency: expect.closeTo(14.1, 9),
      total: expect.closeTo(155.1, 9),
    });
    expect(money!.unpriced).toEqual(['Eye']);
    expect(money!.lines.find(({ kind }) => kind === 'hours')!.minutes).toEqual({ soFar: 0, toCome: 240 });
  });

  test('is committed by an order, with what comes once and in whole packs', () => {
    const log = told({ kind: 'ordered', step: 'order-hook', n: 20 }, { kind: 'ordered', step: 'get-eyes', n: 2 });
    const { lines, total } = planBuild(build, log, NOW).money!;
    expect(lines.find(({ id }) => id === 'hook')).toMatchObject({ committed: 14, toCome: 10 });
    expect(lines.find(({ kind }) => kind === 'express')).toMatchObject({ committed: 12, toCome: 0 });
    expect(total).toBeCloseTo(26 + 115 * 1.1, 9);
  });

  test('pays for express once, still to come until all of its order is out', () => {
    const express = (n: number) =>
      planBuild(build, told({ kind: 'ordered', step: 'get-eyes', n }), NOW).money!.lines.find(
        ({ kind }) => kind === 'express',
      );
    expect(express(1)).toMatchObject({ committed: 0, toCome: 12 });
    expect(express(2)).toMatchObject({ committed: 12, toCome: 0 });
  });

  test('pays a helper for all hours of the days on which they worked: so far until now, and the rest of today', () => {
    const now = Date.parse('2026-12-02T12:00Z') / 60_000;
    const log = told({ kind: 'done', step: 'help', at: '2026-12-02T11:00:00Z', who: 'Tom', n: 1 });
    const line = planBuild(build, log, now).money!.lines.find(({ kind }) => kind === 'hours')!;
    expect(line).toMatchObject({ committed: 30, toCome: 30, minutes: { soFar: 120, toCome: 120 } });
  });

  test('does not come back with what is scrapped: that was paid, and what takes its place is to come', () => {
    const part: Part = { id: 'rail', name: 'Rail', source: 'buy', count: 5, unitCost: 10, supplier: 'shop' };
    const bought = (...log: Told[]) => {
      const forecast = planBuild(slats([part]), told(...log.map((it) => ({ step: 'order-rail', ...it }))), NOW);
      const { committed, toCome } = forecast.money!.lines.find(({ id }) => id === 'rail')!;
      return [committed, toCome, forecast.supplies!.find(({ id }) => id === 'rail')!.toOrder];
    };
    const received = { kind: 'received', n: 5 } as const;
    expect(bought(received)).toEqual([50, 0, 0]);
    expect(bought(received, { kind: 'scrapped', n: 2, counted: true })).toEqual([50, 20, 2]);
    expect(bought(received, { kind: 'scrapped', n: 5, counted: true })).toEqual([50, 50, 5]);
    expect(bought({ kind: 'received', n: 3 }, { kind: 'scrapped', n: 2 })).toEqual([50, 20, 2]);
  });

  test('of what is made here is committed once it is begun, in a machine too, and stays so when it is scrapped', () => {
    const cog = slats([{ id: 'cog', name: 'Cog', source: 'make', count: 5, unitCost: 10 }], {
      machines: [{ id: 'saw', name: 'Saw' }],
      steps: [
        { id: 'cut', name: 'Cut', part: 'cog', phases: [{ kind: 'run', machine: 'saw', minutes: 30 }] },
        { id: 'sand', name: 'Sand', part: 'cog', phases: [{ kind: 'hands', perUnit: 3 }] },
      ],
    });
    const made = (...log: Told[]) => {
      const { committed, toCome } = planBuild(cog, told(...log), NOW).money!.lines[0]!;
      return [committed, toCome];
    };
    expect(made({ kind: 'loaded', step: 'cut', n: 3 })).toEqual([30, 20]);
    expect(made({ kind: 'done', step: 'cut', n: 5 })).toEqual([50, 0]);
    expect(made({ kind: 'done', step: 'cut', n: 5 }, { kind: 'scrapped', step: 'sand', n: 2 })).toEqual([50, 20]);
  });

  test('is the same on all sheets where more was counted in a set than it has: those were paid for too', () => {
    const cog = slats([{ id: 'cog', name: 'Cog', source: 'make', count: 8, unitCost: 10 }], {
      sets: { count: 2, name: 'rail' },
      steps: [{ id: 'cut', name: 'Cut', part: 'cog', perSet: true, phases: [{ kind: 'hands', perUnit: 3 }] }],
    });
    const { money, parts } = planBuild(cog, told({ kind: 'done', step: 'cut', set: 1, n: 6 }), NOW);
    expect(money!.lines[0]).toMatchObject({ committed: 60, toCome: 40 });
    expect(parts.find(({ id }) => id === 'cog')!.cost).toBe(100);
  });

  test('is the same on Design, Orders and Money, over random builds with logs', () => {
    fc.assert(
      fc.property(anyBuild, anyLog, (drawn, log) => {
        const { parts = [], ...rest } = drawn as unknown as Build;
        const build = { ...rest, parts: parts.map((part, i) => ({ ...part, unitCost: i + 1 })) };
        const forecast = planBuild(build, entriesOf(log), RANDOM_NOW, { levelling: { seed: 1, schedules: 1 } });
        for (const { id, committed, toCome } of forecast.money!.lines.filter(({ kind }) => kind !== 'hours')) {
          expect(forecast.parts.find((part) => part.id === id)!.cost).toBeCloseTo(committed + toCome, 9);
          const supply = forecast.supplies!.find(({ part }) => part === id);
          if (supply) expect(supply.cost).toBeCloseTo(committed + toCome, 9);
        }
      }),
      { numRuns: 25 },
    );
  });

  test('orders again only what was scrapped, where all of it was', () => {
    const hooks: Part = { id: 'hook', name: 'Hook', source: 'buy', count: 30, yield: 0.95, supplier: 'shop' };
    const log = told(
      { kind: 'received', step: 'order-hook', n: 33 },
      { kind: 'scrapped', step: 'order-hook', n: 33, counted: true },
    );
    const { orders, steps } = planBuild(slats([hooks]), log, NOW);
    const left = steps.find(({ id }) => id === 'order-hook')!.left;
    expect(orders.find(({ step }) => step === 'order-hook')!.units).toBe(left);
  });

  test('pays whoever an entry names, one of two of a like name, and nobody for hours that they lost', () => {
    const day = 'mon-sun 10:00-14:00';
    const people = [
      { id: 'tom', name: 'Tom', hours: day, rate: 10 },
      { id: 'tom-b', name: 'TOM', hours: day, rate: 10 },
    ];
    const soFar = (...log: Told[]) => {
      const { lines } = planBuild({ ...build, people }, told(...log), NOW).money!;
      return lines.filter(({ kind }) => kind === 'hours').map(({ minutes }) => minutes!.soFar);
    };
    const at = '2026-11-29T10:00:00Z';
    expect(soFar({ kind: 'done', step: 'help', at, who: 'Tom' })).toEqual([240, 0]);
    expect(soFar({ kind: 'done', step: 'help', at, who: 'TOM' })).toEqual([0, 240]);
    expect(soFar({ kind: 'done', step: 'help', at, person: 'tom-b', who: 'Tom' })).toEqual([0, 240]);
    const until = '2026-11-29T12:00:00Z';
    expect(soFar({ kind: 'lost', at, until, person: 'tom', who: 'Tom' })).toEqual([0, 0]);
    expect(soFar({ kind: 'done', step: 'help', at: '2026-08-29T11:00:00Z', who: 'tom' })).toEqual([240, 0]);
  });

  test('is the same in all as the parts, express and hours that it lists, over random prices and logs', () => {
    const any = fc.record({ n: fc.integer({ min: 1, max: 60 }), price: fc.integer({ min: 0, max: 900 }) });
    fc.assert(
      fc.property(any, fc.boolean(), fc.double({ min: 0, max: 1, noNaN: true }), ({ n, price }, isReceived, bad) => {
        const priced = {
          ...build,
          parts: [...build.parts!.slice(0, 2), { ...build.parts![2]!, unitCost: price / 100 }],
        };
        const lost = isReceived ? Math.floor(bad * n) : 0;
        const log = told(
          { kind: isReceived ? 'received' : 'ordered', step: 'order-hook', n },
          ...(lost > 0 ? [{ kind: 'scrapped', step: 'order-hook', n: lost, counted: true } as const] : []),
        );
        const { money, steps } = planBuild(priced, log, NOW);
        const listed = money!.lines.reduce((sum, { committed, toCome }) => sum + committed + toCome, 0);
        expect(money!.committed + money!.toCome).toBeCloseTo(listed, 9);
        expect(money!.total).toBeCloseTo(listed + 0.1 * money!.toCome, 9);
        const inBags = (units: number) => (Math.ceil(units / 20) * 20 * price) / 100 + 4;
        const { committed, toCome } = money!.lines.find(({ id }) => id === 'hook')!;
        const { left } = steps.find(({ id }) => id === 'order-hook')!;
        expect(committed).toBeCloseTo(inBags(n), 9);
        expect(committed + toCome).toBeCloseTo(inBags(isReceived ? n + left : Math.max(30, n)), 9);
      }),
      { numRuns: 8 },
    );
  });
});
