/** Builds and logs that have the shape of one and little sense: what a property must hold for. */
import fc from 'fast-check';
import type { Build, LogEntry, Part } from '../../server/model/index.ts';

/** Tue 1 Dec 2026 17:00 UTC, the instant at which they are looked at. */
export const NOW = Date.parse('2026-12-01T17:00Z') / 60_000;
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
      way: fc.constantFrom('here', 'sent'),
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
const gate = fc.record(
  {
    id: fc.constant('soak'),
    name: fc.constant('soak'),
    after: fc.subarray(STEP_IDS, { minLength: 1, maxLength: 2 }),
    before: fc.subarray(STEP_IDS, { maxLength: 2 }),
    perSet: fc.boolean(),
    minutes: span,
    failChance: fc.constantFrom(0, 0.3, 1),
    sendsBack: fc.constantFrom([], [{ step: 'a', units: 2 }], [{ step: 'gone', units: 'panels' }]),
    proveFirst: fc.boolean(),
  },
  { requiredKeys: ['id', 'name', 'after', 'minutes'] },
);
/** Two ways in which hooks come about, and so many of them made here whichever is chosen. */
function waysOf(units: number): NonNullable<Part['ways']> {
  return [
    { id: 'here', name: 'made here', source: 'make', units },
    { id: 'sent', name: 'sent out', source: 'send-out', supplier: 'mill', unitCost: 4, onceCost: 20 },
  ];
}
/** A build; the keys of the model, values good and bad. */
export const anyBuild = fc.record({
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
    [
      { id: 'hook', name: 'hook', source: 'make' as const, count: 7, way: 'sent', ways: waysOf(3) },
      { id: 'plate', name: 'plate', source: 'buy' as const, usedIn: [{ part: 'hook', count: 2, way: 'here' }] },
    ],
    [{ id: 'hook', name: 'hook', source: 'make' as const, count: 'panels', way: 'gone', ways: waysOf(9) }],
  ),
  gates: fc.array(gate, { maxLength: 1 }),
  steps: fc.tuple(...STEP_IDS.map(step)).map((steps) => steps as Build['steps']),
});
/** What was tapped in the days before `NOW`. */
export const anyLog = fc.array(
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
export type Told = typeof anyLog extends fc.Arbitrary<infer T> ? T : never;
/** The same as entries of a log. */
export const entriesOf = (told: Told): LogEntry[] =>
  told.map(
    ({ hoursAgo, set, ...entry }, i): LogEntry => ({
      ...entry,
      ...(set === undefined ? {} : { set }),
      id: `entry-${i}-xxxx`,
      at: new Date((NOW - hoursAgo * 60) * 60_000).toISOString(),
    }),
  );
