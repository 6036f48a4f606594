/** The words of a ripple: what depends on a change, what is made to the old value, and what to do with that. */

import { worded } from '../../server/model/texts/language.ts';
import { byNumber, listOf } from './grammar.ts';

export const rippleTexts = worded({
  heading: 'What depends on this',
  headingLater: 'Units to look at',
  nothing: 'Nothing else depends on this.',
  parameters: 'Parameters',
  drawings: 'Drawings',
  counts: 'Counts',
  steps: 'Steps and orders',
  gates: 'Sets',
  boxes: 'Boxes',
  boxWith: (box: string, parts: readonly string[]) => `${box} (${parts.join(', ')})`,
  spare: (part: string) => `spare ${part}`,
  points: 'Points to hang from, kg',
  strike: 'Jobs of the strike, minutes',
  becomes: (name: string, before: string, after: string) => `${name} ${before} → ${after}`,
  sameCount: (name: string, count: string) => `${name} still ${count}`,
  stepBy: (name: string, why: readonly string[]) => `${name} (${why.join(', ')})`,
  why: { units: 'units', work: 'the work itself', time: 'minutes', link: 'what it waits for' },
  breaks: (name: string, value: string, bounds: string) =>
    `This breaks a limit. ${name} would be ${value}; it must be ${bounds}.`,
  mends: (name: string) => `This keeps the limit “${name}” again.`,
  made: 'Made or ordered to the old value',
  madeNote:
    'For each, say how many are still good, how many need rework and how many are scrap. What you leave open is saved as unchecked, marked wherever the part appears, and listed as a threat.',
  laterNote: 'Say how many are still good, how many need rework and how many are scrap.',
  again: 'Save once more to keep the change with these answers.',
  state: {
    passed: (units: string, step: string) => `${units}, last through ${step}`,
    mounted: (units: string, step: string) => `${units}, used at ${step}`,
    'on-its-way': (units: string) => `${units}, on the way`,
    'on-hand': (units: string) => `${units}, on hand`,
  },
  good: 'Still good',
  rework: 'Rework',
  scrap: 'Scrap',
  redo: 'Rework: minutes for a unit at each step to repeat',
  redoNow: (minutes: string) => `now ${minutes}`,
  redone: (step: string) => `${step} again`,
  couldUse: (parts: readonly string[], all: number) =>
    `Other parts could use them: ${listOf(parts, 6, all)}. Check whether one fits.`,
  couldUsePart: (part: string, left: string, shares: readonly string[]) =>
    `${part} (${left} to start, shares ${shares.join(', ')})`,
  noUse: 'No other part of this build is made of the same material and has units still to start.',
  order: (part: string) => `order of ${part}`,
  unchecked: (units: string, n: number) => `${units} ${byNumber(n, 'unit', 'units')} unchecked`,
  because: (what: string) => `since ${what}`,
  lookAt: 'Decide what to do with them',
});
