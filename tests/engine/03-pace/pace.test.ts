import { describe, expect, test } from 'vitest';
import { demoFile } from '../../../seed/demo.ts';
import { minutesPerUnit } from '../../../server/engine/03-pace/pace-model.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import { runStages } from '../../../server/engine/stages/run-stages.ts';
import type { Estimate, Origin } from '../../../server/model/index.ts';
import { paceWords, wordedDoubts } from '../../support/words.ts';
import { at, filing, log, NOW, paceOf, type Told } from '../_filing.ts';

describe('a pace nobody has counted', () => {
  test.each<[Estimate, Origin, number]>([
    [3, 'guessed', 3],
    [3, 'handbook', 3],
    [{ low: 1, likely: 2, high: 9 }, 'guessed', 3],
    [{ units: 14, minutes: 38 }, 'trial', 38 / 14],
  ])('is the estimate %j of origin %s', (estimate, origin, minutes) => {
    const pace = paceOf(filing(estimate, {}, origin), []);
    expect(pace).toMatchObject({ units: 0, minutes: 0, origin, notes: [] });
    expect(pace.minutesPerUnit).toBeCloseTo(minutes, 9);
    expect(pace.low).toBeLessThan(minutes);
    expect(pace.high).toBeGreaterThan(minutes);
  });

  test('spans wider as a guess than out of a handbook or a trial of many', () => {
    const width = (estimate: Estimate, origin: Origin) => {
      const { low, high } = paceOf(filing(estimate, {}, origin), []);
      return high / low;
    };
    expect(width(3, 'guessed')).toBeGreaterThan(width(3, 'handbook'));
    expect(width(3, 'handbook')).toBeGreaterThan(width({ units: 40, minutes: 120 }, 'trial'));
  });

  test('is null where there are no hands a unit', () => {
    expect(planBuild(filing(3), [], NOW).steps.find(({ id }) => id === 'oil')?.pace).toBeNull();
  });
});

