/** The rows that make up the catalogue of formula functions. */
import type { FormulaSource, ListedArgument } from '../../../model/index.ts';

/**
 * How far a formula can be trusted: computed from nature or a standard, from handbook figures, or a rule of thumb to be
 * replaced by counting.
 */
export const FORMULA_CLASSES = ['physics', 'handbook', 'rule of thumb'] as const;
type FormulaClass = (typeof FORMULA_CLASSES)[number];

/** One row of the table on the Design screen, and one function that formulas may call. */
export interface FabricationFormula {
  /** As written in formulas: lower case with underscores. */
  readonly name: string;
  readonly subject: string;
  readonly arguments: readonly ListedArgument[];
  /** Unit of the result, '' for a plain number. */
  readonly gives: string;
  readonly class: FormulaClass;
  readonly source: FormulaSource;
  readonly example: { readonly arguments: readonly number[]; readonly gives: number };
  readonly compute: (...values: readonly number[]) => number;
}

/** More than nothing: lengths, speeds, times. */
export const positive = (name: string, unit: string): ListedArgument => ({ name, unit, above: 0 });

/** Nothing or more: gaps, allowances, losses of time. */
export const notNegative = (name: string, unit: string): ListedArgument => ({ name, unit, least: 0 });

/** A count: a whole number from `least` up. */
export const count = (name: string, least = 0): ListedArgument => ({ name, unit: '', least, whole: true });

/** A share above 0 and at most 1. */
export const share = (name: string): ListedArgument => ({ name, unit: '', above: 0, most: 1 });

/** The same argument, which may be left out at the end. */
export const optional = (range: ListedArgument): ListedArgument => ({ ...range, optional: true });

type Row = Omit<FabricationFormula, 'subject' | 'compute' | 'arguments'>;

/** Builds one row; the function may take named numbers, the formula gives them by place. */
export function formulaRow<const Ranges extends readonly ListedArgument[]>(
  subject: string,
  row: Row,
  ranges: Ranges,
  compute: (...values: { [Place in keyof Ranges]: number }) => number,
): FabricationFormula {
  return { ...row, subject, arguments: ranges, compute: compute as FabricationFormula['compute'] };
}
