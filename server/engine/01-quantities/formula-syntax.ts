/** From the text of a formula to its tree, with the place of every fault. */

import jsep from 'jsep';
import { problemTexts, type Said, type Sentence, saidOf } from '../../model/index.ts';

/**
 * What a formula may look like. The parser library only reads; everything it could read that is not on the list here
 * (members, strings, arrays, assignments, several expressions) is refused, so a formula is a finite tree of arithmetic
 * and can run nothing.
 */

const LONGEST_FORMULA = 1000;
const DEEPEST_FORMULA = 50;

const FORMULA_PROBLEM_CODES = [
  'formula-empty',
  'formula-too-long',
  'formula-too-deep',
  'formula-unreadable',
  'unknown-name',
  'unknown-function',
  'wrong-argument-count',
  'argument-out-of-range',
  'division-by-zero',
  'not-finite',
  'formula-circle',
  'name-invalid',
  'name-taken',
  'value-missing',
  'range-out-of-order',
  'needs-broken-name',
] as const;
export type FormulaProblemCode = (typeof FORMULA_PROBLEM_CODES)[number];

/**
 * What is wrong, where (`field`; `at` counts characters from 1, null when it is no place in a text), with which value,
 * and what would be right.
 */
export interface FormulaProblem extends Said {
  readonly code: FormulaProblemCode;
  readonly field: string;
  readonly value: string;
  readonly at: number | null;
}

const BINARY_OPERATORS = ['||', '&&', '==', '!=', '<', '<=', '>', '>=', '+', '-', '*', '/', '^'] as const;
type BinaryOperator = (typeof BINARY_OPERATORS)[number];

/** Every node covers the characters [from, to) of the text, counted from 0. */
export type FormulaNode = { readonly from: number; readonly to: number } & (
  | { readonly kind: 'number'; readonly value: number }
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'unary'; readonly operator: '-' | '+' | '!'; readonly operand: FormulaNode }
  | {
      readonly kind: 'binary';
      readonly operator: BinaryOperator;
      readonly left: FormulaNode;
      readonly right: FormulaNode;
    }
  | { readonly kind: 'choice'; readonly test: FormulaNode; readonly then: FormulaNode; readonly otherwise: FormulaNode }
  | { readonly kind: 'call'; readonly name: string; readonly arguments: readonly FormulaNode[] }
);

export interface ParsedFormula {
  readonly text: string;
  readonly root: FormulaNode;
  /** The names used, each once, in order of first use; function names are not among them. */
  readonly names: readonly string[];
}

type ParseResult =
  | { readonly ok: true; readonly formula: ParsedFormula }
  | { readonly ok: false; readonly problem: FormulaProblem };

/**
 * Reads a formula: numbers with a decimal point, names, `+ - * / ^ ( )`, comparisons `== != < <= > >=`, `&& || !`,
 * `test ? a : b` and calls `f(a, b)`. `^` is power, binds tighter than a sign and groups from the right: -2^2 is -4 and
 * 2^3^2 is 512. The signs × · ÷ − and the dash are taken for * * / - -. `field` is repeated in the problem. Names begin
 * with a letter or _ and go on with letters, digits and _. At most 1000 characters and 50 levels of nesting. Example:
 * parseFormula('2 * panels + 4') names ['panels'].
 */
export function parseFormula(text: string, field = 'formula'): ParseResult {
  const known = read.get(text);
  if (known !== undefined) return { ok: true, formula: known };
  const fault = findFaultInText(text);
  if (fault) return { ok: false, problem: { ...fault, field, value: shorten(text) } };
  try {
    const names = new Set<string>();
    const root = accept(jsep(plainSigns(text)) as SyntaxNode, names);
    const formula = { text, root, names: [...names] };
    if (read.size >= MOST_READ) read.clear();
    read.set(text, formula);
    return { ok: true, formula };
  } catch (error) {
    return { ok: false, problem: { ...describeFault(error, text), field, value: shorten(text) } };
  }
}

/** Formulas read before: a plan meets the same few texts again and again, and what is read of a text never changes. */
const read = new Map<string, ParsedFormula>();
const MOST_READ = 2000;

/** Whether `name` can be used in formulas: a letter or _ first, then letters, digits and _, at most 60 characters. */
export function isFormulaName(name: string): boolean {
  return NAME.test(name) && name.length <= 60;
}

/** A formula or a value cut to a length that fits into a message. */
export function shorten(text: string): string {
  return text.length <= 80 ? text : `${text.slice(0, 77)}...`;
}

const NAME = /^[\p{L}_][\p{L}\p{M}\p{N}_]*$/u;
const NAME_START = /[\p{L}_]/u;
const NAME_PART = /[\p{L}\p{M}\p{N}_]/u;
const COMPARISONS: readonly string[] = ['==', '!=', '<', '<=', '>', '>='];

