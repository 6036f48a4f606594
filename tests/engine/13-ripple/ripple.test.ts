import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rippleOf } from '../../../server/engine/13-ripple/ripple.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import { applyChanges, type Build, type Change, type Ripple } from '../../../server/model/index.ts';
import { anyTiedBuild } from './_random-ties.ts';

const NOW = Date.parse('2026-12-01T09:00Z') / 60_000;

/** The ripple of changes, made on a build without a log. */
function rippled(build: Build, ...changes: readonly Change[]): Ripple {
  const after = applyChanges(build, changes);
  if (!after.ok) throw new Error(after.problems[0]!.message);
  return rippleOf(build, after.value, changes, []);
}

const setValue = (key: string, value: number): Change[] => [
  { kind: 'set', list: 'parameters', key, field: 'formula' },
  { kind: 'set', list: 'parameters', key, field: 'value', value },
];

/** Everything that a ripple lists, as `count p`, `drawing p`, `units k` … */
function listed({ sets, parameters, parts, steps, boxes, points, strike, limits }: Ripple): string[] {
  return [
    ...(sets === null ? [] : ['sets ']),
    ...parameters.map(({ name }) => `parameter ${name}`),
    ...limits.map(({ limit }) => `limit ${limit}`),
    ...boxes.map(({ box }) => `box ${box}`),
    ...points.map(({ point }) => `point ${point}`),
    ...strike.map(({ job }) => `strike ${job}`),
    ...parts.flatMap(({ part, count, drawing }) => [
      ...(count ? [`count ${part}`] : []),
      ...(drawing ? [`drawing ${part}`] : []),
    ]),
    ...steps.flatMap(({ step, units, work, time, link }) => [
      ...(units ? [`units ${step}`] : []),
      ...(work ? [`work ${step}`] : []),
      ...(time ? [`time ${step}`] : []),
      ...(link ? [`link ${step}`] : []),
    ]),
  ].sort();
}

/**
 * What depends on what, read off the build's own text by other means than the engine's: names as words of the JSON, and
 * the closure by Warshall's algorithm over a table of truth values.
 */
function closureFrom(build: Build, source: string): string[] {
  const pairs: [string, string][] = [];
  const words = (to: string, value: unknown) => {
    for (const word of JSON.stringify(value ?? null).match(/[a-z_]+/g) ?? []) {
      if (build.parameters!.some(({ name }) => name === word)) pairs.push([`parameter ${word}`, to]);
    }
  };
  words('sets ', build.sets!.count);
  for (const it of build.parameters!) words(`parameter ${it.name}`, it.formula);
  for (const it of build.limits!) words(`limit ${it.id}`, [it.of, it.most]);
  for (const it of build.parts!) {
    words(`count ${it.id}`, [it.count, it.spares, it.usedIn!.map(({ count }) => count)]);
    words(`drawing ${it.id}`, it.dependsOn);
    for (const use of it.usedIn!) {
      pairs.push([`count ${use.part}`, `count ${it.id}`], [`drawing ${it.id}`, `drawing ${use.part}`]);
    }
    if (it.supplier)
      pairs.push([`count ${it.id}`, `units order-${it.id}`], [`drawing ${it.id}`, `work order-${it.id}`]);
  }
  for (const it of build.steps) {
    words(`time ${it.id}`, it.phases);
    for (const used of it.uses ?? []) pairs.push([`drawing ${used}`, `work ${it.id}`]);
    if (it.part !== undefined) {
      pairs.push([`count ${it.part}`, `units ${it.id}`], [`drawing ${it.part}`, `work ${it.id}`]);
    } else {
      words(`units ${it.id}`, it.count);
    }
    if (it.perSet) pairs.push(['sets ', `units ${it.id}`]);
  }
  for (const it of build.boxes!) {
    words(
      `box ${it.id}`,
      (it.parts ?? []).map(({ count }) => count),
    );
    for (const { part } of it.parts ?? [])
      pairs.push([`count ${part}`, `box ${it.id}`], [`drawing ${part}`, `box ${it.id}`]);
  }
  for (const it of build.points!) words(`point ${it.id}`, it.load);
  for (const it of build.strike!) words(`strike ${it.id}`, it.minutes);
  const nodes = [...new Set([source, ...pairs.flat()])];
  const reach = nodes.map((from) => nodes.map((to) => pairs.some(([x, y]) => x === from && y === to)));
  for (const k of nodes.keys())
    for (const i of nodes.keys()) for (const j of nodes.keys()) reach[i]![j] ||= reach[i]![k]! && reach[k]![j]!;
  return nodes.filter((_, j) => nodes[j] === source || reach[nodes.indexOf(source)]![j]).sort();
}

