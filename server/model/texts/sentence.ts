/**
 * Sentences as facts: which text of a table, and the values put into it. They are plain data, so that what is found
 * wrong in one thread, or kept on a disk, is worded where somebody reads it, in the reader's language.
 */

/** A text by its path in the tables, with its values; any of them may be a sentence itself. Kept as JSON as it is. */
interface Facts {
  readonly text: string;
  readonly values: readonly unknown[];
}

/**
 * Plain data, and to the compiler a symbol too: that is what it lets into no words, neither into a template nor into an
 * element, where facts would read "[object Object]". `wordsOf` and `messageOf` say them.
 */
export type Sentence = Facts & symbol;

/** What a text takes in place of a value: wherever it takes words, it takes a sentence too. */
type Given<Value> = Value extends string
  ? string extends Value
    ? Value | Sentence
    : Value
  : Value extends readonly (infer One)[]
    ? readonly Given<One>[]
    : Value extends object
      ? { readonly [Key in keyof Value]: Given<Value[Key]> }
      : Value;

/** The same tables, whose texts are sentences and whose functions give them. */
type Recorded<T> = T extends string
  ? Sentence
  : T extends (...given: infer Values) => string
    ? (...given: { [At in keyof Values]: Given<Values[At]> }) => Sentence
    : { readonly [Key in keyof T]: Recorded<T[Key]> };

/**
 * Tables whose texts note what they would say instead of saying it.
 *
 *     recorded({ few: (n) => n + ' left' }).few(2) // { text: 'few', values: [2] }
 */
export function recorded<T extends object>(tables: T, path = ''): Recorded<T> {
  const texts = Object.entries(tables).map(([name, text]) => [
    name,
    noted(text, path === '' ? name : `${path}.${name}`),
  ]);
  return Object.fromEntries(texts) as Recorded<T>;
}

/**
 * A sentence in the words of tables, those in it too; null where they have no such text.
 *
 *     saidBy({ few: (n) => n + ' left' }, { text: 'few', values: [2] }) // '2 left'
 */
export function saidBy(tables: object, { text, values }: Facts): string | null {
  const found = text.split('.').reduce<unknown>(within, tables);
  if (typeof found === 'string') return found;
  return typeof found === 'function' ? String(found(...values.map((value) => valueIn(tables, value)))) : null;
}

export function isSentence(value: unknown): value is Sentence {
  const { text, values } = (value ?? {}) as Partial<Sentence>;
  return typeof text === 'string' && Array.isArray(values);
}

function noted(text: unknown, path: string): unknown {
  if (typeof text === 'string') return { text: path, values: [] };
  if (typeof text !== 'function') return recorded(text as object, path);
  return (...values: readonly unknown[]): Facts => ({ text: path, values: values.map(kept) });
}

/** What JSON has no number for is kept as it is written. */
function kept(value: unknown): unknown {
  return typeof value === 'number' && !Number.isFinite(value) ? String(value) : value;
}

function within(table: unknown, name: string): unknown {
  return typeof table === 'object' && table !== null && Object.hasOwn(table, name)
    ? (table as Record<string, unknown>)[name]
    : undefined;
}

function valueIn(tables: object, value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (isSentence(value)) return saidBy(tables, value) ?? '';
  if (Array.isArray(value)) return value.map((one) => valueIn(tables, one));
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, valueIn(tables, one)]));
}
