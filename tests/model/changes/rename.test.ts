import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluateFormula, parseFormula } from '../../../server/engine/01-quantities/formula.ts';
import {
  applyChanges,
  type Build,
  buildFileSchema,
  FORMULA_FIELDS,
  knownNames,
  namesIn,
  renamedFormula,
} from '../../../server/model/index.ts';
import { anyBuild } from '../../support/changes/any-build.ts';
import { fakeBuild } from '../../support/fake-build.ts';

const NAMES = ['rows', 'row', 'h', 'min', 'e1', 'x_2'];
/** Formulas that can be read, with names that look like units, functions and numbers. */
const formula = fc.letrec<{ formula: string }>((tie) => ({
  formula: fc.oneof(
    { maxDepth: 4 },
    fc.constantFrom(...NAMES),
    fc.constantFrom('2', '0.5', '1e3', '2.5e-1', '7.'),
    fc.tuple(tie('formula'), fc.constantFrom('+', ' - ', '*', ' / ', ' < '), tie('formula')).map((it) => it.join('')),
    fc.tuple(tie('formula'), tie('formula')).map(([a, b]) => `max (${a}, ${b})`),
    tie('formula').map((it) => `(${it})`),
    fc.tuple(tie('formula'), tie('formula'), tie('formula')).map(([a, b, c]) => `${a} ? ${b} : ${c}`),
  ),
})).formula;
const NEW_NAMES = new Map([
  ['rows', 'row'],
  ['row', 'rows'],
  ['h', 'height'],
  ['e1', 'edge'],
]);

describe('a formula with its names changed', () => {
  it('has the value that it had, for whatever the names stand for', () => {
    fc.assert(
      fc.property(
        formula,
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 6, maxLength: 6 }),
        (text, numbers) => {
          const before = parseFormula(text);
          fc.pre(before.ok);
          const values = new Map(NAMES.map((name, i) => [name, numbers[i]!]));
          const renamed = new Map([...values].map(([name, value]) => [NEW_NAMES.get(name) ?? name, value]));
          const after = parseFormula(renamedFormula(text, NEW_NAMES));
          if (!before.ok || !after.ok) throw new Error(`${text} cannot be read any more`);
          const [was, is] = [
            evaluateFormula(before.formula, (name) => values.get(name)),
            evaluateFormula(after.formula, (name) => renamed.get(name)),
          ];
          expect(is.ok ? is.value : is.problem.code).toEqual(was.ok ? was.value : was.problem.code);
          expect(namesIn(text)).toEqual(before.formula.names);
        },
      ),
      { numRuns: 500 },
    );
  });

  it.each([
    ['2 * rows + max(rows, 4)', '2 * lines + max(lines, 4)'],
    ['rows_2 + rowsrows + Rows', 'rows_2 + rowsrows + Rows'],
    ['rows(3)', 'rows(3)'],
    ['rows (3)', 'rows (3)'],
    ['2 rows', '2 rows'],
    ['rows×2 − rows', 'lines×2 − lines'],
    ['größe + rows', 'größe + lines'],
    ['1e3 + rows', '1e3 + lines'],
  ])('turns %s into %s', (before, after) => {
    expect(renamedFormula(before, new Map([['rows', 'lines']]))).toBe(after);
  });

  it('leaves lengths of time alone, whatever parameters are called', () => {
    const names = new Map(['h', 'min', 'd', 'w', 'hours'].map((name) => [name, 'other']));
    for (const text of ['2 h 30 min', '90min', '3 d', '-2 h', '1.5 hours', '2 w']) {
      expect(renamedFormula(text, names)).toBe(text);
    }
  });
});

