import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { problemWords } from '../../../server/model/index.ts';

const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');

/** What nobody at a bench would say, and what to say in its place. */
const STILTED: readonly (readonly [RegExp, string])[] = [
  [/\bstands?\b(?! out| idle| at a fair| beside)/, 'is, is listed, has to be finished'],
  [/\b(is|are|was) told\b/, 'say who does it: logged, shown'],
  [/\bsays? so\b/, 'the reason itself'],
  [/\bof which\b|\bwhom\b/, 'two sentences'],
  [/\banew\b/, 'again'],
  [/\bwithout end\b/, 'unlimited'],
  [/\bis the (least|most)\b/, 'at least, at most'],
  [/\b(lie|lies)\b(?! side by side)/, 'are, pile up'],
  [/\btill\b/, 'to, until'],
  [/\bin all\b/i, 'altogether, total'],
  [/\bno order of work\b|\border of work\b/, 'sequence'],
  [/\b(takes?|taken|taking|brought?|bring) (it )?back\b/i, 'undo, undone, redo'],
  [/\bto be mended\b|\bput right\b/i, 'to fix'],
  [/\bcome in\b|\blet in\b|\bway in\b/i, 'sign in, join, access'],
  [/\bleft empty\b/, 'empty'],
  [/\bso many\b/, 'how many, the number'],
  [/\bOf (all|each|the|this|these|a)\b [^.]*,/, 'subject first'],
  [/\bcome about\b|\bcomes about\b/, 'make, get'],
  [/\bgoes? by\b|\bwent by\b/, 'uses, passed'],
  [/\bpairs? of hands\b/i, 'people'],
  [/\bby itself\b/, 'on its own, unattended'],
];

/** Where one of them is right: the words, by file, with what they mean there. */
const RIGHT: Readonly<Record<string, readonly RegExp[]>> = {
  'README.md': [/a stand at a fair/, /`plan`/],
};

describe('the texts', () => {
  const files = [...filesIn('views/texts'), ...filesIn('server/model/texts'), 'README.md'];

  it('say nothing that nobody at a bench would say', () => {
    expect(files.length).toBeGreaterThan(35);
    expect(files.flatMap((file) => stiltedIn(file, readFileSync(join(ROOT, file), 'utf8')))).toEqual([]);
  });

  it('are read for such words inside their quotes', () => {
    const found = (line: string) => stiltedIn('x.ts', `${line}\n`);
    expect(found("  a: 'The date stands under Problems.',")).toHaveLength(1);
    expect(found('  a: `some taken back`,')).toHaveLength(1);
    expect(found('  // the date stands')).toEqual([]);
    expect(found("  stands: 'is fine',")).toEqual([]);
  });
});

/** What no comment says, and what to say in its place. */
const STILTED_IN_COMMENTS: readonly (readonly [RegExp, string])[] = [
  [/\banew\b/, 'again'],
  [/\bwithout end\b/, 'unlimited'],
  [/\bso many\b/, 'this many, a number'],
  [/\bof which\b/, 'whose, that has'],
  [/\blies\b/, 'is'],
  [/\b(is|are|was|were) told\b(?! to\b| apart)/, 'logged, shown, given'],
  [/(\/\*\*|\*|\/\/|[.;:]) Of (?!\d)/, 'subject first'],
];

describe('the comments', () => {
  const files = ['server', 'views', 'seed'].flatMap(filesIn);

  it('say none of the worst of it', () => {
    expect(files.length).toBeGreaterThan(600);
    expect(files.flatMap((file) => stiltedComments(file, readFileSync(join(ROOT, file), 'utf8')))).toEqual([]);
  });

  it('are read for such words, and code is not', () => {
    expect(stiltedComments('x.ts', '/** Of each lot, the end. */\n// made anew')).toHaveLength(2);
    expect(stiltedComments('x.ts', 'const anew = 1;\n/** Told to leave, it is told to wait. */')).toEqual([]);
  });
});

describe('a number of one', async () => {
  const all = { problemTexts: problemWords, ...(await everyText()) };

  it('has its noun in the singular wherever a text says it', () => {
    const found = leavesOf(all).flatMap(([path, leaf]) => {
      const said = typeof leaf === 'function' ? ofOne(leaf as Text) : [];
      return said.length > 0 && said.every(hasManyOfOne) ? [`${path}: ${said[0]}`] : [];
    });
    expect(found.filter((one) => !ONLY_MANY.some((path) => one.startsWith(`${path}:`)))).toEqual([]);
  });

  it('is looked for in every text that takes something', () => {
    const functions = leavesOf(all).filter(([, leaf]) => typeof leaf === 'function');
    expect(functions.length).toBeGreaterThan(600);
    const silent = functions.filter(([, leaf]) => ofOne(leaf as Text).length === 0).map(([path]) => path);
    expect(silent).toEqual([]);
  });

  it('is told from a figure that ends in one, and from a word that only ends like many', () => {
    expect(['1 boxes fit', 'all 1 boxes fit', 'from 1 deliveries', '1 working days'].every(hasManyOfOne)).toBe(true);
    expect(
      ['1 box fits', '21 boxes', '0.1 hours', '1 is left', '1 box waits', '1 step passes'].some(hasManyOfOne),
    ).toBe(false);
  });
});

