import { describe, expect, it } from 'vitest';
import { keptScheduleOf } from '../../server/engine/07-levelling/replan/kept-schedule.ts';
import { planBuild } from '../../server/engine/plan.ts';
import type { Build, DaySheet, Forecast } from '../../server/model/index.ts';
import { readSchedule } from '../../server/planner/background/former.ts';
import type { Background, PlanTask } from '../../server/planner/index.ts';
import { openStore } from '../store/helpers.ts';
import { editBy } from '../support/changes/edit-by.ts';
import { type Bench, bench, NOON, noonTap } from './helpers.ts';

/** Two people who may both do everything, so that many orders of work are equally good. 2026-11-30 is a Monday. */
const arch: Build = {
  id: 'lantern',
  name: 'Arch of lamps',
  zone: 'UTC',
  event: '2026-12-12T18:00',
  people: [
    { id: 'ada', name: 'Ada', hours: 'daily 08:00-18:00' },
    { id: 'ben', name: 'Ben', hours: 'daily 08:00-18:00' },
  ],
  parts: [
    { id: 'lamp', name: 'lamp', source: 'make', count: 60 },
    { id: 'bracket', name: 'bracket', source: 'make', count: 40 },
    { id: 'cable', name: 'cable', source: 'make', count: 50 },
  ],
  steps: [
    { id: 'fold', name: 'fold lamps', part: 'lamp', lotSize: 6, phases: [{ kind: 'hands', perUnit: 9 }] },
    { id: 'glue', name: 'glue lamps', part: 'lamp', lotSize: 6, phases: [{ kind: 'hands', perUnit: 7 }] },
    { id: 'bend', name: 'bend brackets', part: 'bracket', lotSize: 8, phases: [{ kind: 'hands', perUnit: 11 }] },
    { id: 'strip', name: 'strip cables', part: 'cable', lotSize: 10, phases: [{ kind: 'hands', perUnit: 6 }] },
    { id: 'hang', name: 'hang it all', after: ['glue', 'bend', 'strip'], phases: [{ kind: 'hands', minutes: 90 }] },
  ],
};

const quick = ({ build, log, now, former }: Omit<PlanTask, 'depth'>): Forecast =>
  planBuild(build, log, now, {
    levelling: { seed: 1, schedules: 1 },
    ...(former ? { former: readSchedule(former) } : {}),
  });

const plainly = (build: Build, log: PlanTask['log'], now: number, { former }: PlanTask): Forecast =>
  quick({ build, log, now, ...(former ? { former } : {}) });

/** Another seed each time: what a restless search would come up with. */
function restlessSearch(): Background['plan'] {
  let seed = 1;
  return async ({ build, log, now, depth, former }) =>
    depth === 'quick'
      ? quick({ build, log, now, ...(former ? { former } : {}) })
      : planBuild(build, log, now, {
          levelling: { seed: ++seed, schedules: 150 },
          ...(former ? { former: readSchedule(former) } : {}),
        });
}

/** An order of work that no search would come up with: what could be left for last goes first. */
const oddSearch: Background['plan'] = async ({ build, log, now, depth }) => {
  const plain = quick({ build, log, now });
  const former = keptScheduleOf(plain).map((lot) => ({ ...lot, start: lot.step === 'hang' ? lot.start : -lot.start }));
  return depth === 'quick' ? plain : quick({ build, log, now, former });
};

/** A day's lots by person in their order, told by step and units; lots in `done` left out. */
function orderOf(forecast: Forecast, sheet: DaySheet, done: ReadonlySet<string> = new Set()): Record<string, string[]> {
  const units = new Map(forecast.lots.map((lot) => [lot.id, `${lot.step} ${lot.lastUnit}`]));
  return Object.fromEntries(
    sheet.people.map(({ id, spells }) => [
      id,
      [...new Set(spells.map(({ lot }) => units.get(lot)!))].filter((name) => !done.has(name)),
    ]),
  );
}

function beginnings(order: Record<string, string[]>, count: number): string[][] {
  return Object.values(order).map((own) => own.slice(0, count));
}

/** The steps of the first day by person, as they follow each other. */
function stepsOf(forecast: Forecast): string[][] {
  const order = orderOf(forecast, forecast.days[0]!);
  return beginnings(order, 5).map((own) => own.map((name) => name.split(' ')[0]!));
}

