import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planBuild } from '../../../server/engine/index.ts';
import { applyChanges, type Build, type Part, splitChanges, wayChanges } from '../../../server/model/index.ts';

const NOW = Date.parse('2026-12-01T08:00Z') / 60_000;

const WAYS: NonNullable<Part['ways']> = [
  { id: 'here', name: 'made here', source: 'make' },
  { id: 'welder', name: 'by the welder', source: 'send-out', supplier: 'welder', unitCost: 6, onceCost: 40 },
];

/** An arch of boughs that are cut and glued here or welded by somebody else; both are painted where `isPainted`. */
function arch(isPainted: boolean, boughs = 9): Build {
  const phases = (perUnit: number) => [{ kind: 'hands' as const, perUnit }];
  return {
    id: 'arch',
    name: 'arch',
    zone: 'UTC',
    event: '2026-12-20T18:00',
    suppliers: [{ id: 'welder', name: 'welder', lead: 4 }],
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    parts: [
      { id: 'arch', name: 'arch', source: 'make', count: 3 },
      { id: 'bough', name: 'bough', source: 'make', ways: WAYS, usedIn: [{ part: 'arch', count: boughs / 3 }] },
      { id: 'peg', name: 'peg', source: 'make', usedIn: [{ part: 'bough', count: 2, way: 'here' }] },
    ],
    steps: [
      { id: 'turn', name: 'turn pegs', part: 'peg', phases: phases(2) },
      { id: 'cut', name: 'cut', part: 'bough', way: 'here', phases: phases(20) },
      { id: 'glue', name: 'glue', part: 'bough', way: 'here', after: ['cut'], phases: phases(15) },
      ...(isPainted ? [{ id: 'paint', name: 'paint', part: 'bough', after: ['glue'], phases: phases(5) }] : []),
      { id: 'raise', name: 'raise', part: 'arch', after: isPainted ? ['paint'] : ['glue'], phases: phases(30) },
    ],
  };
}

function changed(build: Build, changes: Parameters<typeof applyChanges>[1]): Build {
  const made = applyChanges(build, changes);
  if (!made.ok) throw new Error(JSON.stringify(made.problems));
  return made.value;
}

function bough(build: Build): Part {
  return build.parts!.find(({ id }) => id === 'bough')!;
}

const totals = (build: Build) =>
  Object.fromEntries(planBuild(build, [], NOW).steps.map(({ id, total }) => [id, total]));