type Fault = Pick<FormulaProblem, 'code' | 'message' | 'sentence' | 'at'>;
type Reader = jsep.HookScope & { depth?: number };
type SyntaxNode = jsep.Expression & { from?: number; to?: number };

class FormulaFault extends Error {
  readonly fault: Fault;
  constructor(fault: Fault) {
    super(fault.message);
    this.fault = fault;
  }
}

function findFaultInText(text: string): Fault | null {
  if (text.trim() === '') {
    return { code: 'formula-empty', at: null, ...saidOf(problemTexts.formula.empty) };
  }
  if (text.length > LONGEST_FORMULA) {
    return {
      code: 'formula-too-long',
      at: null,
      ...saidOf(problemTexts.formula.tooLong(text.length, LONGEST_FORMULA)),
    };
  }
  let depth = 0;
  for (let i = 0; i < text.length; i++) {
    const character = text.charAt(i);
    if (character === '(') depth++;
    else if (character === ')') depth--;
    const hint = depth <= 0 && character === ',' ? problemTexts.formula.decimals : HINTS.get(character);
    if (hint) return unreadable(i, problemTexts.formula.noMeaning(character, hint));
  }
  return null;
}

const HINTS: ReadonlyMap<string, Sentence> = new Map(Object.entries(problemTexts.formula.hints));

/** One character for one character, so that positions stay true. */
function plainSigns(text: string): string {
  return text.replace(/[×·]/g, '*').replace(/÷/g, '/').replace(/[−–]/g, '-').replace(/\s/g, ' ');
}

function unreadable(index: number, what: string | Sentence): Fault {
  return {
    code: 'formula-unreadable',
    at: index + 1,
    ...saidOf(problemTexts.formula.unreadable(index + 1, what)),
  };
}

function describeFault(error: unknown, text: string): Fault {
  if (error instanceof FormulaFault) return error.fault;
  const { index, description, what } = error as { index?: number; description?: string; what?: Sentence };
  if (index === undefined || (what ?? description) === undefined) throw error;
  const where = Math.min(index, text.length);
  if (text.charAt(where) === '=') return unreadable(where, problemTexts.formula.singleEquals);
  if (where >= text.length) return unreadable(where, problemTexts.formula.tooEarly);
  return unreadable(where, what ?? lowered(description!));
}

