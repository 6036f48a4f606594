/** The words of what depends on a design: limits, what is not known yet, and what a change reaches. */

import { worded } from '../../server/model/texts/language.ts';
import { byNumber, listOf, some } from './grammar.ts';

export const designTexts = worded({
  limits: 'Limits',
  limitsNote: 'What the design must keep to. Every edit is checked against them.',
  limitUnknown: 'cannot be worked out',
  least: (value: string) => `at least ${value}`,
  most: (value: string) => `at most ${value}`,
  mayBe: (low: string, high: string) => `${low} to ${high}, not known yet`,
  kept: 'kept',
  broken: 'broken',
  mayBreak: 'may be broken',
  concerns: (parts: readonly string[]) => `concerns ${listOf(parts)}`,
  limitBroken: (name: string, value: string, bounds: string) => `${name} is ${value}; it must be ${bounds}.`,
  limitMayBreak: (name: string, low: string, high: string, bounds: string) =>
    `${name} may be anything from ${low} to ${high}; it must be ${bounds}. Find out before you make more.`,
  itConcerns: (parts: readonly string[]) => `It concerns ${listOf(parts)}.`,
  /** The question that a trial answers, where a parameter is known as low, likely and high. */
  settle: (parameter: string, low: string, high: string) =>
    `How large is ${parameter}: ${low} to ${high}? Find out by a trial.`,
  settleShort: (parameter: string) => `Settle ${parameter} by a trial.`,
  countsFrom: (part: string, low: string, likely: string, high: string) =>
    `${part} ${low} to ${high}, likely ${likely}`,
  moreForHigh: (more: string, name: string, cost: string | null) =>
    `${more} more ${name} for the highest value${cost === null ? '' : `, ${cost}`}`,
  orderHigh: (units: string, cost: string | null) =>
    `${units} more for the highest value${cost === null ? '' : `, ${cost}`}`,
  settleBy: (when: string) => `settle it before ${when}`,
  nothingWaits: 'nothing depends on it any more',
  unchecked: (name: string, units: number, because: string | null) =>
    `${name}: ${some(units, 'unit', 'units')} made before ${because ?? 'a change'} ${byNumber(units, 'is', 'are')} unchecked. Look at ${byNumber(units, 'it', 'them')}, and say on Design whether ${byNumber(units, 'it is', 'they are')} still good.`,
});
