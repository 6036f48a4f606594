/**
 * Which files tests start or load by their path: under `npm test` what was built (vitest.config.ts), else the sources.
 */
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..', '..');

/** The file to load for a source such as `server/cli.ts`. */
export function programFile(source: string): string {
  return isBuilt() ? join(ROOT, 'dist', source.replace(/\.tsx?$/, '.js')) : join(ROOT, source);
}

/** What Node is given to run it. */
export function programArguments(source: string): readonly string[] {
  return isBuilt() ? [programFile(source)] : ['--import', 'tsx', programFile(source)];
}

function isBuilt(): boolean {
  return process.env.TEST_BUILT === '1';
}
