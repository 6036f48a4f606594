/**
 * Quick lines: parts, steps, tests and jobs as one would say them, one a line, read into changes of the build. What is
 * not understood keeps its text; what was left open is said, not guessed in silence.
 */
import type { Build } from '../../build.ts';
import type { Problem } from '../../problem.ts';
import { applyChanges } from '../apply.ts';
import type { Change } from '../change.ts';
import { type LineRead, readLine } from './read-line.ts';

export type { Assumed, Fact, WhyNot } from './facts.ts';

/** Longer texts are refused: nobody types them in an evening. */
export const MOST_LINES = 400;
export const LONGEST_LINE = 500;

export interface Line extends LineRead {
  /** As it was typed. */
  readonly text: string;
  /** Why the build refuses what was understood. */
  readonly problems: readonly Problem[];
}

export interface LinesRead {
  /** Lines with something on them, in their order. */
  readonly lines: readonly Line[];
  /** All changes of the lines that were understood. */
  readonly changes: readonly Change[];
  /** The build with them. */
  readonly build: Build;
}

/**
 * Reads lines one after the other, each against the build with the lines before it. A line that is not understood, or
 * that the build refuses, changes nothing, and neither does one of whose things `refused` says that the plan does not
 * take them. Empty lines and those that begin with # are passed over. O(lines x build).
 */
export function readLines(text: string, build: Build, refused: readonly Problem[] = []): LinesRead {
  const typed = text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '' && !line.startsWith('#'))
    .slice(0, MOST_LINES);
  return typed.reduce<LinesRead>((before, line) => withLine(before, line, refused), { lines: [], changes: [], build });
}

function withLine({ lines, changes, build }: LinesRead, text: string, refused: readonly Problem[]): LinesRead {
  const read = readLine(text.slice(0, LONGEST_LINE), build);
  const problems = refused.filter(({ field }) => read.changes.some((change) => isAbout(change, field)));
  if (problems.length > 0) return { lines: [...lines, { ...read, text, changes: [], problems }], changes, build };
  const made = read.wrong === null ? applyChanges(build, read.changes) : null;
  if (made === null) return { lines: [...lines, { ...read, text, problems: [] }], changes, build };
  if (!made.ok) return { lines: [...lines, { ...read, text, changes: [], problems: made.problems }], changes, build };
  return {
    lines: [...lines, { ...read, text, problems: [] }],
    changes: [...changes, ...read.changes],
    build: made.value,
  };
}

/** Whether a field is one of the thing that a change is about. */
function isAbout(change: Change, field: string): boolean {
  return 'key' in change && `${field}.`.startsWith(`${change.list}.${change.key}.`);
}
