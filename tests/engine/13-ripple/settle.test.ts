import { describe, expect, test } from 'vitest';
import { askedBy } from '../../../server/engine/13-ripple/asked.ts';
import { nextRevision, settleRipple } from '../../../server/engine/13-ripple/settle.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import {
  applyChanges,
  type Build,
  type Change,
  type CouldUse,
  type LogEntry,
  type RippleAnswer,
} from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;

/** Posts are cut from rods, sanded and painted, and go into frames; rods are bought in packs of ten. */
const BUILD: Build = {
  id: 'wall',
  name: 'Wall',
  zone: 'UTC',
  event: '2027-02-01T19:00',
  people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
  suppliers: [{ id: 'yard', name: 'the yard', lead: 2 }],
  parameters: [{ name: 'length', value: 480, unit: 'mm' }],
  parts: [
    { id: 'frame', name: 'Frame', source: 'make', count: 20 },
    {
      id: 'post',
      name: 'Post',
      source: 'make',
      usedIn: [{ part: 'frame', count: 2 }],
      dependsOn: ['length'],
      revision: 'A',
    },
    { id: 'rod', name: 'Rod', source: 'buy', usedIn: [{ part: 'post', count: 1 }], supplier: 'yard', packSize: 10 },
    { id: 'rail', name: 'Rail', source: 'make', count: 12 },
    { id: 'cap', name: 'Cap', source: 'make', count: 5 },
  ],
  steps: [
    { id: 'cut', name: 'Cut', part: 'post', phases: [{ kind: 'hands', perUnit: 3 }] },
    { id: 'sand', name: 'Sand', part: 'post', phases: [{ kind: 'hands', perUnit: 4 }], hazards: ['dust'] },
    {
      id: 'paint',
      name: 'Paint',
      part: 'post',
      phases: [
        { kind: 'hands', perUnit: 2 },
        { kind: 'wait', minutes: 240 },
      ],
    },
    { id: 'join', name: 'Join', part: 'frame', phases: [{ kind: 'hands', perUnit: 20 }] },
    { id: 'saw-rail', name: 'Saw rails', part: 'rail', phases: [{ kind: 'hands', perUnit: 5 }] },
    { id: 'turn', name: 'Turn', part: 'cap', phases: [{ kind: 'hands', perUnit: 5 }] },
  ],
};
const WITH_RAIL: Build = {
  ...BUILD,
  parts: BUILD.parts!.map((part) =>
    part.id === 'rod' ? { ...part, usedIn: [...part.usedIn!, { part: 'rail', count: 1 }] } : part,
  ),
};

const entry = (i: number, kind: LogEntry['kind'], step: string, n: number): LogEntry => ({
  id: `entry-${i}-xxx`,
  kind,
  step,
  n,
  at: `2026-11-2${i}T10:00:00Z`,
  seq: i + 1,
});
/**
 * 40 cut, 30 of them sanded, 16 of these painted, of which 3 frames have taken 6; 40 rods came, 10 are on their way.
 */
const LOG: LogEntry[] = [
  entry(0, 'ordered', 'order-rod', 40),
  entry(1, 'received', 'order-rod', 40),
  entry(2, 'done', 'cut', 40),
  entry(3, 'done', 'sand', 30),
  entry(4, 'done', 'paint', 16),
  entry(5, 'done', 'join', 3),
  entry(6, 'ordered', 'order-rod', 10),
];

const LONGER: Change[] = [{ kind: 'set', list: 'parameters', key: 'length', field: 'value', value: 500 }];
const answer = (at: RippleAnswer['at'], step: string | null, more: Partial<RippleAnswer>): RippleAnswer => ({
  part: 'post',
  at,
  step,
  good: 0,
  rework: 0,
  scrap: 0,
  redo: [],
  ...more,
});

function applied(build: Build, changes: readonly Change[]): Build {
  const made = applyChanges(build, changes);
  if (!made.ok) throw new Error(made.problems[0]!.message);
  return made.value;
}

