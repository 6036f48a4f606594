import { describe, expect, it } from 'vitest';
import { surroundingsOf } from '../../server/engine/calendar/index.ts';
import { planBuild } from '../../server/engine/index.ts';
import { type Build, checkBuild, MOST, MOST_LINKS, type Step } from '../../server/model/index.ts';
import { MANY_OF } from '../support/builds/many-of.ts';

const NOW = 29_941_200;

function build(changes: Partial<Build>): Build {
  return {
    id: 'big',
    name: 'Big',
    zone: 'UTC',
    event: '2027-12-20T18:00',
    people: [{ id: 'ana', name: 'Ana', hours: 'daily 09:00-17:00' }],
    steps: [],
    ...changes,
  };
}

function step(i: number, changes: Partial<Step> = {}): Step {
  return { id: `s${i}`, name: `step ${i}`, phases: [{ kind: 'hands', minutes: 5 }], ...changes };
}

function said(value: Build): readonly string[] {
  const checked = checkBuild(value);
  return checked.ok ? [] : checked.problems.map(({ code, field, message }) => `${code} ${field}: ${message}`);
}

const many = <T>(count: number, one: (i: number) => T): T[] => Array.from({ length: count }, (_, i) => one(i));

describe('a build that is too large', () => {
  it('by its steps or people is refused with how many there may be', () => {
    expect(said(build({ steps: many(MOST.steps + 1, (i) => step(i)) }))).toEqual([
      'too-large steps: "steps" must have at most 2000 items; it has 2001.',
    ]);
    const people = many(2000, (i) => ({ id: `p${i}`, name: `P ${i}`, hours: 'always' }));
    expect(said(build({ people }))).toEqual(['too-large people: "people" must have at most 200 items; it has 2000.']);
    expect(said(build({ steps: many(MOST.steps, (i) => step(i)) }))).toEqual([]);
  });

  it('by its links is refused before any is followed: each of 1,000 steps waits for all before it', () => {
    const steps = many(1000, (i) => step(i, { after: many(i, (j) => `s${j}`) }));
    expect(said(build({ steps }))).toEqual([
      'too-large feeds: The steps, gates and decisions have 499500 links to each other; at most 10000 can be planned. Name only what a step waits for directly: the rest follows.',
    ]);
    expect(said(build({ steps: steps.slice(0, 141) }))).toEqual([]);
    expect((141 * 140) / 2).toBeLessThan(MOST_LINKS);
  });

  it.each([
    [50_000, 1, 'the 50000 units of "Cut" in lots of 1 make 50000 lots, the whole build 50001'],
    [1_000_000, 1, 'the 1000000 units of "Cut" in lots of 1 make 1000000 lots, the whole build 1000001'],
    [1_000_000, undefined, 'the 1000000 units of "Cut" in lots of 12 make 83334 lots, the whole build 83335'],
  ])('by its lots (%i units in lots of %s) is said to be, and nothing of it is planned', (count, lotSize, words) => {
    const cut = step(0, {
      name: 'Cut',
      part: 'rib',
      ...(lotSize === undefined ? {} : { lotSize }),
      phases: [{ kind: 'hands', perUnit: 1 }],
    });
    const parts = [{ id: 'rib', name: 'Rib', source: 'make' as const, count }];
    const forecast = planBuild(build({ parts, steps: [cut, step(1)] }), [], NOW, {
      levelling: { seed: 1, schedules: 1 },
    });
    const errors = forecast.problems.filter(({ severity }) => severity === 'error');
    expect(errors.map(({ code, field, message }) => [code, field, message])).toEqual([
      [
        'too-large',
        'steps.s0.lotSize',
        `There is too much to plan: ${words}; at most 40000 lots can be planned. Give larger lots, or fewer units.`,
      ],
    ]);
    expect(forecast.lots).toEqual([]);
    expect(forecast.complete).toBe(false);
    expect(forecast.problems.map(({ message }) => message).join(' ')).not.toMatch(/no steps yet/);
  });
});

describe('very many of one thing', () => {
  it.each([
    ['parts in one', 'parts', MOST.parts],
    ['ways of a part', 'parts.part-0.ways', 8],
    ['units of which nobody knows', 'parts.part-0.unchecked', 200],
    ['steps in sets', 'steps', MOST.steps],
    ['phases of a step', 'steps.step-0.phases', 20],
    ['pins of a step', 'steps.make-0.pins', 200],
    ['machines', 'machines', MOST.machines],
    ['suppliers', 'suppliers', MOST.suppliers],
    ['gates', 'gates', MOST.gates],
    ['decisions', 'decisions', MOST.decisions],
    ['parameters with ranges', 'parameters', MOST.parameters],
    ['limits', 'limits', MOST.limits],
    ['boxes', 'boxes', MOST.boxes],
    ['jobs after the event', 'strike', MOST.strike],
  ])('is refused by how many there are, whatever is wrong with each of them: %s', (thing, field, most) => {
    const { build } = MANY_OF[thing]!(most + 1);
    const words = `"${field}" must have at most ${most} items; it has ${most + 1}.`;
    expect(said(build)).toEqual([`too-large ${field}: ${words}`]);
    expect(said({ ...build, colour: 'red' } as Build)).toEqual([`too-large ${field}: ${words}`]);
  });

  it('of its sets is said, as many as a log can name are planned, and parts are counted all the same', () => {
    const { build } = MANY_OF.sets!(100_000);
    const { problems, parts, steps, lots } = planBuild(build, [], NOW, { levelling: { seed: 1, schedules: 1 } });
    expect(
      problems.filter(({ severity }) => severity === 'error').map(({ field, message }) => [field, message]),
    ).toEqual([
      [
        'sets.count',
        'More sets than can be planned and counted: 100000, at most 10000. Give fewer sets, or make what is alike a part with that many units.',
      ],
    ]);
    expect(parts.map(({ need }) => need)).toEqual([200_000]);
    expect([steps, lots]).toEqual([[], []]);
  });

  it('of the days until the event is said, and planned as if the event were soon', () => {
    const far = planBuild(build({ event: '2062-12-20T18:00', steps: [step(0)] }), [], NOW);
    expect(far.problems.map(({ field, message }) => [field, message])).toContainEqual([
      'event',
      'The event, 2062-12-20T18:00, is more than ten years away, and the plan looks no farther; look at the year.',
    ]);
    expect(far.lots).toHaveLength(1);
  });

  it('of people and machines of the same hours have one calendar', () => {
    const people = many(MOST.people, (i) => ({ id: `p${i}`, name: `P ${i}`, hours: 'mon-fri 08:00-16:00' }));
    const machines = many(MOST.machines, (i) => ({ id: `m${i}`, name: `M ${i}`, overnight: false }));
    const there = surroundingsOf(build({ people, machines, steps: [] }), NOW);
    expect(new Set([...there.people.values()].map(({ open }) => open)).size).toBe(1);
    expect(new Set([...there.machines.values()].map(({ open }) => open)).size).toBe(1);
  });
});
