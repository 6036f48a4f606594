import { parse as parseYaml } from 'yaml';
import { type BuildFile, checkBuildFile, problem, type Result } from '../model/index.ts';

const MOST_ALIASES = 100;

/** A build file from its text, JSON or YAML. Refused with a sentence: text that is neither, and what `checkBuildFile` refuses. */
export function readBuildText(text: string): Result<BuildFile> {
  let value: unknown;
  try {
    value = text.trimStart().startsWith('{') ? JSON.parse(text) : parseYaml(text, { maxAliasCount: MOST_ALIASES });
  } catch (error) {
    const why = error instanceof Error ? error.message.split('\n')[0] : String(error);
    const message = `The file is neither JSON nor YAML that can be read: ${why}`;
    return { ok: false, problems: [problem('shape', 'file', text.slice(0, 60), message)] };
  }
  return checkBuildFile(value);
}
