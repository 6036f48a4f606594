/** The limits of a design at one set of values: what each comes to, and whether it is kept. */
import type { Limit, Problem } from '../../model/index.ts';
import { problem, problemTexts } from '../../model/index.ts';
import { isNearlyEqual } from '../numbers/index.ts';
import type { Evaluator } from './amounts.ts';

/** What a limit comes to; null where it cannot be worked out, `least` and `most` also where there is none. */
export interface LimitValue {
  readonly limit: Limit;
  readonly value: number | null;
  readonly least: number | null;
  readonly most: number | null;
}

/**
 * Every limit at the values of `evaluator`, which hears what is wrong in its formulas; a limit that limits nothing, one
 * whose least is above its most and a second one of an id go into `problems`.
 */
export function limitValues(limits: readonly Limit[], evaluator: Evaluator, problems: Problem[]): LimitValue[] {
  const seen = new Set<string>();
  return limits.map((limit) => {
    const field = `limits.${limit.id}`;
    const read = (amount: Limit['of'] | undefined, name: string) =>
      amount === undefined ? null : evaluator.amount(amount, `${field}.${name}`);
    const found = {
      limit,
      value: read(limit.of, 'of'),
      least: read(limit.least, 'least'),
      most: read(limit.most, 'most'),
    };
    const { least, most } = found;
    if (seen.has(limit.id))
      problems.push(problem('duplicate-id', field, limit.id, problemTexts.amounts.limitTwice(limit.id)));
    seen.add(limit.id);
    if (limit.least === undefined && limit.most === undefined)
      problems.push(problem('range', `${field}.least`, 'none', problemTexts.amounts.limitEmpty(limit.name)));
    if (least !== null && most !== null && least > most)
      problems.push(
        problem('range', `${field}.least`, least, problemTexts.amounts.limitCrossed(limit.name, least, most)),
      );
    return found;
  });
}

/** Whether a limit is broken; what is within arithmetic noise of it (one part in 10^9, or 10^-9) keeps it. */
export function isBroken({ value, least, most }: Omit<LimitValue, 'limit'>): boolean {
  if (value === null) return false;
  return (least !== null && isLess(value, least)) || (most !== null && isLess(most, value));
}

const NOISE = 1e-9;

function isLess(one: number, other: number): boolean {
  return one < other - NOISE && !isNearlyEqual(one, other);
}