describe('a pace counted with a run clock', () => {
  // By hand: a trial of 14 in 38 minutes is the gamma (15, 38 min); 26 in 82 minutes make it (41, 120 min), mean 120 / 40 = 3 minutes.
  test('adds the counts to a timed trial', () => {
    const build = filing({ units: 14, minutes: 38 });
    const pace = paceOf(build, log(['09T18:00', 'began'], ['09T19:22', 'done', 26], ['09T19:22', 'paused']));
    expect(pace).toMatchObject({ units: 26, minutes: 82, origin: 'measured' });
    expect(pace.minutesPerUnit).toBeCloseTo(3, 9);
    const { low, high } = minutesPerUnit({ shape: 41, hours: 2 });
    expect([pace.low, pace.high]).toEqual([expect.closeTo(low, 9), expect.closeTo(high, 9)]);
  });

  test('moves the plan and the origin of the step', () => {
    const entries = log(['09T18:00', 'began'], ['09T20:00', 'done', 20], ['09T20:00', 'paused']);
    const [before, after] = [planBuild(filing(3), [], NOW), planBuild(filing(3), entries, NOW)];
    const [thought, found] = [before.steps[0]!, after.steps[0]!];
    expect([thought.origin, found.origin]).toEqual(['guessed', 'measured']);
    // A guess of 3 weighs as five units: (5 x 3 + 120) / 25.
    expect(found.handsMinutesPerUnit).toBeCloseTo(135 / 25, 9);
    expect(found.handsMinutesLeft).toBe(Math.round(200 * 5.4) - Math.round(20 * 5.4));
  });

  test('does not count a pause, a lunch or a night', () => {
    const bare = log(['08T10:00', 'began'], ['08T11:00', 'done', 20], ['08T11:00', 'paused']);
    const paused = log(
      ['08T10:00', 'began'],
      ['08T10:30', 'paused'],
      ['08T16:30', 'began'],
      ['08T17:00', 'done', 20],
      ['08T17:00', 'paused'],
    );
    const lunch = log(['08T11:30', 'began'], ['08T13:30', 'done', 20], ['08T13:30', 'paused']);
    const night = log(['08T21:30', 'began'], ['09T09:30', 'done', 20], ['09T09:30', 'paused']);
    const paces = [bare, paused, lunch, night].map((entries) => paceOf(filing(3), entries));
    for (const pace of paces) expect(pace).toEqual(paces[0]);
    expect(paces[0]!.minutes).toBe(60);
  });

  test('counts hours outside the calendar in which somebody plainly worked', () => {
    const late = log(['08T21:30', 'began'], ['08T23:00', 'done', 20], ['08T23:00', 'paused']);
    expect(paceOf(filing(3), late).minutes).toBe(90);
  });

  test('adds up two people on one step, but not two who are needed together', () => {
    const both = log(
      ['09T18:00', 'began', undefined, 'ria'],
      ['09T18:00', 'began', undefined, 'tom'],
      ['09T19:00', 'done', 20, 'ria'],
      ['09T19:00', 'done', 20, 'tom'],
      ['09T19:00', 'paused', undefined, 'ria'],
      ['09T19:30', 'done', 10, 'tom'],
    );
    expect(paceOf(filing(3), both)).toMatchObject({ units: 50, minutes: 150 });
    const together = filing(3, { phases: [{ kind: 'hands', perUnit: 3, people: 2 }] });
    expect(paceOf(together, both)).toMatchObject({ units: 50, minutes: 90 });
  });

  test('counts the work that went into scrap', () => {
    const entries = log(['09T18:00', 'began'], ['09T19:00', 'done', 18], ['09T19:00', 'scrapped', 2]);
    expect(paceOf(filing(3), entries)).toMatchObject({ units: 20, minutes: 60 });
  });

  test('takes setups off before it divides', () => {
    const entries = log(['09T18:00', 'began'], ['09T19:10', 'done', 20], ['09T19:10', 'paused']);
    expect(paceOf(filing(3, { setup: 10, setupEach: 'lot' }), entries)).toMatchObject({ units: 20, minutes: 60 });
  });

  test('takes the one setup of a step off its first units only', () => {
    const first = log(['09T18:00', 'began'], ['09T18:40', 'done', 10]);
    expect(paceOf(filing(3, { setup: 10 }), first)).toMatchObject({ units: 10, minutes: 30 });
    const more = log(['09T18:00', 'began'], ['09T18:40', 'done', 10], ['09T19:10', 'done', 10]);
    expect(paceOf(filing(3, { setup: 10 }), more)).toMatchObject({ units: 20, minutes: 60 });
  });

  // Crawford's unit model at 0.8: units 1 to 4 take 1 + 0.8 + 0.7021 + 0.64 = 3.1421 times the first (unit 3: 3^log2(0.8)).
  test('reads early units against the learning rate', () => {
    const build = filing(10, { learning: 0.8 });
    const entries = log(['09T18:00', 'began'], ['09T18:31', 'done', 4], ['09T18:31', 'paused']);
    const { planned } = runStages(build, entries, NOW);
    const pace = planned.paces.get('file')!;
    // A guess of 10 for the first unit weighs as five units, the four count 31 x 4 / 3.1421 minutes at the first unit's pace.
    expect(pace.firstUnitMinutes).toBeCloseTo((50 + (31 * 4) / 3.142104) / 9, 4);
    expect(pace.minutesPerUnit).toBeCloseTo(pace.firstUnitMinutes * 5 ** Math.log2(0.8), 9);
  });
});

describe('a log that tells little', () => {
  test('cannot time one entry, nor entries all at one instant', () => {
    for (const entries of [
      log(['09T18:00', 'done', 20]),
      log(['09T18:00', 'done', 20], ['09T18:00', 'done', 30], ['09T18:00', 'done', 5]),
      log(['09T18:00', 'began'], ['09T18:00', 'done', 20], ['09T18:00', 'paused']),
    ]) {
      expect(paceOf(filing(3), entries)).toMatchObject({ units: 0, origin: 'guessed', minutesPerUnit: 3 });
    }
  });

  test('is read from count to count where no clock ever ran', () => {
    const entries = log(['09T18:00', 'done', 20], ['09T19:00', 'done', 20], ['09T20:20', 'done', 20]);
    expect(paceOf(filing(3), entries)).toMatchObject({ units: 40, minutes: 140 });
  });

  test('is not read across other work or a gap of weeks', () => {
    const other = log(['09T18:00', 'done', 20], ['09T18:10', 'done', 9, undefined, 'oil'], ['09T19:00', 'done', 20]);
    expect(paceOf(filing(3), other).units).toBe(0);
    const weeks = log(['01T18:00', 'done', 20], ['09T18:00', 'done', 20], ['09T19:00', 'done', 20]);
    expect(paceOf(filing(3), weeks)).toMatchObject({ units: 20, minutes: 60 });
    const forgotten = log(['01T18:00', 'began'], ['09T18:00', 'done', 20], ['09T19:00', 'done', 20]);
    expect(paceOf(filing(3), forgotten)).toMatchObject({ units: 20, minutes: 60 });
  });
});

