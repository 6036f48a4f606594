/** The words of the list of formulas, on its sheet and on the terminal. */
import { worded } from '../../../server/model/texts/language.ts';

export const formulaTexts = worded({
  heading: 'Formulas',
  link: 'Formulas that you can type where a number goes, each with an example',
  beside: 'Formulas',
  besideHeard: ' that may be typed here, in a new tab',
  intro:
    'Where a number goes, you may type a formula: numbers of the design by their names, + - * / ^ and brackets, and the functions below. Names may have spaces: drums per bough.',
  inThisBuild: 'Numbers of this design',
  subjects: 'Subjects',
  subject: {
    shapes: 'Shapes',
    machining: 'Milling, drilling, turning',
    printing: 'Printing',
    sheet: 'Cutting sheets',
    packing: 'Packing on beds and sheets',
    paint: 'Paint',
    gears: 'Gears',
    batches: 'Batches, spares, practice',
    arithmetic: 'Arithmetic',
  } as Readonly<Record<string, string>>,
  givesIn: (answers: string, unit: string) => (unit === '' ? `Gives: ${answers}.` : `Gives: ${answers}, in ${unit}.`),
  above: (n: string) => `above ${n}`,
  least: (n: string) => `at least ${n}`,
  below: (n: string) => `below ${n}`,
  most: (n: string) => `at most ${n}`,
  whole: 'a whole number',
  optional: 'may be left out',
  again: 'as many as you like',
  example: (text: string, value: string) => `${text} = ${value}`,
  trust: {
    physics: 'computed',
    handbook: 'from handbooks: check it against your own',
    'rule of thumb': 'a rule of thumb: replace it by what you count',
  },
  source: (source: string, trust: string) => `Source: ${source}; ${trust}.`,
});
