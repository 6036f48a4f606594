/** Build files sent in by a form. */
import { type BuildFile, checkBuildFile, type Result } from '../model/index.ts';
import { parseBuildText } from '../planner/index.ts';

/** A build file from its text, JSON or YAML. Refused with a sentence: text that is neither, and what `checkBuildFile` refuses. */
export function readBuildText(text: string): Result<BuildFile> {
  const value = parseBuildText(text, 'The file');
  return value.ok ? checkBuildFile(value.value) : value;
}
