/** What sheets answer, in the few words that Contents says of each, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { answerTexts } from '../../texts/glance/answers.ts';
import { some } from '../../texts/grammar.ts';

inGerman(answerTexts, {
  likely: (chance) => `Chance ${chance} bis zum Fertigtermin`,
  ready: (when, room) => `fertig ${when}, Luft ${room}`,
  now: (step) => `jetzt: ${step}`,
  next: (step, when) => `als Nächstes: ${step}, ${when}`,
  steps: (done, all) => `${done} von ${all} fertig`,
  decide: (question, when) => `${question} Entscheiden vor ${when}.`,
  order: (n, first, when) =>
    n === 1 ? `zu bestellen: ${first} vor ${when}` : `${n} Bestellungen offen, zuerst ${first} vor ${when}`,
  ordered: 'alles ist bestellt',
  money: (total, toCome) => `insgesamt ${total}, davon kommen noch ${toCome}`,
  design: (parts, limits, broken) =>
    [
      some(parts, 'Teil', 'Teile'),
      ...(limits === 0 ? [] : [some(limits, 'Grenze', 'Grenzen')]),
      ...(broken === 0 ? [] : [`${broken} verletzt`]),
    ].join(', '),
  hands: (people, machines) => `${some(people, 'Person', 'Leute')}, ${some(machines, 'Maschine', 'Maschinen')}`,
  show: (stops) => some(stops, 'offener Punkt', 'offene Punkte'),
  group: { look: 'Sehen', plan: 'Plan', change: 'Ändern', show: 'Papier und Aufbau', access: 'Wer hereinkommt' },
});
