import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import { paceWords } from '../../support/words.ts';
import { filing, log, NOW, paceOf, type Told } from '../_filing.ts';

const stamp = (day: number, minute: number) =>
  `${String(day).padStart(2, '0')}T${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

describe('units counted without a run clock', () => {
  test('are timed in hours that they explain, and in none that they do not', () => {
    const counted = (minute: number, n: number) =>
      paceOf(filing(30), log([stamp(9, 0), 'done', 1, 'ria'], [stamp(9, minute), 'done', n, 'ria']));
    expect(counted(360, 12)).toMatchObject({ units: 12, minutes: 360 });
    expect(counted(600, 12)).toMatchObject({ units: 12, minutes: 600 });
    expect(counted(600, 2)?.units).toBe(0);
  });
});

describe('units scrapped after they were counted', () => {
  const twelve = [
    ['09T18:00', 'began', undefined, 'ria'],
    ['09T18:36', 'done', 12, 'ria'],
  ] as const satisfies readonly Told[];

  test('are twelve in the time and ten good, whether the entry says so or the time that went by', () => {
    const build = filing(3);
    const [said, unsaid] = [true, undefined].map((counted) => {
      const entries = log(...twelve, ['09T18:37', 'scrapped', 2, 'ria']);
      return entries.map((entry) =>
        entry.kind === 'scrapped' && counted !== undefined ? { ...entry, counted } : entry,
      );
    });
    for (const entries of [said!, unsaid!]) expect(paceOf(build, entries)).toMatchObject({ units: 12, minutes: 36 });
    const ten = planBuild(build, said!, NOW).steps.find(({ id }) => id === 'file');
    expect(ten).toMatchObject({ done: 10, scrapped: 2 });
  });

  test('leave the minutes after them to the next count', () => {
    const entries = log(...twelve, ['09T18:37', 'scrapped', 2, 'ria'], ['09T19:12', 'done', 12, 'ria']);
    expect(paceOf(filing(3), entries)).toMatchObject({ units: 24, minutes: 72 });
  });

  test('that took their time were work, and so were those that are said not to have been counted', () => {
    const slow = log(...twelve, ['09T18:42', 'scrapped', 2, 'ria']);
    expect(paceOf(filing(3), slow)).toMatchObject({ units: 14, minutes: 42 });
    const soon = log(...twelve, ['09T18:37', 'scrapped', 2, 'ria']).map((entry) =>
      entry.kind === 'scrapped' ? { ...entry, counted: false } : entry,
    );
    expect(paceOf(filing(3), soon)).toMatchObject({ units: 14, minutes: 37 });
  });

  test('never lower the minutes a unit, wherever in a run they are logged', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ wait: fc.integer({ min: 1, max: 25 }), n: fc.integer({ min: 1, max: 9 }) }), {
          minLength: 1,
          maxLength: 8,
        }),
        fc.nat(),
        fc.nat(),
        fc.boolean(),
        (runs, place, gap, clocked) => {
          let minute = 9 * 60;
          const told: Told[] = clocked ? [[stamp(9, minute), 'began', undefined, 'ria']] : [];
          const lost: Told[] = [];
          for (const [i, { wait, n }] of runs.entries()) {
            minute += wait;
            told.push([stamp(9, minute), 'done', n, 'ria']);
            if (i === place % runs.length)
              lost.push([stamp(9, minute + (gap % 10)), 'scrapped', Math.min(n, 1 + (gap % 3)), 'ria']);
          }
          const scrap = log(...lost).map((entry) => ({ ...entry, id: `scrap-${entry.id}`, counted: true }));
          const [without, after] = [log(...told), [...log(...told), ...scrap]].map((entries) =>
            paceOf(filing(3, {}), entries),
          );
          expect(after!.minutesPerUnit).toBeGreaterThanOrEqual(without!.minutesPerUnit - 1e-9);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('clocks of two people', () => {
  // Ria takes 60 minutes for 20, Tom 60 for 20, half an hour apart: 3 minutes each, whoever counts first.
  test('are read each by its own counts', () => {
    const entries = log(
      ['09T18:00', 'began', undefined, 'ria'],
      ['09T18:30', 'began', undefined, 'tom'],
      ['09T19:00', 'done', 20, 'ria'],
      ['09T19:00', 'paused', undefined, 'ria'],
      ['09T19:30', 'done', 20, 'tom'],
      ['09T19:30', 'paused', undefined, 'tom'],
    );
    const pace = paceOf(filing(3), entries);
    expect(pace).toMatchObject({ units: 40, minutes: 120, notes: [] });
  });

  test('go to whoever counts when nobody says whose the units are', () => {
    const entries = log(
      ['09T18:00', 'began', undefined, 'ria'],
      ['09T18:30', 'began', undefined, 'tom'],
      ['09T19:00', 'done', 30],
    );
    expect(paceOf(filing(3), entries)).toMatchObject({ units: 30, minutes: 90 });
  });

  test('stop for the lunch of the one whose clock it is, though the other works through it', () => {
    const build = filing(3);
    const [ria, tom] = build.people!;
    const people = [ria!, { ...tom!, hours: 'daily 09:00-22:00' }];
    const entries = (who: string) => log(['08T11:30', 'began', undefined, who], ['08T13:30', 'done', 20, who]);
    expect(paceOf({ ...build, people }, entries('ria')).minutes).toBe(60);
    expect(paceOf({ ...build, people }, entries('tom')).minutes).toBe(120);
  });

  test('that never ran are two all the same: each counts from their own count', () => {
    const entries = log(
      ['09T18:00', 'done', 10, 'ria'],
      ['09T18:10', 'done', 10, 'tom'],
      ['09T18:30', 'done', 10, 'ria'],
      ['09T18:40', 'done', 10, 'tom'],
    );
    expect(paceOf(filing(3), entries)).toMatchObject({ units: 20, minutes: 60 });
  });
});

describe('units that dry before they are counted', () => {
  const painting = filing(5, {
    phases: [
      { kind: 'hands', perUnit: 5 },
      { kind: 'wait', minutes: '2 h' },
    ],
  });

  test('are read with the hands that painted them, though the next were painted meanwhile', () => {
    const entries = log(
      ['09T14:00', 'began'],
      ['09T14:50', 'paused'],
      ['09T16:00', 'began'],
      ['09T16:50', 'done', 10],
      ['09T16:50', 'paused'],
      ['09T18:50', 'done', 10],
    );
    expect(paceOf(painting, entries)).toMatchObject({ units: 20, minutes: 100, notes: [] });
  });

  test('count the same when they are tapped as soon as the brush is down', () => {
    const entries = log(
      ['09T14:00', 'began'],
      ['09T14:50', 'done', 10],
      ['09T14:50', 'paused'],
      ['09T16:00', 'began'],
      ['09T16:50', 'done', 10],
      ['09T16:50', 'paused'],
    );
    expect(paceOf(painting, entries)).toMatchObject({ units: 20, minutes: 100 });
  });
});

/** So many counts of five in one sitting, each unit by Crawford's model from a first of 10 minutes. */
function learner(rate: number, counts: number): Told[] {
  const told: Told[] = [['08T09:00', 'began']];
  let [minute, unit] = [540, 0];
  let clock = minute;
  for (let count = 0; count < counts; count++) {
    for (let i = 0; i < 5; i++) clock += 10 * (++unit) ** Math.log2(rate);
    minute = Math.round(clock);
    told.push([stamp(8, minute), 'done', 5]);
  }
  return told;
}

describe('learning', () => {
  test('is read from the counts and planned with, and said', () => {
    const told = learner(0.85, 16);
    const planned = workThrough({ build: filing(10), log: log(...told), now: NOW }, 'schedules');
    const pace = planned.paces.get('file')!;
    expect(pace.learningRate).toBeGreaterThan(0.83);
    expect(pace.learningRate).toBeLessThan(0.88);
    expect(planned.plans.find(({ id }) => id === 'file')!.learningRate).toBe(pace.learningRate);
    // Unit 81 at 0.85 takes 10 x 81^log2(0.85) = 3.57 minutes; the average of the first 80 is 4.6.
    expect(pace.minutesPerUnit).toBeGreaterThan(3.2);
    expect(pace.minutesPerUnit).toBeLessThan(4.1);
    expect(paceWords(pace.notes)).toMatch(
      /After 16 counts: each doubling of the number cuts a unit to 8[4-7] % of its time \(no learning was set\)/,
    );
  });

  test('weighs what was given against few counts, and lies between the two', () => {
    const rate = (given: number) => paceOf(filing(10, { learning: given }), log(...learner(0.8, 8))).learningRate!;
    expect(rate(0.95)).toBeGreaterThan(0.79);
    expect(rate(0.95)).toBeLessThan(0.9);
    expect(rate(0.95)).toBeGreaterThan(rate(0.8));
  });

  test('stays as given while there are few counts, and is not found in steady hands', () => {
    expect(paceOf(filing(10, { learning: 0.9 }), log(...learner(0.7, 4))).learningRate).toBe(0.9);
    const steady = paceOf(filing(10), log(...learner(1, 12)));
    expect(steady).toMatchObject({ learningRate: 1, notes: [] });
  });

  test('is not what a new jig does: that is a change', () => {
    const told: Told[] = [['08T09:00', 'began']];
    for (let i = 1; i <= 8; i++) told.push([stamp(8, 540 + 30 * i), 'done', 5]);
    for (let i = 1; i <= 8; i++) told.push([stamp(8, 780 + 60 + 10 * i), 'done', 5]);
    const pace = paceOf(filing(6), log(...told));
    expect(pace.learningRate).toBe(1);
    expect(paceWords(pace.notes)).toContain('The pace changed before Tue 8 Dec');
  });

  // Crawford at 0.8: 18 units take 9.7162 times the first (sum of n^log2 0.8), so 45 minutes make a first of 45 / that.
  test('is seen in a timed trial: its first unit took longer than its average', () => {
    let falls = 0;
    for (let n = 1; n <= 18; n++) falls += n ** Math.log2(0.8);
    const pace = paceOf(filing({ units: 18, minutes: 45 }, { learning: 0.8 }), []);
    expect(pace.minutesPerUnit).toBeCloseTo(45 / falls, 9);
  });
});

describe('a count that stands out', () => {
  const usual: Told[] = [1, 2, 3, 4, 5].map((i) => [stamp(8, 840 + 60 * i), 'done', 20]);
  const odd: Told = ['08T19:05', 'done', 20];

  test('is named with its numbers, and weighs less', () => {
    const pace = paceOf(filing(3), log(['08T14:00', 'began'], ...usual, odd));
    expect(pace).toMatchObject({ units: 120, minutes: 305 });
    expect(paceWords(pace.notes)).toContain(
      'The count of Tue 8 Dec 19:05 is unusual: 20 in 5 min, 0.25 min each; the others took 3 min. It is kept, at 6 % of its weight.',
    );
  });

  test('may be a clock that ran on', () => {
    const told: Told[] = [['08T14:00', 'began'], ...usual, ['08T23:00', 'done', 5]];
    const note = paceWords(paceOf(filing(3), log(...told)).notes);
    expect(note).toContain('5 in 4 h, 48 min each; the others took 3 min. It is kept, at 4 % of its weight.');
    expect(note).toContain('Was the clock left running');
  });

  test('is none among its like', () => {
    expect(paceOf(filing(3), log(['08T14:00', 'began'], ...usual)).notes).toEqual([]);
  });
});

test('units that could not be timed are said to be so', () => {
  const forecast = planBuild(filing(3), log(['09T18:00', 'done', 20], ['09T18:00', 'done', 30]), NOW);
  expect(paceWords(forecast.steps[0]!.pace!.notes)).toContain('50 counted, in an unknown time');
  expect(forecast.steps[0]!.left).toBe(150);
});
