/** Formulas of the design: checked once, evaluated for any values, never able to run code. */
import { dependencyOrder, describeCircle, isNearlyEqual } from '../numbers/index.ts';
import { callFunction, findArgumentFault, formulaFunctions } from './formula-functions.ts';
import {
  type FormulaNode,
  type FormulaProblem,
  type FormulaProblemCode,
  isFormulaName,
  type ParsedFormula,
  parseFormula,
  shorten,
} from './formula-syntax.ts';

export { type FormulaProblem, isFormulaName, parseFormula } from './formula-syntax.ts';

export type FormulaResult =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly problem: FormulaProblem };

/** The value of a name, or undefined when there is no such name. */
export type NameLookup = (name: string) => number | undefined;

/**
 * Computes a parsed formula. Comparisons give 1 or 0 and take numbers within arithmetic noise (one part in 10^9) as equal;
 * `&&`, `||`, `test ? a : b` and `if(test, a, b)` compute only what they need, so if(n == 0, 0, 1 / n) is safe. Angles are in
 * degrees. The constant `pi` needs no lookup. Each node is visited at most once: the cost is bounded by the text's length.
 * A result is always finite; otherwise the problem says what failed, at which character, and what would be right.
 */
export function evaluateFormula(formula: ParsedFormula, lookup: NameLookup, field = 'formula'): FormulaResult {
  const walk: Walk = { formula, lookup, field, problem: null };
  const value = compute(formula.root, walk);
  if (walk.problem) return { ok: false, problem: walk.problem };
  return { ok: true, value: value + 0 };
}

/** A named number of the design. Exactly one of `value`, `formula` and `range` is meant to be there. */
export interface ParameterInput {
  readonly name: string;
  readonly value?: number | undefined;
  readonly formula?: string | undefined;
  readonly range?: { readonly low: number; readonly likely: number; readonly high: number } | undefined;
}

export interface ParameterSolution {
  /** By name; what could not be computed is absent. */
  readonly values: ReadonlyMap<string, number>;
  readonly problems: readonly FormulaProblem[];
}

/**
 * Computes all parameters of a design, in whatever order they are given; uncertain ones at their likely value, or at the
 * value `given` from outside (which also replaces a plain value or a formula, for what-ifs and drawn futures).
 * A broken parameter is a problem with its name as field and leaves the others computed; a circle is named in order,
 * such as "panels -> fish -> panels"; what needs a broken one is said to. Cost linear in the length of all formulas.
 */
export function solveParameters(
  parameters: readonly ParameterInput[],
  given: ReadonlyMap<string, number> = new Map(),
): ParameterSolution {
  return evaluateParameters(prepareParameters(parameters), given);
}

/** Parameters parsed, checked and ordered once, to be evaluated many times. */
export interface PreparedParameters {
  readonly inOrder: readonly { readonly input: ParameterInput; readonly formula: ParsedFormula | null }[];
  /** Found without evaluating: unreadable formulas, circles, names. */
  readonly problems: readonly FormulaProblem[];
  /** Names that stand in the design but can have no value. */
  readonly broken: ReadonlySet<string>;
}

/**
 * The part of {@link solveParameters} that does not depend on values. Use it once where thousands of futures are evaluated.
 */
export function prepareParameters(parameters: readonly ParameterInput[]): PreparedParameters {
  const problems: FormulaProblem[] = [];
  const broken = new Set<string>();
  const entries: { input: ParameterInput; formula: ParsedFormula | null }[] = [];
  const indexByName = new Map<string, number>();
  for (const input of parameters) {
    const problem = nameProblem(input.name, indexByName);
    if (problem) {
      problems.push(problem);
      continue;
    }
    indexByName.set(input.name, entries.length);
    entries.push({ input, formula: readParameter(input, problems, broken) });
  }
  const { order, circles, behindCircles } = dependencyOrder(
    entries.map(({ formula }) => neededIndices(formula, indexByName)),
  );
  for (const circle of circles) {
    const names = circle.map((i) => entries[i]!.input.name);
    for (const name of names) broken.add(name);
    problems.push(circleProblem(names, entries[circle[0]!]!.input.formula ?? ''));
  }
  for (const i of behindCircles) broken.add(entries[i]!.input.name);
  return { inOrder: [...order, ...behindCircles].map((i) => entries[i]!), problems, broken };
}

