import { describe, expect, it } from 'vitest';
import { generateSerial } from '../../../server/engine/07-levelling/generate/generate.ts';
import { CRITERIA, compile, level } from '../../../server/engine/07-levelling/index.ts';
import { compareCriteria, Objective } from '../../../server/engine/07-levelling/search/objective.ts';
import { calendarFrom } from '../../../server/engine/calendar/working-time.ts';
import type { Lot, Phase, Work } from '../../../server/engine/types.ts';
import { link, lot, person, work } from '../_network.ts';

const day = calendarFrom([[0, 10_000]]);
const [ADA, BEN, CY] = [0, 1, 2];
const people = [person('ada', day), person('ben', day), person('cy', day)];

function hands(minutes: number, eligible: readonly number[] = [ADA]): Phase {
  return { kind: 'hands', minutes, people: 1, eligible, oneGo: false, open: day };
}

function job(id: string, phases: readonly Phase[], more: Partial<Lot> = {}): Lot {
  return lot(id, phases, { release: 0, ...more });
}

/** What keeps the workshop from being ready before `minutes`. */
const lasting = (minutes: number) => job('soak', [{ kind: 'wait', minutes }]);

function build(lots: readonly Lot[], more: Partial<Work> = {}): Work {
  return work({ resources: people, lots, ...more });
}

/** The criteria of the schedules of two orders, by name; the first is to be the better one. */
function judged(given: Work, better: readonly number[], worse: readonly number[]) {
  const compiled = compile(given);
  const objective = new Objective(given, compiled.forward);
  const [a, b] = [better, worse].map((order) => {
    const latest = generateSerial(compiled.forward, Int32Array.from(order));
    return { criteria: objective.criteria(latest), cost: objective.cost(latest) };
  });
  const deciding = CRITERIA.find((_, i) => a!.criteria[i] !== b!.criteria[i]);
  return { a: a!, b: b!, deciding, order: Math.sign(compareCriteria(a!.criteria, b!.criteria)) };
}

/** Each: which criterion, a build, the better order and the worse, equal in all criteria before. */
const cases: readonly (readonly [(typeof CRITERIA)[number], Work, number[], number[]])[] = [
  ['pins', build([job('pinned', [hands(60)], { pinnedStart: 0 }), job('other', [hands(60)])]), [0, 1], [1, 0]],
  ['ready', build([job('sort', [hands(60)]), job('dry', [hands(60), { kind: 'wait', minutes: 300 }])]), [1, 0], [0, 1]],
  ['lateness', build([job('due', [hands(60)], { deadline: 60 }), job('later', [hands(60)])]), [0, 1], [1, 0]],
  [
    'end',
    build([
      job('hang', [hands(30), { kind: 'wait', minutes: 200 }], { onSite: true }),
      job('sweep', [hands(60)], { onSite: true }),
    ]),
    [0, 1],
    [1, 0],
  ],
  [
    'idle',
    build(
      [
        lasting(200),
        job('coat', [hands(10, [BEN]), { kind: 'wait', minutes: 60 }]),
        job('sort', [hands(20, [BEN])]),
        job('polish', [hands(10, [BEN])]),
      ],
      { links: [link(1, 3)] },
    ),
    [0, 2, 1, 3],
    [0, 1, 2, 3],
  ],
  ['switches', build([0, 0, 1, 1].map((step, i) => job(`l${i}`, [hands(50)], { step }))), [0, 1, 2, 3], [0, 2, 1, 3]],
  [
    'nights',
    build([lasting(400), job('either', [hands(60, [ADA, BEN])]), job('her own', [hands(60)])], {
      nights: calendarFrom([[200, 300]]),
      resources: [
        person(
          'ada',
          calendarFrom([
            [0, 60],
            [200, 300],
          ]),
        ),
        person(
          'ben',
          calendarFrom([
            [0, 100],
            [300, 400],
          ]),
        ),
        people[CY]!,
      ],
    }),
    [0, 2, 1],
    [0, 1, 2],
  ],
];

describe.each(cases)('%s', (name, given, better, worse) => {
  it('decides between schedules that are equal in all criteria before it', () => {
    const { deciding, order, a, b } = judged(given, better, worse);
    expect([deciding, order]).toEqual([name, -1]);
    expect(a.cost).toBeLessThanOrEqual(b.cost);
  });

  it('is what the search settles by', () => {
    const { a } = judged(given, better, worse);
    const { schedule } = level(given, { seed: 1, schedules: 300 });
    const compiled = compile(given);
    const latest = generateSerial(compiled.forward, schedule.activityList);
    const found = new Objective(given, compiled.forward).criteria(latest);
    expect(compareCriteria(found, a.criteria)).toBeLessThanOrEqual(0);
  });
});

it('puts a pin before the ready finish, and the ready finish before any lateness', () => {
  const dry: Phase[] = [hands(60), { kind: 'wait', minutes: 300 }];
  const pinned = build([job('pinned', [hands(60)], { pinnedStart: 0 }), job('dry', dry)]);
  expect([...level(pinned, { seed: 1, schedules: 100 }).schedule.starts]).toEqual([0, 60]);
  const due = build([job('due', [hands(60)], { deadline: 60 }), job('dry', dry)]);
  const many = { ...due, lots: [...due.lots, ...[1, 2, 3].map((i) => job(`due ${i}`, [hands(60)], { deadline: 60 }))] };
  expect(level(many, { seed: 1, schedules: 300 }).schedule.starts[1]).toBe(0);
});

it('counts as idle those who are never asked for, and nobody when they are not there', () => {
  const half = calendarFrom([
    [0, 50],
    [150, 200],
  ]);
  const given = build([lasting(200), job('sort', [hands(30, [ADA, BEN])])], {
    resources: [person('ada', half), person('ben', half), people[CY]!],
  });
  // Ada: 20 after her work and 50 in the second stretch; Ben: both stretches; Cy may do nothing.
  expect(judged(given, [0, 1], [1, 0]).a.criteria[CRITERIA.indexOf('idle')]).toBe(70 + 100);
});
