/** The functions that a formula may call: arithmetic and those of the trade. */

import { type ListedArgument, problemTexts, type Sentence } from '../../model/index.ts';
import { ceilCount, floorCount, isNearlyWhole } from '../numbers/index.ts';
import { FABRICATION_FORMULAS } from './fabrication.ts';

/** A function that formulas may call. With `rest`, the last argument may be given again and again. */
interface FormulaFunction {
  readonly name: string;
  readonly arguments: readonly ListedArgument[];
  readonly rest: boolean;
  readonly compute: (...values: readonly number[]) => number;
}

/**
 * Everything a formula may call, by name: arithmetic, angles in degrees, and the fabrication formulas. A Map, so that
 * names such as constructor find nothing. `if` is not here: it evaluates only the branch it takes (see formula.ts).
 */
export function formulaFunctions(): ReadonlyMap<string, FormulaFunction> {
  return FUNCTIONS;
}

/** Calls a function whose arguments have been found in range; what must be whole loses its arithmetic noise first. */
export function callFunction(entry: FormulaFunction, values: readonly number[]): number {
  return entry.compute(...values.map((value, i) => (entry.arguments[i]?.whole ? Math.round(value) : value)));
}

/** What is wrong with these arguments, or null: the sentence names the argument, its value and what would be right. */
export function findArgumentFault(
  name: string,
  ranges: readonly ListedArgument[],
  values: readonly number[],
): Sentence | null {
  for (const [i, value] of values.entries()) {
    const range = ranges[Math.min(i, ranges.length - 1)]!;
    const wanted = unmetWish(range, value);
    if (wanted !== null) return problemTexts.formula.argument(name, range.name, `${value}${unitAfter(range)}`, wanted);
  }
  return null;
}

function unmetWish({ above, least, below, most, whole }: ListedArgument, value: number): Sentence | null {
  if (above !== undefined && !(value > above)) return problemTexts.formula.wanted.above(above);
  if (least !== undefined && !(value >= least)) return problemTexts.formula.wanted.least(least);
  if (below !== undefined && !(value < below)) return problemTexts.formula.wanted.below(below);
  if (most !== undefined && !(value <= most)) return problemTexts.formula.wanted.most(most);
  if (whole && !isNearlyWhole(value)) return problemTexts.formula.wanted.whole;
  return null;
}

function unitAfter(range: ListedArgument): string {
  return range.unit === '' ? '' : ` ${range.unit}`;
}

const DEGREES = 180 / Math.PI;

const any = (name: string): ListedArgument => ({ name, unit: '' });
const angle: ListedArgument = { name: 'angle', unit: 'degrees' };
const ratio: ListedArgument = { name: 'ratio', unit: '', least: -1, most: 1 };
const plain = (
  name: string,
  ranges: readonly ListedArgument[],
  compute: FormulaFunction['compute'],
  rest = false,
): FormulaFunction => ({ name, arguments: ranges, rest, compute });

const ARITHMETIC: readonly FormulaFunction[] = [
  plain('min', [any('a')], (...values) => Math.min(...values), true),
  plain('max', [any('a')], (...values) => Math.max(...values), true),
  plain('sum', [any('a')], (...values) => values.reduce((a, b) => a + b, 0), true),
  plain('ceil', [any('a')], (a) => ceilCount(a!)),
  plain('floor', [any('a')], (a) => floorCount(a!)),
  plain('round', [any('a'), { ...any('digits'), whole: true, least: 0, most: 12, optional: true }], roundHalfAway),
  plain('abs', [any('a')], (a) => Math.abs(a!)),
  plain('sqrt', [{ ...any('a'), least: 0 }], (a) => Math.sqrt(a!)),
  plain('exp', [any('a')], (a) => Math.exp(a!)),
  plain('ln', [{ ...any('a'), above: 0 }], (a) => Math.log(a!)),
  plain('log10', [{ ...any('a'), above: 0 }], (a) => Math.log10(a!)),
  plain('mod', [any('a'), { ...any('b'), above: 0 }], (a, b) => a! - b! * floorCount(a! / b!)),
  plain('hypot', [any('a'), any('b')], (a, b) => Math.hypot(a!, b!)),
  plain('sin', [angle], (a) => exactAtRightAngles(Math.sin, a!)),
  plain('cos', [angle], (a) => exactAtRightAngles(Math.cos, a!)),
  plain('tan', [angle], tangent),
  plain('asin', [ratio], (a) => Math.asin(a!) * DEGREES),
  plain('acos', [ratio], (a) => Math.acos(a!) * DEGREES),
  plain('atan', [any('a')], (a) => Math.atan(a!) * DEGREES),
  plain('atan2', [any('y'), any('x')], (y, x) => Math.atan2(y!, x!) * DEGREES),
  plain('radians', [angle], (a) => a! / DEGREES),
  plain('degrees', [{ name: 'angle', unit: 'radians' }], (a) => a! * DEGREES),
];

/** Sine, cosine and tangent of such angles as 30 or 90 degrees leave noise such as 6e-17 for 0; it is taken off. */
function exactAtRightAngles(wave: (radians: number) => number, degrees: number): number {
  return snapToHalves(wave((degrees % 360) / DEGREES));
}

function tangent(degrees: number): number {
  return snapToHalves(exactAtRightAngles(Math.sin, degrees) / exactAtRightAngles(Math.cos, degrees));
}

function snapToHalves(value: number): number {
  const halves = Math.round(2 * value);
  return Math.abs(2 * value - halves) < 1e-15 ? halves / 2 : value;
}

/** Halves go away from zero, as people round: round(2.5) is 3, round(-2.5) is -3. */
function roundHalfAway(value?: number, digits = 0): number {
  const scale = 10 ** digits;
  return (Math.sign(value!) * Math.floor(Math.abs(value!) * scale + 0.5 + 1e-9)) / scale;
}

const FUNCTIONS: ReadonlyMap<string, FormulaFunction> = new Map(
  [...ARITHMETIC, ...FABRICATION_FORMULAS.map((formula) => ({ ...formula, rest: false }))].map((entry) => [
    entry.name,
    entry,
  ]),
);