describe('the ways of a part', () => {
  it('share what the part itself costs once, and pay each for what only it costs once', () => {
    const ways: Part['ways'] = [
      { id: 'mill', name: 'mill', source: 'buy', supplier: 'welder' },
      { id: 'forge', name: 'forge', source: 'buy', supplier: 'welder', unitCost: 2 },
      { id: 'cast', name: 'cast', source: 'buy', supplier: 'welder', unitCost: 3, onceCost: 7 },
    ];
    const split = (forge: number, cast: number) => {
      const bolt: Part = { id: 'bolt', name: 'bolt', source: 'buy', count: 30, unitCost: 1, onceCost: 50, ways };
      const build = { ...arch(false), parts: [bolt], steps: [] };
      const all = new Map([
        ['forge', forge],
        ['cast', cast],
      ]);
      const { parts, money } = planBuild(changed(build, splitChanges(bolt, all)), [], NOW);
      expect(money!.total).toBe(parts.reduce((sum, { cost }) => sum + (cost ?? 0), 0));
      return money!.total;
    };
    expect(split(0, 0)).toBe(30 + 50);
    expect(split(10, 0)).toBe(20 + 2 * 10 + 50);
    expect(split(10, 5)).toBe(15 + 2 * 10 + 3 * 5 + 50 + 7);
  });

  it('are planned as if there were none but the first, where none is named', () => {
    const build = arch(true);
    const plain: Build = JSON.parse(JSON.stringify({ ...build, parts: build.parts, steps: build.steps }));
    for (const part of plain.parts!) {
      delete part.ways;
      for (const use of part.usedIn ?? []) delete use.way;
    }
    for (const step of plain.steps) delete step.way;
    const [byWay, asTyped] = [build, plain].map((it) => planBuild(it, [], NOW));
    expect(byWay).toEqual(asTyped);
    expect(byWay!.problems).toEqual([]);
  });

  it('become another by one change: its order comes in place of its steps, and nothing goes into it here', () => {
    const build = changed(arch(true), wayChanges(bough(arch(true)), 'welder'));
    expect(totals(build)).toEqual({ 'order-bough': 9, turn: 0, paint: 9, raise: 3 });
    const { problems, parts, steps } = planBuild(build, [], NOW);
    expect(problems).toEqual([]);
    expect(parts.find(({ id }) => id === 'bough')).toMatchObject({ source: 'send-out', cost: 9 * 6 + 40 });
    expect(steps.find(({ id }) => id === 'paint')!.fedBy.map(({ step }) => step)).toEqual(['order-bough']);
  });

  it('let what came after a step that is not taken wait for the order', () => {
    const build = changed(arch(false), wayChanges(bough(arch(false)), 'welder'));
    const raise = planBuild(build, [], NOW).steps.find(({ id }) => id === 'raise')!;
    expect(raise.fedBy.map(({ step }) => step)).toEqual(['order-bough']);
  });

  it('share the units of a part that is split: four here, the rest from the welder', () => {
    for (const isPainted of [true, false]) {
      const whole = changed(arch(isPainted), wayChanges(bough(arch(isPainted)), 'welder'));
      const build = changed(whole, splitChanges(bough(whole), new Map([['here', 4]])));
      const order = isPainted ? 'order-bough--welder' : 'order-bough';
      expect(totals(build)).toEqual({
        [order]: 5,
        turn: 8,
        cut: 4,
        glue: 4,
        ...(isPainted ? { paint: 9 } : {}),
        raise: 3,
      });
      const { problems, complete } = planBuild(build, [], NOW);
      expect(problems).toEqual([]);
      expect(complete).toBe(true);
    }
  });

  it('always add up to what is needed, however a part is split', () => {
    fc.assert(
      fc.property(
        fc.boolean(),
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 1, max: 40 }),
        (isPainted, each, n) => {
          const build = arch(isPainted, 3 * each);
          const split = changed(build, splitChanges(bough(build), new Map([['welder', n]])));
          const { parts, problems } = planBuild(split, [], NOW);
          const boughs = parts.filter(({ id }) => id.startsWith('bough'));
          const ends = boughs.filter(({ id }) => !isPainted || boughs.length === 1 || id !== 'bough');
          const need = ends.reduce((sum, part) => sum + part.need, 0);
          expect(need).toBe(3 * each);
          expect(problems.some(({ field }) => field === 'parts.bough.ways.welder.units')).toBe(n > 3 * each);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('say what is wrong with a name, with the field, the value and the ways there are', () => {
    const build = arch(false);
    const wrong = (change: Parameters<typeof changed>[1][number]) =>
      planBuild(changed(build, [change]), [], NOW).problems.map(({ field, message }) => `${field}: ${message}`);
    expect(wrong({ kind: 'set', list: 'parts', key: 'bough', field: 'way', value: 'smith' })).toEqual([
      'parts.bough.way: "smith" is no way of bough; name one of its ways: here, welder.',
    ]);
    expect(wrong({ kind: 'set', list: 'steps', key: 'turn', field: 'way', value: 'here' })).toEqual([
      'steps.turn.way: "here" is no way of peg, which has none; add the way to peg, or leave this empty.',
    ]);
    expect(
      wrong({ kind: 'set', list: 'parts', key: 'bough', field: 'ways', value: [WAYS[0], { ...WAYS[1], units: 20 }] }),
    ).toEqual([
      'parts.bough.ways.welder.units: 20 of bough are to come by "by the welder", but only 9 are needed beside the others; give at most 9.',
    ]);
  });
});
