import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { demoFile } from '../../seed/demo.ts';
import { planBuild, runStages } from '../../server/engine/plan.ts';
import { type Build, checkBuild, type LogEntry } from '../../server/model/index.ts';
import { faultsOf } from '../support/check-schedule.ts';

const NOW = Date.parse('2026-12-01T17:00Z') / 60_000;
const STEP_IDS = ['a', 'b', 'c', 'd'];

const amount = fc.oneof(
  fc.integer({ min: -2, max: 30 }),
  fc.constantFrom('panels', '2 * panels', 'x', '1/0', '3 +', 'missing'),
);
const span = fc.oneof(
  fc.integer({ min: -5, max: 900 }),
  fc.constantFrom('2 h', '1 d', '30 min', 'panels', '-1 h', 'soon'),
);
const perUnit = fc.oneof(
  amount,
  fc.record({ units: fc.integer({ min: 1, max: 9 }), minutes: fc.integer({ min: 1, max: 99 }) }),
  fc.record({
    low: fc.integer({ min: 0, max: 5 }),
    likely: fc.integer({ min: 0, max: 9 }),
    high: fc.integer({ min: 3, max: 20 }),
  }),
);
const phase = fc.oneof(
  fc.record(
    {
      kind: fc.constant('hands' as const),
      minutes: span,
      perUnit,
      people: fc.integer({ min: 1, max: 3 }),
      oneGo: fc.boolean(),
    },
    { requiredKeys: ['kind'] },
  ),
  fc.record(
    {
      kind: fc.constant('run' as const),
      machine: fc.constantFrom('press', 'gone'),
      minutes: span,
      attended: fc.boolean(),
    },
    { requiredKeys: ['kind', 'machine'] },
  ),
  fc.record({ kind: fc.constant('wait' as const), minutes: span }),
  fc.record({ kind: fc.constant('lead' as const), supplier: fc.constantFrom('mill', 'gone') }),
);
const step = (id: string) =>
  fc.record(
    {
      id: fc.constant(id),
      name: fc.constant(`step ${id}`),
      part: fc.constantFrom('hook', 'plate', 'gone'),
      count: amount,
      perSet: fc.boolean(),
      phases: fc.array(phase, { maxLength: 3 }),
      lotSize: fc.integer({ min: 1, max: 9 }),
      learning: fc.constantFrom(0.8, 1),
      stations: fc.integer({ min: 1, max: 2 }),
      setup: span,
      onSite: fc.boolean(),
      after: fc.array(
        fc.oneof(
          fc.constantFrom(...STEP_IDS),
          fc.record(
            {
              step: fc.constantFrom(...STEP_IDS),
              type: fc.constantFrom(
                'units' as const,
                'start-start' as const,
                'finish-finish' as const,
                'start-finish' as const,
              ),
              lag: span,
            },
            { requiredKeys: ['step'] },
          ),
        ),
        { maxLength: 2 },
      ),
    },
    { requiredKeys: ['id', 'name'] },
  );
