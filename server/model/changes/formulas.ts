/** Where the formulas of a build are, and parameters renamed in them. */
import type { Build } from '../build.ts';
import type { AnswerChange } from '../gate.ts';
import { keysOf, THING_LISTS, type Thing, type ThingList, thingsOf } from './lists.ts';

/**
 * The fields of a thing that may hold a formula over the parameters. `after[].lag` is the field `lag` of each row of
 * `after`. The build itself has one: the number of its sets.
 */
export const FORMULA_FIELDS: Readonly<Record<ThingList | 'build', readonly string[]>> = {
  build: ['sets.count'],
  parameters: ['formula'],
  limits: ['of', 'least', 'most'],
  parts: ['count', 'usedIn[].count', 'spares', 'ways[].units'],
  suppliers: [],
  people: [],
  machines: [],
  steps: ['count', 'takes', 'phases[].minutes', 'phases[].perUnit', 'setup', 'lotSize', 'after[].ratio', 'after[].lag'],
  feeds: ['ratio', 'lag'],
  gates: ['minutes', 'sendsBack[].units'],
  decisions: [],
  boxes: ['parts[].count'],
  passages: [],
  points: ['load'],
  strike: ['minutes'],
};

/**
 * A build with parameters called by other names: the parameters themselves, the formulas, and what drawings depend on.
 * `names` goes from keys of parameters to names; all of them change at once, so two may swap.
 */
export function withRenamed(build: Build, names: ReadonlyMap<string, string>): Build {
  const formula = (value: unknown): unknown => (typeof value === 'string' ? renamedFormula(value, names) : value);
  const thing = (list: ThingList | 'build', it: Thing): Thing =>
    FORMULA_FIELDS[list].reduce((here, path) => mapped(here, path, formula), it);
  const lists = THING_LISTS.filter((list) => build[list] !== undefined).map((list) => {
    return [list, thingsOf(build, list).map((it) => thing(list, it))] as const;
  });
  const renamed = { ...thing('build', build as Thing), ...Object.fromEntries(lists) } as Build;
  return withAnswers(withDrawings(withNames(renamed, names), names), names);
}

/**
 * A formula with its names changed, token by token: names alone, not functions, nor units such as the `h` of `2 h`, nor
 * parts of longer names.
 *
 * @example renamedFormula('2 * rows + max(rows, 4)', new Map([['rows', 'lines']])) // '2 * lines + max(lines, 4)'
 */
export function renamedFormula(text: string, names: ReadonlyMap<string, string>): string {
  return tokensOf(text)
    .map(({ token, isName }) => (isName ? (names.get(token) ?? token) : token))
    .join('');
}

/**
 * A thing whose formulas name parameters as people write, `drums per bough`, with the names that they have,
 * `drums_per_bough`. Nothing else in it changes: where two names meet, a formula says nothing.
 */
export function withKnownNames(list: ThingList | 'build', thing: Thing, names: readonly string[]): Thing {
  const known = (value: unknown) => (typeof value === 'string' ? knownNames(value, names) : value);
  return FORMULA_FIELDS[list].reduce((here, path) => mapped(here, path, known), thing);
}

/**
 * A formula with words in a row put together where they are the name of a parameter, the longest first; small and large
 * letters are alike.
 *
 * @example knownNames('boughs * Drums per bough', ['drums_per_bough']) // 'boughs * drums_per_bough'
 */
export function knownNames(text: string, names: readonly string[]): string {
  const byWords = new Map(names.map((name) => [name.toLowerCase(), name]));
  const tokens: readonly string[] = text.match(TOKENS) ?? [];
  let [said, at] = ['', 0];
  while (at < tokens.length) {
    const found = nameFrom(tokens, at, byWords);
    said += found?.name ?? tokens[at];
    at += found?.tokens ?? 1;
  }
  return said;
}

/** The longest name of several words that begins at a token, and how many tokens it is; null where none does. */
function nameFrom(
  tokens: readonly string[],
  at: number,
  names: ReadonlyMap<string, string>,
): { readonly name: string; readonly tokens: number } | null {
  let [words, found]: [string, ReturnType<typeof nameFrom>] = [tokens[at]!.toLowerCase(), null];
  if (!WORD.test(words)) return null;
  for (
    let end = at + 2;
    end < tokens.length && tokens[end - 1]!.trim() === '' && WORD_OR_COUNT.test(tokens[end]!);
    end += 2
  ) {
    words += `_${tokens[end]!.toLowerCase()}`;
    const name = names.get(words);
    if (name !== undefined) found = { name, tokens: end + 1 - at };
  }
  return found;
}