async function settled(planner: Bench['planner']): Promise<Forecast> {
  planner.latest('lantern');
  await planner.settled();
  return planner.latest('lantern')!.forecast;
}

describe("today's sheet", () => {
  it('stays as it is through taps, quick answers and searches, save for what was done', async () => {
    const { planner, clock } = await bench({ computeForecast: plainly, search: restlessSearch() }, arch);
    const first = await settled(planner);
    const morning = orderOf(first, first.days[0]!);
    const firstOfAda = first.lots.find((lot) => `${lot.step} ${lot.lastUnit}` === morning.ada![0])!;
    clock.now = NOON + firstOfAda.placements[0]!.finish - firstOfAda.placements[0]!.start + 7;
    planner.append('lantern', [noonTap({ step: firstOfAda.step, n: 6 })], 'maker');
    const quickly = (await planner.snapshot('lantern'))!.forecast;
    const done = new Set([morning.ada![0]!]);
    const left = orderOf(first, first.days[0]!, done);
    const shown = orderOf(quickly, quickly.days[0]!);
    expect(beginnings(shown, 5)).toEqual(beginnings(left, 5));
    const searched = await settled(planner);
    expect(orderOf(searched, searched.days[0]!)).toEqual(shown);
    planner.append('lantern', [noonTap({ step: firstOfAda.step, n: 2 })], 'maker');
    const again = await settled(planner);
    expect(again.lots[0]!.firstUnit).not.toBe(searched.lots[0]!.firstUnit);
    expect(stepsOf(again)).toEqual(stepsOf(searched));
  });

  it('is known again after a restart', async () => {
    const store = openStore();
    const before = await bench({ computeForecast: plainly, search: oddSearch, store }, arch);
    const first = await settled(before.planner);
    const after = await bench({ computeForecast: plainly, search: restlessSearch(), store }, arch);
    after.clock.now = NOON + 16;
    const second = (await after.planner.snapshot('lantern'))!.forecast;
    const morning = orderOf(first, first.days[0]!);
    const shown = orderOf(second, second.days[0]!);
    expect(beginnings(shown, 5)).toEqual(beginnings(morning, 5));
  });

  it('changes where an edit makes another order gain a day', async () => {
    const { planner } = await bench({ computeForecast: plainly, search: restlessSearch() }, arch);
    const first = await settled(planner);
    const morning = orderOf(first, first.days[0]!);
    // The cables now travel for three days before anything can be hung: they must go out first.
    await editBy(planner, 'lantern', (build) => {
      build.steps.find((step) => step.id === 'strip')!.phases = [
        { kind: 'hands', perUnit: 6 },
        { kind: 'wait', minutes: '3 d' },
      ];
    });
    const second = await settled(planner);
    const shown = orderOf(second, second.days[0]!);
    expect(shown).not.toEqual(morning);
    const alone = planBuild(planner.build('lantern')!.build, [], NOON, { levelling: { seed: 1, schedules: 150 } });
    expect(second.room.readyBy.finish).toBeLessThanOrEqual(alone.room.readyBy.finish! + 60);
  });
});

describe('work in hand', () => {
  it('stays with whoever has begun it, though the sheet had it for somebody else', async () => {
    const { planner, clock } = await bench({ computeForecast: plainly, search: restlessSearch() }, arch);
    const first = await settled(planner);
    const begun = ['strip', 'bend'].find((step) => step !== firstStepOf(first, 'ada'))!;
    clock.now = NOON + 5;
    const began = [noonTap({ kind: 'began', step: begun, who: 'ada', at: '2026-11-30T12:03:00Z' })];
    planner.append('lantern', began, 'ada');
    expect(firstStepOf((await planner.snapshot('lantern'))!.forecast, 'ada')).toBe(begun);
    expect(firstStepOf(await settled(planner), 'ada')).toBe(begun);
    clock.now = NOON + 9;
    planner.append('lantern', [noonTap({ step: begun, n: 1, who: 'ada', at: '2026-11-30T12:08:00Z' })], 'ada');
    expect(firstStepOf((await planner.snapshot('lantern'))!.forecast, 'ada')).toBe(begun);
    expect(firstStepOf(await settled(planner), 'ada')).toBe(begun);
  });
});

/** The step that a person is to work on first. */
function firstStepOf({ days, lots }: Forecast, person: string): string {
  const spells = days[0]!.people.find(({ id }) => id === person)!.spells;
  return lots.find(({ id }) => id === spells[0]!.lot)!.step;
}
