/** Formulas of the design: checked once, evaluated for any values, never able to run code. */
import { problemTexts, type Sentence, saidOf } from '../../model/index.ts';
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

type FormulaResult =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly problem: FormulaProblem };

/** The value of a name, or undefined when there is no such name. */
type NameLookup = (name: string) => number | undefined;

/**
 * Computes a parsed formula. Comparisons give 1 or 0 and take numbers within arithmetic noise (one part in 10^9) as
 * equal; `&&`, `||`, `test ? a : b` and `if(test, a, b)` compute only what they need, so if(n == 0, 0, 1 / n) is safe.
 * Angles are in degrees. The constant `pi` needs no lookup. Each node is visited at most once: the cost is bounded by
 * the text's length. A result is always finite; otherwise the problem says what failed, at which character, and what
 * would be right.
 */
export function evaluateFormula(formula: ParsedFormula, lookup: NameLookup, field = 'formula'): FormulaResult {
  const walk: Walk = { formula, lookup, field, problem: null };
  const value = compute(formula.root, walk);
  if (walk.problem) return { ok: false, problem: walk.problem };
  return { ok: true, value: value + 0 };
}

/** A named number of the design. Exactly one of `value`, `formula` and `range` is meant to be there. */
interface ParameterInput {
  readonly name: string;
  readonly value?: number | undefined;
  readonly formula?: string | undefined;
  readonly range?: { readonly low: number; readonly likely: number; readonly high: number } | undefined;
}

interface ParameterSolution {
  /** By name; what could not be computed is absent. */
  readonly values: ReadonlyMap<string, number>;
  readonly problems: readonly FormulaProblem[];
}

/**
 * Computes all parameters of a design, in whatever order they are listed; uncertain ones at their likely value. A value
 * of `overrides` replaces a value, a formula or a range (what-ifs, drawn futures). A broken parameter is a problem with
 * its name as field and leaves the others computed. A circle is named in order, such as "panels -> fish -> panels", and
 * so is every parameter that depends on a broken one. Cost linear in the length of all formulas.
 */
export function solveParameters(
  parameters: readonly ParameterInput[],
  overrides: ReadonlyMap<string, number> = new Map(),
): ParameterSolution {
  return evaluateParameters(prepareParameters(parameters), overrides);
}

/** Parameters parsed, checked and ordered once, to be evaluated many times. */
interface PreparedParameters {
  readonly inOrder: readonly { readonly input: ParameterInput; readonly formula: ParsedFormula | null }[];
  /** Found without evaluating: unreadable formulas, circles, names. */
  readonly problems: readonly FormulaProblem[];
  /** Names that stand in the design but can have no value. */
  readonly broken: ReadonlySet<string>;
}

