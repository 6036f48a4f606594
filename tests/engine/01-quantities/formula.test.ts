import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  evaluateFormula,
  evaluateParameters,
  isFormulaName,
  parseFormula,
  prepareParameters,
  solveParameters,
} from '../../../server/engine/01-quantities/formula.ts';

const names = new Map([
  ['panels', 3],
  ['fish_per_panel', 24],
  ['zero', 0],
  ['größe', 2],
]);

function computed(text: string): number {
  const parsed = parseFormula(text);
  if (!parsed.ok) throw new Error(parsed.problem.message);
  const result = evaluateFormula(parsed.formula, (name) => names.get(name));
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
}

function problemOf(text: string, field?: string) {
  const parsed = parseFormula(text, field);
  if (!parsed.ok) return parsed.problem;
  const result = evaluateFormula(parsed.formula, (name) => names.get(name), field);
  if (result.ok) throw new Error(`"${text}" has the value ${result.value}`);
  return result.problem;
}

describe('formula arithmetic', () => {
  test.each([
    ['2 * panels * fish_per_panel', 144],
    ['2 + 3 * 4', 14],
    ['(2 + 3) * 4', 20],
    ['10 - 4 - 3', 3],
    ['16 / 4 / 2', 2],
    ['-2^2', -4],
    ['(-2)^2', 4],
    ['2^-1', 0.5],
    ['2^3^2', 512],
    ['-2^-2', -0.25],
    ['2 * -3', -6],
    ['2 - -3', 5],
    ['--3', 3],
    ['0.5e2', 50],
    ['.5 + 1.', 1.5],
    ['2 × 3 ÷ 4 − 1', 0.5],
    ['größe * 2', 4],
    ['pi', Math.PI],
  ])('%s is %d', (text, value) => {
    expect(computed(text)).toBeCloseTo(value, 12);
  });

  test.each([
    ['3 > 2', 1],
    ['3 <= 2', 0],
    ['0.1 * 3 == 0.3', 1],
    ['0.1 * 3 > 0.3', 0],
    ['panels != 3', 0],
    ['panels == 3 && zero == 0', 1],
    ['zero || !panels', 0],
    ['panels > 2 ? 10 : 20', 10],
    ['if(panels > 5, 10, 20)', 20],
    ['1 + 2 > 2 && 2 * 2 < 5', 1],
  ])('%s is %d', (text, value) => {
    expect(computed(text)).toBe(value);
  });

  test('computes only the branch it takes', () => {
    expect(computed('if(zero == 0, 7, 1 / zero)')).toBe(7);
    expect(computed('zero && 1 / zero')).toBe(0);
    expect(computed('1 || 1 / zero')).toBe(1);
  });

  test.each([
    ['min(3, 1, 2)', 1],
    ['max(3, 1, 2)', 3],
    ['sum(3, 1, 2)', 6],
    ['ceil(0.1 * 3 * 10)', 3],
    ['ceil(3.01)', 4],
    ['floor(0.3 / 0.1)', 3],
    ['round(2.5)', 3],
    ['round(-2.5)', -3],
    ['round(1.005, 2)', 1.01],
    ['abs(-4)', 4],
    ['sqrt(2)', Math.SQRT2],
    ['mod(-1, 3)', 2],
    ['hypot(3, 4)', 5],
    ['ln(exp(2))', 2],
    ['log10(1000)', 3],
  ])('%s is %d', (text, value) => {
    expect(computed(text)).toBeCloseTo(value, 12);
  });

  test('takes and gives angles in degrees', () => {
    expect(computed('sin(30)')).toBe(0.5);
    expect(computed('cos(90)')).toBe(0);
    expect(computed('tan(45)')).toBe(1);
    expect(computed('asin(1) + acos(0) + atan(1) + atan2(1, -1)')).toBeCloseTo(90 + 90 + 45 + 135, 12);
    expect(computed('radians(180) + degrees(pi)')).toBeCloseTo(Math.PI + 180, 12);
    expect(problemOf('tan(90)').code).toBe('not-finite');
  });

  test('gives the chord of a ring by the sine of half its angle', () => {
    expect(computed('2 * 600 * sin(180 / 68)')).toBeCloseTo(2 * 600 * Math.sin(Math.PI / 68), 10);
  });

  test('agrees with a second evaluation of random sums and products', () => {
    const { tree } = fc.letrec<{ tree: [string, number] }>((tie) => ({
      tree: fc.oneof(
        { depthSize: 'small' },
        fc.integer({ min: 0, max: 99 }).map((n): [string, number] => [String(n), n]),
        tie('tree').map(([text, value]): [string, number] => [`-(${text})`, -value]),
        fc
          .tuple(tie('tree'), fc.constantFrom('+', '-', '*'), tie('tree'))
          .map(([[a, x], sign, [b, y]]): [string, number] => [
            `(${a} ${sign} ${b})`,
            sign === '+' ? x + y : sign === '-' ? x - y : x * y,
          ]),
      ),
    }));
    fc.assert(
      fc.property(tree, ([text, value]) => {
        fc.pre(text.length < 500 && Math.abs(value) < 1e12);
        expect(computed(text)).toBe(value + 0);
      }),
    );
  });
});

