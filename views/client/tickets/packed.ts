/** Data on a page without its names, which a long list repeats in every row. */

/** What an array begins with; an object begins with the number of its list of names. */
const LIST = -1;

interface Packed {
  /** The lists of names that objects have, each once. */
  readonly names: readonly (readonly string[])[];
  readonly value: unknown;
}

/**
 * Plain data as a text, in which each list of names is written once. What is undefined is left out.
 *
 * @example packed([{ n: 1 }, { n: 2 }]) // '{"value":[-1,[0,1],[0,2]],"names":[["n"]]}'
 */
export function packed(data: unknown): string {
  return [...packedPieces(data)].join('');
}

/** Lists within an object are parted, and no deeper. */
const DEPTH = 2;

/** The same text in pieces, one for each row of a list, so that others may have their turn between. */
export function* packedPieces(data: unknown): Generator<string> {
  const names = new Names();
  yield '{"value":';
  yield* piecesOf(data, names, DEPTH);
  yield `,"names":${JSON.stringify(names.lists)}}`;
}

function* piecesOf(value: unknown, names: Names, depth: number): Generator<string> {
  if (depth === 0 || typeof value !== 'object' || value === null) {
    yield JSON.stringify(pack(value, names)) ?? 'null';
    return;
  }
  const [kind, values] = parted(value, names);
  yield `[${kind}`;
  for (const one of values) {
    yield ',';
    yield* piecesOf(one, names, depth - 1);
  }
  yield ']';
}

function pack(value: unknown, names: Names): unknown {
  if (typeof value !== 'object' || value === null) return value;
  const [kind, values] = parted(value, names);
  return [kind, ...values.map((one) => pack(one, names))];
}

/** What an array or an object begins with, and its values. */
function parted(value: object, names: Names): readonly [kind: number, values: readonly unknown[]] {
  if (Array.isArray(value)) return [LIST, value];
  const own: string[] = [];
  const values: unknown[] = [];
  for (const [name, one] of Object.entries(value)) {
    if (one === undefined) continue;
    own.push(name);
    values.push(one);
  }
  return [names.numberOf(own), values];
}

/** The lists of names so far. */
class Names {
  readonly lists: (readonly string[])[] = [];
  private readonly numbers = new Map<string, number>();

  numberOf(list: readonly string[]): number {
    const key = JSON.stringify(list);
    const known = this.numbers.get(key);
    if (known !== undefined) return known;
    this.numbers.set(key, this.lists.length);
    return this.lists.push(list) - 1;
  }
}

/**
 * The data of a text that `packed` has made.
 *
 * @example unpacked('{"value":[-1,[0,1],[0,2]],"names":[["n"]]}') // [{ n: 1 }, { n: 2 }]
 */
export function unpacked(text: string): unknown {
  const { names, value } = JSON.parse(text) as Packed;
  const unpack = (one: unknown): unknown => {
    if (!Array.isArray(one)) return one;
    const [kind, ...values] = one as [number, ...unknown[]];
    if (kind === LIST) return values.map(unpack);
    return Object.fromEntries(names[kind]!.map((name, i) => [name, unpack(values[i])]));
  };
  return unpack(value);
}