function lowered(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

/** Turns what the library read into our own nodes, or refuses it. */
function accept(node: SyntaxNode, names: Set<string>): FormulaNode {
  switch (node.type) {
    case 'Literal':
      return acceptNumber(node);
    case 'Identifier':
      names.add(node.name as string);
      return { kind: 'name', name: node.name as string, from: node.from!, to: node.to! };
    case 'Group':
      return { ...accept(node.inner as SyntaxNode, names), from: node.from!, to: node.to! };
    case 'UnaryExpression': {
      const operand = accept(node.argument as SyntaxNode, names);
      return { kind: 'unary', operator: node.operator as '-', operand, from: node.from!, to: operand.to };
    }
    case 'BinaryExpression':
      return acceptBinary(node, names);
    case 'ConditionalExpression': {
      const [test, then, otherwise] = ['test', 'consequent', 'alternate'].map((part) =>
        accept(node[part] as SyntaxNode, names),
      ) as [FormulaNode, FormulaNode, FormulaNode];
      return { kind: 'choice', test, then, otherwise, from: test.from, to: otherwise.to };
    }
    case 'CallExpression': {
      const args = (node.arguments as SyntaxNode[]).map((argument) => accept(argument, names));
      return { kind: 'call', name: node.name as string, arguments: args, from: node.from!, to: node.to! };
    }
    default: {
      const second = (node.body as SyntaxNode[] | undefined)?.[1];
      const at = second ? accept(second, names).from : 0;
      throw new FormulaFault(unreadable(at, problemTexts.formula.noOperator));
    }
  }
}

function acceptNumber(node: SyntaxNode): FormulaNode {
  const value = node.value as number;
  if (!Number.isFinite(value)) throw new FormulaFault(unreadable(node.from!, problemTexts.formula.largeNumber));
  return { kind: 'number', value, from: node.from!, to: node.to! };
}

function acceptBinary(node: SyntaxNode, names: Set<string>): FormulaNode {
  const [leftSyntax, rightSyntax] = [node.left as SyntaxNode, node.right as SyntaxNode];
  const left = accept(leftSyntax, names);
  const right = accept(rightSyntax, names);
  const operator = node.operator as BinaryOperator;
  if (COMPARISONS.includes(operator) && COMPARISONS.includes(leftSyntax.operator as string)) {
    throw new FormulaFault(unreadable(right.from, problemTexts.formula.chained));
  }
  return { kind: 'binary', operator, left, right, from: left.from, to: right.to };
}

/**
 * Reads one operand in place of the library: to note where it is, to let a power bind tighter than a sign, and to
 * refuse what the library would forgive (arguments without commas, members, empty brackets).
 */
function readOperand(this: Reader, env: { node?: jsep.Expression }): void {
  const from = this.index;
  const character = this.expr.charAt(from);
  let node: SyntaxNode | undefined;
  if (/[0-9.]/.test(character)) node = this.gobbleNumericLiteral() as SyntaxNode;
  else if (character === '(') node = readGroup(this);
  else if (character === '-' || character === '+' || character === '!') node = readSigned(this, character);
  else if (NAME_START.test(characterAt(this))) node = readNameOrCall(this);
  else if (character === '$' || character > '\u007f')
    throwFault(this, problemTexts.formula.unexpected(characterAt(this)));
  if (node) env.node = Object.assign(node, { from, to: node.to ?? this.index });
}

function readGroup(reader: Reader): SyntaxNode {
  reader.index++;
  const inner = deeper(reader, () => reader.gobbleExpression());
  const next: string = reader.char;
  if (!inner) throwFault(reader, problemTexts.formula.emptyBrackets);
  if (next === ',') throwFault(reader, problemTexts.formula.strayComma);
  if (next !== ')') throwFault(reader, problemTexts.formula.notClosed);
  reader.index++;
  return { type: 'Group', inner };
}

function readSigned(reader: Reader, operator: string): SyntaxNode {
  reader.index++;
  const argument = deeper(reader, () => (operator === '!' ? reader.gobbleToken() : readPower(reader)));
  if (!argument) throwFault(reader, problemTexts.formula.noOperand(operator));
  return { type: 'UnaryExpression', operator, argument: argument! };
}

function readPower(reader: Reader): SyntaxNode | undefined {
  const left = reader.gobbleToken() as SyntaxNode | undefined;
  const end = reader.index;
  reader.gobbleSpaces();
  if (!left || reader.char !== '^') {
    reader.index = end;
    return left;
  }
  reader.index++;
  const right = deeper(reader, () => readPower(reader));
  if (!right) throwFault(reader, problemTexts.formula.noOperand('^'));
  return { type: 'BinaryExpression', operator: '^', left, right: right! };
}

function readNameOrCall(reader: Reader): SyntaxNode {
  const start = reader.index;
  while (reader.index < reader.expr.length && NAME_PART.test(characterAt(reader)))
    reader.index += characterAt(reader).length;
  const name = reader.expr.slice(start, reader.index);
  const to = reader.index;
  reader.gobbleSpaces();
  if (reader.char === '.') throwFault(reader, problemTexts.formula.pointAfterName);
  if (reader.char !== '(') return { type: 'Identifier', name, to };
  reader.index++;
  return { type: 'CallExpression', name, arguments: deeper(reader, () => readArguments(reader)), to: reader.index };
}

function readArguments(reader: Reader): SyntaxNode[] {
  const args: SyntaxNode[] = [];
  reader.gobbleSpaces();
  if (reader.char !== ')') {
    do args.push(readArgument(reader));
    while (hasCommaNext(reader));
    if (reader.char !== ')') throwFault(reader, problemTexts.formula.noComma);
  }
  reader.index++;
  return args;
}

function readArgument(reader: Reader): SyntaxNode {
  const argument = reader.gobbleExpression() as SyntaxNode | undefined;
  if (!argument) throwFault(reader, problemTexts.formula.noArgument);
  return argument!;
}

function hasCommaNext(reader: Reader): boolean {
  if (reader.char !== ',') return false;
  reader.index++;
  return true;
}

/** Refuses the formula at the character that is read, as the library does. */
function throwFault(reader: Reader, what: Sentence): never {
  throw Object.assign(new Error(what.text), { index: reader.index, what });
}

function deeper<T>(reader: Reader, read: () => T): T {
  reader.depth = (reader.depth ?? 0) + 1;
  if (reader.depth > DEEPEST_FORMULA) {
    const said = saidOf(problemTexts.formula.tooDeep(DEEPEST_FORMULA));
    throw new FormulaFault({ code: 'formula-too-deep', at: reader.index + 1, ...said });
  }
  const result = read();
  reader.depth--;
  return result;
}

function characterAt(reader: Reader): string {
  return String.fromCodePoint(reader.expr.codePointAt(reader.index) ?? 0);
}

const PRECEDENCES: Readonly<Record<BinaryOperator, number>> = {
  '||': 1,
  '&&': 2,
  '==': 6,
  '!=': 6,
  '<': 7,
  '<=': 7,
  '>': 7,
  '>=': 7,
  '+': 9,
  '-': 9,
  '*': 10,
  '/': 10,
  '^': 11,
};

jsep.removeAllBinaryOps();
for (const operator of BINARY_OPERATORS) jsep.addBinaryOp(operator, PRECEDENCES[operator], operator === '^');
jsep.hooks.add('gobble-token', readOperand as jsep.HookCallback);