const WORD = /^[\p{L}_]/u;
const WORD_OR_COUNT = /^(?:[\p{L}_]|\d+$)/u;

/** The names of parameters in a formula, each once, in order of first use. */
export function namesIn(text: string): string[] {
  const names = tokensOf(text).filter(({ isName }) => isName);
  return [...new Set(names.map(({ token }) => token))];
}

/** The values of a field named as in `FORMULA_FIELDS`: of `after[].lag` one for each row that has it. */
export function valuesAt(thing: Thing, path: string): unknown[] {
  const found: unknown[] = [];
  mapped(thing, path, (value) => {
    found.push(value);
    return value;
  });
  return found;
}

/** A number, a name, a stretch of white space, or any other character: every character of a text is in one of them. */
const TOKENS = /(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?|[\p{L}_][\p{L}\p{M}\p{N}_]*|\s+|./gsu;

/** Each token with whether it is the name of a parameter: no function and, after a number, no unit. */
function tokensOf(text: string): { readonly token: string; readonly isName: boolean }[] {
  const tokens = text.match(TOKENS) ?? [];
  const solid = tokens.filter((token) => token.trim() !== '');
  let at = -1;
  return tokens.map((token) => {
    if (token.trim() !== '') at += 1;
    const isName = /^[\p{L}_]/u.test(token) && !/^\.?\d/.test(solid[at - 1] ?? '') && solid[at + 1] !== '(';
    return { token, isName };
  });
}

/** A thing with the values of a field changed; what is not there stays away. */
function mapped(thing: Thing, path: string, change: (value: unknown) => unknown): Thing {
  const [, key = '', rows, rest] = /^([^.[]+)(\[\])?\.?(.*)$/.exec(path)!;
  const value = thing[key];
  if (value === undefined) return thing;
  if (rest === '') return { ...thing, [key]: change(value) };
  const inner = (it: unknown) => (typeof it === 'object' && it !== null ? mapped(it as Thing, rest!, change) : it);
  return { ...thing, [key]: rows === undefined ? inner(value) : (value as unknown[]).map(inner) };
}

function withNames(build: Build, names: ReadonlyMap<string, string>): Build {
  if (build.parameters === undefined) return build;
  const keys = keysOf('parameters', build.parameters);
  const parameters = build.parameters.map((it, i) => ({ ...it, name: names.get(keys[i]!) ?? it.name }));
  return { ...build, parameters };
}

function withDrawings(build: Build, names: ReadonlyMap<string, string>): Build {
  if (build.parts === undefined) return build;
  const parts = build.parts.map((part) =>
    part.dependsOn === undefined ? part : { ...part, dependsOn: part.dependsOn.map((it) => names.get(it) ?? it) },
  );
  return { ...build, parts };
}

/** What an answer of a decision sets, by the new names too. */
function withAnswers(build: Build, names: ReadonlyMap<string, string>): Build {
  if (build.decisions === undefined) return build;
  const decisions = build.decisions.map((decision) => {
    if (decision.answers === undefined) return decision;
    const answers = decision.answers.map((answer) =>
      typeof answer === 'string'
        ? answer
        : { ...answer, changes: answer.changes.map((one) => renamedAnswer(one, names)) },
    );
    return { ...decision, answers };
  });
  return { ...build, decisions };
}

function renamedAnswer(change: AnswerChange, names: ReadonlyMap<string, string>): AnswerChange {
  const { list, key, field, value } = change;
  const own = list === 'parameters' ? (names.get(key) ?? key) : key;
  const formula = (it: unknown): unknown => (typeof it === 'string' ? renamedFormula(it, names) : it);
  const thing = FORMULA_FIELDS[list].reduce((here, path) => mapped(here, path, formula), { [field]: value } as Thing);
  const drawn = field === 'dependsOn' && Array.isArray(value) ? value.map((it) => names.get(it) ?? it) : thing[field];
  return { ...change, key: own, ...(value === undefined ? {} : { value: drawn }) };
}
