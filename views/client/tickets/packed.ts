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
 * @example packed([{ n: 1 }, { n: 2 }]) // '{"names":[["n"]],"value":[-1,[0,1],[0,2]]}'
 */
export function packed(data: unknown): string {
  const numbers = new Map<string, number>();
  const names: string[][] = [];
  const pack = (value: unknown): unknown => {
    if (Array.isArray(value)) return [LIST, ...value.map(pack)];
    if (typeof value !== 'object' || value === null) return value;
    const entries = Object.entries(value).filter(([, one]) => one !== undefined);
    const own = entries.map(([name]) => name);
    const key = JSON.stringify(own);
    const number = numbers.get(key) ?? names.push(own) - 1;
    numbers.set(key, number);
    return [number, ...entries.map(([, one]) => pack(one))];
  };
  const value = pack(data);
  return JSON.stringify({ names, value } satisfies Packed);
}

/**
 * The data of a text that `packed` has made.
 *
 * @example unpacked('{"names":[["n"]],"value":[-1,[0,1],[0,2]]}') // [{ n: 1 }, { n: 2 }]
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
