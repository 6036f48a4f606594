/** The words of the form that starts a build, in German. */
import { inGerman } from '../../../server/model/texts/language.ts';
import { firstTexts } from '../../texts/begin/first.ts';

inGerman(firstTexts, {
  who: 'Wer hilft',
  whoHint: 'zuerst du; ohne Zeiten: danach',
  me: 'Ich',
  hours: 'Zeiten',
  hoursHint: 'evenings and weekend days, oder Mon to Fri 18 to 22; Sat 9 to 17',
  others: 'Weitere, die helfen',
  othersHint: 'je Zeile jemand mit Zeiten, etwa Jo: Sat 9 to 17',
  machines: 'Maschinen',
  machinesHint: 'Saw, Printer alone at night: „alone“ braucht niemanden daneben',
  whoLacks: (hours) => `„Wer hilft“ ist leer, aber es gibt Zeiten: „${hours}“. Trag einen Namen ein, etwa Ich.`,
  hoursLack: (name) =>
    `„Zeiten“ ist leer, aber bei „Wer hilft“ steht „${name}“. Trag Zeiten ein, etwa evenings, oder nimm den Namen heraus.`,
  lineLacks: (line, typed) =>
    `Zeile ${line}, „${typed}“, ist kein Name mit Zeiten; schreib sie etwa so: Jo: Sat 9 to 17.`,
  atLine: (line, message) => `Zeile ${line}: ${message}`,
  machineLacks: (typed) => `„${typed}“ hat keinen Namen; schreib etwa: Printer alone at night.`,
});
