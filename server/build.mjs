/**
 * `npm run build`: compiles to `dist`, and marks when. With `if-changed`, as `npm start` runs it, it does nothing where
 * nothing that the build reads has changed since. What counts is when files and folders were written (a folder is written
 * when a file in it comes or goes), so that a new version that was fetched is built too. Exit code: that of the compiler.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

const SOURCES = ['server', 'views', 'seed', 'package.json', 'package-lock.json', 'tsconfig.json'];
/** Written after a build that went well; gone with `dist`. */
const MARK = join('dist', '.built');

/** Whether something of `sources` is newer than the mark, or there is no mark. Paths from `root`. */
export function isChanged(root, sources = SOURCES, mark = MARK) {
  if (!existsSync(join(root, mark))) return true;
  const built = statSync(join(root, mark)).mtimeMs;
  return sources.some((source) => newest(join(root, source)) > built);
}

function newest(path) {
  if (!existsSync(path)) return 0;
  const own = statSync(path);
  if (!own.isDirectory()) return own.mtimeMs;
  return readdirSync(path).reduce((latest, name) => Math.max(latest, newest(join(path, name))), own.mtimeMs);
}

function build() {
  const began = new Date();
  const { status } = spawnSync('npm', ['run', '-s', 'compile'], {
    stdio: 'inherit',
    shell: process.platform === 'win32',
  });
  if (status !== 0) return status ?? 1;
  writeFileSync(MARK, `${began.toISOString()}\n`);
  // What was written while it was built may not be in it.
  utimesSync(MARK, began, began);
  return 0;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  process.exitCode = process.argv[2] !== 'if-changed' || isChanged('.') ? build() : 0;
}
