/** The words of a ripple: what depends on a change, what is made to the old value, and what becomes of that. */
import { byNumber, listOf } from './grammar.ts';

export const rippleTexts = {
  heading: 'What depends on this',
  headingLater: 'Units nobody has looked at',
  nothing: 'Nothing else depends on this.',
  parameters: 'Parameters',
  drawings: 'Drawings',
  counts: 'Counts',
  steps: 'Steps and orders',
  gates: 'Sets',
  becomes: (name: string, before: string, after: string) => `${name} ${before} → ${after}`,
  sameCount: (name: string, count: string) => `${name} stays ${count}`,
  stepBy: (name: string, why: readonly string[]) => `${name} (${why.join(', ')})`,
  why: { units: 'units', work: 'the work itself', time: 'minutes', link: 'what it waits for' },
  breaks: (name: string, value: string, bounds: string) =>
    `This breaks a limit. ${name}: ${value}, and it must be ${bounds}.`,
  mends: (name: string) => `This keeps the limit “${name}” again.`,
  made: 'Made or ordered to the old value',
  madeNote:
    'Say of each how many are still good, how many need rework, how many are scrap. What you leave open is saved as unchecked: it is marked wherever the part shows, and is a threat.',
  laterNote: 'Say how many are still good, how many need rework, how many are scrap.',
  again: 'Save once more to keep the change with these answers.',
  state: {
    passed: (units: string, step: string) => `${units}, last passed ${step}`,
    mounted: (units: string, step: string) => `${units}, gone in at ${step}`,
    'on-its-way': (units: string) => `${units}, on the way`,
    'on-hand': (units: string) => `${units}, on hand`,
  },
  good: 'Still good',
  rework: 'Rework',
  scrap: 'Scrap',
  redo: 'Rework: minutes a unit at each step that is done again',
  redoNow: (minutes: string) => `now ${minutes}`,
  redone: (step: string) => `${step} again`,
  couldUse: (parts: readonly string[]) => `Others could use them: ${listOf(parts, 6)}. Whether one fits, look at it.`,
  couldUsePart: (part: string, left: string, shares: readonly string[]) =>
    `${part} (${left} to begin, shares ${shares.join(', ')})`,
  noUse: 'Nothing else in this build is made of the same material with units still to begin.',
  order: (part: string) => `order of ${part}`,
  unchecked: (units: string, n: number) => `${units} ${byNumber(n, 'unit', 'units')} unchecked`,
  because: (what: string) => `since ${what}`,
  lookAt: 'Say what becomes of them',
};
