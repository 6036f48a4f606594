/** The engine as it was at any commit: its files taken from git, bundled for themselves, and imported. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build as bundle } from 'esbuild';
import type { Build, BuildFile, Forecast, LogEntry } from '../../../server/model/index.ts';

/** A state of the program, as far as it is asked here. */
export interface Engine {
  readonly planBuild: (build: Build, log: readonly LogEntry[], now: number, options?: object) => Forecast;
  readonly checkBuild: (value: unknown) => { readonly ok: boolean };
  /** The demo that it came with. */
  readonly demoFile?: (now: number) => BuildFile;
  /** The wall that its tests planned. */
  readonly fakeBuild?: () => Build;
}

export interface Commit {
  /** `null`: the files as they lie here. */
  readonly hash: string | null;
  readonly subject: string;
}

/** The commits after one that changed engine or model, the oldest first; last the files as they lie here. */
export function commitsSince(from: string): Commit[] {
  const lines = git('log', '--reverse', '--format=%H %s', `${from}..HEAD`, '--', 'server/engine', 'server/model');
  const commits = lines.split('\n').filter((line) => line !== '');
  return [
    ...commits.map((line): Commit => ({ hash: line.slice(0, 40), subject: line.slice(41) })),
    { hash: null, subject: 'what is not committed yet' },
  ];
}

/** The whole name of a commit. */
export function commitHash(commit: string): string {
  return git('rev-parse', commit).trim();
}

/** The text of a file as it was at a commit. */
export function textAt(commit: string, path: string): string {
  return git('show', `${commit}:${path}`);
}

/** Imports the engine of a commit; bundles are kept in `folder` for the next question. */
export async function engineAt({ hash }: Commit, folder: string): Promise<Engine> {
  const root = hash === null ? resolve('.') : join(folder, hash);
  const bundled = join(folder, `${hash ?? `here-${process.pid}`}.mjs`);
  if (!existsSync(bundled)) {
    if (hash !== null) unpack(hash, root);
    const builds = BUILDS.filter((file) => existsSync(join(root, file))).map((file) => `export * from './${file}';`);
    await bundle({
      stdin: {
        contents: `export { planBuild } from './server/engine/plan.ts';
          export { checkBuild } from './server/model/index.ts'; ${builds.join('\n')}`,
        resolveDir: root,
        loader: 'ts',
      },
      bundle: true,
      platform: 'node',
      format: 'esm',
      nodePaths: [resolve('node_modules')],
      banner: { js: `import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);` },
      outfile: bundled,
      logLevel: 'error',
    });
  }
  return (await import(pathToFileURL(bundled).href)) as Engine;
}

/** Where builds of its own lay, as long as they did. */
const BUILDS = ['seed/demo.ts', 'tests/support/fake-build.ts'];

function unpack(hash: string, root: string): void {
  mkdirSync(root, { recursive: true });
  const wanted = ['server/engine', 'server/model', 'seed', 'tests/support'];
  const files = execFileSync('git', ['archive', hash, ...wanted], { maxBuffer: 1e9 });
  execFileSync('tar', ['-x', '-C', root], { input: files });
}

function git(...words: string[]): string {
  return execFileSync('git', words, { encoding: 'utf8', maxBuffer: 1e9 });
}
