/** How large a parameter may be so that the date is still kept with a chance. */
import type { SizedValue, Sizing } from '../../model/index.ts';
import { shareError } from '../08-risk/index.ts';
import type { Case } from '../stages/index.ts';
import { type KnownPlan, type Trial, type TrialOptions, trialOf } from './trial.ts';
import { chanceOf, chanceWith, comparedOf } from './worth.ts';

interface SizingAsked {
  readonly parameter: string;
  readonly seed: number;
  /** Futures of each value; 400 unless given. */
  readonly futures?: number;
  /** Whether the search should end with what it has. */
  readonly isOver?: () => boolean;
  /** What the sheets say of the plan as it is. */
  readonly known?: KnownPlan;
}

const FUTURES = 400;
const CHANCES = [0.8, 0.9];
/** Values of the curve beside those that the search needs. */
const SPREAD = 8;
/** No value is tried that is more than this many times the present one. */
const MOST_TIMES = 8;
/** A value that is no whole number is found to this share of the present one. */
const FINENESS = 100;

/**
 * The chance to be ready in time at several values of a parameter, and the largest value with 80 and with 90 in a
 * hundred, by halving: a larger count leaves less chance, save for what a search for a schedule happens to find. All
 * values meet the same luck, and are compared with the chance that is known of the plan as it is, where the parameter
 * is not uncertain in that (see `worthOf`). From half the present value up to where the chance is below 80 in 100, at
 * most `MOST_TIMES` times it. Null where the build has no such parameter with a value, or no date. O(20) plans with
 * their futures.
 */
export function rightSize(
  asked: Case,
  { parameter, seed, futures = FUTURES, isOver = () => false, known: sheets }: SizingAsked,
): Sizing | null {
  const typed = asked.build.parameters?.find(({ name }) => name === parameter);
  const present = typed?.value ?? typed?.range?.likely;
  if (typed === undefined || present === undefined || !(present > 0)) return null;
  const step = Number.isInteger(present) ? 1 : present / FINENESS;
  const trials = { seed, futures };
  const base = sheets !== undefined && typed.range === undefined ? trialOf(asked, trials, sheets) : null;
  const known = new Map<number, SizedValue | null>();
  const at = (steps: number): SizedValue | null => {
    const found = known.get(steps);
    if (found !== undefined) return found;
    const made = isOver() ? null : sized(asked, parameter, steps * step, trials, base);
    known.set(steps, made);
    return made;
  };
  const now = Math.round(present / step);
  if (at(now) === null) return null;
  const top = topOf(at, now);
  const bottom = bottomOf(at, now);
  for (let i = 0; i <= SPREAD; i++) at(Math.round(bottom + ((top - bottom) * i) / SPREAD));
  const largest = CHANCES.map((chance) => {
    const steps = largestOf(at, bottom, top, chance);
    return { chance, value: steps === null ? null : steps * step };
  });
  const curve = [...known.values()].filter((one) => one !== null).sort((a, b) => a.value - b.value);
  const isOpen = (at(top)?.chance ?? 0) >= Math.min(...CHANCES);
  const unit = typed.unit ?? null;
  return { parameter, unit, now: asked.now, present, curve, largest, isOpen, futures };
}

function sized(
  asked: Case,
  parameter: string,
  value: number,
  options: TrialOptions,
  present: Trial | null,
): SizedValue | null {
  const overrides = new Map([...(asked.overrides ?? []), [parameter, value] as const]);
  const trial = trialOf({ ...asked, overrides }, options);
  if (trial.ends === null) return null;
  const { readyAt } = trial;
  const chance = chanceOf(trial.ends(options.futures));
  const error = shareError(Math.round(chance * options.futures), options.futures);
  const differs = present === null ? null : comparedOf(present, trial, options.futures);
  if (differs === null || present?.known == null) return { value, readyAt, chance, error };
  const { known } = present;
  return {
    value,
    readyAt,
    chance: chanceWith(differs, known.chance),
    error: Math.hypot(known.error, differs.readyBy.error),
  };
}

type At = (steps: number) => SizedValue | null;

/** The first doubling at which the chance is below what is asked for, or the last that can be tried. */
function topOf(at: At, now: number): number {
  let top = now;
  while (top * 2 <= now * MOST_TIMES && (at(top)?.chance ?? 0) >= Math.min(...CHANCES)) top *= 2;
  return top;
}

/** The first halving at which the chance is what is asked for. */
function bottomOf(at: At, now: number): number {
  let bottom = Math.max(1, Math.floor(now / 2));
  while (bottom > 1 && (at(bottom)?.chance ?? 0) < Math.max(...CHANCES)) bottom = Math.floor(bottom / 2);
  return bottom;
}

function largestOf(at: At, bottom: number, top: number, chance: number): number | null {
  const keeps = (steps: number) => (at(steps)?.chance ?? 0) >= chance;
  if (keeps(top)) return top;
  if (!keeps(bottom)) return null;
  let [low, high] = [bottom, top];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (keeps(middle)) low = middle;
    else high = middle;
  }
  return low;
}
