import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Change, Forecast, Part } from '../../../server/model/index.ts';
import { readSchedule } from '../../../server/planner/background/former.ts';
import type { Background } from '../../../server/planner/background/tasks.ts';
import { createPlanner } from '../../../server/planner/index.ts';
import { openStore } from '../../store/helpers.ts';
import { quickly, SHORT_PAUSES } from '../at-once.ts';

const NOW = Date.parse('2026-12-01T08:00Z') / 60_000;
const PATIENCE = 120_000;

const count = fc.integer({ min: 2, max: 24 });
const perUnit = fc.oneof(fc.integer({ min: 2, max: 25 }), fc.constant({ low: 3, likely: 6, high: 15 }));
const hours = fc.constantFrom('mon-fri 09:00-12:00 13:00-17:00', 'daily 18:00-21:00', 'sat-sun 10:00-18:00');

/** Brackets that are cut, bent on one or two presses and fitted with bought bolts, by one or two people. */
const anyBuild = fc
  .record({ count, cut: perUnit, bend: fc.integer({ min: 10, max: 90 }), lot: fc.integer({ min: 1, max: 8 }) })
  .chain((one) => fc.tuple(fc.constant(one), hours, hours, fc.boolean(), fc.integer({ min: 1, max: 4 })))
  .map(
    ([one, first, second, isTwo, lead]): Build => ({
      id: 'arch',
      name: 'arch',
      zone: 'UTC',
      event: '2026-12-19T18:00',
      suppliers: [{ id: 'mill', name: 'mill', lead }],
      people: [{ id: 'ria', name: 'Ria', hours: first }, ...(isTwo ? [{ id: 'tom', name: 'Tom', hours: second }] : [])],
      machines: [{ id: 'press', name: 'press' }],
      parts: [
        { id: 'bracket', name: 'bracket', source: 'make', count: one.count, yield: 0.95 },
        { id: 'bolt', name: 'bolt', source: 'buy', count: 2 * one.count, supplier: 'mill', unitCost: 0.4 },
      ],
      steps: [
        { id: 'cut', name: 'cut', part: 'bracket', lotSize: one.lot, phases: [{ kind: 'hands', perUnit: one.cut }] },
        {
          id: 'bend',
          name: 'bend',
          part: 'bracket',
          lotSize: one.lot,
          phases: [
            { kind: 'hands', minutes: 5 },
            { kind: 'run', machine: 'press', minutes: one.bend },
          ],
        },
        { id: 'fit', name: 'fit', part: 'bracket', uses: ['bolt'], phases: [{ kind: 'hands', perUnit: 4 }] },
      ],
    }),
  );

const set = (list: 'parts' | 'steps' | 'machines' | 'people', key: string, field: string, value: unknown): Change => ({
  kind: 'set',
  list,
  key,
  field,
  value,
});
const anyChanges = fc
  .record({ parts: count, lot: fc.integer({ min: 1, max: 9 }), presses: fc.integer({ min: 2, max: 3 }), hours })
  .chain((to) =>
    fc.subarray(
      [
        set('parts', 'bracket', 'count', to.parts),
        set('steps', 'cut', 'lotSize', to.lot),
        set('machines', 'press', 'count', to.presses),
        set('people', 'ria', 'hours', to.hours),
      ],
      { minLength: 1 },
    ),
  );

const datesOf = ({ room, lots, orders, steps, risk }: Forecast) => ({
  room,
  lots,
  orders,
  left: steps.map(({ left }) => left),
  readyAt: risk?.readyAt,
  chance: risk?.readyBy,
});

/** A planner with the build in it, settled, and what the option of these changes shows. */
async function shown(build: Build, changes: readonly Change[]) {
  const planner = createPlanner({ store: openStore(), now: () => NOW, background: quickly, pauses: SHORT_PAUSES });
  const made = await planner.create(build, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await planner.settled();
  const kept = planner.keepOption('arch', { name: 'other', changes, who: 'maker', expected: 1 });
  const [option] = (await planner.options('arch', PATIENCE)).options;
  return { planner, kept, option };
}

describe('adopting an option', () => {
  it('gives exactly the dates and the chance that it showed, on any build', { timeout: PATIENCE }, async () => {
    let adopted = 0;
    await fc.assert(
      fc.asyncProperty(anyBuild, anyChanges, async (build, changes) => {
        const { planner, kept, option } = await shown(build, changes);
        if (!kept.ok || option?.state.kind !== 'tried') return;
        const done = await planner.adoptOption('arch', option.number, 'Ana', 1);
        expect(done).toEqual({ ok: true, value: { revision: 2 } });
        const { readyAt: _, chance: __, ...dates } = datesOf(option.state.forecast);
        expect(datesOf(planner.latest('arch')!.forecast)).toMatchObject(dates);
        await planner.settled();
        expect(datesOf(planner.latest('arch')!.forecast)).toEqual(datesOf(option.state.forecast));
        adopted += 1;
      }),
      { seed: 12, numRuns: 15 },
    );
    expect(adopted).toBeGreaterThan(9);
  });

  it('shows what seeing it first shows, and beside itself no difference', { timeout: PATIENCE }, async () => {
    await fc.assert(
      fc.asyncProperty(anyBuild, anyChanges, async (build, changes) => {
        const { planner, option } = await shown(build, changes);
        if (option?.state.kind !== 'tried') return;
        const seen = await planner.whatIf('arch', changes, 1);
        if (!seen.ok) throw new Error(seen.problems[0]!.message);
        expect(seen.value.compared).toEqual(option.state.compared);
        expect(datesOf(seen.value.forecast)).toEqual(datesOf(option.state.forecast));
        const same = await planner.whatIf('arch', [], 1);
        if (!same.ok) throw new Error(same.problems[0]!.message);
        expect(same.value.compared).toMatchObject({ readyAt: { mean: 0, error: 0 }, readyBy: { mean: 0, error: 0 } });
      }),
      { seed: 13, numRuns: 5 },
    );
  });
});

/** An arch that is as likely as not to be ready, and its planner, which knows more futures of it than a trial draws. */
async function uncertain() {
  const [own] = fc.sample(anyBuild, { seed: 3, numRuns: 1 });
  const build = {
    ...own!,
    event: '2026-12-03T20:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 08:00-20:00' }],
  };
  const plan: Background['plan'] = async ({ build, log, now, former, first }) =>
    planBuild(build, log, now, {
      levelling: { seed: 1, schedules: 20 },
      risk: { seed: 1, futures: 3_000, exactness: 0 },
      ...(former ? { former: readSchedule(former) } : {}),
      ...(first ? { first } : {}),
    });
  const parts = { now: () => NOW, background: { ...quickly, plan }, pauses: SHORT_PAUSES };
  const planner = createPlanner({ store: openStore(), ...parts });
  const steps = build.steps.map((step) =>
    step.id === 'cut'
      ? { ...step, phases: [{ kind: 'hands' as const, perUnit: { low: 20, likely: 35, high: 80 } }] }
      : step,
  );
  const made = await planner.create({ ...build, steps }, [], 'maker');
  if (!made.ok) throw new Error(made.problems[0]!.message);
  await planner.settled();
  return planner;
}

