/** The functions for formulas, in words for a terminal. */
import {
  argumentTexts,
  bySubject,
  callText,
  exampleText,
  givesText,
  sourceText,
} from '../../views/formulas/formula-words.ts';
import { formulaTexts as say } from '../../views/texts/begin/formulas.ts';
import type { ListedFormula } from '../model/index.ts';
import { terminalText } from './terminal-text.ts';

/** Every function under its subject, with a line's end behind every line. */
export function formulasSummary(formulas: readonly ListedFormula[]): string {
  const blocks = bySubject(formulas).flatMap(([subject, own]) => [
    [say.subject[subject] ?? subject],
    ...own.map(lines),
  ]);
  return terminalText([[say.intro], ...blocks]);
}

function lines(formula: ListedFormula): string[] {
  const more = [givesText(formula), ...argumentTexts(formula), exampleText(formula), sourceText(formula)];
  return [`  ${callText(formula)}`, ...more.map((line) => `    ${line}`)];
}
