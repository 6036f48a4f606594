import { describe, expect, it } from 'vitest';
import { type World, worldsOf } from '../../../server/engine/08-risk/worlds.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Step } from '../../../server/model/index.ts';
import { bench, NOW } from './_bench.ts';

describe('futures', () => {
  const print: Step = {
    id: 'print',
    name: 'print',
    count: 60,
    lotSize: 6,
    phases: [
      { kind: 'hands', minutes: 10 },
      { kind: 'run', machine: 'printer', minutes: 150 },
      { kind: 'hands', minutes: 5 },
    ],
  };
  const saw: Step = { id: 'saw', name: 'saw', count: 60, lotSize: 12, phases: [{ kind: 'hands', perUnit: 8 }] };
  const glue: Step = { ...saw, id: 'glue', name: 'glue', after: [{ step: 'print' }, { step: 'saw' }] };
  const planned = workThrough(
    {
      build: bench([print, saw, glue], { machines: [{ id: 'printer', name: 'printer' }] }),
      log: [],
      now: NOW,
      levelling: { seed: 1, schedules: 60 },
    },
    'schedules',
  );

  it('go by the way that is ready earliest on average', () => {
    const [world] = worldsOf(planned, planned.schedule!, 1);
    const mean = () => {
      let sum = 0;
      for (let n = 0; n < 200; n++) sum += Math.max(...world!.run(n).finishes.subarray(0, world!.lots.length));
      return sum / 200;
    };
    const chosen = mean();
    const ends = [0, 1, 2].map((way) => {
      world!.follow(way);
      return mean();
    });
    expect(chosen).toBe(Math.min(...ends));
    expect(Math.max(...ends) - chosen).toBeGreaterThan(10);
    expect(world!.ways).toContain(2);
  });

  it('are the same whatever was tried before', () => {
    const [one, other] = [1, 1].map((seed) => worldsOf(planned, planned.schedule!, seed)[0]!);
    for (let n = 0; n < 10; n++) other!.run(n);
    const ends = (world: World, n: number) => [...world.lots].map((l) => world.run(n).finishes[l]);
    for (const n of [3, 0]) expect(ends(one!, n)).toEqual(ends(other!, n));
  });

  it('leave the order of the plan alone', () => {
    const before = [...planned.schedule!.activityList];
    worldsOf(planned, planned.schedule!, 1)[0]!.follow(2);
    expect([...planned.schedule!.activityList]).toEqual(before);
  });
});