describe('the plan as it is', () => {
  it('has one chance wherever something is tried out beside it', async () => {
    const planner = await uncertain();
    const { readyBy, readyAt } = planner.latest('arch')!.forecast.risk!;
    expect(readyBy.chance).toBeGreaterThan(0.05);
    expect(readyBy.chance).toBeLessThan(0.95);
    const more = [set('machines', 'press', 'count', 2)];
    planner.keepOption('arch', { name: 'two presses', changes: more, who: 'maker', expected: 1 });
    const { present, options } = await planner.options('arch', PATIENCE);
    expect(present!.risk!.futures).toBeLessThan(3_000);
    expect(present!.risk!.readyBy).toEqual(readyBy);
    expect(Math.abs(present!.risk!.readyAt.p80 - readyAt.p80)).toBeLessThanOrEqual(1);
    const state = options[0]!.state;
    if (state.kind !== 'tried') throw new Error(state.kind);
    const gained = state.compared!.readyBy.mean;
    expect(state.forecast.risk!.readyBy.chance).toBeCloseTo(Math.min(1, readyBy.chance + gained), 10);
    planner.findLevers('arch');
    planner.layWaysBeside('arch');
    await planner.settled();
    expect(planner.levers('arch')!.search!.present!.chance).toBe(readyBy.chance);
    expect(planner.partWays('arch')!.found!.present!.chance).toBe(readyBy.chance);
  });
});

/** The same where brackets are made here by their steps, or come from the mill. */
function withWays(build: Build): Build {
  const ways: NonNullable<Part['ways']> = [
    { id: 'here', name: 'made here', source: 'make' },
    { id: 'sent', name: 'sent out', source: 'send-out', supplier: 'mill', unitCost: 2 },
  ];
  const parts = build.parts!.map((part) => (part.id === 'bracket' ? { ...part, ways } : part));
  const steps = build.steps.map((step) => (step.id === 'fit' ? step : { ...step, way: 'here' }));
  return { ...build, parts, steps };
}

describe('adopting a row of what buys time, or a way or a split of a part', () => {
  it('gives exactly the date that it showed, on any build', { timeout: PATIENCE }, async () => {
    let adopted = 0;
    await fc.assert(
      fc.asyncProperty(anyBuild, async (plain) => {
        const build = withWays(plain);
        const planner = createPlanner({
          store: openStore(),
          now: () => NOW,
          background: quickly,
          pauses: SHORT_PAUSES,
        });
        const made = await planner.create(build, [], 'maker');
        if (!made.ok) throw new Error(made.problems[0]!.message);
        await planner.settled();
        planner.findLevers('arch');
        planner.layWaysBeside('arch');
        await planner.settled();
        const rows = planner.levers('arch')!.search!.rows.filter(({ verdict }) => verdict === 'gains');
        const [{ ways, splits } = { ways: [], splits: [] }] = planner.partWays('arch')!.found!.parts;
        const shown = [
          ...rows.slice(0, 2).map(({ lever, readyAt }) => ({ changes: lever.changes, readyAt })),
          ...[...ways, ...splits.slice(2, 4)].map(({ changes, worth }) => ({ changes, readyAt: worth.readyAt })),
        ];
        for (const { changes, readyAt } of shown) {
          if (changes.length === 0) continue;
          const seen = await planner.whatIf('arch', changes, 1);
          if (!seen.ok) throw new Error(seen.problems[0]!.message);
          expect(seen.value.forecast.room.readyBy.finish).toBe(readyAt);
        }
        const last = shown.at(-1)!;
        expect(await planner.edit('arch', last.changes, 'Ana', 1)).toEqual({ ok: true, value: { revision: 2 } });
        expect(planner.latest('arch')!.forecast.room.readyBy.finish).toBe(last.readyAt);
        adopted += shown.length;
      }),
      { seed: 14, numRuns: 5 },
    );
    expect(adopted).toBeGreaterThan(12);
  });
});