describe('formula reading', () => {
  test('lists the names used, each once, without functions', () => {
    const parsed = parseFormula('ceil(panels * fish + panels)');
    expect(parsed.ok && parsed.formula.names).toEqual(['panels', 'fish']);
  });

  test.each([
    ['', 'formula-empty', null],
    ['   ', 'formula-empty', null],
    ['3 +', 'formula-unreadable', 4],
    ['3 @ 2', 'formula-unreadable', 3],
    ['2)', 'formula-unreadable', 2],
    ['((2', 'formula-unreadable', 4],
    ['()', 'formula-unreadable', 2],
    ['2 panels', 'formula-unreadable', 3],
    ['2 3', 'formula-unreadable', 3],
    ['2(3)', 'formula-unreadable', 2],
    ['max(2 3)', 'formula-unreadable', 7],
    ['max(2,)', 'formula-unreadable', 7],
    ['max(,2)', 'formula-unreadable', 5],
    ['2;', 'formula-unreadable', 2],
    ['1 < 2 < 3', 'formula-unreadable', 9],
    ['panels ? 1', 'formula-unreadable', 11],
    ['1e400', 'formula-unreadable', 1],
    ['2panels', 'formula-unreadable', 2],
    ['😀', 'formula-unreadable', 1],
  ])('%j is refused as %s at character %s', (text, code, at) => {
    expect(problemOf(text)).toMatchObject({ code, at, field: 'formula' });
  });

  test.each([
    ['1,5', 'decimals with a point'],
    ['(1,5)', 'decimals with a point'],
    ['5%', '0.05 for 5 %'],
    ['panels = 3', 'write =='],
    ['panels²', 'write ^2'],
  ])('%s is answered with what to write instead', (text, hint) => {
    expect(problemOf(text).message).toContain(hint);
  });

  test.each([
    'constructor',
    '__proto__',
    'panels.constructor',
    'panels["constructor"]',
    '(1).constructor("return 1")()',
    'constructor(1)',
    'toString()',
    'hasOwnProperty(panels)',
    'this',
    'globalThis',
    '[1, 2]',
    '"text"',
    '`text`',
    'panels => 1',
    'a = 1',
    'new Date()',
    'panels?.x',
    'panels ?? 1',
    'panels++',
    '{}',
    '/x/',
  ])('%s cannot reach anything but numbers', (text) => {
    expect(['formula-unreadable', 'unknown-name', 'unknown-function']).toContain(problemOf(text).code);
  });

  test('refuses what is too long or nested too deep', () => {
    expect(problemOf('1+'.repeat(600)).code).toBe('formula-too-long');
    expect(problemOf(`${'('.repeat(60)}1${')'.repeat(60)}`).code).toBe('formula-too-deep');
    expect(problemOf(`${'-'.repeat(900)}1`).code).toBe('formula-too-deep');
    expect(problemOf(`-${'2^'.repeat(400)}1`).code).toBe('formula-too-deep');
    expect(problemOf('abs('.repeat(200)).code).toBe('formula-too-deep');
    expect(computed(Array.from({ length: 400 }, () => '1').join('+'))).toBe(400);
  });

  test('answers any text with a number or a problem', () => {
    const texts = fc.oneof(
      fc.string({ maxLength: 40 }),
      fc.string({ unit: 'binary', maxLength: 20 }),
      fc
        .array(
          fc.constantFrom('1', 'panels', '+', '-', '*', '/', '^', '(', ')', ',', 'max(', '?', ':', '<', '&&', '!', ' '),
          { maxLength: 20 },
        )
        .map((pieces) => pieces.join('')),
    );
    fc.assert(
      fc.property(texts, (text) => {
        const parsed = parseFormula(text);
        const result = parsed.ok ? evaluateFormula(parsed.formula, () => 2) : parsed;
        if (result.ok) expect((result as { value: number }).value).toSatisfy(Number.isFinite);
        else expect(result.problem.message).toMatch(/\.$/);
      }),
      { numRuns: 2000 },
    );
  });

  test('knows which names formulas can use', () => {
    expect(['panels', '_x1', 'größe'].map(isFormulaName)).toEqual([true, true, true]);
    expect(['2x', 'a b', 'a-b', '', 'x'.repeat(61)].map(isFormulaName)).toEqual([false, false, false, false, false]);
  });
});

