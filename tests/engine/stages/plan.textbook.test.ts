import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { type Build, checkBuildFile } from '../../../server/model/index.ts';

const DAY = 1440;
const WEEK = 7 * DAY;
const START = Date.parse('2026-01-05T00:00Z') / 60_000;

/** A textbook network as a build file: plain durations, links, a calendar that never closes. */
function textbook(unit: string, rows: readonly (readonly [string, number, (string | object)[]])[]): Build {
  const file = {
    format: 'daywright-build',
    version: 1,
    build: {
      id: 'textbook',
      name: 'Textbook',
      zone: 'UTC',
      event: '2027-06-01T00:00',
      steps: rows.map(([id, takes, after]) => ({ id: id.toLowerCase(), name: id, takes: `${takes} ${unit}`, after })),
    },
  };
  const checked = checkBuildFile(file);
  if (!checked.ok) throw new Error(checked.problems.map((found) => found.message).join('\n'));
  return checked.value.build;
}

function datesIn(build: Build, unitMinutes: number): { end: number; path: string; rows: Record<string, number[]> } {
  const forecast = planBuild(build, [], START);
  expect(forecast.problems).toEqual([]);
  const end = forecast.room.readyBy.unlimitedFinish!;
  const rows = Object.fromEntries(
    forecast.steps.map((step) => {
      const dates = step.dates!;
      const own = (instant: number) => round((instant - START) / unitMinutes);
      const late = dates.slackToOwnEnd!;
      return [
        step.name,
        [
          own(dates.earlyStart!),
          own(dates.earlyFinish!),
          round(late / unitMinutes),
          round(dates.freeSlackClock! / unitMinutes),
        ],
      ];
    }),
  );
  return {
    end: round((end - START) / unitMinutes),
    path: forecast.criticalPath.map((lot) => lot.replace('/1', '').toUpperCase()).join('-'),
    rows,
  };
}

function round(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}

describe('a textbook network as a build file', () => {
  test('gives the dates of the fourteen activities of Hillier and Lieberman in weeks', () => {
    // Hillier & Lieberman, PERT/CPM chapter: 44 weeks, path A-B-C-E-F-J-L-N; columns ES, EF, TF, FF.
    const build = textbook('w', [
      ['A', 2, []],
      ['B', 4, ['a']],
      ['C', 10, ['b']],
      ['D', 6, ['c']],
      ['E', 4, ['c']],
      ['F', 5, ['e']],
      ['G', 7, ['d']],
      ['H', 9, ['e', 'g']],
      ['I', 7, ['c']],
      ['J', 8, ['f', 'i']],
      ['K', 4, ['j']],
      ['L', 5, ['j']],
      ['M', 2, ['h']],
      ['N', 6, ['k', 'l']],
    ]);
    const { end, path, rows } = datesIn(build, WEEK);
    expect(end).toBe(44);
    expect(path).toBe('A-B-C-E-F-J-L-N');
    expect(rows).toEqual({
      A: [0, 2, 0, 0],
      B: [2, 6, 0, 0],
      C: [6, 16, 0, 0],
      D: [16, 22, 4, 0],
      E: [16, 20, 0, 0],
      F: [20, 25, 0, 0],
      G: [22, 29, 4, 0],
      H: [29, 38, 4, 0],
      I: [16, 23, 2, 2],
      J: [25, 33, 0, 0],
      K: [33, 37, 1, 1],
      L: [33, 38, 0, 0],
      M: [38, 40, 4, 4],
      N: [38, 44, 0, 0],
    });
  });

  test('keeps fractional days exact in the renovation network', () => {
    // Twelve activities (Heizer and Render, Operations Management): 260 days, 0.1-day activities are whole minutes.
    const build = textbook('d', [
      ['A', 30, []],
      ['B', 60, ['a']],
      ['C', 65, ['a']],
      ['D', 55, ['c']],
      ['E', 30, ['b']],
      ['F', 0.1, ['e']],
      ['G', 30, ['d', 'f']],
      ['H', 20, ['g']],
      ['I', 30, ['h']],
      ['J', 10, ['h']],
      ['K', 0.1, ['j']],
      ['L', 30, ['i', 'k']],
    ]);
    const { end, path, rows } = datesIn(build, DAY);
    expect(end).toBe(260);
    expect(path).toBe('A-C-D-G-H-I-L');
    expect(rows.B).toEqual([30, 90, 29.9, 0]);
    expect(rows.F).toEqual([120, 120.1, 29.9, 29.9]);
    expect(rows.J).toEqual([200, 210, 19.9, 0]);
    expect(rows.K).toEqual([210, 210.1, 19.9, 19.9]);
  });

  test('knows the four precedence types with lags and leads', () => {
    // Computed by LP and by longest path (precedence network PDM-2 of the check values): end 26, B driven by FF, not
    // SS.
    const link = (step: string, type: string, lag: string) => ({ step, type, lag });
    const build = textbook('d', [
      ['A', 10, []],
      ['B', 8, [link('a', 'finish-finish', '2 d')]],
      ['C', 6, [link('a', 'finish-start', '2 d')]],
      ['D', 12, [link('b', 'start-start', '4 d')]],
      ['E', 4, ['c', link('d', 'finish-start', '-2 d')]],
      ['F', 5, [link('c', 'finish-finish', '4 d')]],
      ['G', 3, ['e', link('f', 'finish-start', '1 d')]],
    ]);
    const withSecondLinks: Build = {
      ...build,
      feeds: [
        { from: 'a', to: 'b', type: 'start-start', lag: '3 d' },
        { from: 'b', to: 'd', type: 'finish-finish', lag: '5 d' },
      ],
    };
    const { end, rows } = datesIn(withSecondLinks, DAY);
    expect(end).toBe(26);
    expect(rows).toEqual({
      A: [0, 10, 0, 0],
      B: [4, 12, 1, 0],
      C: [12, 18, 0, 0],
      D: [8, 20, 1, 0],
      E: [18, 22, 1, 1],
      F: [17, 22, 0, 0],
      G: [23, 26, 0, 0],
    });
  });

  test('holds the finish of one against the start of another', () => {
    // PDM-3 of the check values: P5 Q4 R6 S2; R must not finish before Q's start + 9 = 14; end 16.
    const build = textbook('d', [
      ['P', 5, []],
      ['Q', 4, ['p']],
      ['R', 6, [{ step: 'q', type: 'start-finish', lag: '9 d' }]],
      ['S', 2, ['r', { step: 'q', type: 'finish-finish', lag: '3 d' }]],
    ]);
    const { end, rows } = datesIn({ ...build, feeds: [{ from: 'p', to: 'r', type: 'start-start', lag: '1 d' }] }, DAY);
    expect(end).toBe(16);
    expect(Object.values(rows).map((row) => row[0])).toEqual([0, 5, 8, 14]);
  });
});