/** The part of {@link solveParameters} that depends on values. */
export function evaluateParameters(
  { inOrder, problems, broken }: PreparedParameters,
  given: ReadonlyMap<string, number> = new Map(),
): ParameterSolution {
  const values = new Map<string, number>();
  const found: FormulaProblem[] = [...problems];
  const unusable = new Set(broken);
  for (const [name, value] of given) if (Number.isFinite(value)) values.set(name, value);
  for (const { input, formula } of inOrder) {
    if (values.has(input.name)) continue;
    const result = formula ? evaluateNamed(input.name, formula, values, unusable) : plainValue(input);
    if (result === null) continue;
    if (result.ok) values.set(input.name, result.value);
    else {
      unusable.add(input.name);
      found.push(result.problem);
    }
  }
  return { values, problems: found };
}

interface Walk {
  readonly formula: ParsedFormula;
  readonly lookup: NameLookup;
  readonly field: string;
  problem: FormulaProblem | null;
}

const CONSTANTS: ReadonlyMap<string, number> = new Map([['pi', Math.PI]]);

function compute(node: FormulaNode, walk: Walk): number {
  if (walk.problem) return Number.NaN;
  switch (node.kind) {
    case 'number':
      return node.value;
    case 'name':
      return computeName(node, walk);
    case 'unary': {
      const operand = compute(node.operand, walk);
      if (node.operator === '!') return operand === 0 ? 1 : 0;
      return node.operator === '-' ? -operand : operand;
    }
    case 'binary':
      return computeBinary(node, walk);
    case 'choice':
      return compute(compute(node.test, walk) !== 0 ? node.then : node.otherwise, walk);
    case 'call':
      return node.name === 'if' ? computeIf(node, walk) : computeCall(node, walk);
  }
}

function computeName(node: FormulaNode & { kind: 'name' }, walk: Walk): number {
  const value = CONSTANTS.get(node.name) ?? walk.lookup(node.name);
  if (value === undefined) {
    return fail(walk, node, 'unknown-name', `there is no parameter "${node.name}"; add it or correct the name`);
  }
  return checkFinite(value, walk, node, `${node.name} is ${value}; it must be a finite number`);
}

function computeBinary(node: FormulaNode & { kind: 'binary' }, walk: Walk): number {
  const left = compute(node.left, walk);
  if (node.operator === '&&' && left === 0) return 0;
  if (node.operator === '||' && left !== 0) return walk.problem ? Number.NaN : 1;
  const right = compute(node.right, walk);
  if (walk.problem) return Number.NaN;
  if (node.operator === '/' && right === 0) {
    const divisor = sourceOf(node.right, walk);
    const isZero = divisor === '0' ? 'the divisor is 0' : `${divisor} is 0`;
    return fail(walk, node.right, 'division-by-zero', `${isZero}; it must be another number than 0 to divide by`);
  }
  const value = applyOperator(node.operator, left, right);
  const hint = `${left} ${node.operator} ${right} is no finite number; keep the numbers smaller, and powers of negative numbers whole`;
  return checkFinite(value, walk, node, hint);
}

function applyOperator(operator: (FormulaNode & { kind: 'binary' })['operator'], left: number, right: number): number {
  switch (operator) {
    case '+':
      return left + right;
    case '-':
      return left - right;
    case '*':
      return left * right;
    case '/':
      return left / right;
    case '^':
      return left ** right;
    case '==':
      return Number(isNearlyEqual(left, right));
    case '!=':
      return Number(!isNearlyEqual(left, right));
    case '<':
      return Number(left < right && !isNearlyEqual(left, right));
    case '>':
      return Number(left > right && !isNearlyEqual(left, right));
    case '<=':
      return Number(left <= right || isNearlyEqual(left, right));
    case '>=':
      return Number(left >= right || isNearlyEqual(left, right));
    case '&&':
    case '||':
      return Number(right !== 0);
  }
}

function computeIf(node: FormulaNode & { kind: 'call' }, walk: Walk): number {
  const [test, then, otherwise] = node.arguments;
  if (node.arguments.length !== 3) {
    const message = `if takes 3 arguments, a test and two values, but ${node.arguments.length} are given`;
    return fail(walk, node, 'wrong-argument-count', message);
  }
  return compute(compute(test!, walk) !== 0 ? then! : otherwise!, walk);
}

