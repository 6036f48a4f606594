import { describe, expect, test } from 'vitest';
import { minutesPerUnit } from '../../../server/engine/03-pace/pace-model.ts';
import {
  ANY_SPREAD,
  learnPaceAndSpread,
  spreadsByOthers,
  UNIT_SPREADS,
} from '../../../server/engine/03-pace/pace-spread.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Estimate, Origin, Step } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { HANDS, paceHeld } from '../../support/makers/pace-makers.ts';
import { paceWords, wordedDoubts } from '../../support/words.ts';
import { at, filing, log, NOW, paceOf, type Told } from '../_filing.ts';

describe('a pace nobody has counted', () => {
  test.each<[Estimate, Origin, number]>([
    [3, 'guessed', 3],
    [3, 'handbook', 3],
    [{ low: 1, likely: 2, high: 9 }, 'guessed', 3],
    [{ units: 18, minutes: 45 }, 'trial', 45 / 18],
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

  test('is of the lot’s minutes where no unit has its own, and null where a machine is loaded and nothing more', () => {
    const build = filing(3);
    const press = { id: 'press', name: 'press', count: 9 };
    const steps = [
      ...build.steps,
      {
        ...press,
        phases: [
          { kind: 'hands' as const, minutes: 5 },
          { kind: 'run' as const, machine: 'press', minutes: 60 },
        ],
      },
    ];
    const forecast = planBuild({ ...build, machines: [{ id: 'press', name: 'press' }], steps }, [], NOW);
    const pace = (id: string) => forecast.steps.find((step) => step.id === id)!.pace;
    // Ten minutes for twenty.
    expect(pace('oil')).toMatchObject({ minutesPerUnit: 0.5, estimate: 0.5, units: 0 });
    expect(pace('press')).toBeNull();
  });
});

describe('a pace counted with a run clock', () => {
  // A trial of 12 in 32 minutes is the gamma (13, 32 min). As Poisson counts 26 in 82 minutes make it (39, 114 min),
  // mean 114 / 38 = 3 minutes; were the hands as steady as can be (0.15), the 26 would weigh as 26 / 0.0225 units, and
  // the mean be close to 82 / 26.
  test('adds the counts to a timed trial, by as much as the hands are thought steady', () => {
    const build = filing({ units: 12, minutes: 32 });
    const pace = paceOf(build, log(['09T18:00', 'began'], ['09T19:22', 'done', 26], ['09T19:22', 'paused']));
    expect(pace).toMatchObject({ units: 26, minutes: 82, origin: 'measured' });
    expect(pace.minutesPerUnit).toBeGreaterThan(3);
    expect(pace.minutesPerUnit).toBeLessThan(82 / 26);
    const { low, high } = minutesPerUnit({ shape: 39, hours: 1.9 });
    expect(pace.low).toBeGreaterThan(low);
    expect(pace.high).toBeLessThan(high);
  });

  test('moves the plan and the origin of the step', () => {
    const entries = log(['09T18:00', 'began'], ['09T20:00', 'done', 20], ['09T20:00', 'paused']);
    const [before, after] = [planBuild(filing(3), [], NOW), planBuild(filing(3), entries, NOW)];
    const [thought, found] = [before.steps[0]!, after.steps[0]!];
    expect([thought.origin, found.origin]).toEqual(['guessed', 'measured']);
    // A guess of 3 weighs as five units that nobody knows the scatter of: (5 x 3 + 120) / 25 were they Poisson, 120 /
    // 20 were they all alike.
    const each = found.handsMinutesPerUnit!;
    expect(each).toBeGreaterThan(135 / 25);
    expect(each).toBeLessThan(6);
    expect(found.handsMinutesLeft).toBe(Math.round(200 * each) - Math.round(20 * each));
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
    const entries = log(['09T18:00', 'began'], ['09T18:54', 'done', 18], ['09T19:00', 'scrapped', 2]);
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

  // Crawford's unit model at 0.8: units 1 to 4 take 1 + 0.8 + 0.7021 + 0.64 = 3.1421 times the first (unit 3:
  // 3^log2(0.8)).
  test('reads early units against the learning rate', () => {
    const build = filing(10, { learning: 0.8 });
    const entries = log(['09T18:00', 'began'], ['09T18:31', 'done', 4], ['09T18:31', 'paused']);
    const planned = workThrough({ build, log: entries, now: NOW }, 'schedules');
    const pace = planned.paces.get('file')!;
    // The four count as 31 / 3.1421 minutes each at the first unit's pace; the guess was 10.
    expect(pace.firstUnitMinutes).toBeGreaterThan(31 / 3.142104);
    expect(pace.firstUnitMinutes).toBeLessThan(10);
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
    expect(pace.minutesPerUnit).toBeGreaterThan((5 + 480) / 29);
    expect(pace.minutesPerUnit).toBeLessThan(20);
    expect(paceWords(pace.notes)).toContain('24 units took 20 min each; you expected 1 min (20 times as long).');
    const asked = wordedDoubts(forecast).find(({ field }) => field === 'log.file');
    expect(asked).toMatchObject({ code: 'far-pace', values: { step: 'file' } });
    expect(asked!.message).toContain('pause the clock when nobody works.');
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
    expect(paceWords(pace.notes)).toContain('The pace changed before Sat 5 Dec 18:40, from 6 min to 2 min a unit');
    // 40 units at 2, and a tenth of the 85 units' worth at 6 that came before (the guess faded twice).
    expect(pace.minutesPerUnit).toBeGreaterThan(2);
    expect(pace.minutesPerUnit).toBeLessThan(3);
    expect(paceOf(filing(6), log(...steady)).notes).toEqual([]);
  });
});

test('the demo says that sanding is slower than guessed', () => {
  const now = at('2026-12-01T12:00');
  const { build, log: entries } = tideWall(now);
  const step = planBuild(build, entries ?? [], now).steps.find(({ id }) => id === 'sand-fish')!;
  // 76 units in 70 + 75 + 70 + 75 minutes of the clock, ten minutes of setup off for every 20: the one that was
  // scrapped a minute after the last count was one of those 20.
  expect(step.pace).toMatchObject({ units: 76, origin: 'measured' });
  expect(step.pace!.notes.map(({ code }) => code)).not.toContain('stands-out');
  expect(step.pace!.minutesPerUnit).toBeGreaterThan(3.1);
  expect(step.pace!.minutesPerUnit).toBeLessThan(3.4);
});

describe('the middle 80 % of a pace', () => {
  // Thousands of each: `npm run bench -- calibration`. Of 600 within 2.5 standard errors of 80 in 100 give or take
  // the 4 that are allowed.
  test.each([
    ['regular', 5],
    ['regular', 20],
    ['regular', 60],
    ['irregular', 5],
    ['irregular', 20],
    ['irregular', 60],
  ] as const)('holds the truth of about 80 in 100 makers with %s hands after %i units', (hands, units) => {
    const { inside } = paceHeld(600, 21, HANDS[hands], units);
    expect(inside).toBeGreaterThan(0.72);
    expect(inside).toBeLessThan(0.88);
  });

  test.each([
    ['regular', 12],
    ['regular', 24],
    ['irregular', 24],
    ['irregular', 60],
  ] as const)('holds as many of %s hands that count six at a time, after %i units', (hands, units) => {
    const { inside } = paceHeld(600, 23, HANDS[hands], units, { together: 6 });
    expect(inside).toBeGreaterThan(0.72);
    expect(inside).toBeLessThan(0.88);
  });

  // With even weights for all spreads 76 in 100; the standard error is 0.7.
  test('holds the truth of at least 77 in 100 makers with irregular hands after five units, of 3,000', () => {
    expect(paceHeld(3000, 24, HANDS.irregular, 5).inside).toBeGreaterThan(0.77);
  });

  // A unit that lies half made over the night makes the counts on both sides of it scatter, not the hands.
  test.each([4, 100])(
    'holds about as many of regular hands that go home in the middle of a unit, counted %d at a time',
    (together) => {
      const { inside } = paceHeld(600, 40, HANDS.regular, 120, { together, goHome: true });
      expect(inside).toBeGreaterThan(0.75);
      expect(inside).toBeLessThan(0.85);
    },
  );

  test('is hardly wider where a unit lies half made over each night than where none does', () => {
    const [atOnce, byEvening] = [false, true].map((goHome) =>
      paceHeld(300, 41, HANDS.regular, 60, { together: 4, goHome }),
    );
    expect(byEvening!.width).toBeLessThan(1.12 * atOnce!.width);
  });

  // Where a count takes hours, nobody's clock says how much of the time between two of them was work.
  test.each([
    [20, 20, 1],
    [150, 8, 1],
    [300, 8, 1],
    [30, 60, 12],
  ])('holds about 80 in 100 makers without a clock, at %d min a unit, after %d of them, %d at a time', (...told) => {
    const [minutes, units, together] = told;
    const { inside, below, above } = paceHeld(600, 43, HANDS.regular, units, { minutes, together, noClock: true });
    expect(inside).toBeGreaterThan(0.72);
    expect(inside).toBeLessThan(0.88);
    expect(Math.abs(above - below)).toBeLessThan(0.12);
  });

  // Were a given rate certain until counts say another, 72 in 100 after five.
  test.each([5, 10, 30, 60])('holds about 80 in 100 makers who learn, after %d counts', (units) => {
    const { inside } = paceHeld(600, 42, HANDS.regular, units, { shape: { learning: 0.9 } });
    expect(inside).toBeGreaterThan(0.75);
    expect(inside).toBeLessThan(0.86);
  });

  test('is much narrower for regular hands than for irregular ones', () => {
    const width = (spread: number) => paceHeld(100, 22, spread, 60).width;
    expect(width(HANDS.regular)).toBeLessThan(width(HANDS.irregular) / 3);
  });
});

describe('minutes for each lot', () => {
  const frames = (more: Partial<Step> = {}) =>
    filing(3, { count: 4, lotSize: 1, phases: [{ kind: 'hands', minutes: 150 }], ...more });
  const three: Told[] = ['07', '08', '09'].flatMap((day): Told[] => [
    [`${day}T13:00`, 'began'],
    [`${day}T18:00`, 'done', 1],
    [`${day}T18:00`, 'paused'],
  ]);

  test('learn from three frames at 300 min each what the fourth will take', () => {
    const step = planBuild(frames(), log(...three), NOW).steps[0]!;
    expect(step).toMatchObject({ origin: 'measured', pace: { units: 3, minutes: 900, estimate: 150 } });
    expect(step.handsMinutesLeft).toBeGreaterThan(250);
    expect(step.handsMinutesLeft).toBeLessThan(300);
    expect(paceWords(step.pace!.notes)).toContain('3 units took 5 h each; you expected 2 h 30 min');
  });

  test('learn as minutes a unit do where each unit is a lot', () => {
    const byUnit = planBuild(frames({ phases: [{ kind: 'hands', perUnit: 150 }] }), log(...three), NOW).steps[0]!;
    expect(planBuild(frames(), log(...three), NOW).steps[0]!.pace).toEqual(byUnit.pace);
  });

  test('are told by the unit where a lot has several', () => {
    const build = frames({ count: 40, lotSize: 10 });
    const tens = three.map((told): Told => (told[1] === 'done' ? [told[0], told[1], 10] : told));
    const { pace, handsMinutesLeft } = planBuild(build, log(...tens), NOW).steps[0]!;
    expect(pace).toMatchObject({ units: 30, minutes: 900, estimate: 15 });
    expect(pace!.minutesPerUnit * 10).toBeCloseTo(handsMinutesLeft, 0);
  });

  test('learn nothing from the time between counts where the step also waits', () => {
    const phases: Step['phases'] = [
      { kind: 'hands', minutes: 150 },
      { kind: 'wait', minutes: 60 },
    ];
    const counted = log(['09T13:00', 'done', 1], ['09T18:00', 'done', 1]);
    expect(planBuild(frames({ phases }), counted, NOW).steps[0]!.origin).toBe('guessed');
  });
});

describe('a count far out', () => {
  const counts = (last: Told): Told[] => [
    ['09T09:00', 'began'],
    ...['15', '30', '45'].map((minute): Told => [`09T09:${minute}`, 'done', 12]),
    ['09T10:00', 'done', 12],
    last,
  ];
  const [fair, odd] = [log(...counts(['09T10:06', 'done', 5])), log(...counts(['09T17:36', 'done', 5]))];

  test('weighs less, and the note says how much less', () => {
    const [expected, pace] = [paceOf(filing(1.2), fair), paceOf(filing(1.2), odd)];
    // Five in 396 minutes, the lunch off: as they stand, all 53 would make it 456 / 53 = 8.6 minutes each.
    expect(pace.minutesPerUnit).toBeLessThan(1.5 * expected.minutesPerUnit);
    expect(pace.minutes).toBe(456);
    expect(paceWords(pace.notes)).toContain('It is kept, at less than 1 % of its weight.');
  });

  // Were it one of their counts, the hands would be thought fitful, and the estimate of 5 would count: 7.6 each.
  test('makes no steady hands seem fitful where it was made too quickly', () => {
    const tens: Told[] = ['14:40', '16:20', '18:00'].map((time): Told => [`09T${time}`, 'done', 10]);
    const entries = log(['09T13:00', 'began'], ...tens, ['09T18:20', 'done', 10]);
    const pace = paceOf(filing({ units: 12, minutes: 60 }), entries);
    expect(pace.minutesPerUnit).toBeGreaterThan(9);
    expect(pace.low).toBeLessThan(10);
    expect(pace.high).toBeGreaterThan(10);
  });

  test('leaves the range wider where it took too long: what held one up may do so again', () => {
    const width = ({ low, high }: { low: number; high: number }) => Math.log(high / low);
    expect(width(paceOf(filing(1.2), odd))).toBeGreaterThan(3 * width(paceOf(filing(1.2), fair)));
  });

  test('is none where the others scatter as much', () => {
    const wild: Told[] = [2, 40, 5, 90, 3, 70, 4, 55].flatMap((minutes, i): Told[] => [
      [`0${i + 1}T13:00`, 'began'],
      [new Date(Date.UTC(2026, 11, i + 1, 13, minutes)).toISOString().slice(8, 16), 'done', 1],
      [new Date(Date.UTC(2026, 11, i + 1, 13, minutes)).toISOString().slice(8, 16), 'paused'],
    ]);
    expect(paceWords(paceOf(filing(30), log(...wild)).notes)).not.toContain('stands out');
  });
});

test('a spread that is known weighs units as so many Poisson counts', () => {
  const known = (spread: number) => UNIT_SPREADS.map((one) => Number(one === spread));
  const prior = { shape: 4, hours: 20 };
  // The published example of `learnPace`: (4, 20) and 30 in 100 hours is (34, 120).
  const poisson = learnPaceAndSpread({ pace: prior, spread: known(1) }, [{ units: 30, hours: 100 }]);
  expect(poisson.pace.shape).toBeCloseTo(34, 9);
  expect(poisson.pace.hours).toBeCloseTo(120, 9);
  const steady = learnPaceAndSpread({ pace: prior, spread: known(0.1) }, [{ units: 30, hours: 100 }]);
  expect(steady.pace.shape).toBeCloseTo(4 + 30 / 0.01, 6);
  expect(steady.pace.hours).toBeCloseTo(20 + 100 / 0.01, 6);
});

describe('the weights of spreads where a pace is asked for', () => {
  const prior = { shape: 6, hours: 2 };
  /** How much more a spread of 1 weighs there, beside one of 0.68, than the counts make it likely. */
  const weightedUp = (counts: readonly { units: number; hours: number }[]) => {
    const { likely, spread } = learnPaceAndSpread({ pace: prior, spread: ANY_SPREAD }, counts);
    const units = counts.reduce((sum, count) => sum + count.units, 0);
    const asked = (v: number) => likely.find(({ shape }) => Math.abs(shape - prior.shape - units / v ** 2) < 1e-9)!;
    const believed = (v: (typeof UNIT_SPREADS)[number]) => spread[UNIT_SPREADS.indexOf(v)]!;
    return asked(1).weight / asked(0.68).weight / (believed(1) / believed(0.68));
  };
  const fitful = [0.1, 0.9, 0.3].map((hours) => ({ units: 2, hours }));

  // Six units beside an estimate worth six: twice the weight at 1, 1.4624 times at 0.68, to the power 2 / 3.
  test('go up where the estimate keeps the interval narrow, the less the more was counted', () => {
    expect(weightedUp(fitful)).toBeCloseTo((2 / 1.4624) ** (2 / 3), 9);
    expect(weightedUp([...fitful, ...fitful])).toBeCloseTo((1.5 / 1.2312) ** (5 / 6), 9);
  });

  test('are what is believed of the spread after a single count', () => {
    expect(weightedUp(fitful.slice(0, 1))).toBeCloseTo(1, 9);
  });
});

describe('hands that scatter at one step', () => {
  /** Filing counted in lots of four that took these minutes, and polishing of which ten were counted once. */
  const width = (minutes: readonly number[]) => {
    let clock = Date.UTC(2026, 11, 1, 9) / 60_000;
    const stamp = () => new Date(clock * 60_000).toISOString().slice(8, 16);
    const tapped = minutes.map((taken): Told => {
      clock += taken;
      return [stamp(), 'done', 4];
    });
    const begun = stamp();
    clock += 50;
    const polish: Told[] = [
      [begun, 'began', undefined, undefined, 'polish'],
      [stamp(), 'done', 10, undefined, 'polish'],
    ];
    const build = filing(10);
    const steps = [...build.steps, { ...build.steps[0]!, id: 'polish', name: 'polish' }];
    const forecast = planBuild({ ...build, steps }, log(['01T09:00', 'began'], ...tapped, ...polish), NOW);
    const { low, high } = forecast.steps.find(({ id }) => id === 'polish')!.pace!;
    return high / low;
  };

  test('scatter likewise at the next, until its own counts say otherwise', () => {
    const steady = [40, 39, 41, 40, 42, 39, 40, 41];
    const fitful = [15, 80, 33, 9, 71, 25, 52, 37];
    expect(width(steady)).toBeLessThan(width([40]));
    expect(width([40])).toBeLessThan(width(fitful));
  });

  test('are any where no other step was counted, and near what the others say', () => {
    expect(spreadsByOthers([null])).toEqual([ANY_SPREAD]);
    const known = (spread: number) => UNIT_SPREADS.map((one) => Number(one === spread));
    const [thought, other] = spreadsByOthers([null, known(0.32), known(0.32)]) as [number[], number[]];
    expect(other).not.toEqual(thought);
    expect(thought.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
    expect(Math.max(...thought)).toBe(thought[UNIT_SPREADS.indexOf(0.32)]);
    expect(Math.min(...thought)).toBeGreaterThan(0.01);
    for (const weight of spreadsByOthers([null, known(0.1), known(1), known(0.1), known(1)])[0]!)
      expect(weight).toBeGreaterThan(0);
    const own = spreadsByOthers([known(0.1), known(0.32)]);
    const alone = [known(0.32), known(0.1)].map((only) => spreadsByOthers([null, only])[0]!);
    own.flat().forEach((weight, i) => {
      expect(weight).toBeCloseTo(alone.flat()[i]!, 14);
    });
  });
});
