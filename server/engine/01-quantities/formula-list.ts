/** Everything a formula may call, listed with a worked example each. */
import type { ListedFormula } from '../../model/index.ts';
import { FABRICATION_FORMULAS } from './fabrication.ts';
import { evaluateFormula } from './formula.ts';
import { formulaFunctions } from './formula-functions.ts';
import { parseFormula } from './formula-syntax.ts';

/**
 * The functions of the trade by subject, then arithmetic: arguments with units and ranges, unit of the result, how far
 * it can be trusted, source, and an example whose result is computed by the function itself.
 */
export function formulaList(): readonly ListedFormula[] {
  return [...FABRICATION_FORMULAS.map(ofTheTrade), ...ARITHMETIC.map(ofArithmetic)];
}

function ofTheTrade(formula: (typeof FABRICATION_FORMULAS)[number]): ListedFormula {
  const { name, subject, answers, arguments: ranges, gives, class: trust, source, example } = formula;
  const text = `${name}(${example.arguments.join(', ')})`;
  const about = { name, subject, answers, arguments: ranges, rest: false, gives, source };
  return { ...about, class: trust, example: { text, value: worked(text) } };
}

function ofArithmetic([text, answers, gives = '']: Arithmetic): ListedFormula {
  const name = text.slice(0, text.indexOf('('));
  const known = formulaFunctions().get(name);
  const ranges = known?.arguments ?? IF.map((one) => ({ name: one, unit: '' }));
  return {
    ...{ name, subject: 'arithmetic', answers, arguments: ranges, rest: known?.rest ?? false, gives },
    ...{ class: 'physics', source: 'arithmetic', example: { text, value: worked(text) } },
  };
}

/** What an example comes to. Throws where it is no formula: then the list has a fault. */
function worked(text: string): number {
  const parsed = parseFormula(text);
  const result = parsed.ok ? evaluateFormula(parsed.formula, () => undefined) : parsed;
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
}

type Arithmetic = readonly [text: string, answers: string, gives?: string];

const IF = ['test', 'then', 'otherwise'];

const ARITHMETIC: readonly Arithmetic[] = [
  ['if(3 > 2, 10, 20)', 'one number or another, by a test'],
  ['min(3, 5, 2)', 'the least of some numbers'],
  ['max(3, 5, 2)', 'the greatest of some numbers'],
  ['sum(3, 5, 2)', 'some numbers added up'],
  ['ceil(6.1)', 'rounded up to a whole number'],
  ['floor(6.9)', 'rounded down to a whole number'],
  ['round(2.345, 1)', 'rounded to so many digits, to whole numbers where none are given'],
  ['abs(-4)', 'without its sign'],
  ['sqrt(81)', 'square root'],
  ['exp(1)', 'power of e'],
  ['ln(20)', 'natural logarithm'],
  ['log10(1000)', 'logarithm to base 10'],
  ['mod(17, 5)', 'what division leaves over'],
  ['hypot(300, 400)', 'the diagonal of two lengths at a right angle'],
  ['sin(30)', 'sine of an angle in degrees'],
  ['cos(60)', 'cosine of an angle in degrees'],
  ['tan(45)', 'tangent of an angle in degrees'],
  ['asin(0.5)', 'the angle of a sine', 'degrees'],
  ['acos(0.5)', 'the angle of a cosine', 'degrees'],
  ['atan(1)', 'the angle of a tangent', 'degrees'],
  ['atan2(1, 1)', 'the angle of a point from its two coordinates', 'degrees'],
  ['radians(180)', 'degrees as radians', 'radians'],
  ['degrees(pi)', 'radians as degrees', 'degrees'],
];
