/** The text of a build file as a value: JSON, or YAML as far as it says the same. */
import { isScalar, parseDocument, visit } from 'yaml';
import {
  type BuildFile,
  checkBuildFile,
  jsonDepth,
  problem,
  problemTexts,
  type Result,
  type Sentence,
} from '../model/index.ts';

/** A larger file is not read, whichever way it comes: an export takes as much with 250,000 log entries. */
export const MOST_FILE_MEGABYTES = 64;
/** What the build in it may have, without its log; a build of 30,000 lots takes an eighth of this. */
export const MOST_BUILD_MEGABYTES = 8;

/** A YAML alias repeats what it names; a few lines of aliases of aliases would fill the memory. */
const MOST_ALIASES = 100;
/** A build file is nine deep. YAML's time grows with the square of the depth, so deeper text is not even begun. */
const DEEPEST = 200;
/**
 * Signs in a YAML text behind which a value can begin. Reading takes some microseconds and half a kilobyte for each:
 * this many take a second. An export of 6,000 log entries has fewer; what is larger is read as JSON at once.
 */
const MOST_SIGNS = 100_000;

/**
 * The value that a text stands for, not yet checked to be a build. `name` decides how it is read where it ends in
 * .json, .yaml or .yml, and the first character otherwise; it names the text where it cannot be read. What would take
 * long to read (deep nesting, very many values in YAML) is refused before it is begun.
 */
export function parseBuildText(text: string, name: string): Result<unknown> {
  const isJson = /\.json$/i.test(name) || (!/\.ya?ml$/i.test(name) && /^\s*[{[]/.test(text));
  const refuse = (why: string | Sentence): Result<never> => {
    const message = problemTexts.files.unreadable(name, isJson ? 'JSON' : 'YAML', why);
    return { ok: false, problems: [problem('shape', 'file', name, message)] };
  };
  if ((isJson ? jsonDepth(text) : yamlDepth(text)) > DEEPEST) return refuse(problemTexts.files.tooDeep);
  if (!isJson && signsIn(text) > MOST_SIGNS) return tooLarge(name, signsIn(text));
  try {
    return isJson ? { ok: true, value: JSON.parse(text) as unknown } : { ok: true, value: yamlValue(text) };
  } catch (error) {
    if (error instanceof RangeError) return refuse(problemTexts.files.tooDeep);
    if (error instanceof SameKey) return refuse(problemTexts.files.sameKey(error.key));
    return refuse((error as Error).message.split('\n')[0]!.replace(/[.:]$/, ''));
  }
}

/**
 * The build file that a text stands for, checked: see `parseBuildText` and `checkBuildFile`. A build that is too large
 * is refused; its log may be as long as the file lets it be, so that whatever was exported can be read in again.
 */
export function readBuildFile(text: string | Uint8Array, name: string): Result<BuildFile> {
  const value = parseBuildText(typeof text === 'string' ? text : new TextDecoder().decode(text), name);
  if (!value.ok) return value;
  const { build } = (value.value ?? {}) as { readonly build?: unknown };
  const megabytes = Math.ceil((JSON.stringify(build)?.length ?? 0) / BYTES_A_MEGABYTE);
  if (megabytes <= MOST_BUILD_MEGABYTES) return checkBuildFile(value.value);
  const message = problemTexts.files.tooLarge(name, megabytes, MOST_BUILD_MEGABYTES);
  return { ok: false, problems: [problem('too-large', 'build', name, message)] };
}

const BYTES_A_MEGABYTE = 1024 * 1024;

/** Whether a text is longer than what `parseBuildText` reads as YAML. */
export function isTooLongForYaml(text: string): boolean {
  return signsIn(text) > MOST_SIGNS;
}

function tooLarge(name: string, signs: number): Result<never> {
  const message = problemTexts.files.tooLongForYaml(name, roughly(signs), roughly(MOST_SIGNS));
  return { ok: false, problems: [problem('too-large', 'file', name, message)] };
}

/** Two figures exact. */
function roughly(count: number): number {
  return Number(count.toPrecision(2));
}

/** A key that a map has twice. */
class SameKey extends Error {
  readonly key: string;
  constructor(key: string) {
    super(key);
    this.key = key;
  }
}

/**
 * The library compares each key with all others of its map, which takes minutes for a map of many; here they are looked
 * up.
 */
function yamlValue(text: string): unknown {
  const document = parseDocument(text, { schema: 'core', strict: true, uniqueKeys: false });
  const [error] = document.errors;
  if (error !== undefined) throw error;
  visit(document, {
    Map: (_, { items }) => {
      const seen = new Set<unknown>();
      for (const { key } of items) {
        const name = isScalar(key) ? key.value : key;
        if (seen.has(name)) throw new SameKey(String(name));
        seen.add(name);
      }
    },
  });
  return document.toJS({ maxAliasCount: MOST_ALIASES });
}

function signsIn(text: string): number {
  let signs = 0;
  for (let i = 0; i < text.length; i++) {
    const one = text.charCodeAt(i);
    if (SIGNS.has(one) || (BEFORE_BLANK.has(one) && !(text.charCodeAt(i + 1) > BLANK))) signs += 1;
  }
  return signs;
}

/** Line feed, comma, square and curly bracket. */
const SIGNS = new Set([0x0a, 0x2c, 0x5b, 0x7b]);
/** Dash, colon and question mark, which say something only before a blank or at the end of a line. */
const BEFORE_BLANK = new Set([0x2d, 0x3a, 0x3f]);
const BLANK = 0x20;

/** Brackets open at once, and blanks or dashes before a line: never less than the depth of what is written. */
function yamlDepth(text: string): number {
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
