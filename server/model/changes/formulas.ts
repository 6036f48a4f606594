/** Where the formulas of a build are, and parameters renamed in them. */
import type { Build } from '../build.ts';
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
  return withDrawings(withNames(renamed, names), names);
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
