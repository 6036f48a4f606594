/** The examples in doc blocks are true: each `expression // result` above an exported function is worked out here. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { programFile } from './cli/program.ts';

const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), '..');
const LINE = /^\s*\*\s{5,}(\S.*) \/\/ (.+)$/;
/** What is something large, such as a planned build or a request, is not made for an example. */
const OF_SOMETHING_LARGE = /\b(planned|build|asked|futures|web|reply)\b(?!:)/;
/** As many of the most used functions have an example. */
const MOST_USED = 30;

const files = ['server', 'views']
  .flatMap(filesIn)
  .map((path) => ({ path, text: readFileSync(join(ROOT, path), 'utf8') }));

const examples = files.flatMap(({ path, text }) =>
  text.split('\n').flatMap((line) => {
    const found = LINE.exec(line);
    return found === null || OF_SOMETHING_LARGE.test(found[1]!)
      ? []
      : [{ path, expression: found[1]!, result: found[2]! }];
  }),
);

describe('the examples in doc blocks', () => {
  it('are there for the functions that most files import', () => {
    const used = mostUsed();
    expect(used.map(({ files: users }) => users).every((users) => users > 10)).toBe(true);
    expect(used.filter(({ blocks }) => !blocks.some(hasExample)).map(({ name }) => name)).toEqual([]);
  });

  it.each(examples)('$path: $expression', async ({ path, expression, result }) => {
    const { renderFragment } = await import(/* @vite-ignore */ programFile('views/render.ts'));
    const own: Record<string, unknown> = await import(/* @vite-ignore */ programFile(path));
    const names: Record<string, unknown> = { markup: renderFragment, ...own };
    const value = (text: string): unknown =>
      new Function(...Object.keys(names), `return (${text});`)(...Object.values(names));
    expect(plainSpaces(value(expression))).toEqual(value(result));
  });
});

interface Used {
  readonly name: string;
  /** How many files import it. */
  readonly files: number;
  /** What is said above each function of that name. */
  readonly blocks: readonly string[];
}

/** The functions that most files import, by name. */
function mostUsed(): Used[] {
  const uses = new Map<string, number>();
  for (const { text } of files) {
    const lists = [...text.matchAll(/^import \{([^}]*)\} from '\./gm)].flatMap((match) => match[1]!.split(','));
    const names = lists.map((one) => one.trim()).filter((one) => one !== '' && !one.startsWith('type '));
    for (const name of new Set(names.map((one) => one.split(' as ')[0]!))) uses.set(name, (uses.get(name) ?? 0) + 1);
  }
  const blocks = new Map<string, string[]>();
  for (const { text } of files) {
    for (const match of text.matchAll(
      /^export (?:async )?(?:function\*? (\w+)|const (\w+)(?:: [^=]+)? = (?:async )?\()/gm,
    )) {
      const above = text.slice(0, match.index).trimEnd();
      const block = above.endsWith('*/') ? above.slice(above.lastIndexOf('/**')) : '';
      blocks.set((match[1] ?? match[2])!, [...(blocks.get((match[1] ?? match[2])!) ?? []), block]);
    }
  }
  return [...uses]
    .filter(([name]) => blocks.has(name))
    .sort((a, b) => b[1] - a[1])
    .slice(0, MOST_USED)
    .map(([name, users]) => ({ name, files: users, blocks: blocks.get(name)! }));
}

function hasExample(block: string): boolean {
  return block.split('\n').some((line) => LINE.test(line));
}

/** Words keep together by spaces that do not break; an example is written with plain ones. */
function plainSpaces(value: unknown): unknown {
  return typeof value === 'string' ? value.replaceAll('\u00a0', ' ') : value;
}

function filesIn(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !entry.parentPath.includes('client'))
    .map((entry) => relative(ROOT, join(entry.parentPath, entry.name)))
    .sort();
}
