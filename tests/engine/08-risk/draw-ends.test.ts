import { describe, expect, test } from 'vitest';
import { drawEnds, runFutures } from '../../../server/engine/08-risk/index.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { bench, hands, NOW } from './_bench.ts';

const demo = tideWall(NOW);
const uncertain: Build = {
  ...bench([{ ...hands('fit', 0), count: 'n', phases: [{ kind: 'hands', perUnit: 9 }] }, hands('pack', 90)]),
  parameters: [{ name: 'n', range: { low: 20, likely: 30, high: 60 } }],
};

describe('the ends of futures alone', () => {
  test.each([
    ['the demo', demo.build, demo.log ?? []],
    ['a build of uncertain counts', uncertain, []],
  ] as const)('are those of the whole futures of %s, in whatever portions they are asked for', (_, build, log) => {
    const planned = workThrough({ build, log, now: NOW }, 'schedules');
    const whole = runFutures(planned, { seed: 3, futures: 150, exactness: 0 })!;
    const drawn = drawEnds(planned, 3, 150)!;
    expect(drawn.upTo(40).readyAt).toEqual(whole.readyAt.slice(0, 40));
    expect(drawn.upTo(150)).toMatchObject({ seed: 3, readyAt: whole.readyAt, finishAt: whole.finishAt });
    expect(drawn.upTo(70).finishAt).toEqual(whole.finishAt.slice(0, 70));
    expect(new Set(whole.readyAt).size).toBeGreaterThan(50);
  });

  test('are none where nothing is left to do', () => {
    expect(drawEnds(workThrough({ build: bench([]), log: [], now: NOW }, 'schedules'), 1, 10)).toBeNull();
  });
});

describe('a parameter that no formula names', () => {
  test('changes no future, however uncertain it is', () => {
    const steps = [hands('fit', 500), hands('pack', 90)];
    const idle: Build = { ...bench(steps), parameters: [{ name: 'bore', range: { low: 5, likely: 6, high: 9 } }] };
    const [one, other] = [bench(steps), idle].map((build) =>
      drawEnds(workThrough({ build, log: [], now: NOW }, 'schedules'), 1, 60)!.upTo(60),
    );
    expect(other!.readyAt).toEqual(one!.readyAt);
  });
});