describe('a pace that surprises', () => {
  test('twenty times the estimate is kept, said and asked about', () => {
    const entries = log(['09T13:00', 'began'], ['09T17:00', 'done', 12], ['09T21:00', 'done', 12]);
    const forecast = planBuild(filing(1), entries, NOW);
    const pace = forecast.steps[0]!.pace!;
    expect(pace).toMatchObject({ units: 24, minutes: 480 });
    expect(pace.minutesPerUnit).toBeCloseTo((5 + 480) / 29, 9);
    expect(paceWords(pace.notes)).toContain('24 units took 20 min each, where 1 min was expected (20 times as long).');
    const asked = wordedDoubts(forecast).find(({ field }) => field === 'log.file');
    expect(asked).toMatchObject({ code: 'far-pace', values: { step: 'file' } });
    expect(asked!.message).toContain('did the clock run only while somebody worked?');
    expect(forecast.complete).toBe(true);
  });

  test('as expected is worth no word', () => {
    const entries = log(['09T18:00', 'began'], ['09T19:00', 'done', 20], ['09T20:05', 'done', 20]);
    expect(paceOf(filing(3), entries).notes).toEqual([]);
  });

  test('changed for good weighs what was counted since', () => {
    const slow: Told[] = [1, 2, 3, 4].map((d) => [`0${d}T19:00`, 'done', 20]);
    const quick: Told[] = [5, 6].flatMap((d): Told[] => [
      [`0${d}T18:00`, 'began'],
      [`0${d}T18:40`, 'done', 20],
      [`0${d}T18:40`, 'paused'],
    ]);
    const steady = slow.flatMap((told, i): Told[] => [[`0${i + 1}T17:00`, 'began'], told, [told[0], 'paused']]);
    const pace = paceOf(filing(6), log(...steady, ...quick));
    expect(paceWords(pace.notes)).toContain('The pace changed before Sat 5 Dec 18:40, from 6 to 2 min a unit');
    // 40 units at 2, and a tenth of the 85 units' worth at 6 that came before (the guess faded twice).
    expect(pace.minutesPerUnit).toBeGreaterThan(2);
    expect(pace.minutesPerUnit).toBeLessThan(3);
    expect(paceOf(filing(6), log(...steady)).notes).toEqual([]);
  });
});

test('the demo says that sanding is slower than guessed', () => {
  const now = at('2026-12-01T12:00');
  const { build, log: entries } = demoFile(now);
  const step = planBuild(build, entries ?? [], now).steps.find(({ id }) => id === 'sand-fish')!;
  // 76 units in 70 + 75 + 70 + 75 minutes of the clock, ten minutes of setup off for every 20: the one that was scrapped a minute
  // after the last count was one of those 20.
  expect(step.pace).toMatchObject({ units: 76, origin: 'measured' });
  expect(step.pace!.notes.map(({ code }) => code)).not.toContain('stands-out');
  expect(step.pace!.minutesPerUnit).toBeGreaterThan(3.1);
  expect(step.pace!.minutesPerUnit).toBeLessThan(3.4);
});

// Simulated makers whose true pace scatters around a guess by half of it, and whose units scatter by a third around that.
test('the interval holds the true pace of at least four in five simulated makers', () => {
  const random = new Random(11);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random.unit())) * Math.cos(2 * Math.PI * random.unit());
  const makers = 150;
  let held = 0;
  for (let maker = 0; maker < makers; maker++) {
    const sigma = Math.sqrt(Math.log(1 + 0.5 ** 2));
    const truth = 6 * Math.exp(sigma * normal() - sigma ** 2 / 2);
    const begin = at('2026-12-09T13:00');
    let clock = begin;
    const told: Told[] = [['09T13:00', 'began']];
    const stamp = (t: number) => new Date(Math.round(t) * 60_000).toISOString().slice(8, 16);
    for (let count = 0; count < 8; count++) {
      for (let unit = 0; unit < 3; unit++) clock += Math.max(0.2, 1 + 0.33 * normal()) * truth;
      told.push([stamp(clock), 'done', 3]);
    }
    const pace = runStages(filing(6), log(...told), NOW, { levelling: { seed: 1, schedules: 1 } }).planned.paces.get(
      'file',
    )!;
    expect(pace.units).toBe(24);
    if (pace.low <= truth && truth <= pace.high) held++;
  }
  // Counting as Poisson overstates the scatter of steady hands, so the interval is on the safe side.
  expect(held / makers).toBeGreaterThanOrEqual(0.8);
});
