import { describe, expect, test } from 'vitest';
import { compile } from '../../../server/engine/07-levelling/index.ts';
import { DrivingChains } from '../../../server/engine/08-risk/driving.ts';
import { FutureRuns, type Uncertain } from '../../../server/engine/08-risk/futures.ts';
import { threePointSampler } from '../../../server/engine/08-risk/samplers.ts';
import { keyOf } from '../../../server/engine/08-risk/streams.ts';
import { type ThreePoint, tabulateQuantile } from '../../../server/engine/numbers/three-point.ts';
import type { Work } from '../../../server/engine/types.ts';

/** Minutes in a week of the textbook: fine enough that rounding is far below the tolerances. */
const SCALE = 1000;
const FUTURES = 10_000;

type Activity = readonly [id: string, low: number, likely: number, high: number, after: string];

// Hillier and Lieberman, fourteen activities (durations and order as restated; see the table PERT-1).
const FOURTEEN_ACTIVITIES: readonly Activity[] = [
  ['A', 1, 2, 3, ''],
  ['B', 2, 3.5, 8, 'A'],
  ['C', 6, 9, 18, 'B'],
  ['D', 4, 5.5, 10, 'C'],
  ['E', 1, 4.5, 5, 'C'],
  ['F', 4, 4, 10, 'E'],
  ['G', 5, 6.5, 11, 'D'],
  ['H', 5, 8, 17, 'EG'],
  ['I', 3, 7.5, 9, 'C'],
  ['J', 3, 9, 9, 'FI'],
  ['K', 4, 4, 4, 'J'],
  ['L', 1, 5.5, 7, 'J'],
  ['M', 1, 2, 3, 'H'],
  ['N', 5, 5.5, 9, 'KL'],
];
// Heizer and Render, Operations Management: eight activities.
const EIGHT_ACTIVITIES: readonly Activity[] = [
  ['A', 1, 2, 3, ''],
  ['B', 2, 3, 4, ''],
  ['C', 1, 2, 3, 'A'],
  ['D', 2, 4, 6, 'AB'],
  ['E', 1, 4, 7, 'C'],
  ['F', 1, 2, 9, 'C'],
  ['G', 3, 4, 11, 'DE'],
  ['H', 1, 2, 3, 'FG'],
];
// Heizer and Render, Operations Management: twelve activities.
const TWELVE_ACTIVITIES: readonly Activity[] = [
  ['A', 20, 30, 40, ''],
  ['B', 20, 65, 80, 'A'],
  ['C', 50, 60, 100, 'A'],
  ['D', 30, 50, 100, 'C'],
  ['E', 25, 30, 35, 'B'],
  ['F', 0.1, 0.1, 0.1, 'E'],
  ['G', 25, 30, 35, 'DF'],
  ['H', 10, 20, 30, 'G'],
  ['I', 20, 25, 60, 'H'],
  ['J', 8, 10, 12, 'H'],
  ['K', 0.1, 0.1, 0.1, 'J'],
  ['L', 20, 25, 60, 'IK'],
];

function networkOf(activities: readonly Activity[]): Work {
  const at = new Map(activities.map(([id], i) => [id, i]));
  return {
    now: 0,
    readyBy: 1_000_000,
    loadIn: null,
    event: 1_000_000,
    resources: [],
    lots: activities.map(([id, , likely], step) => ({
      id,
      step,
      set: null,
      number: 1,
      firstUnit: 1,
      lastUnit: 1,
      phases: [{ kind: 'wait', minutes: Math.round(likely * SCALE) }],
      // One release later than now keeps the work out of the textbook's whole ticks.
      release: step === 0 ? 1 : 0,
      deadline: 1_000_000,
      begunAt: null,
      pinnedStart: null,
      pinnedPeople: null,
      station: null,
      onSite: false,
    })),
    links: activities.flatMap(([, , , , after], to) =>
      [...after].map((id) => ({
        from: at.get(id)!,
        to,
        type: 'finish-start' as const,
        lagMinutes: 0,
        lagOpen: null,
        reason: 'feed' as const,
      })),
    ),
  };
}

const triangular = (estimate: ThreePoint) =>
  estimate.high > estimate.low ? tabulateQuantile((p) => triangularQuantile(p, estimate)) : () => estimate.likely;

function simulate(activities: readonly Activity[], sampler: typeof threePointSampler, seed = 1) {
  const compiled = compile(networkOf(activities));
  const uncertain: Uncertain = {
    compiled,
    activityList: Int32Array.from(activities.keys()),
    steps: activities.length,
    paces: activities.map(([id, low, likely, high], step) => {
      const draw = sampler({ low, likely, high });
      const minutes = Math.round(likely * SCALE);
      return {
        step,
        key: keyOf(id),
        factor: (p: number) => (draw(p) * SCALE) / minutes,
        unitNoise: 0,
        phases: [{ phase: compiled.forward.phaseFirst[step]!, minutes, units: 1, most: Number.POSITIVE_INFINITY }],
      };
    }),
    others: [],
  };
  const runs = new FutureRuns(uncertain, seed);
  const chains = new DrivingChains(compiled);
  const ends: number[] = [];
  const driving = new Map<string, number>();
  for (let n = 0; n < FUTURES; n++) {
    const { latest, finishes } = runs.run(n);
    ends.push(latest / SCALE);
    const length = chains.follow(finishes.indexOf(latest));
    for (const step of chains.steps.subarray(0, length)) {
      const id = activities[step]![0];
      driving.set(id, (driving.get(id) ?? 0) + 1 / FUTURES);
    }
  }
  return { ends, driving };
}

