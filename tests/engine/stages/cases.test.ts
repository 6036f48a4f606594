import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Forecast } from '../../../server/model/index.ts';
import { readCase } from '../../support/builds/cases.ts';

const at = (iso: string) => Date.parse(`${iso}Z`) / 60_000;

/** The forecast of a case. */
function forecastOf(name: string, now: string, futures = 0): Forecast {
  const { build, log } = readCase(name);
  return planBuild(build, log, at(now), futures === 0 ? {} : { risk: { seed: 1, futures, exactness: 0 } });
}

const lotOf = (forecast: Forecast, id: string) => forecast.lots.find((lot) => lot.id === id)!;

describe('a build of waits alone', () => {
  test('has its futures when they are, and no chance to be 24 days early', () => {
    const { risk, room } = forecastOf('waits-alone-24-days-late.json', '2031-01-01T00:00', 200);
    expect(room.event.finish).toBe(at('2031-03-24T00:00'));
    expect(risk!.event.chance).toBe(0);
    expect(risk!.readyBy.chance).toBe(0);
    expect(risk!.finishAt.p50).toBe(at('2031-03-24T00:00'));
    expect(risk!.beyond).toBe(0);
    expect(risk!.fans!.find(({ step }) => step === 'g')!.lastUnitAt.p50).toBe(at('2031-03-24T00:00'));
  });

  test('is sure to be ready where nothing in it is uncertain and there is time', () => {
    const { risk } = forecastOf('waits-alone.yaml', '2031-01-01T00:00', 200);
    expect(risk!.event.chance).toBe(1);
    expect(risk!.finishAt.p95).toBe(at('2031-03-24T00:00'));
  });
});

describe('a build of waits of which some are on site', () => {
  test('is not held to be ready later because of those', () => {
    const { build } = readCase('waits-alone.yaml');
    const steps = [{ id: 'hang', name: 'hang', onSite: true, takes: '1 d' }];
    const { lowerBound, room } = planBuild({ ...build, steps }, [], at('2031-01-06T00:00'));
    expect(lowerBound?.readyAt ?? 0).toBeLessThanOrEqual(room.readyBy.finish ?? at('2031-01-06T00:00'));
    expect(room.event.finish).toBe(at('2031-01-07T00:00'));
  });
});

describe("a link that is typed between a child part's step and its parent's", () => {
  test('is what its type says', () => {
    const forecast = forecastOf('typed-link-of-parts.json', '2031-01-06T08:00');
    expect(forecast.steps.find(({ id }) => id === 'fit')!.fedBy[0]).toMatchObject({
      type: 'finish-start',
      ratio: null,
    });
    expect(lotOf(forecast, 'fit/1').levelled!.start).toBe(at('2031-01-06T10:00'));
  });
});

describe('shares of sets that do not come out even', () => {
  test('let no work begin with parts that are not made', () => {
    const forecast = forecastOf('uneven-shares.json', '2031-01-06T08:00');
    const ribs = forecast.lots.filter(({ step }) => step === 'cut');
    for (const join of forecast.lots.filter(({ step }) => step === 'join')) {
      const begins = join.levelled!.start;
      const made = ribs
        .filter(({ levelled }) => levelled!.finish <= begins)
        .reduce((units, { firstUnit, lastUnit }) => units + lastUnit - firstUnit + 1, 0);
      const begun = forecast.lots.filter(({ step, levelled }) => step === 'join' && levelled!.start <= begins);
      expect(made, join.id).toBeGreaterThanOrEqual(4 * begun.length);
      const own = ribs
        .filter(({ set, levelled }) => set === join.set && levelled!.finish <= begins)
        .reduce((units, { firstUnit, lastUnit }) => units + lastUnit - firstUnit + 1, 0);
      expect(own, join.id).toBeGreaterThanOrEqual(Math.min(9, 4 * join.number));
    }
  });
});

describe('work that is pinned to somebody who may not do it', () => {
  test('is a problem that names them, and is planned for those who may', () => {
    const forecast = forecastOf('pinned-to-who-may-not.json', '2031-01-06T08:00');
    const [found, ...others] = forecast.problems.filter(({ severity }) => severity === 'error');
    expect(others).toEqual([]);
    expect(found).toMatchObject({ code: 'conflict', field: 'steps.weld.pinnedTo', value: 'tom' });
    expect(found!.message).toContain('Tom may not do "weld"');
    expect(forecast.lots[0]!.placements[0]!.people).toEqual(['ana']);
    expect(forecast.room.event.finish).toBe(forecast.room.event.unlimitedFinish);
  });
});

describe('a step that ends too late', () => {
  test('has its room below zero, however early it may begin', () => {
    const forecast = forecastOf('room-of-what-is-late.json', '2031-01-06T18:00');
    const last = forecast.lots.filter(({ levelled }) => levelled!.finish === forecast.room.event.finish);
    expect(forecast.room.event.clock).toBeLessThan(0);
    for (const lot of last) expect(lot.levelled!.room, lot.id).toBeLessThanOrEqual(forecast.room.event.clock!);
  });
});

describe('a step that nobody may do', () => {
  const { build } = readCase('pinned-to-who-may-not.json');
  const phases = [{ kind: 'hands' as const, perUnit: 60 }];
  const step = { id: 'weld', name: 'weld', count: 8, lotSize: 8, setup: 45, learning: 0.8, phases };
  const endOf = (can: string[]) => {
    const people = [{ id: 'tom', name: 'Tom', hours: 'always', can }];
    const forecast = planBuild({ ...build, people, steps: [step] }, [], at('2031-01-06T08:00'));
    return Math.max(...forecast.lots.map(({ dates }) => dates.earlyFinish ?? 0));
  };

  test('takes as long as if somebody might, its setup and its learning among it', () => {
    expect(endOf(['other'])).toBe(endOf(['weld']));
  });
});

