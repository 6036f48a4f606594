/**
 * Changes as data. A list of changes is made by a form, by comparing two builds or by hand; `applyChanges` gives the
 * build that comes out, or says in sentences why none does.
 */
export { answerProblems, answersOf, answerText, decidingChanges, readAnswerText } from './answers.ts';
export { applyChanges } from './apply.ts';
export { changesBetween, fieldChanges } from './between.ts';
export type { Change } from './change.ts';
export { FORMULA_FIELDS, knownNames, namesIn, renamedFormula, withKnownNames } from './formulas.ts';
export { freeId } from './free-id.ts';
export { forgottenLines, patternLine, WORK_PATTERNS } from './lines/forgotten.ts';
export { hazardGuesses } from './lines/hazard-words.ts';
export {
  type Assumed,
  type Fact,
  type Line,
  type LinesRead,
  LONGEST_LINE,
  MOST_LINES,
  readLines,
  type WhyNot,
} from './lines/index.ts';
export {
  checkThing,
  fixedFields,
  keysOf,
  ownKey,
  THING_LISTS,
  type Thing,
  type ThingList,
  thingAt,
  thingName,
  thingsOf,
} from './lists.ts';
export { changeListOf, readChangeList } from './read.ts';
export { type Reference, referencesTo } from './references.ts';
export { changesBack, type Edit } from './undo.ts';
export { chosenWay, splitChanges, wayChanges } from './ways.ts';
