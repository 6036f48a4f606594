/** A lever that is proposed, before it is tried. */
import type { Change, Lever, LeverCode, LeverCost, LeverValues } from '../../model/index.ts';

export interface Proposed {
  readonly lever: Lever;
  /** Ids of the steps that it can make quicker or begin sooner: where none ever drives the date, it gains nothing. */
  readonly eases: readonly string[];
  /** Whether the plan as it is can still be carried out with it, so that it never costs time. */
  readonly relaxes: boolean;
}

/** Nothing to pay, nobody's time. */
export const FREE: LeverCost = { money: 0, handsMinutes: 0 };

/** A proposal of one code. */
export function proposed<Code extends LeverCode>(
  code: Code,
  values: LeverValues[Code],
  changes: readonly Change[],
  cost: LeverCost,
  eases: readonly string[],
  relaxes: boolean,
): Proposed {
  return { lever: { code, values, changes, cost } as Lever, eases, relaxes };
}

/** One field of a thing set. */
export function setField(
  list: 'parameters' | 'parts' | 'people' | 'machines' | 'steps' | 'gates',
  key: string,
  field: string,
  value: unknown,
): Change {
  return { kind: 'set', list, key, field, ...(value === undefined ? {} : { value }) };
}