describe('formula problems', () => {
  test('names the divisor that is 0 and where it stands', () => {
    expect(problemOf('24 / (panels - 3)', 'fish')).toMatchObject({
      code: 'division-by-zero',
      field: 'fish',
      value: '24 / (panels - 3)',
      at: 6,
      message:
        'At character 6 of "24 / (panels - 3)": (panels - 3) is 0; it must be another number than 0 to divide by.',
    });
  });

  test('names an unknown name and an unknown function', () => {
    expect(problemOf('2 * pannels')).toMatchObject({ code: 'unknown-name', at: 5 });
    expect(problemOf('2 * ceiling(3)')).toMatchObject({ code: 'unknown-function', at: 5 });
  });

  test('says how many arguments a function takes', () => {
    expect(problemOf('feed(18000, 2)').message).toContain('feed(turns, teeth, chip_load) has 2 arguments');
    expect(problemOf('if(1, 2)').code).toBe('wrong-argument-count');
    expect(problemOf('abs()').code).toBe('wrong-argument-count');
    expect(problemOf('abs(1, 2)').code).toBe('wrong-argument-count');
  });

  test('says which argument is out of range, and its unit', () => {
    expect(problemOf('spindle_rpm(100, zero)').message).toContain('diameter is 0 mm; it must be more than 0');
    expect(problemOf('geodesic_nodes(2.5)').message).toContain('frequency is 2.5; it must be a whole number');
    expect(problemOf('sqrt(-1)').code).toBe('argument-out-of-range');
    expect(problemOf('units_to_start(10, 0)').code).toBe('argument-out-of-range');
    expect(problemOf('units_to_start(10, 0.9, 1)').message).toContain('confidence is 1; it must be less than 1');
  });

  test('takes a whole number with arithmetic noise as whole', () => {
    expect(computed('geodesic_nodes(0.1 * 3 * 10)')).toBe(92);
  });

  test('never gives a result that is not finite', () => {
    expect(problemOf('10 ^ 400').code).toBe('not-finite');
    expect(problemOf('(-8) ^ (1 / 3)').code).toBe('not-finite');
    expect(problemOf('exp(1000)').code).toBe('not-finite');
    const parsed = parseFormula('x');
    const result = parsed.ok && evaluateFormula(parsed.formula, () => Number.NaN);
    expect(result && !result.ok && result.problem.code).toBe('not-finite');
  });
});