function computeCall(node: FormulaNode & { kind: 'call' }, walk: Walk): number {
  const entry = formulaFunctions().get(node.name);
  if (!entry) {
    return fail(walk, node, 'unknown-function', `there is no function "${node.name}"; use one of the listed functions`);
  }
  const count = node.arguments.length;
  const least = entry.arguments.filter((range) => !range.optional).length;
  if (count < least || (count > entry.arguments.length && !entry.rest)) {
    const wanted = entry.arguments.map(({ name, optional }) => (optional ? `${name}?` : name)).join(', ');
    const message = `${node.name}(${wanted}${entry.rest ? ', ...' : ''}) is given ${count} arguments`;
    return fail(walk, node, 'wrong-argument-count', message);
  }
  const given = node.arguments.map((argument) => compute(argument, walk));
  if (walk.problem) return Number.NaN;
  const fault = findArgumentFault(node.name, entry.arguments, given);
  if (fault) return fail(walk, node, 'argument-out-of-range', fault);
  const value = callFunction(entry, given);
  return checkFinite(value, walk, node, `${node.name}(${given.join(', ')}) is no finite number; change its arguments`);
}

function checkFinite(value: number, walk: Walk, node: FormulaNode, hint: string): number {
  return Number.isFinite(value) || walk.problem ? value : fail(walk, node, 'not-finite', hint);
}

function fail(walk: Walk, node: FormulaNode, code: FormulaProblemCode, what: string): number {
  const at = node.from + 1;
  const message = `At character ${at} of "${shorten(walk.formula.text)}": ${what}.`;
  walk.problem ??= { code, field: walk.field, value: shorten(walk.formula.text), message, at };
  return Number.NaN;
}

function sourceOf(node: FormulaNode, walk: Walk): string {
  return shorten(walk.formula.text.slice(node.from, node.to));
}

function readParameter(input: ParameterInput, problems: FormulaProblem[], broken: Set<string>): ParsedFormula | null {
  if (input.range) {
    const problem = rangeProblem(input.name, input.range);
    if (problem) problems.push(problem);
  }
  if (input.formula === undefined) return null;
  const parsed = parseFormula(input.formula, input.name);
  if (parsed.ok) return parsed.formula;
  problems.push(parsed.problem);
  broken.add(input.name);
  return null;
}

function neededIndices(formula: ParsedFormula | null, indexByName: ReadonlyMap<string, number>): number[] {
  return (formula?.names ?? []).flatMap((name) => indexByName.get(name) ?? []);
}

function evaluateNamed(
  name: string,
  formula: ParsedFormula,
  values: ReadonlyMap<string, number>,
  unusable: ReadonlySet<string>,
): FormulaResult {
  const missing = formula.names.find((needed) => unusable.has(needed) && !values.has(needed));
  if (missing === undefined) return evaluateFormula(formula, (needed) => values.get(needed), name);
  const message = `${name} cannot be computed because "${missing}" has no value; correct "${missing}" first.`;
  return { ok: false, problem: { code: 'needs-broken-name', field: name, value: formula.text, message, at: null } };
}

/** Null when the formula was unreadable, which has been reported. */
function plainValue({ name, formula, range, value }: ParameterInput): FormulaResult | null {
  if (formula !== undefined) return null;
  const number = value ?? range?.likely;
  if (number !== undefined && Number.isFinite(number)) return { ok: true, value: number };
  const message = `${name} has ${number === undefined ? 'no value' : `the value ${number}`}; give it a number, a formula, or low, likely and high.`;
  return { ok: false, problem: { code: 'value-missing', field: name, value: String(number ?? ''), message, at: null } };
}

function rangeProblem(
  name: string,
  { low, likely, high }: NonNullable<ParameterInput['range']>,
): FormulaProblem | null {
  if (low <= likely && likely <= high) return null;
  const value = `${low} / ${likely} / ${high}`;
  const message = `${name} is given as low / likely / high ${value}; low must not be above likely, nor likely above high.`;
  return { code: 'range-out-of-order', field: name, value, message, at: null };
}

function nameProblem(name: string, taken: ReadonlyMap<string, number>): FormulaProblem | null {
  const problem = { field: name, value: shorten(name), at: null };
  if (!isFormulaName(name)) {
    const message = `"${shorten(name)}" cannot be a parameter's name; begin with a letter and go on with letters, digits and _.`;
    return { ...problem, code: 'name-invalid', message };
  }
  if (CONSTANTS.has(name)) {
    return { ...problem, code: 'name-taken', message: `"${name}" is a constant in formulas; choose another name.` };
  }
  if (!taken.has(name)) return null;
  return { ...problem, code: 'name-taken', message: `There are two parameters "${name}"; rename one of them.` };
}

function circleProblem(names: readonly string[], value: string): FormulaProblem {
  const message = `These formulas need each other in a circle: ${describeCircle(names)}; give one of them a number.`;
  return { code: 'formula-circle', field: names[0]!, value: shorten(value), message, at: null };
}
