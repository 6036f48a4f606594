/** The examples in doc blocks are true: each `expression // result` above an exported function is worked out here. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { programFile } from './cli/program.ts';

const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), '..');
const LINE = /^\s*\*\s{5,}(\S.*) \/\/ (.+)$/;
/** What the expression needs beyond its own file is not imported for it: it speaks of a planned build. */
const OF_A_BUILD = /\b(planned|build|asked|futures)\b/;

const examples = ['server', 'views'].flatMap(filesIn).flatMap((path) =>
  readFileSync(join(ROOT, path), 'utf8')
    .split('\n')
    .flatMap((line) => {
      const found = LINE.exec(line);
      return found === null || OF_A_BUILD.test(found[1]!) ? [] : [{ path, expression: found[1]!, result: found[2]! }];
    }),
);

describe('the examples in doc blocks', () => {
  it('are there for the functions that are used most', () => {
    expect(examples.length).toBeGreaterThanOrEqual(30);
  });

  it.each(examples)('$path: $expression', async ({ path, expression, result }) => {
    const names: Record<string, unknown> = await import(/* @vite-ignore */ programFile(path));
    const value = (text: string): unknown =>
      new Function(...Object.keys(names), `return (${text});`)(...Object.values(names));
    expect(plainSpaces(value(expression))).toEqual(value(result));
  });
});

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