describe('a parameter that is renamed', () => {
  const rename = (key: string, to: string) => ({ kind: 'rename', list: 'parameters', key, to }) as const;
  const made = (build: Build, ...changes: Parameters<typeof applyChanges>[1]): Build => {
    const result = applyChanges(build, changes);
    if (!result.ok) throw new Error(result.problems[0]!.message);
    return result.value;
  };

  it('is so everywhere at once: in formulas, sets and what drawings depend on', () => {
    const after = made(fakeBuild(), rename('panels', 'boards'), rename('fish_per_panel', 'fish_per_board'));
    expect(JSON.stringify(after)).not.toMatch(/"(panels|[^"]*fish_per_panel[^"]*)"(?!,"origin)/);
    expect(after.parameters!.map(({ name }) => name)).toEqual(['boards', 'fish_per_board', 'fish', 'crank_minutes']);
    expect(after.parameters![2]!.formula).toBe('boards * fish_per_board');
    expect(after.sets!.count).toBe('boards');
    expect(after.parts![1]!.dependsOn).toEqual(['fish_per_board']);
  });

  it('may be changed in the same list, by the name it had', () => {
    const after = made(
      fakeBuild(),
      { kind: 'set', list: 'parameters', key: 'fish', field: 'formula', value: 'panels * 20' },
      rename('panels', 'boards'),
      { kind: 'set', list: 'parameters', key: 'panels', field: 'value', value: 4 },
    );
    expect(after.parameters![0]).toMatchObject({ name: 'boards', value: 4 });
    expect(after.parameters![2]!.formula).toBe('boards * 20');
  });

  it('may swap its name with another', () => {
    const after = made(fakeBuild(), rename('panels', 'fish_per_panel'), rename('fish_per_panel', 'panels'));
    expect(after.parameters!.slice(0, 2)).toMatchObject([
      { name: 'fish_per_panel', value: 3 },
      { name: 'panels', value: 24 },
    ]);
    expect(after.parameters![2]!.formula).toBe('fish_per_panel * panels');
  });

  it('and called back is what it was, in any build', () => {
    fc.assert(
      fc.property(anyBuild, (build) => {
        const [first] = build.parameters ?? [];
        fc.pre(first !== undefined && build.parameters!.filter(({ name }) => name === first!.name).length === 1);
        const away = made(build, rename(first!.name, 'elsewhere'));
        expect(made(away, rename('elsewhere', first!.name))).toEqual(build);
      }),
      { numRuns: 100 },
    );
  });
});

describe('the fields that hold formulas', () => {
  it('are those whose schema says so', () => {
    const { properties } = (buildFileSchema() as Schema).properties!.build!;
    const found = Object.entries(properties!).flatMap(([name, schema]) => {
      const isList = name in FORMULA_FIELDS;
      return pathsOf(schema, isList ? '' : name).map((path) => [isList ? name : 'build', path] as const);
    });
    const listed = Object.entries(FORMULA_FIELDS).flatMap(([list, paths]) =>
      paths.map((path) => [list, path] as const),
    );
    const sorted = (pairs: readonly (readonly [string, string])[]) => pairs.map((it) => it.join(' ')).sort();
    expect([...new Set(sorted(found))]).toEqual(sorted(listed));
  });
});

interface Schema {
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
}

/** Paths to whatever is described as a formula, and to the formula of a parameter. */
function pathsOf(schema: Schema, path: string): string[] {
  if (/formula/.test(schema.description ?? '')) return [path];
  const inner = Object.entries(schema.properties ?? {}).flatMap(([key, it]) =>
    key === 'formula' ? [key] : pathsOf(it, path === '' ? key : `${path}.${key}`),
  );
  const items = schema.items === undefined ? [] : pathsOf(schema.items, path === '' ? '' : `${path}[]`);
  return [...inner, ...items, ...(schema.anyOf ?? []).flatMap((it) => pathsOf(it, path))];
}

it('renames what the answers of decisions set, and their formulas', () => {
  const build = fakeBuild();
  const name = build.parameters![0]!.name;
  const part = build.parts![0]!.id;
  const changes = [
    { list: 'parameters' as const, key: name, field: 'value', value: 4 },
    { list: 'parts' as const, key: part, field: 'count', value: `2 * ${name}` },
    { list: 'parts' as const, key: part, field: 'dependsOn', value: [name] },
  ];
  const decisions = [
    { id: 'how', question: 'How many?', waits: [build.steps[0]!.id], answers: ['as it is', { name: 'more', changes }] },
  ];
  const made = applyChanges({ ...build, decisions }, [
    { kind: 'rename', list: 'parameters', key: name, to: 'rows_of_fish' },
  ]);
  expect(made).toMatchObject({ ok: true });
  const answer = made.ok ? made.value.decisions![0]!.answers![1] : null;
  expect(answer).toEqual({
    name: 'more',
    changes: [
      { ...changes[0], key: 'rows_of_fish' },
      { ...changes[1], value: '2 * rows_of_fish' },
      { ...changes[2], value: ['rows_of_fish'] },
    ],
  });
});

describe('names as people write them', () => {
  const names = ['drums_per_bough', 'drums', 'Reach_2'];
  it.each([
    ['boughs * Drums per bough', 'boughs * drums_per_bough'],
    ['max(drums per  bough, reach 2) + 3', 'max(drums_per_bough, Reach_2) + 3'],
    ['drums + drums', 'drums + drums'],
    ['2 h', '2 h'],
    ['drums per reach', 'drums per reach'],
  ])('%j is %j', (typed, meant) => {
    expect(knownNames(typed, names)).toBe(meant);
  });

  it('leave every formula that can be read as it is', () => {
    fc.assert(
      fc.property(formula, (text) => {
        fc.pre(parseFormula(text).ok);
        expect(knownNames(text, [...NAMES, 'rows_row', 'row_h', 'h_min'])).toBe(text);
      }),
      { numRuns: 200 },
    );
  });
});