describe('a piece that a machine works on twice, turned over in between', () => {
  test('holds one machine once, so that what is planned can be done', () => {
    const forecast = forecastOf('two-sides-one-mill.json', '2031-01-06T08:00');
    expect(forecast.room.event.finish).toBe(at('2031-01-07T11:00'));
    expect(forecast.lowerBound!.readyAt).toBeLessThanOrEqual(at('2031-01-07T11:00'));
    expect(forecast.lowerBound!.verdict).not.toBe('impossible');
    const runs = forecast.days.flatMap(({ machines }) => machines.flatMap(({ spells }) => spells));
    const minutes = runs.reduce((sum, { start, finish }) => sum + finish - start, 0);
    expect(minutes).toBe(6 * 240);
  });

  test('stays on its machine, so that two machines do as much as if it were one run', () => {
    const forecast = forecastOf('two-sides-two-mills.json', '2031-01-06T08:00');
    expect(forecast.room.event.finish! - forecast.now).toBeLessThanOrEqual(830);
    for (const lot of forecast.lots) {
      const runs = lot.placements.filter(({ kind }) => kind === 'run');
      expect(new Set(runs.map(({ machineUnit }) => machineUnit)).size, lot.id).toBe(1);
    }
  });
});

describe('hands, then hands in one go, of people with other hours', () => {
  test('are done by whoever ends first, were it that they begin later', () => {
    const forecast = forecastOf('one-go-after-hands.json', '2031-04-10T08:00');
    expect(forecast.room.event.finish).toBe(at('2031-04-10T16:45'));
    expect(forecast.lowerBound!.readyAt).toBeLessThanOrEqual(at('2031-04-10T16:45'));
  });
});

describe('crews of many people', () => {
  test('work side by side where there are enough for it', () => {
    const forecast = forecastOf('twelve-helpers.json', '2031-01-06T08:00');
    expect(forecast.room.event.finish).toBe(at('2031-01-06T09:00'));
    const people = forecast.lots.flatMap(({ placements }) => placements[0]!.people);
    expect(new Set(people).size).toBe(12);
  });

  test.each([
    [10, 3, 3],
    [10, 2, 4],
    [12, 6, 2],
    [13, 4, 3],
    [13, 2, 6],
    [15, 3, 5],
    [20, 4, 5],
  ])('of %i people do %i jobs of %i each at once', (count, jobs, each) => {
    const { build } = readCase('twelve-helpers.json');
    const people = Array.from({ length: count }, (_, i) => ({ ...build.people![0]!, id: `p${i}`, name: `P${i}` }));
    const phases = [{ kind: 'hands' as const, minutes: 60, people: each }];
    const steps = Array.from({ length: jobs }, (_, i) => ({ id: `job${i}`, name: `job ${i}`, phases }));
    const forecast = planBuild({ ...build, people, steps }, [], at('2031-01-06T08:00'));
    expect(forecast.room.event.finish).toBe(at('2031-01-06T09:00'));
  });
});

describe('days that are lost', () => {
  test('cost a long lot what they cost many short ones: the work pauses', () => {
    const ofOne = forecastOf('lost-days-lots-of-1.json', '2031-01-06T18:00', 2000).risk!;
    const ofTwenty = forecastOf('lost-days-lots-of-20.json', '2031-01-06T18:00', 2000).risk!;
    expect(Math.abs(ofOne.event.chance - ofTwenty.event.chance)).toBeLessThan(0.03);
    expect(ofTwenty.finishAt.p95 - ofOne.finishAt.p95).toBeLessThanOrEqual(1440);
  });

  // By a simulation of the same rule without any code of ours: one job of 40 h in evenings of 4 h, measured, nothing
  // logged.
  test.each([
    [1, 0.617],
    [4, 0.858],
    [6, 0.936],
  ])('leave a job of ten evenings the chance that a simulation gives it with %i evenings to spare', (spare, chance) => {
    const { build } = readCase('lost-days-lots-of-20.json');
    const event = `2031-01-${String(15 + spare).padStart(2, '0')}T23:00`;
    const step = { ...build.steps[0]!, count: 1, lotSize: 1, phases: [{ kind: 'hands' as const, minutes: 2400 }] };
    const options = { risk: { seed: 1, futures: 4000, exactness: 0 } };
    const { risk } = planBuild({ ...build, event, steps: [step] }, [], at('2031-01-06T18:00'), options);
    expect(Math.abs(risk!.event.chance - chance)).toBeLessThan(0.03);
  });
});

describe('a run that somebody must stay with', () => {
  test('is drawn no longer than one of them can stay, so that it fits somewhere', () => {
    const forecast = forecastOf('attended-in-turns.json', '2026-12-01T09:00', 1000);
    expect(forecast.risk!.readyBy.chance).toBeGreaterThan(0.99);
    expect(forecast.risk!.beyond).toBe(0);
    expect(forecast.risk!.finishAt.p80).toBeLessThan(at('2026-12-08T00:00'));
  });
});

describe('a run under way that somebody must stay with', () => {
  test('stays with whoever loaded it, and leaves everybody else free', () => {
    const forecast = forecastOf('attended-load.json', '2031-01-06T09:10');
    expect(lotOf(forecast, 'bake/1').placements[0]!.people).toEqual(['tom']);
    expect(lotOf(forecast, 'draw/1').levelled!.start).toBe(at('2031-01-06T09:10'));
  });
});