describe('the ripple of a change', () => {
  test('of a parameter lists exactly what the graph reaches, in any build', () => {
    let reached = 0;
    fc.assert(
      fc.property(anyTiedBuild, fc.constantFrom('a', 'b', 'c', 'd', 'e'), (build, name) => {
        const fixed = build.parameters!.map((it) => (it.name === name ? { name, value: 2 } : it));
        const known = { ...build, parameters: fixed };
        const found = listed(rippled(known, ...setValue(name, 5)));
        reached += found.length;
        expect(found).toEqual(closureFrom(known, `parameter ${name}`));
      }),
      { numRuns: 150, seed: 4 },
    );
    expect(reached).toBeGreaterThan(500);
  });

  test('of a drawing lists exactly what the graph reaches, in any build', () => {
    fc.assert(
      fc.property(anyTiedBuild, fc.constantFrom('p', 'q', 'r', 's'), (build, key) => {
        const change: Change = { kind: 'set', list: 'parts', key, field: 'revision', value: 'C' };
        expect(listed(rippled(build, change))).toEqual(closureFrom(build, `drawing ${key}`));
      }),
      { numRuns: 100, seed: 5 },
    );
  });

  test('leaves out nothing whose count or minutes come out otherwise', () => {
    let moved = 0;
    fc.assert(
      fc.property(anyTiedBuild, fc.constantFrom('a', 'b', 'c'), (build, key) => {
        const changes = setValue(key, 7);
        const after = applyChanges(build, changes);
        if (!after.ok) throw new Error('it applies');
        const found = new Set(listed(rippleOf(build, after.value, changes, [])));
        const [was, is] = [build, after.value].map((one) =>
          planBuild(one, [], NOW, { levelling: { seed: 1, schedules: 1 } }),
        );
        for (const part of is!.parts) {
          const old = was!.parts.find(({ id }) => id === part.id)!;
          if (old.toMake !== part.toMake) expect(found).toContain(`count ${part.id}`);
          moved += old.toMake === part.toMake ? 0 : 1;
        }
        for (const step of is!.steps) {
          const old = was!.steps.find(({ id }) => id === step.id)!;
          const totals = [old, step].map(({ sets }) => sets.map(({ total }) => total));
          if (totals[0]!.join() !== totals[1]!.join()) expect(found).toContain(`units ${step.id}`);
          if (old.handsMinutesPerUnit !== step.handsMinutesPerUnit) expect(found).toContain(`time ${step.id}`);
        }
        const [old, show] = [was!.show!, is!.show!];
        for (const box of show.boxes) {
          const before = old.boxes.find(({ id }) => id === box.id)!;
          if (JSON.stringify(before.parts) !== JSON.stringify(box.parts)) expect(found).toContain(`box ${box.id}`);
        }
        if (old.points[0]!.load !== show.points[0]!.load) expect(found).toContain('point hook');
        const lengths = [old.strike, show.strike].map((jobs) => jobs.map((job) => job.finish - job.start));
        if (lengths[0]!.join() !== lengths[1]!.join()) expect(found).toContain('strike down');
      }),
      { numRuns: 40, seed: 6 },
    );
    expect(moved).toBeGreaterThan(20);
  });

  test('of a new name alone is empty, and so is that of what no drawing rests on', () => {
    fc.assert(
      fc.property(anyTiedBuild, (build) => {
        expect(listed(rippled(build, { kind: 'rename', list: 'parameters', key: 'a', to: 'longer' }))).toEqual([]);
        const [first] = build.parts!;
        const named: Change = { kind: 'set', list: 'parts', key: first!.id, field: 'note', value: 'x' };
        expect(listed(rippled(build, named))).toEqual([]);
      }),
      { numRuns: 20, seed: 7 },
    );
  });

  test('says counts and values before and after, what was changed, and which limits break', () => {
    const build: Build = {
      id: 'wall',
      name: 'Wall',
      zone: 'UTC',
      event: '2027-06-01T19:00',
      parameters: [
        { name: 'posts', value: 40 },
        { name: 'load', formula: '1000 / posts' },
      ],
      limits: [{ id: 'load', name: 'Load a post', of: 'load', most: 26, unit: 'kg' }],
      parts: [
        { id: 'post', name: 'Post', source: 'make', count: 'posts' },
        { id: 'lamp', name: 'Lamp', source: 'buy', count: 1 },
      ],
      steps: [{ id: 'cut', name: 'Cut', part: 'post', phases: [{ kind: 'hands', perUnit: 2 }] }],
      boxes: [
        {
          id: 'crate',
          name: 'Crate',
          parts: [
            { part: 'post', count: 'posts / 2' },
            { part: 'post', count: 2, spare: true },
            { part: 'lamp', count: 1 },
          ],
        },
        { id: 'case', name: 'Case', parts: [{ part: 'lamp', count: 1 }], tools: ['spanner'] },
      ],
      points: [
        { id: 'beam', name: 'Beam', load: '3 * posts', limit: 150 },
        { id: 'truss', name: 'Truss', load: 20, limit: 150 },
      ],
      strike: [
        { id: 'down', name: 'Take it down', minutes: '2 * posts' },
        { id: 'drive', name: 'Drive it home', minutes: '1 h' },
      ],
    };
    expect(rippled(build, ...setValue('posts', 20))).toEqual({
      because: 'posts 40 → 20',
      sets: null,
      parameters: [
        { name: 'posts', before: 40, after: 20 },
        { name: 'load', before: 25, after: 50 },
      ],
      parts: [{ part: 'post', drawing: false, count: true, before: 40, after: 20 }],
      steps: [{ step: 'cut', units: true, work: false, time: false, link: false }],
      boxes: [
        {
          box: 'crate',
          name: 'Crate',
          parts: [
            { part: 'post', spare: false, before: 20, after: 10 },
            { part: 'post', spare: true, before: 2, after: 2 },
          ],
        },
      ],
      points: [{ point: 'beam', name: 'Beam', before: 120, after: 60 }],
      strike: [{ job: 'down', name: 'Take it down', before: 80, after: 40 }],
      limits: [
        {
          limit: 'load',
          name: 'Load a post',
          unit: 'kg',
          value: 50,
          least: null,
          most: 26,
          isBroken: true,
          wasBroken: false,
        },
      ],
      made: [],
    });
  });

  test('of another material is that of all that is made of it', () => {
    const parts = [
      { id: 'door', name: 'Door', source: 'make' as const, count: 2 },
      { id: 'leaf', name: 'Leaf', source: 'make' as const, usedIn: [{ part: 'door', count: 2 }] },
      { id: 'board', name: 'Board 9 mm', source: 'buy' as const, usedIn: [{ part: 'leaf', count: 1 }] },
      { id: 'sign', name: 'Sign', source: 'make' as const, count: 1 },
    ];
    const build: Build = { id: 'w', name: 'W', zone: 'UTC', event: '2027-06-01T19:00', parts, steps: [] };
    const drawn = (...changes: Change[]) => rippled(build, ...changes).parts.map(({ part }) => part);
    const rename: Change = { kind: 'set', list: 'parts', key: 'board', field: 'name', value: 'Board 12 mm' };
    expect(drawn(rename)).toEqual(['door', 'leaf', 'board']);
    const moved: Change = {
      kind: 'set',
      list: 'parts',
      key: 'board',
      field: 'usedIn',
      value: [{ part: 'sign', count: 1 }],
    };
    expect(drawn(moved)).toEqual(['door', 'leaf', 'sign']);
    expect(drawn({ ...rename, key: 'sign', value: 'Sign of the door' })).toEqual([]);
  });
});