/** What answers about a longer post come to. */
function settled(answers: readonly RippleAnswer[], build = BUILD, log = LOG, changes = LONGER) {
  const after = applied(build, changes);
  const { made } = askedBy(build, after, changes, log, null);
  const parts = new Set(made.map(({ part }) => part));
  return settleRipple({
    build: after,
    log,
    made,
    answers,
    revisions: new Map([['post', 'A']]),
    raised: parts,
    because: 'length 480 → 500',
  });
}

/** The build and the log after the answers, as the planner would keep them. */
function kept(answers: readonly RippleAnswer[], build = BUILD, log = LOG) {
  const found = settled(answers, build, log);
  if (!found.ok) throw new Error(found.problems[0]!.message);
  const { changes, entries } = found.value;
  const logged = entries.map(
    (it, i): LogEntry => ({ id: `ripple-${i}-xx`, at: '2026-12-01T08:00:00Z', seq: log.length + i + 1, ...it }),
  );
  return { build: applied(build, [...LONGER, ...changes]), log: [...log, ...logged], changes, entries };
}

const leftOf = (build: Build, log: readonly LogEntry[]) =>
  Object.fromEntries(planBuild(build, log, NOW).steps.map(({ id, left }) => [id, left]));

describe('what is made to the old value', () => {
  test('is told by where the units are: each in one state, and all of them in some', () => {
    const after = applied(BUILD, LONGER);
    expect(askedBy(BUILD, after, LONGER, LOG, null).made).toEqual([
      { part: 'frame', at: 'passed', step: 'join', units: 3 },
      { part: 'post', at: 'passed', step: 'cut', units: 10 },
      { part: 'post', at: 'passed', step: 'sand', units: 14 },
      { part: 'post', at: 'passed', step: 'paint', units: 10 },
      { part: 'post', at: 'mounted', step: 'join', units: 6 },
    ]);
  });

  test('of a bought part is what came, what is on its way and what lies on hand', () => {
    const build = applied(BUILD, [{ kind: 'set', list: 'parts', key: 'rod', field: 'onHand', value: 4 }]);
    const changes: Change[] = [{ kind: 'set', list: 'parts', key: 'rod', field: 'revision', value: '12 mm' }];
    const log = [
      entry(0, 'ordered', 'order-rod', 40),
      entry(1, 'received', 'order-rod', 25),
      entry(2, 'done', 'cut', 7),
    ];
    const { made } = askedBy(build, applied(build, changes), changes, log, null);
    expect(made.filter(({ part }) => part === 'rod')).toEqual([
      { part: 'rod', at: 'on-its-way', step: 'order-rod', units: 15 },
      { part: 'rod', at: 'passed', step: 'order-rod', units: 22 },
      { part: 'rod', at: 'mounted', step: 'cut', units: 7 },
    ]);
  });

  test('is nothing where only counts change', () => {
    const changes: Change[] = [{ kind: 'set', list: 'parts', key: 'frame', field: 'count', value: 24 }];
    expect(askedBy(BUILD, applied(BUILD, changes), changes, LOG, null).made).toEqual([]);
  });
});

