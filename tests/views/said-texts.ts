/** Which texts were said while something was drawn: each leaf of a table of texts, by its path. */

type Table = Record<string, unknown>;

export interface SaidTexts {
  /** The paths of all leaves: sentences, words, lists, and functions that make them. */
  readonly all: readonly string[];
  readonly said: ReadonlySet<string>;
  /** Puts the table back as it was. */
  readonly restore: () => void;
}

/** Has a table of texts note what is read from it or called, in place, since views keep hold of its parts. */
export function noteSaid(table: object): SaidTexts {
  const all: string[] = [];
  const said = new Set<string>();
  const undo: (() => void)[] = [];
  const note = (at: Table, path: string): void => {
    for (const [key, value] of Object.entries(at)) {
      const name = path === '' ? key : `${path}.${key}`;
      if (typeof value === 'object' && value !== null && !Array.isArray(value)) {
        note(value as Table, name);
        continue;
      }
      all.push(name);
      const before = Object.getOwnPropertyDescriptor(at, key)!;
      undo.push(() => Object.defineProperty(at, key, before));
      if (typeof value === 'function') {
        const noting = (...given: unknown[]): unknown => {
          said.add(name);
          return value(...given);
        };
        Object.defineProperty(at, key, { value: noting, enumerable: true, configurable: true });
      } else {
        Object.defineProperty(at, key, {
          get: () => {
            said.add(name);
            return value;
          },
          enumerable: true,
          configurable: true,
        });
      }
    }
  };
  note(table as Table, '');
  return { all, said, restore: () => undo.forEach((back) => void back()) };
}
