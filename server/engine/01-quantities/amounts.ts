/**
 * Amounts, spans and estimates of a build as plain numbers: numbers pass, formulas are computed, durations are read.
 */

import type { Amount, Estimate, Problem, ProblemCode, Range, Span } from '../../model/index.ts';
import { problem, problemTexts } from '../../model/index.ts';
import { ceilCount, threePointMean } from '../numbers/index.ts';
import type { Minutes } from '../types.ts';
import { evaluateFormula, type FormulaProblem, parseFormula } from './formula.ts';

/** Reads amounts against one set of parameter values, collecting what is wrong with them. */
export interface Evaluator {
  /** The number, or null (with a problem noted) when there is none. */
  amount(amount: Amount, field: string): number | null;
  /** A whole number of at least `least`. A formula's result is rounded up: nobody makes part of a part. */
  count(amount: Amount, field: string, least?: number): number | null;
  /** For what is measured: any number that is not negative. */
  measure(amount: Amount, field: string): number | null;
  /** Whole minutes, rounded to the nearest; negative only where `signed`. */
  span(span: Span, field: string, signed?: boolean): Minutes | null;
  /**
   * Minutes for one unit, not rounded: a trial is minutes / units, a range its PERT mean (low + 4 likely + high) / 6.
   */
  estimate(estimate: Estimate, field: string): number | null;
  readonly problems: Problem[];
}

/** An evaluator over the values of the parameters. */
export function createEvaluator(values: ReadonlyMap<string, number>): Evaluator {
  const problems: Problem[] = [];
  const refuse = (found: Problem): null => {
    problems.push(found);
    return null;
  };

  const amount = (given: Amount, field: string): number | null => {
    if (typeof given === 'number') {
      return Number.isFinite(given)
        ? given
        : refuse(problem('formula-value', field, given, problemTexts.amounts.notFinite(field)));
    }
    const parsed = parseFormula(given, field);
    if (!parsed.ok) return refuse(fromFormula(parsed.problem));
    const result = evaluateFormula(parsed.formula, (name) => values.get(name), field);
    return result.ok ? result.value : refuse(fromFormula(result.problem));
  };

  const count = (given: Amount, field: string, least = 0): number | null => {
    const value = amount(given, field);
    if (value === null) return null;
    const whole = ceilCount(value);
    if (whole >= least) return whole;
    const shown = typeof given === 'number' ? given : `${given} = ${value}`;
    return refuse(problem('negative-count', field, shown, problemTexts.amounts.tooSmall(field, least, shown)));
  };

  const measure = (given: Amount, field: string): number | null => {
    const value = amount(given, field);
    if (value === null || value >= 0) return value;
    return refuse(problem('negative-count', field, given, problemTexts.amounts.negative(field, value)));
  };

  const span = (given: Span, field: string, signed = false): Minutes | null => {
    const value = typeof given === 'string' ? (readDuration(given) ?? amount(given, field)) : amount(given, field);
    if (value === null) return null;
    const minutes = Math.round(value);
    if (minutes < 0 && !signed) {
      return refuse(problem('negative-count', field, given, problemTexts.amounts.negativeSpan(field, minutes)));
    }
    if (Math.abs(minutes) > LONGEST_MINUTES) {
      return refuse(problem('formula-value', field, given, problemTexts.amounts.longSpan(field, minutes)));
    }
    return minutes;
  };

  const estimate = (given: Estimate, field: string): number | null => {
    if (typeof given === 'object' && 'units' in given) return given.minutes / given.units;
    if (typeof given === 'object') return rangeMean(given, field, refuse);
    const minutes = typeof given === 'string' ? (readDuration(given) ?? amount(given, field)) : amount(given, field);
    if (minutes === null || minutes >= 0) return minutes;
    return refuse(problem('negative-count', field, given, problemTexts.amounts.negativeEstimate(field, minutes)));
  };

  return { amount, count, measure, span, estimate, problems };
}

/**
 * Minutes of a text such as `90 min`, `2 h 30 min`, `1.5 d`, `-2 h` or `2 w`, or null when it is no such text (it may
 * be a formula). A day is 24 hours and a week seven days of clock time. Not rounded.
 *
 *     readDuration('2 h 30 min') // 150
 *     readDuration('2 * wheels') // null
 */
export function readDuration(text: string): number | null {
  const match = /^\s*([-−]?)((?:\s*\d+(?:\.\d+)?\s*(?:min(?:utes?)?|h(?:ours?)?|d(?:ays?)?|w(?:eeks?)?))+)\s*$/.exec(
    text,
  );
  if (match === null) return null;
  let minutes = 0;
  for (const [, size, unit] of match[2]!.matchAll(/(\d+(?:\.\d+)?)\s*([a-z]+)/g)) {
    minutes += Number(size) * MINUTES_PER_UNIT[unit![0] as keyof typeof MINUTES_PER_UNIT];
  }
  return match[1] === '' ? minutes : -minutes;
}

/** A formula's fault in the words of the model. */
export function fromFormula(found: FormulaProblem): Problem {
  return problem(CODE_OF[found.code] ?? 'formula', found.field, found.value, found);
}

const CODE_OF: Partial<Record<FormulaProblem['code'], ProblemCode>> = {
  'formula-circle': 'formula-circle',
  'unknown-name': 'unknown-name',
  'needs-broken-name': 'unknown-name',
  'name-taken': 'duplicate-id',
  'argument-out-of-range': 'formula-value',
  'division-by-zero': 'formula-value',
  'not-finite': 'formula-value',
  'range-out-of-order': 'range',
};
const MINUTES_PER_UNIT = { m: 1, h: 60, d: 1440, w: 10_080 };
const LONGEST_MINUTES = 3650 * 1440;

function rangeMean(range: Range, field: string, refuse: (found: Problem) => null): number | null {
  if (range.low <= range.likely && range.likely <= range.high && range.low >= 0) return threePointMean(range);
  const shown = `${range.low} / ${range.likely} / ${range.high}`;
  return refuse(problem('range', field, shown, problemTexts.amounts.range(field, shown)));
}