describe('an answer', () => {
  test('that all is still good leaves all as it is, but for the revision', () => {
    const good = [
      answer('passed', 'cut', { good: 10 }),
      answer('passed', 'sand', { good: 14 }),
      answer('passed', 'paint', { good: 10 }),
      answer('mounted', 'join', { good: 6 }),
      { ...answer('passed', 'join', { good: 3 }), part: 'frame' },
    ];
    const { changes, entries } = kept(good);
    expect(entries).toEqual([]);
    expect(changes).toEqual([
      { kind: 'set', list: 'parts', key: 'frame', field: 'revision', value: 'B' },
      { kind: 'set', list: 'parts', key: 'post', field: 'revision', value: 'B' },
    ]);
  });

  test('of scrap makes as many again at every step that they have passed, and buys what went into them', () => {
    const before = leftOf(BUILD, LOG);
    const { build, log, entries } = kept([answer('passed', 'sand', { scrap: 14 })]);
    expect(entries).toEqual([
      { kind: 'sent-back', step: 'cut', n: 14 },
      { kind: 'sent-back', step: 'sand', n: 14 },
      { kind: 'sent-back', step: 'order-rod', n: 14 },
    ]);
    const after = leftOf(build, log);
    expect(after).toMatchObject({
      cut: before.cut! + 14,
      sand: before.sand! + 14,
      paint: before.paint!,
      'order-rod': before['order-rod']! + 14,
      join: before.join!,
    });
  });

  test('of scrap teaches nothing of how many come out good', () => {
    const { build, log } = kept([answer('passed', 'paint', { scrap: 10 })]);
    const post = planBuild(build, log, NOW).parts.find(({ id }) => id === 'post')!;
    expect(post).toMatchObject({ yield: 1, scrapped: 0 });
    expect(post).not.toHaveProperty('yieldLearnt');
  });

  test('of rework becomes steps of its own at the minutes given, which what follows waits for', () => {
    const redo = [
      { step: 'sand', minutes: null, name: 'Sand again' },
      { step: 'cut', minutes: 1.5, name: 'Cut again' },
    ];
    const { build, log } = kept([answer('passed', 'sand', { rework: 12, good: 2, redo })]);
    expect(build.steps.slice(-2)).toEqual([
      {
        id: 'redo-cut',
        name: 'Cut again',
        count: 12,
        phases: [{ kind: 'hands', perUnit: 1.5 }],
        origin: 'guessed',
        note: 'length 480 → 500',
      },
      {
        id: 'redo-sand',
        name: 'Sand again',
        count: 12,
        phases: [{ kind: 'hands', perUnit: 4 }],
        hazards: ['dust'],
        origin: 'guessed',
        note: 'length 480 → 500',
        after: [{ step: 'redo-cut', type: 'units', ratio: 1 }],
      },
    ]);
    const forecast = planBuild(build, log, NOW);
    expect(forecast.problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    const end = (id: string) => forecast.steps.find((step) => step.id === id)!.levelled!.finish;
    expect(end('redo-cut')).toBeLessThanOrEqual(end('redo-sand'));
    expect(end('redo-sand')).toBeLessThanOrEqual(end('paint'));
    expect(forecast.steps.find(({ id }) => id === 'redo-cut')).toMatchObject({ left: 12, handsMinutesLeft: 18 });
  });

  test('of nothing leaves the units unchecked, with the drawing they were made to and why', () => {
    const { build } = kept([answer('passed', 'cut', { good: 4, scrap: 1 })]);
    expect(build.parts!.find(({ id }) => id === 'post')).toMatchObject({
      revision: 'B',
      unchecked: [
        { at: 'passed', step: 'cut', units: 5, revision: 'A', because: 'length 480 → 500' },
        { at: 'passed', step: 'sand', units: 14, revision: 'A', because: 'length 480 → 500' },
        { at: 'passed', step: 'paint', units: 10, revision: 'A', because: 'length 480 → 500' },
        { at: 'mounted', step: 'join', units: 6, revision: 'A', because: 'length 480 → 500' },
      ],
    });
    const threats = planBuild(build, LOG, NOW).threats!.filter(({ code }) => code === 'unchecked');
    expect(threats.map(({ values }) => values)).toEqual([
      { part: 'frame', name: 'Frame', units: 3, because: 'length 480 → 500' },
      { part: 'post', name: 'Post', units: 35, because: 'length 480 → 500' },
    ]);
  });

  test('about an order on its way cuts it down: it is taken back and given again for the rest', () => {
    const changes: Change[] = [{ kind: 'set', list: 'parts', key: 'rod', field: 'revision', value: '12 mm' }];
    const cut = (scrap: number) =>
      settled([{ ...answer('on-its-way', 'order-rod', { scrap }), part: 'rod' }], BUILD, LOG, changes);
    expect(cut(4)).toMatchObject({
      ok: true,
      value: {
        entries: [
          { kind: 'undo', undoes: 'entry-6-xxx' },
          { kind: 'ordered', step: 'order-rod', n: 6, at: '2026-11-26T10:00:00Z' },
        ],
      },
    });
    expect(cut(10)).toMatchObject({ ok: true, value: { entries: [{ kind: 'undo', undoes: 'entry-6-xxx' }] } });
  });

  test('given later is of the units that were left unchecked, and takes the mark off', () => {
    const first = kept([]);
    const { made, isAnswer } = askedBy(first.build, first.build, [], first.log, 'post');
    expect(isAnswer).toBe(true);
    expect(made.map(({ at, step, units }) => [at, step, units])).toEqual([
      ['passed', 'cut', 10],
      ['passed', 'sand', 14],
      ['passed', 'paint', 10],
      ['mounted', 'join', 6],
    ]);
    const all = made.map((units) => ({ ...answer(units.at, units.step, { good: units.units }) }));
    const later = settleRipple({
      build: first.build,
      log: first.log,
      made,
      answers: all,
      revisions: new Map(),
      raised: new Set(),
      because: '',
    });
    expect(later).toEqual({
      ok: true,
      value: { changes: [{ kind: 'set', list: 'parts', key: 'post', field: 'unchecked' }], entries: [] },
    });
  });

  test.each<[string, Partial<RippleAnswer>, string, string]>([
    [
      'for more units than there are',
      { good: 10, scrap: 5 },
      'conflict',
      'You answered for 15 × Post, but there are 14; answer for 14 at most.',
    ],
    ['for half a unit', { good: 1.5 }, 'shape', 'Units of Post are a whole number from 0; this is 1.5.'],
    ['for less than nothing', { good: 3, scrap: -1 }, 'shape', 'Units of Post are a whole number from 0; this is -1.'],
    [
      'of rework without a step',
      { rework: 3 },
      'unknown-name',
      '3 × Post need rework; give the minutes of at least one step.',
    ],
    [
      'of rework at a step of another part',
      { rework: 3, redo: [{ step: 'join', minutes: 2, name: 'x' }] },
      'unknown-name',
      'Post does not pass the step "join"; name one that it passes.',
    ],
    [
      'of rework in no time',
      { rework: 3, redo: [{ step: 'cut', minutes: 0, name: 'x' }] },
      'shape',
      'Minutes of rework for one Post must be more than 0; this is 0.',
    ],
  ])('%s is refused in a sentence', (_, more, code, message) => {
    expect(settled([answer('passed', 'sand', more)])).toMatchObject({
      ok: false,
      problems: [{ code, field: 'ripple.post.passed.sand', message }],
    });
  });

  test('about units that are counted on since is refused', () => {
    const moved = [...LOG, { ...entry(7, 'done', 'sand', 10), at: '2026-11-29T10:00:00Z' }];
    expect(settled([answer('passed', 'cut', { scrap: 10 })], BUILD, moved)).toMatchObject({
      ok: false,
      problems: [{ code: 'gone', field: 'ripple.post.passed.cut' }],
    });
  });
});

describe('what could use units of the old value', () => {
  const uses = (build: Build) => askedBy(build, applied(build, LONGER), LONGER, LOG, null).couldUse;
  const only = (...parts: readonly CouldUse[]) => ({ count: parts.length, parts });

  test('is a part of the same material of which some are still to be begun, and no other', () => {
    expect(uses(WITH_RAIL).post).toEqual(only({ part: 'rail', left: 12, materials: ['rod'], parameters: [] }));
  });

  test('is nothing where nothing shares its material', () => {
    expect(uses(BUILD).post).toEqual(only());
  });

  test('is, where no material is listed, a part whose drawing rests on the same parameter', () => {
    const bare: Build = {
      ...BUILD,
      parts: [
        ...BUILD.parts!.filter(({ id }) => id !== 'rod' && id !== 'cap'),
        { id: 'cap', name: 'Cap', source: 'make', count: 5, dependsOn: ['length'] },
      ],
    };
    expect(uses(bare).post).toEqual(only({ part: 'cap', left: 5, materials: [], parameters: ['length'] }));
  });
});

test.each([
  ['A', 'B'],
  ['Z', 'AA'],
  ['r9', 'r10'],
  ['2', '3'],
  ['', 'B'],
  ['final!', 'final! 2'],
])('the revision after “%s” is “%s”', (revision, next) => {
  expect(nextRevision(revision)).toBe(next);
});
