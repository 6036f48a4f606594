/** The words of the list of formulas, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { formulaTexts } from '../../texts/begin/formulas.ts';

inGerman(formulaTexts, {
  heading: 'Formeln',
  link: 'Formeln, die du statt einer Zahl eintippen kannst, jede mit einem Beispiel',
  beside: 'Formeln',
  besideHeard: ', die hier eingetippt werden können, in einem neuen Tab',
  intro:
    'Statt einer Zahl kannst du eine Formel eintippen: Zahlen des Entwurfs mit ihren Namen, + - * / ^ und Klammern, und die Funktionen unten. Namen dürfen Leerzeichen haben: drums per bough. In einer Formel steht ein Punkt im Dezimalbruch: 1.5.',
  inThisBuild: 'Zahlen dieses Entwurfs',
  subjects: 'Gebiete',
  subject: {
    shapes: 'Formen',
    machining: 'Fräsen, Bohren, Drehen',
    printing: 'Drucken',
    sheet: 'Platten zuschneiden',
    packing: 'Verteilen auf Druckbetten und Platten',
    paint: 'Farbe',
    gears: 'Zahnräder',
    batches: 'Lose, Ersatz, Übung',
    arithmetic: 'Rechnen',
  },
  givesIn: (answers, unit) => (unit === '' ? `Ergibt: ${answers}.` : `Ergibt: ${answers}, in ${unit}.`),
  above: (n) => `über ${n}`,
  least: (n) => `mindestens ${n}`,
  below: (n) => `unter ${n}`,
  most: (n) => `höchstens ${n}`,
  whole: 'eine ganze Zahl',
  optional: 'darf fehlen',
  again: 'beliebig viele',
  example: (text, value) => `${text} = ${value}`,
  trust: {
    physics: 'berechnet',
    handbook: 'aus Handbüchern: vergleich es mit deinen eigenen Zahlen',
    'rule of thumb': 'eine Faustregel: ersetz sie durch das, was du zählst',
  },
  source: (source, trust) => `Quelle: ${source}; ${trust}.`,
});
