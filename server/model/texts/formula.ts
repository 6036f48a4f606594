/** What is wrong with a formula or with the parameters that formulas use. */
const RIGHT_FORM = 'Write for example 2 * panels + 4';
const DECIMALS = 'write decimals with a point, such as 1.5';
const ROUND_BRACKETS = 'a formula uses round brackets only';
const NO_TEXTS = 'a formula consists of numbers and names, not of texts';

export const formulaTexts = {
  empty: `The formula is empty. ${RIGHT_FORM}.`,
  tooLong: (characters: number, most: number) =>
    `The formula has ${characters} characters; it may have at most ${most}. Split it into named parameters.`,
  tooDeep: (most: number) => `The formula is nested more than ${most} levels deep. Split it into named parameters.`,
  /** A formula that cannot be read, at a character counted from 1. */
  unreadable: (at: number, what: string) => `At character ${at}: ${what}. ${RIGHT_FORM}.`,
  /** A formula that can be read and has no value. */
  noResult: (at: number, formula: string, what: string) => `At character ${at} of "${formula}": ${what}.`,
  noMeaning: (character: string, hint: string) => `"${character}" has no meaning here: ${hint}`,
  decimals: DECIMALS,
  hints: {
    '%': 'write 0.05 for 5 %, or mod(a, b) for a remainder',
    ';': 'a formula is one expression; use a parameter for each',
    '[': ROUND_BRACKETS,
    ']': ROUND_BRACKETS,
    '{': ROUND_BRACKETS,
    '}': ROUND_BRACKETS,
    '"': NO_TEXTS,
    "'": NO_TEXTS,
    '`': NO_TEXTS,
    '²': 'write ^2',
    '³': 'write ^3',
  } as Readonly<Record<string, string>>,
  singleEquals: 'write == to compare two values',
  tooEarly: 'the formula ends too early',
  noOperator: 'two values follow each other without an operator such as * or + between them',
  largeNumber: 'the number is too large',
  chained: 'comparisons cannot be chained: write a < b && b < c',
  unexpected: (character: string) => `unexpected "${character}"`,
  emptyBrackets: 'the brackets are empty',
  strayComma: `a comma goes only between arguments; ${DECIMALS}`,
  notClosed: 'a closing ) is missing',
  noOperand: (operator: string) => `a value is missing after ${operator}`,
  pointAfterName: 'a name has no parts, so no point can follow it',
  noComma: 'a comma or a closing ) is missing',
  noArgument: 'an argument is missing',
  unknownParameter: (name: string) => `there is no parameter "${name}"; add it or correct the name`,
  infiniteName: (name: string, value: number) => `${name} is ${value}; it must be a finite number`,
  zeroDivisor: (divisor: string) =>
    `${divisor === '0' ? 'the divisor is 0' : `${divisor} is 0`}; it must be another number than 0 to divide by`,
  infiniteResult: (calculation: string) =>
    `${calculation} is not a finite number; keep the numbers smaller, and powers of negative numbers whole`,
  infiniteCall: (call: string) => `${call} is not a finite number; change its arguments`,
  ifArguments: (given: number) => `if takes 3 arguments, a test and two values, but it has ${given}`,
  unknownFunction: (name: string) => `there is no function "${name}"; use one of the listed functions`,
  wrongArguments: (call: string, given: number) => `${call} has ${given} ${given === 1 ? 'argument' : 'arguments'}`,
  argument: (name: string, argument: string, value: string, wanted: string) =>
    `${name}: ${argument} is ${value}; it must be ${wanted}`,
  wanted: {
    above: (limit: number) => `more than ${limit}`,
    least: (limit: number) => `${limit} or more`,
    below: (limit: number) => `less than ${limit}`,
    most: (limit: number) => `${limit} or less`,
    whole: 'a whole number',
  },
  needsBroken: (name: string, missing: string) =>
    `${name} cannot be computed because "${missing}" has no value; correct "${missing}" first.`,
  noValue: (name: string, value: number | null) =>
    `${name} has ${value === null ? 'no value' : `the value ${value}`}; give it a number, a formula, or low, likely and high.`,
  rangeOrder: (name: string, range: string) =>
    `${name} has the range low / likely / high ${range}; low must not be above likely, nor likely above high.`,
  badName: (name: string) =>
    `"${name}" cannot be a parameter's name; begin with a letter and go on with letters, digits and _.`,
  constant: (name: string) => `"${name}" is a constant in formulas; choose another name.`,
  sameName: (name: string) => `There are two parameters "${name}"; rename one of them.`,
  circle: (names: string) => `These formulas need each other in a circle: ${names}; give one of them a number.`,
} as const;
