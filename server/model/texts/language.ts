/**
 * The reader's language, and tables of texts that speak it. A table is read like a plain object; each text in it is
 * looked up in the language that is spoken at that moment, and in English where nobody has translated the table.
 */

export const LANGUAGES = ['en', 'de'] as const;
export type Language = (typeof LANGUAGES)[number];
/** Each in its own words, so that whoever reads no other finds it. */
export const LANGUAGE_NAMES: Readonly<Record<Language, string>> = { en: 'English', de: 'Deutsch' };

/** The same table in another language: the same names, words for words, functions that take the same values. */
type Translated<T> = T extends string
  ? string
  : T extends (...values: infer Given) => infer Said
    ? (...values: Given) => Translated<Said>
    : T extends object
      ? { readonly [Key in keyof T]: Translated<T[Key]> }
      : T;

type Table = Readonly<Record<string, unknown>>;

const translations = new WeakMap<object, Partial<Record<Language, Table>>>();
let ask = (): Language => 'en';

/** Says how the language of the moment is found: on the server by request, in a browser by its page. */
export function askLanguage(how: () => Language): void {
  ask = how;
}

/** The language that texts are in at this moment. */
export function language(): Language {
  return ask();
}

/**
 * A table of English texts that reads in the language of the moment.
 *
 *     worded({ yes: 'yes', deep: { no: 'no' } }).deep.no // 'no'
 */
export function worded<T extends object>(english: T): T {
  const byLanguage: Partial<Record<Language, Table>> = { en: english as Table };
  const table = living(english as Table, (spoken) => byLanguage[spoken] ?? byLanguage.en!);
  translations.set(table, byLanguage);
  return table as T;
}

/**
 * Gives a table of `worded` its German.
 *
 *     inGerman(worded({ yes: 'yes' }), { yes: 'ja' }) // undefined
 */
export function inGerman<T extends object>(table: T, german: Translated<T>): void {
  translations.get(table)!.de = german as Table;
}

/** Several tables as one, each still looked up when it is read. */
export function joined<A extends object, B extends object, C extends object>(a: A, b: B, c: C): A & B & C {
  const all = [a, b, c].map((table) => Object.getOwnPropertyDescriptors(table));
  return Object.defineProperties({}, Object.assign({}, ...all)) as A & B & C;
}

/** An object of the same names whose texts are looked up when they are read, and whose tables are likewise. */
function living(english: Table, here: (spoken: Language) => Table): Table {
  const made = {};
  for (const [name, text] of Object.entries(english)) {
    const at = (spoken: Language): unknown => here(spoken)[name];
    Object.defineProperty(made, name, {
      enumerable: true,
      configurable: true,
      ...(isTable(text) ? { value: living(text, at as (spoken: Language) => Table) } : { get: () => at(ask()) }),
    });
  }
  return made;
}

function isTable(text: unknown): text is Table {
  return typeof text === 'object' && text !== null && !Array.isArray(text);
}
