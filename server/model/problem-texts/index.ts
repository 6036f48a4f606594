/** Every sentence for bad input, by its subject: plain functions of values, ready to be put into another language. */
import { amountTexts } from './amounts.ts';
import { changeTexts } from './changes.ts';
import { dateTexts } from './dates.ts';
import { described } from './described.ts';
import { editTexts } from './edits.ts';
import { fileTexts } from './files.ts';
import { formulaTexts } from './formula.ts';
import { hoursTexts } from './hours.ts';
import { logTexts } from './log.ts';
import { partTexts } from './parts.ts';
import { pinTexts } from './pins.ts';
import { questionTexts } from './questions.ts';
import { rippleTexts } from './ripple.ts';
import { servingTexts } from './serving.ts';
import { shapeTexts } from './shape.ts';
import { showTexts } from './show.ts';
import { stepTexts } from './steps.ts';
import { wayTexts } from './ways.ts';

export const problemTexts = {
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
