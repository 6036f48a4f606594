/** The functions that formulas may call, as they are listed for whoever types one. */

/**
 * An argument with its unit ('' for a plain number) and the values it may have: above/below exclude the end, least/most
 * include it.
 */
export interface ListedArgument {
  readonly name: string;
  readonly unit: string;
  readonly above?: number;
  readonly least?: number;
  readonly below?: number;
  readonly most?: number;
  readonly whole?: boolean;
  /** May be left out; only at the end. */
  readonly optional?: boolean;
}

/** Where a formula comes from: a book, a definition, or nature and counting. */
export type FormulaSource =
  | 'icosahedron'
  | 'counting'
  | 'geometry'
  | 'cutter'
  | 'groover-machining'
  | 'iso-286'
  | 'geometry-rapids'
  | 'volume-over-flow'
  | 'practice'
  | 'density'
  | 'geometry-support'
  | 'length-over-speed'
  | 'rows'
  | 'dry-film'
  | 'volume-loss'
  | 'yard-gallon'
  | 'gearing'
  | 'groover-quantities'
  | 'allowance-on-work'
  | 'allowance-of-day'
  | 'time-unit'
  | 'crawford'
  | 'binomial'
  | 'poisson'
  | 'takt'
  | 'prototype'
  | 'arithmetic';

/** A function with a worked example: `text` is a formula as it is typed, `value` what it comes to. */
export interface ListedFormula {
  readonly name: string;
  readonly subject: string;
  readonly arguments: readonly ListedArgument[];
  /** The last argument may be given again and again. */
  readonly rest: boolean;
  /** Unit of the result, '' for a plain number. */
  readonly gives: string;
  readonly class: 'physics' | 'handbook' | 'rule of thumb';
  readonly source: FormulaSource;
  readonly example: { readonly text: string; readonly value: number };
}
