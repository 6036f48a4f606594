/**
 * What was wrong with an input, said so that it can be put right: the field, the value found there, and a sentence with
 * what would be right. Bad input is a result, never an exception.
 */

import { englishOf, problemTexts, wordsOf } from './texts/index.ts';
import { isSentence, type Sentence } from './texts/sentence.ts';

const PROBLEM_CODES = [
  'shape', // not of the form the schema asks for
  'version', // a file of another format or version
  'too-large',
  'duplicate-id',
  'unknown-name', // refers to something that is not there
  'formula', // does not parse
  'formula-circle',
  'formula-value', // divides by zero, not finite, too deep
  'negative-count',
  'not-a-date',
  'missing-hour', // an hour that the change of the clocks leaves out
  'unknown-zone',
  'event-past',
  'order-of-dates', // ready-by after the event, and the like
  'hours', // weekly hours that do not parse
  'no-hours', // somebody or something without a minute
  'nobody', // a step that nobody may do
  'part-circle',
  'feed-circle',
  'no-units', // a feed by units where there are none to count
  'range', // low, likely, high out of order
  'orphan', // nothing feeds it and it feeds nothing
  'beyond-horizon', // cannot be finished within the time looked at
  'log', // a log entry that cannot be used
  'guessed', // rests on a guess
  'hours-of-work', // leans on nights, too little rest
  'late-order',
  'pin', // a pinned time that cannot be kept
  'conflict',
  'closed', // to a build that was closed after its show
  'gone', // a change to a thing that is not there any more
  'contradiction', // two changes that cannot both be made
] as const;
export type ProblemCode = (typeof PROBLEM_CODES)[number];

/** An error keeps the thing it names out of the plan; a warning keeps it in. */
type Severity = 'error' | 'warning';

/** What is said of something wrong. */
export interface Said {
  /** One sentence for a person, in English: what is wrong and what would be right. */
  readonly message: string;
  /** The same as facts, for readers of other languages; left out where the message is in the reader's language. */
  readonly sentence?: Sentence;
}

export interface Problem extends Said {
  readonly code: ProblemCode;
  readonly severity: Severity;
  /**
   * Where: a path into the build such as `steps.print-cranks.phases.1.machine`; steps and other listed things by their
   * id.
   */
  readonly field: string;
  /** What is there, as text. */
  readonly value: string;
}

export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * An error in an input: the field, the value found there as text, and a sentence with what would be right.
 *
 *     problem('range', 'parts.hook.count', -2, { message: 'Hooks need 0 or more.' }).severity // 'error'
 */
export function problem(code: ProblemCode, field: string, value: unknown, what: Sentence | Said): Problem {
  return { code, severity: 'error', field, value: shown(value), ...saidOf(what) };
}

/** The same for what is no error: the build may be planned all the same. */
export function warning(code: ProblemCode, field: string, value: unknown, what: Sentence | Said): Problem {
  return { code, severity: 'warning', field, value: shown(value), ...saidOf(what) };
}

/**
 * An error whose sentence is in the reader's language already: found and shown in one request.
 *
 *     wordedProblem('shape', 'steps', '', 'No step is named.').message // 'No step is named.'
 */
export function wordedProblem(code: ProblemCode, field: string, value: unknown, message: string): Problem {
  return { code, severity: 'error', field, value: shown(value), message };
}

/** What a sentence says, to be carried until somebody reads it. */
export function saidOf(what: Sentence | Said): Said {
  if (isSentence(what)) return { message: englishOf(what), sentence: what };
  return what.sentence === undefined ? { message: what.message } : { message: what.message, sentence: what.sentence };
}

/** A problem as it is read here and now: its message in the language of the moment, or in these words. */
export function inWords({ code, severity, field, value, ...said }: Problem, message = messageOf(said)): Problem {
  return { code, severity, field, value, message };
}

/** For `JSON.stringify`: writes each problem as whoever asks for the data reads it, without the facts. */
export function asRead(_name: string, value: unknown): unknown {
  const { severity, sentence } = (value ?? {}) as Partial<Problem>;
  return severity === undefined || sentence === undefined ? value : inWords(value as Problem);
}

/**
 * What is wrong, in the language of the moment; in English what was kept before there were others.
 *
 *     messageOf({ message: 'Hooks need 0 or more.' }) // 'Hooks need 0 or more.'
 */
export function messageOf({ message, sentence }: Said): string {
  return (sentence === undefined ? null : wordsOf(sentence)) ?? message;
}

export function isError(p: Problem): boolean {
  return p.severity === 'error';
}

const LONGEST_SHOWN = 120;

function shown(value: unknown): string {
  if (isSentence(value)) return shown(englishOf(value));
  if (typeof value === 'string') return cut(value, LONGEST_SHOWN);
  const json = jsonOf(value, LONGEST_SHOWN);
  return isSentence(json) ? englishOf(json) : json;
}

/** The first half of a letter of two code units, where a cut has left it at the end. */
const HALF_LETTER = /[\ud800-\udbff]$/;

/** A text cut to a length, with an ellipsis where it was longer. */
export function cut(text: string, longest: number): string {
  return text.length > longest ? `${text.slice(0, longest).replace(HALF_LETTER, '')}…` : text;
}

/** Deeper than this a value is not written out: nothing that a sentence is about is so deep. */
const DEEPEST_SHOWN = 12;

/**
 * A value as JSON for a sentence, at most `longest` characters and an ellipsis. Only what is shown of a large value is
 * looked at, and a value nested too deeply to be written is only said to be so.
 */
export function jsonOf(value: unknown, longest = LONGEST_SHOWN): string | Sentence {
  if (isDeep(value, DEEPEST_SHOWN)) return problemTexts.shape.tooDeep;
  // JSON has no such number and would write null.
  if (typeof value === 'number' && !Number.isFinite(value)) return String(value);
  const left = { items: longest };
  return cut(JSON.stringify(firstOf(value, left)) ?? String(value), longest);
}

function isDeep(value: unknown, levels: number): boolean {
  if (typeof value !== 'object' || value === null) return false;
  if (levels === 0) return true;
  const items = Array.isArray(value) ? value : Object.values(value);
  return items.slice(0, LONGEST_SHOWN).some((item) => isDeep(item, levels - 1));
}

/** As much of a value as a sentence can show: each item of a list or an object takes at least a character. */
function firstOf(value: unknown, left: { items: number }): unknown {
  left.items -= 1;
  if (typeof value === 'string') return value.slice(0, LONGEST_SHOWN);
  if (typeof value === 'number') return Number.isFinite(value) ? value : String(value);
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.slice(0, Math.max(0, left.items)).map((item) => firstOf(item, left));
  const entries = Object.entries(value).slice(0, Math.max(0, left.items));
  return Object.fromEntries(entries.map(([key, item]) => [key.slice(0, LONGEST_SHOWN), firstOf(item, left)]));
}
