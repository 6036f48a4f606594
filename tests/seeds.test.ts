/** The demo as a newcomer gets it, whatever the day: its state, its counts, and no nonsense in its plan. */
import { describe, expect, it } from 'vitest';
import { DEMO, demoFile } from '../seed/demo.ts';
import { EXAMPLES } from '../seed/index.ts';
import { planBuild } from '../server/engine/plan.ts';
import { type BuildFile, checkBuildFile, type Forecast, type ForecastLot } from '../server/model/index.ts';
import { createPlanner } from '../server/planner/index.ts';
import { texts } from '../views/texts/index.ts';
import { quickly, SHORT_PAUSES } from './planner/at-once.ts';
import { openStore } from './store/helpers.ts';

/** Mon 30 Nov 2026, 12:00. */
const MONDAY = Date.UTC(2026, 10, 30, 12) / 60_000;
const DAYS = [0, 1, 2, 3, 4, 5, 6].map((day) => MONDAY + day * 1440);
const LEVELLING = { seed: 1, schedules: 20 };

const plan = ({ build, log = [] }: BuildFile, now: number, futures = 0) =>
  planBuild(build, log, now, { levelling: LEVELLING, ...(futures === 0 ? {} : { risk: { seed: 1, futures } }) });
const demo = plan(demoFile(MONDAY), MONDAY);

describe('the demo', () => {
  it('comes in with its whole log, as a file from somewhere else does', async () => {
    const file = demoFile(MONDAY);
    expect(checkBuildFile(JSON.parse(JSON.stringify(file)))).toMatchObject({ ok: true });
    const store = openStore();
    const planner = createPlanner({ store, now: () => MONDAY, background: quickly, pauses: SHORT_PAUSES });
    expect(await planner.create(file.build, file.log ?? [], 'maker')).toMatchObject({
      ok: true,
      value: { id: DEMO.id },
    });
    expect(planner.log(DEMO.id)).toHaveLength(file.log!.length);
    planner.close();
    await planner.settled();
    store.close();
  });

  it.each(DAYS)('is half built and in doubt, with a threat and no fault, at minute %i', (now) => {
    const forecast = plan(demoFile(now), now, 150);
    expect(forecast.problems).toEqual([]);
    expect(forecast.complete).toBe(true);
    expect(forecast.limits!.map(({ state }) => state)).toEqual(['kept', 'kept']);
    expect(forecast.doubts ?? []).toEqual([]);
    expect(forecast.threats!.length).toBeGreaterThan(0);
    const chances = [forecast.risk!.readyBy.chance, forecast.risk!.event.chance];
    expect(Math.min(...chances)).toBeGreaterThan(0.4);
    expect(Math.max(...chances)).toBeLessThan(0.95);
    const sanding = forecast.steps.find(({ id }) => id === 'sand-slats')!;
    expect([sanding.left > 20, sanding.left < 100]).toEqual([true, true]);
    const { power, stops, run } = forecast.show!;
    expect(power.map(({ gate, onSite, dayBefore }) => [gate, onSite, dayBefore])).toEqual([
      ['runs-at-home', false, true],
      ['mains-safe', true, null],
    ]);
    expect(power.every(({ start, last }) => start! <= last!)).toBe(true);
    expect(stops.filter(({ code }) => code === 'no-power-on')).toEqual([]);
    expect(stops).toContainEqual({ code: 'no-certificate', step: 'certify-finish' });
    expect(run.map(({ step }) => step)).toContain('mains-safe');
  });

  // Binomial: the least n with 9 chances in 10 of that many good ones; reels: 338 x 2.5 m less 200 m, by the hundred.
  it('counts at its beginning what a hand calculation counts', () => {
    const { build } = demoFile(MONDAY);
    const start = Date.parse(`${build.start}:00Z`) / 60_000;
    const first = plan({ ...demoFile(MONDAY), log: [] }, start);
    const of = (id: string) => first.parts.find((part) => part.id === id)!;
    expect(['rail', 'slat', 'pulley', 'cord', 'counterweight'].map((id) => [id, of(id).need, of(id).toMake])).toEqual([
      ['rail', 5, 5],
      ['slat', 160, 169],
      ['pulley', 320, 347],
      ['cord', 320, 338],
      ['counterweight', 160, 168],
    ]);
    expect([of('batten').toBuy, of('reel-metre').toBuy, of('tube').toBuy, of('drive').toBuy]).toEqual([90, 700, 0, 1]);
    const [load, head] = first.limits!;
    expect(load!.value).toBeCloseTo((11 + 64 * 1.16 * 0.045 * 0.012 * 690) / 4, 9);
    expect([head!.low, head!.high]).toEqual([expect.closeTo(2.6, 9), expect.closeTo(3.2, 9)]);
  });

  it('offers the counterweights filled here or turned out, each with its cost', () => {
    const decision = demo.decisions.find(({ id }) => id === 'weights')!;
    expect(decision.answers?.map((answer) => answer.name)).toEqual(['fill them here', 'have them turned']);
    const { counterweight } = Object.fromEntries(demoFile(MONDAY).build.parts!.map((part) => [part.id, part]));
    expect(counterweight!.ways!.map(({ source }) => source)).toEqual(['make', 'send-out']);
  });

  it('hangs a second rail only when the first has risen level', () => {
    const [proof] = lotsOf('rises-level');
    for (const lot of lotsOf('hang-slats')) {
      if (lot.set !== 1) expect(lot.levelled!.start).toBeGreaterThanOrEqual(proof!.levelled!.finish);
    }
    expect(proof!.set).toBe(1);
  });

  it('works with what has come, oils what is dry, and packs what is assembled', () => {
    const rails = lotsOf('weld-rails')[0]!.levelled!.finish;
    expect(Math.min(...startsOf('hang-slats'))).toBeGreaterThanOrEqual(rails);
    for (const coat of lotsOf('oil-twice').filter(({ begun }) => !begun)) {
      const before = lotsOf('oil-once').filter(
        ({ firstUnit, lastUnit }) => firstUnit <= coat.lastUnit && lastUnit >= coat.firstUnit,
      );
      for (const under of before) expect(coat.levelled!.start).toBeGreaterThanOrEqual(under.levelled!.finish);
    }
    expect(Math.min(...startsOf('pack-rails'))).toBeGreaterThanOrEqual(lotsOf('dry-assembly')[0]!.levelled!.finish);
    expect(startsOf('unload')[0]).toBeGreaterThanOrEqual(lotsOf('certify-finish')[0]!.levelled!.finish);
  });

  it('has the electrician once, after the signature, and nobody before they are there', () => {
    const visit = [...lotsOf('connect-mains'), ...lotsOf('mains-safe')].flatMap(({ placements }) => placements);
    expect(visit.every(({ people }) => people.includes('electrician'))).toBe(true);
    expect(new Set(visit.map(({ start }) => Math.floor(start / 1440))).size).toBe(1);
    expect(Math.min(...visit.map(({ start }) => start))).toBeGreaterThanOrEqual(
      lotsOf('points-signed')[0]!.levelled!.finish,
    );
    const worked = demo.lots.flatMap(({ placements }) => placements).filter(({ kind }) => kind === 'hands');
    const bram = worked
      .filter(({ people }) => people.includes('bram'))
      .map(({ start }) => new Date(start * 60_000).getUTCDay());
    expect(bram.length).toBeGreaterThan(0);
    expect(bram.filter((day) => day !== 2 && day !== 4 && day !== 5 && day !== 6)).toEqual([]);
  });
});

