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
  const { name, subject, arguments: ranges, gives, class: trust, source, example } = formula;
  const text = `${name}(${example.arguments.join(', ')})`;
  const about = { name, subject, arguments: ranges, rest: false, gives, source };
  return { ...about, class: trust, example: { text, value: worked(text) } };
}

function ofArithmetic([text, gives = '']: Arithmetic): ListedFormula {
  const name = text.slice(0, text.indexOf('('));
  const known = formulaFunctions().get(name);
  const ranges = known?.arguments ?? IF.map((one) => ({ name: one, unit: '' }));
  return {
    ...{ name, subject: 'arithmetic', arguments: ranges, rest: known?.rest ?? false, gives },
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

type Arithmetic = readonly [text: string, gives?: string];

const IF = ['test', 'then', 'otherwise'];

const ARITHMETIC: readonly Arithmetic[] = [
  ['if(3 > 2, 10, 20)'],
  ['min(3, 5, 2)'],
  ['max(3, 5, 2)'],
  ['sum(3, 5, 2)'],
  ['ceil(6.1)'],
  ['floor(6.9)'],
  ['round(2.345, 1)'],
  ['abs(-4)'],
  ['sqrt(81)'],
  ['exp(1)'],
  ['ln(20)'],
  ['log10(1000)'],
  ['mod(17, 5)'],
  ['hypot(300, 400)'],
  ['sin(30)'],
  ['cos(60)'],
  ['tan(45)'],
  ['asin(0.5)', 'degrees'],
  ['acos(0.5)', 'degrees'],
  ['atan(1)', 'degrees'],
  ['atan2(1, 1)', 'degrees'],
  ['radians(180)', 'radians'],
  ['degrees(pi)', 'degrees'],
];
