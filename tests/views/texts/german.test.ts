import { execFileSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { problemWords } from '../../../server/model/index.ts';
import { inGerman, joined, worded } from '../../../server/model/texts/language.ts';
import { inLanguage } from '../../../server/web/language.ts';

const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');

/** What is no table but all of them together. */
const NO_TABLES = ['index.ts'];

/** The tables of views, and those for what is wrong, whose German is in a folder of the views too. */
const files = [
  ...filesIn('views/texts', /\.ts$/).filter((file) => !NO_TABLES.includes(file)),
  ...Object.keys(problemWords).map((name) => `programs/problems/${name}.ts`),
].sort();
const translated = filesIn('views/german', /\.ts$/).filter((file) => file !== 'index.ts');

type Leaves = ReadonlyMap<string, unknown>;

describe('the German texts', () => {
  it('are a file for each of the English ones', () => {
    expect(translated).toEqual(files);
  });

  it.each(translated)('in %s are loaded, whole, and differ from the English', async (file) => {
    const tables = await tablesOf(file);
    expect(tables.length).toBeGreaterThan(0);
    for (const [name, table] of tables) {
      const [english, german] = [inLanguage('en', () => leavesOf(table)), inLanguage('de', () => leavesOf(table))];
      expect([...german].filter(([, leaf]) => leaf === undefined)).toEqual([]);
      const kinds = (leaves: Leaves) => [...leaves].map(([path, leaf]) => `${name}.${path} ${typeof leaf}`);
      expect(kinds(german)).toEqual(kinds(english));
      const words = [...english].filter(([path]) => !/(^|\.)id$/.test(path));
      const same = words.filter(([path, leaf]) => german.get(path) === leaf).map(([path]) => path);
      expect(same.length, same.join(', ')).toBeLessThan(Math.max(1, 0.2 * english.size));
    }
  });
});

describe('a German sentence for what is wrong', () => {
  const all = (language: 'en' | 'de') => inLanguage(language, () => leavesOf(problemWords));
  const [english, german] = [all('en'), all('de')];
  const functions = [...english].filter(([path, leaf]) => typeof leaf === 'function' && !SAYS_LESS.includes(path));

  it.each(functions)('%s puts in every value that the English puts in', (path, text) => {
    const translated = german.get(path) as Text;
    const mix = mixesFor(text as Text).find((given) =>
      [text as Text, translated].every((one) => !/undefined|NaN|\[object/.test(said(one, given) ?? 'undefined')),
    );
    expect(mix).toBeDefined();
    const [own, other] = [said(text as Text, mix!)!, said(translated, mix!)!];
    expect(own).not.toBe(other);
    const marks = new Set(own.match(/⟨\d+⟩/g));
    expect([...marks].filter((mark) => !other.includes(mark))).toEqual([]);
  });
});

/** Where the German leaves a value out, or words it anew; by path. */
const SAYS_LESS = [
  'dates.moment', // days and months have names of their own
  'shape.other', // English of the schema library
  'shape.whole', // two halves of a sentence
  'shape.subject',
  'edits.option.thing', // says what `changes.named` says
];

type Text = (...given: unknown[]) => string;

/** Every mix of a marked word, a list of one, a number, nothing, the name of a list and an object of marked words. */
function mixesFor(text: Text): unknown[][] {
  let mixes: unknown[][] = [[]];
  for (let i = 0; i < text.length; i++) {
    const mark = `⟨${i}⟩`;
    const marked = new Proxy({}, { get: (_, name) => (name === 'set' || name === 'fromUnit' ? null : mark) });
    mixes = mixes.flatMap((mix) => [mark, [mark], 'parts', 'step', marked, null].map((one) => [...mix, one]));
  }
  return mixes;
}

function said(text: Text, given: readonly unknown[]): string | null {
  try {
    return text(...given);
  } catch {
    return null;
  }
}

/** The tables that a file of German translates, by name. */
async function tablesOf(file: string): Promise<(readonly [string, object])[]> {
  const [, problem] = /^programs\/problems\/(\w+)\.ts$/.exec(file) ?? [];
  if (problem !== undefined) return [[problem, problemWords[problem as keyof typeof problemWords]]];
  const exported = Object.entries(await import(join(ROOT, 'views/texts', file)));
  return exported.flatMap(([name, one]) => (isTable(one) ? [[name, one] as const] : []));
}

describe('a table of texts', () => {
  const english = { word: 'one', many: (n: number) => `${n} ${n === 1 ? 'day' : 'days'}`, deep: { list: ['a', 'b'] } };

  it('reads in the language of the moment, and in English where it has no other', () => {
    const table = worded(english);
    const held = table.deep;
    expect(inLanguage('de', () => [table.word, table.many(2), held.list])).toEqual(['one', '2 days', ['a', 'b']]);
    inGerman(table, { word: 'eins', many: (n) => `${n} Tage`, deep: { list: ['A', 'B'] } });
    expect(inLanguage('de', () => [table.word, table.many(2), held.list])).toEqual(['eins', '2 Tage', ['A', 'B']]);
    expect([table.word, table.many(1), held.list]).toEqual(['one', '1 day', ['a', 'b']]);
    expect(Object.keys(table)).toEqual(Object.keys(english));
  });

  it('stays itself among several that are read as one', () => {
    const table = worded(english);
    inGerman(table, { word: 'eins', many: (n) => `${n} Tage`, deep: { list: [] } });
    const all = joined(table, { other: 'x' }, { more: table });
    expect(inLanguage('de', () => [all.word, all.other, all.more.word])).toEqual(['eins', 'x', 'eins']);
    expect(all.word).toBe('one');
  });

  it('takes no other shape in German: the compiler says so', () => {
    const table = worded({ word: 'one', many: (n: number) => (n === 1 ? 'day' : 'days') });
    // @ts-expect-error: a text is missing
    inGerman(table, { word: 'eins' });
    // @ts-expect-error: a word is no function
    inGerman(table, { word: () => 'eins', many: (n) => `${n}` });
    // @ts-expect-error: a function takes what the English one takes
    inGerman(table, { word: 'eins', many: (n: string) => n });
    // @ts-expect-error: a text too many
    inGerman(table, { word: 'eins', many: () => 'Tage', few: 'wenige' });
    expect(inLanguage('de', () => table.many(1))).toBe('Tage');
  });
});

/** Loads every built file in a process of its own and writes down where texts were read meanwhile. */
const LOAD_ALL = `
  const { askLanguage } = await import('./server/model/texts/language.js');
  await import('./server/web/language.js');
  const early = new Set();
  askLanguage(() => {
    early.add(new Error().stack.split('\\n').find((line) => !/^Error|\\[eval|(views|model).(texts|language)/.test(line)));
    return 'en';
  });
  for (const file of process.argv.slice(1)) await import(file);
  console.log(JSON.stringify([...early]));
`;

describe('texts', () => {
  it('are looked up when they are shown, never while the program is loaded', () => {
    const built = ['views', 'server/web', 'server/cli'].flatMap((folder) =>
      filesIn(`dist/${folder}`, /\.js$/).map((file) => `./${folder}/${file}`),
    );
    const loaded = built.filter((file) => !file.startsWith('./views/client/'));
    expect(loaded.length).toBeGreaterThan(150);
    const args = ['--input-type=module', '-e', LOAD_ALL, ...loaded];
    const early = execFileSync(process.execPath, args, { cwd: join(ROOT, 'dist'), encoding: 'utf8' });
    expect(JSON.parse(early)).toEqual([]);
  });
});

/** Each text of a table by its path; a list counts as one text. */
function leavesOf(table: object, path = ''): Leaves {
  return new Map(
    Object.entries(table).flatMap(([name, one]): (readonly [string, unknown])[] => {
      const here = path === '' ? name : `${path}.${name}`;
      return isTable(one) ? [...leavesOf(one, here)] : [[here, one]];
    }),
  );
}

function isTable(one: unknown): one is object {
  return typeof one === 'object' && one !== null && !Array.isArray(one);
}

function filesIn(folder: string, name: RegExp): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((it) => it.isFile() && name.test(it.name))
    .map((it) => relative(join(ROOT, folder), join(it.parentPath, it.name)))
    .sort();
}
