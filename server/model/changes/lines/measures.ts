/** Counts, lengths of time and shares as people type them. */
import type { Amount, Estimate } from '../../common.ts';

/** A length of time, with the unit that it was typed in. */
export interface Length {
  /** Minutes, a day being 24 hours. */
  readonly minutes: number;
  /** Whole days, where days or weeks are all that it says. */
  readonly days: number | null;
}

const WORDS: Readonly<Record<string, number>> = {
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
  ten: 10,
  eleven: 11,
  twelve: 12,
  'a dozen': 12,
};
const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
const UNIT = '(weeks?|w|(?:working )?days?|d|hours?|hrs?|h|minutes?|mins?|min|m|seconds?|secs?|s)';
const MINUTES_PER: Readonly<Record<string, number>> = { w: 10_080, d: 1440, h: 60, m: 1, s: 1 / 60 };
const DAYS_PER: Readonly<Record<string, number>> = { w: 5, d: 1 };
const RANGE = new RegExp(
  `^(${NUMBER})\\s*(?:-|–|to)\\s*(${NUMBER})\\s*${UNIT}(?:\\s*likely\\s*(${NUMBER})(?:\\s*${UNIT})?)?$`,
);
const TRIAL = /^(\d+)\s+in\s+(.+)$/;
/** `40 min for 12`: the same, said the other way round. */
const TRIAL_FOR = /^(.+?)\s+for\s+(\d+)(?: of them)?$/;

/**
 * A number as typed, with a point or a comma, or as a word; null where it is none.
 *
 * @example readNumber('1,5') // 1.5
 */
export function readNumber(text: string): number | null {
  const word = WORDS[text.trim()];
  if (word !== undefined) return word;
  return new RegExp(`^${NUMBER}$`).test(text.trim()) ? Number(text.trim().replace(',', '.')) : null;
}

/**
 * How many, as a number or as a formula over the parameters: `5 x 32` is 160, `rails x 32` is a formula. Null where a
 * factor is neither a number nor a parameter's name.
 *
 * @example readCount('5 x 32', []) // 160
 */
export function readCount(text: string, parameters: readonly string[]): Amount | null {
  const factors = text.split(/\s*(?:\bx\b|\*|×|\btimes\b)\s*/).map((one) => one.trim());
  const known = factors.map((one) => readNumber(one) ?? parameters.find((name) => isNamed(name, one)) ?? null);
  if (known.some((one) => one === null)) return null;
  const numbers = known.filter((one) => typeof one === 'number');
  if (numbers.length === known.length) return numbers.reduce((all, one) => all * one, 1);
  return known.join(' * ');
}

/**
 * A length of time such as `3 h 20`, `2h30`, `1.5 h`, `90 min`, `45 s`, `6 days` or `2 weeks`; null where it is none.
 * Weeks are five days where days are counted, and seven on the clock.
 *
 * @example readLength('3 h 20') // { minutes: 200, days: null }
 */
export function readLength(text: string): Length | null {
  const plain = text
    .trim()
    .replace(/^(?:an?|one) (?=hour|minute|day|week)/, '1 ')
    .replace(/^half an hour$/, '30 min');
  const hours = new RegExp(`^(${NUMBER})\\s*h(?:ours?|rs?)?\\s*(\\d{1,2})(?:\\s*m(?:in)?(?:ute)?s?)?$`).exec(plain);
  if (hours !== null) return { minutes: toNumber(hours[1]!) * 60 + Number(hours[2]), days: null };
  const parts = [...plain.matchAll(new RegExp(`(${NUMBER})\\s*${UNIT}(?![a-z])`, 'g'))];
  if (parts.length === 0 || parts.map(([whole]) => whole).join('') !== plain.replace(/\s+(?=\d)/g, '')) return null;
  const sum = (per: Readonly<Record<string, number>>): number =>
    parts.reduce((all, [, size, unit]) => all + toNumber(size!) * (per[letterOf(unit!)] ?? Number.NaN), 0);
  const days = sum(DAYS_PER);
  return { minutes: sum(MINUTES_PER), days: Number.isNaN(days) ? null : days };
}

/** Working days of a supplier. */
export type Days = number | { low: number; likely: number; high: number };

/**
 * Days of a lead, `5 days`, `3 to 7 days`, `2 weeks`; null where it is none. The middle of a range is the likely one.
 */
export function readDays(text: string): Days | null {
  const range = RANGE.exec(text.trim());
  if (range === null) return readLength(text)?.days ?? null;
  const per = DAYS_PER[letterOf(range[3]!)];
  if (per === undefined) return null;
  const [low, high] = [toNumber(range[1]!) * per, toNumber(range[2]!) * per];
  return { low, likely: likelyOf(range, per) ?? Math.round((low + high) / 2), high };
}

/**
 * Minutes for one: `3 min`, `3 to 5 min` (likely in the middle), `18 in 45 min` or `45 min for 18` (a timed trial);
 * null where none.
 */
export function readEstimate(text: string): Estimate | null {
  const turned = TRIAL_FOR.exec(text.trim());
  const trial = TRIAL.exec(turned === null ? text.trim() : `${turned[2]} in ${turned[1]}`);
  const took = trial === null ? null : readLength(trial[2]!);
  if (trial !== null && took !== null) return { units: Number(trial[1]), minutes: took.minutes };
  const range = RANGE.exec(text.trim());
  if (range === null) return readLength(text)?.minutes ?? null;
  const per = MINUTES_PER[letterOf(range[3]!)]!;
  const [low, high] = [toNumber(range[1]!) * per, toNumber(range[2]!) * per];
  return { low, likely: likelyOf(range, per) ?? (low + high) / 2, high };
}

/** The likely value behind a range, in its own unit or that of the range. */
function likelyOf([, , , , likely, unit]: RegExpExecArray, per: number): number | null {
  if (likely === undefined) return null;
  return toNumber(likely) * (unit === undefined ? per : (MINUTES_PER[letterOf(unit)] ?? per));
}

/** Whether somebody means this name: small and large letters, blanks and hyphens, one or many are alike. */
export function isNamed(name: string, said: string): boolean {
  return plainName(name) === plainName(said);
}

function plainName(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ')
    .replace(/s$/, '');
}

function toNumber(text: string): number {
  return Number(text.replace(',', '.'));
}

/** The first letter of a unit says which it is. */
function letterOf(unit: string): string {
  return unit.replace(/^working /, '').charAt(0);
}
