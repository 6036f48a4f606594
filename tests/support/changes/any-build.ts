/**
 * Builds of the model's shape with things in every list, some of them twice, and little sense: what is said of changes
 * must hold for all.
 */
import fc from 'fast-check';
import type { Build } from '../../../server/model/index.ts';

const IDS = ['a', 'b', 'c', 'd', 'e', 'f'];
const NAMES = ['rows', 'row_length', 'h', 'x'];
const id = fc.constantFrom(...IDS);
const name = fc.constantFrom('Hook', 'Plate', 'Sand “fine”', 'x');
const formula = fc.constantFrom('2 * rows', 'rows + row_length', 'max(rows, 4) / h', '(rows)', 'x');
const amount = fc.oneof(fc.integer({ min: 0, max: 50 }), formula);
const span = fc.oneof(amount, fc.constantFrom('2 h', '1 d 3 h', '90 min'));
const range = fc.constantFrom({ low: 1, likely: 2, high: 4 }, { low: 0, likely: 0, high: 0 });
const perUnit = fc.oneof(amount, range, fc.constant({ units: 18, minutes: 45 }));
const note = fc.constantFrom('', 'soft jaws', 'twice');

const parameter = fc.record(
  { name: fc.constantFrom(...NAMES), value: fc.integer(), formula, range, unit: name, note },
  { requiredKeys: ['name'] },
);
const limit = fc.record(
  { id, name, of: amount, least: amount, most: amount, parts: fc.array(id, { maxLength: 2 }) },
  { requiredKeys: ['id', 'name', 'of'] },
);
const part = fc.record(
  {
    id,
    name,
    source: fc.constantFrom('make' as const, 'send-out' as const, 'buy' as const),
    count: amount,
    usedIn: fc.array(fc.record({ part: id, count: amount }), { maxLength: 2 }),
    spares: amount,
    yield: fc.constantFrom(0.5, 0.95),
    supplier: id,
    dependsOn: fc.array(fc.constantFrom(...NAMES), { maxLength: 2 }),
    note,
  },
  { requiredKeys: ['id', 'name', 'source'] },
);
const supplier = fc.record(
  { id, name, lead: fc.oneof(fc.nat(9), range), holidays: fc.array(fc.constant('2026-12-24'), { maxLength: 2 }) },
  { requiredKeys: ['id', 'name', 'lead'] },
);
const person = fc.record(
  { id, name, hours: fc.constantFrom('daily 18:00-22:00', 'always'), can: fc.array(id, { maxLength: 2 }) },
  { requiredKeys: ['id', 'name', 'hours'] },
);
const machine = fc.record({ id, name, count: fc.integer({ min: 1, max: 3 }) }, { requiredKeys: ['id', 'name'] });
const phase = fc.oneof(
  fc.record(
    { kind: fc.constant('hands' as const), minutes: span, perUnit, who: fc.array(id, { minLength: 1, maxLength: 2 }) },
    { requiredKeys: ['kind'] },
  ),
  fc.record({ kind: fc.constant('run' as const), machine: id, minutes: span }),
  fc.record({ kind: fc.constant('wait' as const), minutes: span }),
);
const after = fc.oneof(id, fc.record({ step: id, ratio: amount, lag: span }, { requiredKeys: ['step'] }));
const step = fc.record(
  {
    id,
    name,
    part: id,
    count: amount,
    takes: span,
    setup: span,
    lotSize: amount,
    phases: fc.array(phase, { maxLength: 3 }),
    after: fc.array(after, { maxLength: 2 }),
    note,
  },
  { requiredKeys: ['id', 'name'] },
);
const feed = fc.record({ from: id, to: id, ratio: amount, lag: span }, { requiredKeys: ['from', 'to'] });
const gate = fc.record(
  {
    id,
    name,
    after: fc.array(id, { minLength: 1, maxLength: 2 }),
    minutes: span,
    holds: fc.array(id, { maxLength: 1 }),
  },
  { requiredKeys: ['id', 'name', 'after', 'minutes'] },
);
const decision = fc.record({ id, question: name, waits: fc.array(id, { minLength: 1, maxLength: 2 }) });

/** A build called `any`. */
export const anyBuild: fc.Arbitrary<Build> = fc.record(
  {
    id: fc.constant('any'),
    name,
    zone: fc.constantFrom('UTC', 'Europe/Berlin'),
    event: fc.constantFrom('2026-12-20T19:00', '2027-01-20T19:00'),
    readyBy: fc.constant('2026-12-19T19:00'),
    sets: fc.record({ count: amount, name }),
    confidence: fc.constantFrom(0.8, 0.9),
    parameters: fc.array(parameter, { maxLength: 4 }),
    limits: fc.array(limit, { maxLength: 2 }),
    parts: fc.array(part, { maxLength: 5 }),
    suppliers: fc.array(supplier, { maxLength: 2 }),
    people: fc.array(person, { maxLength: 3 }),
    machines: fc.array(machine, { maxLength: 2 }),
    steps: fc.array(step, { maxLength: 7 }),
    feeds: fc.array(feed, { maxLength: 4 }),
    gates: fc.array(gate, { maxLength: 2 }),
    decisions: fc.array(decision, { maxLength: 2 }),
    note,
  },
  { requiredKeys: ['id', 'name', 'zone', 'event', 'steps'] },
);