const build = fc.record({
  id: fc.constant('random'),
  name: fc.constant('random'),
  zone: fc.constantFrom('UTC', 'Europe/Berlin', 'Nowhere/Land'),
  event: fc.constantFrom('2026-12-20T19:00', '2026-11-20T19:00', '2027-03-28T02:30'),
  readyBy: fc.constantFrom('2026-12-19T20:00', '2027-01-01T10:00'),
  sets: fc.record({ count: amount, name: fc.constant('panel') }),
  parameters: fc.constantFrom(
    [{ name: 'panels', value: 3 }],
    [{ name: 'panels', formula: 'panels + 1' }],
    [{ name: 'x', range: { low: 3, likely: 2, high: 1 } }],
  ),
  people: fc.array(
    fc.record({
      id: fc.constantFrom('ria', 'tom', 'ana'),
      name: fc.constant('x'),
      hours: fc.constantFrom('daily 18:00-22:00', 'never', 'sat 22:00-02:00', 'always', 'mon'),
    }),
    { maxLength: 3 },
  ),
  machines: fc.constantFrom(
    [],
    [{ id: 'press', name: 'press', count: 2 }],
    [{ id: 'press', name: 'press', hours: 'daily 09:00-11:00', overnight: false }],
  ),
  suppliers: fc.constantFrom([], [{ id: 'mill', name: 'mill', lead: 3 }]),
  parts: fc.constantFrom(
    [],
    [
      { id: 'hook', name: 'hook', source: 'make' as const, count: 7, yield: 0.9 },
      { id: 'plate', name: 'plate', source: 'buy' as const, usedIn: [{ part: 'hook', count: 2 }], supplier: 'mill' },
    ],
  ),
  steps: fc.tuple(...STEP_IDS.map(step)).map((steps) => steps as Build['steps']),
});
const log = fc.array(
  fc.record({
    kind: fc.constantFrom(
      'done' as const,
      'scrapped' as const,
      'loaded' as const,
      'ordered' as const,
      'received' as const,
      'sent-back' as const,
      'passed' as const,
    ),
    step: fc.constantFrom(...STEP_IDS, 'gone'),
    set: fc.option(fc.integer({ min: 1, max: 4 }), { nil: undefined }),
    n: fc.integer({ min: 1, max: 20 }),
    hoursAgo: fc.integer({ min: 0, max: 200 }),
  }),
  { maxLength: 6 },
);
type Told = typeof log extends fc.Arbitrary<infer T> ? T : never;
const entriesOf = (told: Told) =>
  told.map(
    ({ hoursAgo, set, ...entry }, i): LogEntry => ({
      ...entry,
      ...(set === undefined ? {} : { set }),
      id: `entry-${i}-xxxx`,
      at: new Date((NOW - hoursAgo * 60) * 60_000).toISOString(),
    }),
  );

/** What an independent judge says of the schedules of a build, and whether its bound lies beyond them. */
function faultsOfPlan(build: Build, entries: readonly LogEntry[], now: number): string[] {
  const { work, schedule, beyond, proof } = runStages(build, entries, now).planned;
  if (schedule === null || beyond.size > 0) return [];
  const faults = faultsOf(work, schedule);
  if (proof!.bound.readyAt > schedule.readyAt) faults.push(`bound ${proof!.bound.readyAt} > ${schedule.readyAt}`);
  return faults;
}

describe('any build that has the shape of one', () => {
  test('is planned or has its problems named, and never throws', () => {
    fc.assert(
      fc.property(build, log, (candidate, told) => {
        const checked = checkBuild(JSON.parse(JSON.stringify(candidate)));
        if (!checked.ok) return expect(checked.problems[0]!.message).not.toBe('');
        const forecast = planBuild(checked.value, entriesOf(told), NOW);
        // As JSON they would be null.
        const finite = (_: string, value: unknown) =>
          Number.isFinite(value) || typeof value !== 'number' ? value : `${value}`;
        expect(JSON.stringify(forecast, finite)).not.toMatch(/NaN|Infinity/);
        for (const counted of forecast.steps) {
          expect(counted.left).toBeGreaterThanOrEqual(0);
          expect(counted.done + counted.left).toBe(counted.total);
        }
        for (const { code, fine, message, value } of forecast.soundness!) {
          expect([fine, Number.isFinite(value)]).toEqual([message === null, true]);
          if (forecast.complete && code === 'totals') expect(message).toBeNull();
          if (code === 'invalid-date') expect(message ?? '').toBe('');
        }
        for (const lot of forecast.lots) {
          if (lot.levelled !== null && !lot.begun) expect(lot.levelled.start).toBeGreaterThanOrEqual(NOW);
        }
      }),
      { seed: 7, numRuns: 150 },
    );
  });

  test('gets a schedule in which an independent judge finds no fault, and no bound beyond it', () => {
    fc.assert(
      fc.property(build, log, (candidate, told) => {
        const checked = checkBuild(JSON.parse(JSON.stringify(candidate)));
        if (checked.ok) expect(faultsOfPlan(checked.value, entriesOf(told), NOW)).toEqual([]);
      }),
      { seed: 11, numRuns: 60 },
    );
    for (const days of [0, 3, 6]) {
      const demo = demoFile(NOW);
      expect(faultsOfPlan(demo.build, demo.log ?? [], NOW + days * 1440)).toEqual([]);
    }
  });
});