describe('parameters', () => {
  test('are computed in whatever order they stand', () => {
    const { values, problems } = solveParameters([
      { name: 'herring', formula: 'panels * per_panel' },
      { name: 'per_panel', formula: 'rows * 6' },
      { name: 'panels', value: 3 },
      { name: 'rows', value: 4 },
    ]);
    expect(problems).toEqual([]);
    expect(Object.fromEntries(values)).toEqual({ panels: 3, rows: 4, per_panel: 24, herring: 72 });
  });

  test('stand at their likely value, or at the value given', () => {
    const parameters = [
      { name: 'panels', range: { low: 2, likely: 3, high: 5 } },
      { name: 'herring', formula: '24 * panels' },
    ];
    expect(solveParameters(parameters).values.get('herring')).toBe(72);
    expect(solveParameters(parameters, new Map([['panels', 5]])).values.get('herring')).toBe(120);
    const prepared = prepareParameters(parameters);
    expect([2, 4].map((n) => evaluateParameters(prepared, new Map([['panels', n]])).values.get('herring'))).toEqual([
      48, 96,
    ]);
  });

  test('may be given from outside in place of a formula', () => {
    const { values, problems } = solveParameters(
      [
        { name: 'broken', formula: '1 / 0' },
        { name: 'twice', formula: '2 * broken' },
      ],
      new Map([['broken', 4]]),
    );
    expect([values.get('twice'), problems]).toEqual([8, []]);
  });

  test('in a circle are named in order, and the rest is computed', () => {
    const { values, problems } = solveParameters([
      { name: 'width', value: 900 },
      { name: 'panels', formula: 'fish / 24' },
      { name: 'fish', formula: 'panels * 24' },
      { name: 'cranks', formula: 'fish' },
      { name: 'posts', formula: 'width / 300' },
    ]);
    expect(Object.fromEntries(values)).toEqual({ width: 900, posts: 3 });
    expect(problems.map(({ code, field }) => [code, field])).toEqual([
      ['formula-circle', 'panels'],
      ['needs-broken-name', 'cranks'],
    ]);
    expect(problems[0]!.message).toContain('panels -> fish -> panels');
    expect(problems[1]!.message).toBe('cranks cannot be computed because "fish" has no value; correct "fish" first.');
  });

  test('that refer to themselves are a circle of one', () => {
    expect(solveParameters([{ name: 'n', formula: 'n + 1' }]).problems[0]!.message).toContain('n -> n');
  });

  test('each say what is wrong with them, in a sentence with field and value', () => {
    const { values, problems } = solveParameters([
      { name: 'a', formula: '2 *' },
      { name: 'b', formula: '1 / zero_count' },
      { name: 'zero_count', value: 0 },
      { name: 'c', formula: 'a + b' },
      { name: 'd' },
      { name: 'e', value: Number.NaN },
      { name: 'f', range: { low: 5, likely: 3, high: 4 } },
      { name: 'two words', value: 1 },
      { name: 'pi', value: 3 },
      { name: 'zero_count', value: 7 },
      { name: 'fine', formula: 'zero_count + 1' },
    ]);
    expect(Object.fromEntries(values)).toEqual({ zero_count: 0, f: 3, fine: 1 });
    expect(problems.map(({ code, field }) => `${field}: ${code}`).toSorted()).toEqual([
      'a: formula-unreadable',
      'b: division-by-zero',
      'c: needs-broken-name',
      'd: value-missing',
      'e: value-missing',
      'f: range-out-of-order',
      'pi: name-taken',
      'two words: name-invalid',
      'zero_count: name-taken',
    ]);
    for (const { message, field } of problems) {
      expect(message).toMatch(/\.$/);
      expect(field).not.toBe('');
    }
  });

  test('may form a chain of 20,000', () => {
    const chain = Array.from({ length: 20_000 }, (_, i) =>
      i === 0 ? { name: 'n0', value: 1 } : { name: `n${i}`, formula: `n${i - 1} + 1` },
    );
    expect(solveParameters(chain.toReversed()).values.get('n19999')).toBe(20_000);
  });
});
