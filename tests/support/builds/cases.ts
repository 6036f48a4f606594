/** The builds of tests/cases: each shows, as small as can be, a kind of build that was once planned wrongly. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type BuildFile, checkBuildFile } from '../../../server/model/index.ts';
import { parseBuildText } from '../../../server/planner/build-text.ts';

/** The build and the log of a case; throws where it is no build file. */
export function readCase(name: string): Pick<BuildFile, 'build'> & { log: NonNullable<BuildFile['log']> } {
  const parsed = parseBuildText(readFileSync(join(import.meta.dirname, '..', '..', 'cases', name), 'utf8'), name);
  const checked = parsed.ok ? checkBuildFile(parsed.value) : parsed;
  if (!checked.ok) throw new Error(`${name}: ${checked.problems.map(({ message }) => message).join(' ')}`);
  return { build: checked.value.build, log: checked.value.log ?? [] };
}
