import { describe, expect, test } from 'vitest';
import {
  continuousLines,
  earliestDone,
  gangForRate,
  rateForDeadline,
  stageByStageDone,
  stationsForTakt,
  taktMinutes,
  transferLotsDone,
  unitsThatShouldHavePassed,
} from '../../../server/engine/numbers/line-of-balance.ts';

describe('gangs and rates', () => {
  // A university construction-scheduling lecture, table form of Harris & McCaffer; outputs recomputed.
  test.each([
    [110, 3, 8.25, 9, 3.272727, 4.583333, 29.027778],
    [320, 8, 24, 24, 3, 5, 31.666667],
  ])('%d person-hours in teams of %d', (hours, team, theoretical, people, rate, days, spread) => {
    const gang = gangForRate({
      units: 20,
      unitsPerWeek: 3,
      personHoursPerUnit: hours,
      teamPeople: team,
      daysPerWeek: 5,
      hoursPerDay: 8,
    });
    expect([gang.theoreticalPeople, gang.people]).toEqual([theoretical, people]);
    expect(gang.unitsPerWeek).toBeCloseTo(rate, 6);
    expect(gang.daysPerUnit).toBeCloseTo(days, 6);
    expect(gang.daysFirstToLastStart).toBeCloseTo(spread, 6);
  });

  // Course notes on repetitive projects (CPM-LOB); recomputed.
  test.each([
    [2, 0.327, 1, 0.5],
    [3, 0.491, 1, 0.333333],
    [5, 0.818, 1, 0.2],
    [8, 1.309, 2, 0.25],
  ])('%d days a unit under a deadline', (timePerUnit, crewsWanted, crews, actualRate) => {
    const answer = rateForDeadline({ units: 10, deadline: 60, oneUnitPath: 15, float: 10, timePerUnit })!;
    expect(answer.rate).toBeCloseTo(0.163636, 6);
    expect(answer.rate * timePerUnit).toBeCloseTo(crewsWanted, 3);
    expect(answer.crews).toBe(crews);
    expect(answer.actualRate).toBeCloseTo(actualRate, 6);
  });

  test('a deadline that is already past has no rate', () => {
    expect(rateForDeadline({ units: 10, deadline: 15, oneUnitPath: 15, float: 0, timePerUnit: 1 })).toBeNull();
  });

  // Recomputed.
  test('takt sets how many stations are needed', () => {
    const takt = taktMinutes(10 * 8 * 60 * 0.85, 300);
    expect(takt).toBeCloseTo(13.6, 12);
    expect(stationsForTakt(38, takt)).toBe(3);
    expect(stationsForTakt(27.2, takt)).toBe(2);
  });
});

// Invented stages, outputs recomputed by two methods: three honest answers to three questions.
describe('lines over twelve units', () => {
  const stages = [
    { timePerUnit: 2, crews: 1 },
    { timePerUnit: 1, crews: 1 },
    { timePerUnit: 3, crews: 1 },
    { timePerUnit: 2, crews: 2 },
    { timePerUnit: 1, crews: 1 },
  ];

  test('that may not pause and keep a day apart are done at 57', () => {
    const lines = continuousLines(stages, 12, 1);
    expect(
      lines.map(({ firstStart, firstDone, lastStart, lastDone }) => [firstStart, firstDone, lastStart, lastDone]),
    ).toEqual(
      [
        [0, 2, 22, 24],
        [14, 15, 25, 26],
        [16, 19, 49, 52],
        [42, 44, 53, 55],
        [45, 46, 56, 57],
      ].map((row) => row.map((value) => expect.closeTo(value, 9))),
    );
    expect(lines.map(({ rate }) => rate)).toEqual([0.5, 1, 1 / 3, 1, 1]);
  });

  test('that may pause but keep the day apart are done at 46', () => {
    expect(earliestDone(stages, 12, 1)).toBe(46);
    // By hand: the paint is never idle once the first unit reaches it, 3 + 12 x 3, then 2 and 1 for the last.
    expect(earliestDone(stages, 12)).toBe(42);
    expect(earliestDone(stages, 0)).toBe(0);
  });

  test('that wait for the whole stage before are done at 96', () => {
    expect(stageByStageDone(stages, 12)).toBe(96);
  });
});

// US Navy, Office of Naval Material, "Line of Balance Technology", 1962 (reading rule from memory; numbers invented).
describe('the status line', () => {
  const plan = { times: [0, 1, 2, 3, 4, 5, 6], units: [0, 5, 12, 22, 36, 50, 60] };

  test.each([
    [0, 12],
    [0.5, 17],
    [1, 22],
    [1.5, 29],
    [2, 36],
    [3, 50],
    [4, 60],
  ])('%d weeks before delivery, %d units should have passed', (lead, units) => {
    expect(unitsThatShouldHavePassed(plan, 2, lead)).toBeCloseTo(units, 12);
  });

  test('is flat outside the plan', () => {
    expect([unitsThatShouldHavePassed(plan, -3, 1), unitsThatShouldHavePassed(plan, 6, 9)]).toEqual([0, 60]);
    expect(unitsThatShouldHavePassed({ times: [], units: [] }, 0, 0)).toBe(0);
  });
});

describe('transfer lots', () => {
  // Invented, recomputed.
  test.each([
    [60, 540],
    [30, 390],
    [20, 340],
    [10, 290],
    [5, 265],
    [1, 245],
  ])('of %d finish after %d minutes', (lot, minutes) => {
    expect(transferLotsDone([3, 2, 4], 60, lot)).toBe(minutes);
  });

  test('of one unit reach the lower limit', () => {
    expect(transferLotsDone([3, 2, 4], 60, 1)).toBe(3 + 2 + 4 + 59 * 4);
  });

  test('take a smaller last lot as it is', () => {
    expect(transferLotsDone([1, 1], 5, 3)).toBe(8);
    expect(() => transferLotsDone([1], 5, 0)).toThrow('lotSize is 0; it must be more than 0');
  });
});
