/** Builds that have very many of one thing and little else, a make for each thing that a build has many of. */
import type { Build, BuildFile, LogEntry, Part, Step } from '../../../server/model/index.ts';

/** Minutes since the epoch at which they are planned: the second of December 2026, 09:00 UTC. */
export const MANY_NOW = 29_937_900;
const EVENT = '2027-12-20T18:00';

/** A build file with `n` of the thing, by what the thing is called. */
export const MANY_OF: Readonly<Record<string, (n: number) => BuildFile>> = {
  sets: (n) =>
    file({ sets: { count: n, name: 'bay' }, parts: [part(0, { count: `${n} * 2` })], steps: [inSet(0), onPart(0)] }),
  'sets by a formula': (n) =>
    file({ parameters: [{ name: 'bays', value: n }], sets: { count: 'bays', name: 'bay' }, steps: [inSet(0)] }),
  'units in lots of one': (n) => file({ parts: [part(0, { count: n })], steps: [onPart(0, { lotSize: 1 })] }),
  'units without a lot size': (n) => file({ parts: [part(0, { count: n })], steps: [onPart(0)] }),
  'units that may fail': (n) =>
    file({ parts: [part(0, { count: n, yield: 0.9 })], steps: [onPart(0, { lotSize: n })] }),
  spares: (n) => file({ parts: [part(0, { count: 2, spares: n })], steps: [onPart(0)] }),
  'parts that are bought': (n) => file({ suppliers: [MILL], parts: many(n, (i) => part(i, { ...BOUGHT, count: 2 })) }),
  'parts that are made': (n) => file({ parts: many(n, (i) => part(i)), steps: many(n, (i) => onPart(i)) }),
  'parts in each other': (n) =>
    file({ parts: many(n, (i) => part(i, i === 0 ? {} : { usedIn: [{ part: `part-${i - 1}`, count: 1 }] })) }),
  'parts in one': (n) =>
    file({
      parts: many(n, (i) => part(i, i === 0 ? {} : { ...BOUGHT, usedIn: [{ part: 'part-0', count: 2 }] })),
      suppliers: [MILL],
      steps: [onPart(0)],
    }),
  'uses of one part': (n) =>
    file({ parts: [part(0), part(1, { usedIn: many(n, () => ({ part: 'part-0', count: 1 })) })], steps: [onPart(0)] }),
  'units of which nobody knows': (n) =>
    file({
      parts: [part(0, { unchecked: many(n, () => ({ at: 'on-hand' as const, units: 1 })) })],
      steps: [onPart(0)],
    }),
  'ways of a part': (n) =>
    file({
      parts: [part(0, { ways: many(n, (i) => ({ id: `way-${i}`, name: `Way ${i}`, source: 'make' as const })) })],
    }),
  'steps side by side': (n) => file({ steps: many(n, (i) => step(i)) }),
  'steps in a row': (n) => file({ steps: many(n, (i) => step(i, i === 0 ? {} : { after: [`step-${i - 1}`] })) }),
  'steps in sets': (n) => file({ sets: { count: 20, name: 'bay' }, steps: many(n, (i) => inSet(i)) }),
  'phases of a step': (n) =>
    file({ steps: [step(0, { phases: many(n, () => ({ kind: 'hands' as const, minutes: 5 })) })] }),
  'pins of a step': (n) =>
    file({
      parts: [part(0, { count: n })],
      steps: [onPart(0, { lotSize: 10, pins: many(n, (i) => ({ from: i + 1, to: i + 1, people: ['ana'] })) })],
    }),
  'links of one step': (n) => file({ steps: [step(0), step(1, { after: many(n, () => 'step-0') })] }),
  feeds: (n) =>
    file({
      steps: many(200, (i) => step(i)),
      feeds: many(n, (i) => ({ from: `step-${i % 100}`, to: `step-${100 + (Math.floor(i / 100) % 100)}` })),
    }),
  people: (n) => file({ people: many(n, (i) => person(i)), steps: many(20, (i) => step(i)) }),
  'people in a crew': (n) =>
    file({
      people: many(n, (i) => person(i)),
      steps: many(20, (i) => step(i, { phases: [{ kind: 'hands', minutes: 30, people: 50 }] })),
    }),
  'days that differ': (n) =>
    file({
      people: [{ ...person(0), id: 'ana', exceptions: many(n, (i) => ({ date: dateOf(i), hours: '08:00-12:00' })) }],
      steps: [step(0)],
    }),
  'what a person may do': (n) =>
    file({ people: [{ ...person(0), can: many(n, (i) => `step-${i}`) }], steps: [step(0)] }),
  machines: (n) => file({ machines: many(n, (i) => machine(i)), steps: many(Math.min(n, 20), (i) => onMachine(i)) }),
  'machines of one kind': (n) => file({ machines: [{ ...machine(0), count: n }], steps: [onMachine(0)] }),
  suppliers: (n) =>
    file({
      suppliers: many(n, (i) => ({ ...MILL, id: `mill-${i}` })),
      parts: [part(0, { ...BOUGHT, supplier: 'mill-0', count: 2 })],
    }),
  holidays: (n) =>
    file({ suppliers: [{ ...MILL, holidays: many(n, dateOf) }], parts: [part(0, { ...BOUGHT, count: 2 })] }),
  'days until the event': (n) =>
    file({
      event: `${dateOf(n)}T18:00`,
      people: many(10, (i) => person(i)),
      machines: many(10, (i) => machine(i)),
      steps: [...many(10, onMachine), ...many(10, (i) => step(i + 10))],
    }),
  'days of 200 people and machines': (n) =>
    file({
      event: `${dateOf(n)}T18:00`,
      people: many(200, (i) => person(i)),
      machines: many(200, (i) => machine(i)),
      steps: many(200, onMachine),
    }),
  gates: (n) => file({ steps: [step(0)], gates: many(n, (i) => gate(i)) }),
  'what a gate sends back': (n) =>
    file({ steps: [step(0)], gates: [{ ...gate(0), sendsBack: many(n, () => ({ step: 'step-0', units: 1 })) }] }),
  decisions: (n) =>
    file({
      steps: [step(0)],
      decisions: many(n, (i) => ({ id: `open-${i}`, question: `Which ${i}?`, waits: ['step-0'] })),
    }),
  'answers of a decision': (n) =>
    file({
      steps: [step(0)],
      decisions: [{ id: 'open', question: 'Which?', waits: ['step-0'], answers: many(n, (i) => `Answer ${i}`) }],
    }),
  parameters: (n) => file({ parameters: many(n, (i) => ({ name: `p${i}`, value: i })), steps: [step(0)] }),
  'formulas in a row': (n) =>
    file({
      parameters: many(n, (i) => (i === 0 ? { name: 'p0', value: 1 } : { name: `p${i}`, formula: `p${i - 1} + 1` })),
      steps: [step(0, { count: `p${n - 1}`, lotSize: n })],
    }),
  'parameters with ranges': (n) =>
    file({
      parameters: many(n, (i) => ({ name: `p${i}`, range: { low: 1, likely: 2, high: 4 } })),
      parts: many(Math.min(n, 500), (i) => part(i, { count: `p${i}` })),
      steps: many(Math.min(n, 500), (i) => onPart(i)),
    }),
  limits: (n) =>
    file({
      parameters: [{ name: 'p', value: 2 }],
      limits: many(n, (i) => ({ id: `limit-${i}`, name: `Limit ${i}`, of: 'p', most: 3 })),
      steps: [step(0)],
    }),
  boxes: (n) =>
    file({
      parts: [part(0)],
      steps: [onPart(0)],
      boxes: many(n, (i) => ({ id: `box-${i}`, name: `Box ${i}`, parts: [{ part: 'part-0', count: 1 }] })),
    }),
  'points to hang from': (n) =>
    file({ steps: [step(0)], points: many(n, (i) => ({ id: `point-${i}`, name: `Point ${i}`, load: 5, limit: 10 })) }),
  'jobs after the event': (n) =>
    file({ steps: [step(0)], strike: many(n, (i) => ({ id: `job-${i}`, name: `Job ${i}`, minutes: 20 })) }),
  'entries of units': (n) => logged(n, { kind: 'done', step: 'step-0', n: 1 }),
  'entries of units, one step in sets': (n) => {
    const { build, ...rest } = logged(n, { kind: 'done', step: 'step-0', n: 1 }, (i) => ({ set: 1 + (i % 20) }));
    return { ...rest, build: { ...build, sets: { count: 20, name: 'bay' }, steps: [inSet(0, { count: n })] } };
  },
  'entries of the run clock': (n) =>
    logged(n, { kind: 'began', step: 'step-0' }, (i) => ({ kind: i % 2 === 0 ? 'began' : 'paused' })),
  'entries of lost time': (n) =>
    logged(n, { kind: 'lost', person: 'ana', until: instantOf(0) }, (i) => ({ until: instantOf(i + 60) })),
  'entries taken back': (n) =>
    logged(n, { kind: 'done', step: 'step-0', n: 1 }, (i) =>
      i % 2 === 0 ? {} : { kind: 'undo', undoes: idOf(i - 1), step: undefined, n: undefined },
    ),
  'entries that take each other back': (n) =>
    logged(n, { kind: 'done', step: 'step-0', n: 1 }, (i) =>
      i === 0 ? {} : { kind: 'undo', undoes: idOf(i - 1), step: undefined, n: undefined },
    ),
  'entries of promises': (n) => {
    const { build, ...rest } = logged(n, { kind: 'promised', step: 'order-part-1', until: EVENT_INSTANT });
    return {
      ...rest,
      build: { ...build, suppliers: [MILL], parts: [...(build.parts ?? []), part(1, { ...BOUGHT, count: 2 })] },
    };
  },
};

