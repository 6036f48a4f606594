import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { keptScheduleOf } from '../../../server/engine/07-levelling/index.ts';
import { proposeLevers } from '../../../server/engine/14-levers/propose.ts';
import { changedTrial, isTrial, trialOf } from '../../../server/engine/14-levers/trial.ts';
import { comparedOf, gainOf } from '../../../server/engine/14-levers/worth.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, LeverCode } from '../../../server/model/index.ts';
import { bench, NOW } from '../08-risk/_bench.ts';
import { search } from './_search.ts';

/** Levers that only add to what there is. */
const ADDING: ReadonlySet<LeverCode> = new Set([
  'helper-day',
  'helper-days',
  'one-more-person',
  'longer-evenings',
  'one-more-machine',
  'express',
]);

const anyBuild = fc
  .record({
    units: fc.integer({ min: 6, max: 24 }),
    saw: fc.integer({ min: 5, max: 30 }),
    bend: fc.integer({ min: 20, max: 300 }),
    lot: fc.integer({ min: 2, max: 6 }),
    lead: fc.integer({ min: 2, max: 6 }),
    hours: fc.constantFrom('daily 18:00-21:00', 'mon-fri 09:00-12:00 13:00-16:00', 'sat-sun 10:00-16:00'),
  })
  .map(
    ({ units, saw, bend, lot, lead, hours }): Build => ({
      ...bench([
        { id: 'saw', name: 'saw', part: 'sign', lotSize: lot, phases: [{ kind: 'hands', perUnit: saw }] },
        {
          id: 'bend',
          name: 'bend',
          part: 'sign',
          lotSize: lot,
          phases: [{ kind: 'run', machine: 'press', minutes: bend }],
        },
        { id: 'fit', name: 'fit', part: 'sign', uses: ['bolt'], phases: [{ kind: 'hands', perUnit: 8 }] },
      ]),
      people: [{ id: 'ria', name: 'Ria', hours }],
      machines: [{ id: 'press', name: 'press' }],
      parts: [
        { id: 'sign', name: 'sign', source: 'make', count: units },
        { id: 'bolt', name: 'bolt', source: 'buy', count: 4, supplier: 'mill' },
      ],
      suppliers: [{ id: 'mill', name: 'mill', lead, express: { lead: 1 } }],
    }),
  );

describe('levers that only add hours, hands, machines or a quicker delivery', () => {
  test('never make the best schedule that is found later, nor cost room on average', () => {
    let looked = 0;
    fc.assert(
      fc.property(anyBuild, (build) => {
        const { rows, present } = search(build, NOW, 60);
        for (const { lever, room, compared } of rows) {
          if (!ADDING.has(lever.code) || compared === null) continue;
          looked += 1;
          expect(room).toBeGreaterThanOrEqual(present!.room!);
          expect(gainOf(compared)).toBeGreaterThanOrEqual(0);
        }
      }),
      { seed: 5, numRuns: 5 },
    );
    expect(looked).toBeGreaterThan(15);
  });

  test('never make the plan itself later than the one on the sheets, which it begins from', () => {
    let looked = 0;
    fc.assert(
      fc.property(anyBuild, (build) => {
        const former = keptScheduleOf(planBuild(build, [], NOW, { levelling: { seed: 1, schedules: 60 } }));
        const asked = { build, log: [], now: NOW, levelling: { seed: 1, schedules: 20 }, former };
        const options = { seed: 1, futures: 2 };
        const present = trialOf(asked, options);
        for (const { lever, relaxes } of proposeLevers(present.planned)) {
          const tried = relaxes ? changedTrial(asked, lever.changes, options, present) : [];
          if (!isTrial(tried)) continue;
          looked += 1;
          expect(tried.readyAt).toBeLessThanOrEqual(present.readyAt!);
        }
      }),
      { seed: 7, numRuns: 6 },
    );
    expect(looked).toBeGreaterThan(30);
  });

  test('gain nothing worth a row where the driving chain screens them out', () => {
    let looked = 0;
    fc.assert(
      fc.property(anyBuild, (build) => {
        const asked = { build, log: [], now: NOW, levelling: { seed: 1, schedules: 20 } };
        const options = { seed: 1, futures: 200 };
        const present = trialOf(asked, options);
        for (const { lever, reason } of search(build, NOW, 60).rows) {
          if (reason?.code !== 'off-chain') continue;
          const tried = changedTrial(asked, lever.changes, options, present);
          if (!isTrial(tried)) continue;
          looked += 1;
          const compared = comparedOf(present, tried, 200)!;
          expect(gainOf(compared)).toBeLessThan(60);
        }
      }),
      { seed: 6, numRuns: 8 },
    );
    expect(looked).toBeGreaterThan(0);
  });
});