// Reference: 8 million samples of each network, recomputed independently. Tolerances: four standard errors of this many
// futures.
describe('the futures of a textbook network', () => {
  test.each([
    [
      'fourteen activities, beta-PERT',
      FOURTEEN_ACTIVITIES,
      threePointSampler,
      44.327,
      2.935,
      [44.2, 46.81, 48.22],
      { 40: 0.0625, 44: 0.4738, 47: 0.8161 },
    ],
    [
      'fourteen activities, triangular',
      FOURTEEN_ACTIVITIES,
      triangular,
      46.233,
      3.692,
      [46.09, 49.38, 51.13],
      { 40: 0.0381, 44: 0.2855, 47: 0.5937 },
    ],
    [
      'eight activities, beta-PERT',
      EIGHT_ACTIVITIES,
      threePointSampler,
      15.235,
      1.712,
      [15.1, 16.66, 17.54],
      { 15: 0.4768, 16: 0.6903, 18: 0.9343 },
    ],
    [
      'eight activities, triangular',
      EIGHT_ACTIVITIES,
      triangular,
      16.28,
      2.127,
      [16.09, 18.14, 19.22],
      { 15: 0.3044, 16: 0.4841, 18: 0.7838 },
    ],
    [
      'twelve activities, beta',
      TWELVE_ACTIVITIES,
      threePointSampler,
      260.25,
      18.518,
      [259.26, 275.88, 284.85],
      { 260: 0.5154, 270: 0.7085, 280: 0.8518 },
    ],
    [
      'twelve activities, tri',
      TWELVE_ACTIVITIES,
      triangular,
      280.06,
      22.926,
      [279.12, 299.55, 310.45],
      { 260: 0.199, 270: 0.3472, 280: 0.5149 },
    ],
  ] as const)(
    'have the mean, the spread, the quantiles and the chances of %s',
    (_, activities, sampler, mean, sd, quantiles, chances) => {
      const { ends } = simulate(activities, sampler);
      const average = ends.reduce((sum, end) => sum + end, 0) / FUTURES;
      expect(Math.abs(average - mean), `mean ${average}`).toBeLessThan((4 * sd) / Math.sqrt(FUTURES));
      const spread = Math.sqrt(ends.reduce((sum, end) => sum + (end - average) ** 2, 0) / FUTURES);
      // Four standard errors of a spread whose distribution has a kurtosis of up to 4: sd sqrt((4 - 1) / 4n).
      expect(Math.abs(spread - sd), `sd ${spread}`).toBeLessThan(4 * sd * Math.sqrt(3 / (4 * FUTURES)));
      const at = Object.fromEntries(quantiles.map((time, i) => [time, [0.5, 0.8, 0.9][i]!]));
      for (const [time, chance] of Object.entries({ ...chances, ...at })) {
        const share = ends.filter((end) => end <= Number(time)).length / FUTURES;
        const tolerance = 4 * Math.sqrt((chance * (1 - chance)) / FUTURES);
        expect(Math.abs(share - chance), `P(end <= ${time}) ${share}`).toBeLessThan(tolerance);
      }
    },
  );

  // The single path of the fourteen activities says 0.8413 (PERT-1); where paths merge, the later of them counts.
  test('are later than the single longest path says', () => {
    const { ends } = simulate(FOURTEEN_ACTIVITIES, threePointSampler);
    const share = ends.filter((end) => end <= 47).length / FUTURES;
    expect(share).toBeLessThan(0.841345 - 0.01);
  });

  test('are driven by one chain of each, first and last activities always', () => {
    const { driving } = simulate(FOURTEEN_ACTIVITIES, threePointSampler);
    for (const id of 'ABC') expect(driving.get(id)).toBeCloseTo(1, 9);
    // Either F, I or the branch through D drives; J is driven by F or I alone; M and N end the two branches.
    expect(driving.get('F')! + driving.get('I')!).toBeCloseTo(driving.get('J')!, 9);
    expect(driving.get('M')! + driving.get('N')!).toBeCloseTo(1, 9);
    expect(driving.get('N')!).toBeGreaterThan(driving.get('M')!);
  });

  test('are the same for a seed and others for another', () => {
    expect(simulate(EIGHT_ACTIVITIES, threePointSampler, 5).ends).toEqual(
      simulate(EIGHT_ACTIVITIES, threePointSampler, 5).ends,
    );
    expect(simulate(EIGHT_ACTIVITIES, threePointSampler, 5).ends).not.toEqual(
      simulate(EIGHT_ACTIVITIES, threePointSampler, 6).ends,
    );
  });
});

/** Quantile of the triangular distribution, by the inverse of its two parabolas. */
function triangularQuantile(p: number, { low, likely, high }: ThreePoint): number {
  const width = high - low;
  if (p <= (likely - low) / width) return low + Math.sqrt(p * width * (likely - low));
  return high - Math.sqrt((1 - p) * width * (high - likely));
}
