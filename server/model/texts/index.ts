/**
 * Every sentence for bad input, by its subject: plain functions of values. `problemTexts` notes which sentence is
 * meant, `problemWords` says it, in the language of the moment.
 */

import { amountTexts } from './amounts.ts';
import { changeTexts } from './changes.ts';
import { dateTexts } from './dates.ts';
import { described } from './described.ts';
import { editTexts } from './edits.ts';
import { fileTexts } from './files.ts';
import { formulaTexts } from './formula.ts';
import { hoursTexts } from './hours.ts';
import { worded } from './language.ts';
import { logTexts } from './log.ts';
import { partTexts } from './parts.ts';
import { pinTexts } from './pins.ts';
import { questionTexts } from './questions.ts';
import { rippleTexts } from './ripple.ts';
import { recorded, type Sentence, saidBy } from './sentence.ts';
import { servingTexts } from './serving.ts';
import { shapeTexts } from './shape.ts';
import { showTexts } from './show.ts';
import { stepTexts } from './steps.ts';
import { wayTexts } from './ways.ts';

const english = {
  amounts: amountTexts,
  changes: changeTexts,
  dates: dateTexts,
  described,
  edits: editTexts,
  files: fileTexts,
  formula: formulaTexts,
  hours: hoursTexts,
  log: logTexts,
  parts: partTexts,
  pins: pinTexts,
  questions: questionTexts,
  ripple: rippleTexts,
  serving: servingTexts,
  shape: shapeTexts,
  show: showTexts,
  steps: stepTexts,
  ways: wayTexts,
} as const;

export { hoursAndMinutes } from './length.ts';

/** The sentences as facts, to be handed out and kept. */
export const problemTexts = recorded(english);

/** The same to be read at once; each table may have another language beside the English. */
export const problemWords = Object.fromEntries(
  Object.entries(english).map(([name, table]) => [name, worded<object>(table)]),
) as typeof english;

/** A sentence in the language of the moment; null where no table has it: an older or a newer program noted it. */
export function wordsOf(sentence: Sentence): string | null {
  return saidBy(problemWords, sentence);
}

/**
 * A sentence in English, whoever reads it.
 *
 *     englishOf(problemTexts.amounts.notFinite('count')) // '"count" must be a finite number.'
 */
export function englishOf(sentence: Sentence): string {
  return saidBy(english, sentence) ?? '';
}