const MILL = { id: 'mill', name: 'mill', lead: { low: 3, likely: 4, high: 8 }, cutOff: '14:00' } as const;
const BOUGHT = { source: 'buy', supplier: 'mill' } as const;
const EVENT_INSTANT = '2027-01-20T18:00Z';

function file(changes: Partial<Build>): BuildFile {
  const people = [{ id: 'ana', name: 'Ana', hours: 'daily 09:00-17:00' }];
  return {
    format: 'daywright-build',
    version: 1,
    build: { id: 'many', name: 'Many', zone: 'UTC', event: EVENT, people, steps: [], ...changes },
  };
}

function logged(n: number, entry: Partial<LogEntry>, more: (i: number) => object = () => ({})): BuildFile {
  const build = file({
    parts: [part(0, { count: 2 * n })],
    steps: [onPart(0, { id: 'step-0', lotSize: Math.ceil(n / 50) })],
  });
  const one = (i: number): LogEntry =>
    JSON.parse(JSON.stringify({ id: idOf(i), at: instantOf(i), ...entry, ...more(i) })) as LogEntry;
  return { ...build, log: many(n, one) };
}

/** A quarter of an hour before the instant of the plan and earlier, each a little later than the one before. */
function instantOf(i: number): string {
  return new Date((MANY_NOW - 200 * 1440) * 60_000 + i * 60_000).toISOString();
}