/**
 * The part of {@link solveParameters} that does not depend on values. Use it once where thousands of futures are
 * evaluated.
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
  overrides: ReadonlyMap<string, number> = new Map(),
): ParameterSolution {
  const values = new Map<string, number>();
  const found: FormulaProblem[] = [...problems];
  const unusable = new Set(broken);
  for (const [name, value] of overrides) if (Number.isFinite(value)) values.set(name, value);
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
    return fail(walk, node, 'unknown-name', problemTexts.formula.unknownParameter(node.name));
  }
  return checkFinite(value, walk, node, problemTexts.formula.infiniteName(node.name, value));
}

function computeBinary(node: FormulaNode & { kind: 'binary' }, walk: Walk): number {
  const left = compute(node.left, walk);
  if (node.operator === '&&' && left === 0) return 0;
  if (node.operator === '||' && left !== 0) return walk.problem ? Number.NaN : 1;
  const right = compute(node.right, walk);
  if (walk.problem) return Number.NaN;
  if (node.operator === '/' && right === 0) {
    return fail(walk, node.right, 'division-by-zero', problemTexts.formula.zeroDivisor(sourceOf(node.right, walk)));
  }
  const value = applyOperator(node.operator, left, right);
  const hint = problemTexts.formula.infiniteResult(`${left} ${node.operator} ${right}`);
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
    return fail(walk, node, 'wrong-argument-count', problemTexts.formula.ifArguments(node.arguments.length));
  }
  return compute(compute(test!, walk) !== 0 ? then! : otherwise!, walk);
}

function computeCall(node: FormulaNode & { kind: 'call' }, walk: Walk): number {
  const entry = formulaFunctions().get(node.name);
  if (!entry) {
    return fail(walk, node, 'unknown-function', problemTexts.formula.unknownFunction(node.name));
  }
  const count = node.arguments.length;
  const least = entry.arguments.filter((range) => !range.optional).length;
  if (count < least || (count > entry.arguments.length && !entry.rest)) {
    const wanted = entry.arguments.map(({ name, optional }) => (optional ? `${name}?` : name)).join(', ');
    const message = problemTexts.formula.wrongArguments(`${node.name}(${wanted}${entry.rest ? ', ...' : ''})`, count);
    return fail(walk, node, 'wrong-argument-count', message);
  }
  const values = node.arguments.map((argument) => compute(argument, walk));
  if (walk.problem) return Number.NaN;
  const fault = findArgumentFault(node.name, entry.arguments, values);
  if (fault) return fail(walk, node, 'argument-out-of-range', fault);
  const value = callFunction(entry, values);
  return checkFinite(value, walk, node, problemTexts.formula.infiniteCall(`${node.name}(${values.join(', ')})`));
}

function checkFinite(value: number, walk: Walk, node: FormulaNode, hint: Sentence): number {
  return Number.isFinite(value) || walk.problem ? value : fail(walk, node, 'not-finite', hint);
}

function fail(walk: Walk, node: FormulaNode, code: FormulaProblemCode, what: Sentence): number {
  const at = node.from + 1;
  const said = saidOf(problemTexts.formula.noResult(at, shorten(walk.formula.text), what));
  walk.problem ??= { code, field: walk.field, value: shorten(walk.formula.text), ...said, at };
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
  const said = saidOf(problemTexts.formula.needsBroken(name, missing));
  return { ok: false, problem: { code: 'needs-broken-name', field: name, value: formula.text, ...said, at: null } };
}

/** Null when the formula was unreadable, which has been reported. */
function plainValue({ name, formula, range, value }: ParameterInput): FormulaResult | null {
  if (formula !== undefined) return null;
  const number = value ?? range?.likely;
  if (number !== undefined && Number.isFinite(number)) return { ok: true, value: number };
  const said = saidOf(problemTexts.formula.noValue(name, number ?? null));
  return { ok: false, problem: { code: 'value-missing', field: name, value: String(number ?? ''), ...said, at: null } };
}

function rangeProblem(
  name: string,
  { low, likely, high }: NonNullable<ParameterInput['range']>,
): FormulaProblem | null {
  if (low <= likely && likely <= high) return null;
  const value = `${low} / ${likely} / ${high}`;
  const said = saidOf(problemTexts.formula.rangeOrder(name, value));
  return { code: 'range-out-of-order', field: name, value, ...said, at: null };
}

function nameProblem(name: string, taken: ReadonlyMap<string, number>): FormulaProblem | null {
  const problem = { field: name, value: shorten(name), at: null };
  if (!isFormulaName(name)) {
    return { ...problem, code: 'name-invalid', ...saidOf(problemTexts.formula.badName(shorten(name))) };
  }
  if (CONSTANTS.has(name)) {
    return { ...problem, code: 'name-taken', ...saidOf(problemTexts.formula.constant(name)) };
  }
  if (!taken.has(name)) return null;
  return { ...problem, code: 'name-taken', ...saidOf(problemTexts.formula.sameName(name)) };
}

function circleProblem(names: readonly string[], value: string): FormulaProblem {
  const said = saidOf(problemTexts.formula.circle(describeCircle(names)));
  return { code: 'formula-circle', field: names[0]!, value: shorten(value), ...said, at: null };
}