describe('an example of another trade', () => {
  it.each(EXAMPLES.slice(1))('comes in and plans without a fault on any day: $id', ({ id, file }) => {
    expect(texts.builds.example[id]).toMatch(/nothing made yet$/);
    for (const now of DAYS) {
      expect(checkBuildFile(JSON.parse(JSON.stringify(file(now))))).toMatchObject({
        ok: true,
        value: { build: { id } },
      });
      const forecast = plan(file(now), now, 60);
      expect([forecast.problems, forecast.complete, forecast.doubts ?? []]).toEqual([[], true, []]);
      expect(forecast.limits!.every(({ state }) => state === 'kept')).toBe(true);
      expect(forecast.risk!.event.chance).toBeGreaterThan(0.4);
      expect(forecast.room.event.clock).toBeGreaterThan(0);
    }
  });

  it('counts what a hand calculation counts', () => {
    const counts = EXAMPLES.slice(1).map(({ file }) =>
      Object.fromEntries(plan(file(MONDAY), MONDAY).parts.map((part) => [part.id, part.toBuy ?? part.toMake])),
    );
    // 64 birds of 92 in 100; sheets: 73 / 4, two spare, less 8 on hand, by the ten.
    // Twelve segments with a spare board, 48 castors and 2 spare.
    expect(counts).toEqual([
      { shaft: 4, bird: 73, sheet: 20 },
      { segment: 12, board: 13, castor: 50 },
    ]);
  });
});

function lotsOf(step: string): readonly ForecastLot[] {
  return (demo as Forecast).lots.filter((lot) => lot.step === step);
}

function startsOf(step: string): number[] {
  return lotsOf(step).map(({ levelled }) => levelled!.start);
}
