/** What is wrong with an answer about units that were made before a change, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';
import { byNumber } from '../../../texts/grammar.ts';

inGerman(problemWords.ripple, {
  gone: (part, units) =>
    `Du hast für ${units} × ${part} geantwortet, aber inzwischen ist weitergezählt worden. Sieh nach, wie viele es jetzt sind.`,
  whole: (part, units) => `Bei ${part} braucht es eine ganze Zahl ab 0; hier steht ${units}.`,
  tooMany: (part, units, there) =>
    `Du hast für ${units} × ${part} geantwortet, aber da ${byNumber(there, 'ist', 'sind')} nur ${there}; antworte für höchstens ${there}.`,
  noStep: (part, step) => `${part} kommt nie zum Schritt „${step}“; nenn einen, zu dem es kommt.`,
  noRedo: (part, units) =>
    `${units} × ${part} ${byNumber(units, 'braucht', 'brauchen')} Nacharbeit; gib bei mindestens einem Schritt die Minuten an.`,
  minutes: (part, minutes) =>
    `Die Minuten Nacharbeit für ein Stück ${part} müssen mehr als 0 sein; hier steht ${minutes === null ? 'nichts' : String(minutes).replace('.', ',')}.`,
});
