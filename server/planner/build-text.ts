/** The text of a build file as a value: JSON, or YAML as far as it says the same. */
import { parse } from 'yaml';
import { problem, type Result } from '../model/index.ts';

/** A larger file is not read, whichever way it comes; a build of 30,000 lots takes an eighth of this. */
export const MOST_FILE_MEGABYTES = 8;

/** A YAML alias repeats what it names; a few lines of aliases of aliases would fill the memory. */
const MOST_ALIASES = 100;
/** A build file is nine deep. YAML's time grows with the square of the depth, so deeper text is not even begun. */
const DEEPEST = 200;

/**
 * The value that a text stands for, not yet checked to be a build. `name` decides how it is read where it ends in .json,
 * .yaml or .yml, and the first character otherwise; it names the text where it cannot be read.
 */
export function parseBuildText(text: string, name: string): Result<unknown> {
  const isJson = /\.json$/i.test(name) || (!/\.ya?ml$/i.test(name) && /^\s*[{[]/.test(text));
  const refuse = (why: string): Result<never> => {
    const message = `${name} is not ${isJson ? 'JSON' : 'YAML'}: ${why}.`;
    return { ok: false, problems: [problem('shape', 'file', name, message)] };
  };
  if (!isJson && depthOf(text) > DEEPEST) return refuse('it is nested too deeply');
  try {
    if (isJson) return { ok: true, value: JSON.parse(text) as unknown };
    const options = { schema: 'core', maxAliasCount: MOST_ALIASES, strict: true, uniqueKeys: true } as const;
    return { ok: true, value: parse(text, options) as unknown };
  } catch (error) {
    if (error instanceof RangeError) return refuse('it is nested too deeply');
    return refuse((error as Error).message.split('\n')[0]!.replace(/[.:]$/, ''));
  }
}

/** Brackets open at once, and blanks or dashes before a line: never less than the depth of what is written. */
function depthOf(text: string): number {
  let [open, deepest] = [0, 0];
  for (let i = 0; i < text.length; i++) {
    const one = text.charCodeAt(i);
    if (one === OPEN_SQUARE || one === OPEN_CURLY) deepest = Math.max(deepest, ++open);
    else if ((one === CLOSE_SQUARE || one === CLOSE_CURLY) && open > 0) open--;
  }
  for (const [lead] of text.matchAll(/^[ \t?:-]*/gm)) deepest = Math.max(deepest, lead.length / 2);
  return deepest;
}

const [OPEN_SQUARE, CLOSE_SQUARE, OPEN_CURLY, CLOSE_CURLY] = [0x5b, 0x5d, 0x7b, 0x7d];