/** Every table of texts, by its name. */
async function everyText(): Promise<Record<string, object>> {
  const files = filesIn('views/texts').filter((file) => file !== 'views/texts/index.ts');
  const modules = await Promise.all(files.map((file): Promise<object> => import(join(ROOT, file))));
  return Object.fromEntries(modules.flatMap(Object.entries).filter(([, table]) => typeof table === 'object'));
}

/** A number of one, perhaps a word that says more of it, and a word in the plural. */
const MANY_OF_ONE = /(?<![\d.,:\u202f−-])1[ \u00a0](?:(?:working|more|further|other|open|paid) )?(\p{L}+s|people)\b/gu;
/** Words that end like many and are not: `1 is left`. */
const NOT_MANY = new Set(
  'is was has does needs runs rests works comes carries belongs passes holds names ends signs waits this less as'.split(
    ' ',
  ),
);

function hasManyOfOne(words: string): boolean {
  return [...words.matchAll(MANY_OF_ONE)].some(([, word]) => !NOT_MANY.has(word!.toLowerCase()));
}

/** Texts that are never said of one: limits of the program, or said where there are several. */
const ONLY_MANY: readonly string[] = [
  'accessTexts.codeLasts',
  'commandTexts.summary.lots',
  'countdownTexts.futures',
  'countdownTexts.unplaced',
  'optionTexts.noDifference',
  'lineTexts.tooLong',
  'lineTexts.tooMany',
  'lineTexts.fact.times',
  'paceTexts.longer',
  'pictureTexts.again',
  'pageTexts.errors.longPath',
  'csvTexts.problems.tooMany',
  'problemTexts.amounts.negativeSpan',
  'problemTexts.amounts.longSpan',
  'problemTexts.dates.noDay',
  'problemTexts.edits.option.longName',
  'problemTexts.edits.option.tooMany',
  'problemTexts.files.tooLongForYaml',
  'problemTexts.files.tooSlow',
  'problemTexts.formula.tooLong',
  'problemTexts.formula.tooDeep',
  'problemTexts.log.longAgo',
  'problemTexts.parts.tooMany',
  'problemTexts.shape.tooManyItems',
  'problemTexts.shape.tooLong',
  'problemTexts.steps.overloaded',
  'problemTexts.steps.beyondHorizon',
  'problemTexts.steps.tooManyLinks',
  'countTexts.tooMany',
  'troubleTexts.wrong.tooLong',
  'troubleTexts.wrong.longPast',
  'troubleTexts.wrong.longName',
];

type Text = (...given: never[]) => unknown;

/** Every text below, with its path. */
function leavesOf(at: unknown, path = ''): [string, unknown][] {
  if (typeof at === 'function' || typeof at === 'string') return [[path, at]];
  if (typeof at !== 'object' || at === null) return [];
  return Object.entries(at).flatMap(([key, value]) => leavesOf(value, path === '' ? key : `${path}.${key}`));
}

/**
 * What a text says of ones, where they come as numbers and where they come as figures already: a text that knows the
 * form of either is right.
 */
function ofOne(text: Text): string[] {
  const mix = mixesFor(text).find((given) => said(text, given) !== null);
  if (mix === undefined) return [];
  return [mix, mix.map((one) => (one === 1 ? '1' : one))].flatMap((given) => said(text, given) ?? []);
}

/** Every mix of a number, a list, a word and nothing that a text may ask for; of long rows numbers alone. */
function mixesFor(text: Text): unknown[][] {
  const shapes: readonly unknown[] = text.length > 6 ? [1] : [1, ['x'], 'x', null, { lots: 1, most: 1 }];
  let mixes: unknown[][] = [[]];
  for (let i = 0; i < text.length; i++) mixes = mixes.flatMap((mix) => shapes.map((shape) => [...mix, shape]));
  return mixes;
}

function said(text: Text, given: readonly unknown[]): string | null {
  try {
    const words = text(...(given as never[]));
    return typeof words === 'string' ? words : null;
  } catch {
    return null;
  }
}

/** `views/texts/x.ts:12 till (say: to)`, for what is in quotes; all of a text file that is no code. */
function stiltedIn(file: string, text: string): string[] {
  const isCode = file.endsWith('.ts');
  const right = RIGHT[file.split('/').at(-1)!] ?? [];
  return text.split('\n').flatMap((line, i) => {
    if (isCode && /^\s*(\/\/|\/?\*)/.test(line)) return [];
    const said = isCode ? [...line.matchAll(/'(?:[^'\\]|\\.)*'|`[^`]*`/g)].map(([one]) => one) : [line];
    return said.flatMap((one) =>
      STILTED.flatMap(([words, instead]) => {
        const found = words.exec(one)?.[0];
        if (found === undefined || right.some((it) => it.test(one))) return [];
        return [`${file}:${i + 1} “${found}”, say: ${instead}`];
      }),
    );
  });
}

function stiltedComments(file: string, text: string): string[] {
  return text.split('\n').flatMap((line, i) => {
    if (!/^\s*(\/\/|\/?\*)/.test(line)) return [];
    return STILTED_IN_COMMENTS.flatMap(([words, instead]) => {
      const found = words.exec(line)?.[0];
      return found === undefined ? [] : [`${file}:${i + 1} “${found}”, say: ${instead}`];
    });
  });
}

function filesIn(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((it) => it.isFile() && /\.tsx?$/.test(it.name))
    .map((it) => relative(ROOT, join(it.parentPath, it.name)));
}