const idOf = (i: number): string => `entry-${String(i).padStart(8, '0')}`;
const many = <T>(n: number, one: (i: number) => T): T[] => Array.from({ length: n }, (_, i) => one(i));
const dateOf = (i: number): string => new Date((MANY_NOW + (i + 1) * 1440) * 60_000).toISOString().slice(0, 10);
const person = (i: number) => ({ id: `person-${i}`, name: `Person ${i}`, hours: 'mon-fri 08:00-12:00 13:00-17:00' });
const machine = (i: number) => ({ id: `machine-${i}`, name: `Machine ${i}`, hours: 'mon-sat 07:00-21:00' });
const gate = (i: number) => ({ id: `gate-${i}`, name: `Gate ${i}`, after: ['step-0'], minutes: 5, failChance: 0.1 });

function part(i: number, changes: Partial<Part> = {}): Part {
  return { id: `part-${i}`, name: `Part ${i}`, source: 'make', ...(changes.usedIn ? {} : { count: 2 }), ...changes };
}

function step(i: number, changes: Partial<Step> = {}): Step {
  return { id: `step-${i}`, name: `Step ${i}`, phases: [{ kind: 'hands', minutes: 5 }], ...changes };
}

function inSet(i: number, changes: Partial<Step> = {}): Step {
  return step(i, { perSet: true, ...changes });
}

function onPart(i: number, changes: Partial<Step> = {}): Step {
  return { id: `make-${i}`, name: `Make ${i}`, part: `part-${i}`, phases: [{ kind: 'hands', perUnit: 1 }], ...changes };
}

function onMachine(i: number): Step {
  return step(i, { phases: [{ kind: 'run', machine: `machine-${i}`, minutes: 60 }] });
}
