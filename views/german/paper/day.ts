/** The words of a day on paper, of a day that has passed, and of the whole plan on paper, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { dayTexts } from '../../texts/paper/day.ts';

inGerman(dayTexts, {
  whose: 'Für',
  everybody: 'Alle',
  ofPerson: (day, name) => `Tagesblatt, ${day}: ${name}`,
  hours: (spans) => `da ${spans}`,
  span: (from, to) => `${from}–${to}`,
  notThere: 'nicht da',
  nothingFor: 'Für diese Stunden ist nichts geplant.',
  on: (what, machine) => `${what}, auf ${machine}`,
  machines: 'Maschinen',
  intoNext: 'in den nächsten Tag hinein',
  passed: 'Dieser Tag ist vorbei. Sein Plan steht nicht mehr hier; unten stehen die Einträge dieses Tages.',
  passedToday: 'Die Seite fängt jetzt an und zeigt nicht mehr, was heute schon vorbei ist.',
  nothingTold: 'Keine Einträge an diesem Tag.',
  toldOn: 'Einträge',
  noPerson: (id, known) =>
    `In diesem Bau heißt niemand „${id}“. ${known === '' ? 'Er nennt niemanden.' : `Seine Leute sind ${known}.`}`,
  told: {
    done: (n) => `${n} fertig`,
    scrapped: (n) => `${n} Ausschuss`,
    loaded: (n) => `${n} geladen`,
    ordered: (n) => `${n} bestellt`,
    promised: () => 'ein Termin zugesagt',
    received: (n) => `${n} eingegangen`,
    passed: () => 'bestanden',
    failed: () => 'nicht bestanden',
    'sent-back': (n) => `${n} zurückgegeben`,
    began: () => 'angefangen',
    paused: () => 'unterbrochen',
    lost: () => 'Zeit verloren',
    undo: () => '',
    packed: () => 'eine Kiste gepackt',
    confirmed: () => '',
  },
  paper: {
    intro:
      'Der ganze Plan zum Drucken oder als PDF: Öffne das Druckfenster deines Browsers (Strg+P, am Mac ⌘P, am Handy Teilen und dann Drucken) und wähle den Drucker oder Als PDF speichern. Erst letzte Momente und Bestellungen, dann jeder Tag auf einer eigenen Seite. Er passt auf A4 und Letter.',
    machineLetters: (letters) =>
      `Für ${letters} bringt Daywright keine Schrift mit. Das Gerät druckt sie mit seinen eigenen Schriften, und wo es keine hat, Kästchen oder Lücken: sieh dir erst die Druckvorschau an.`,
    moments: 'Letzte Momente',
    orders: 'Bestellungen',
    asOf: (when) => `Wie geplant ${when}. Eine spätere Zählung oder Änderung kann verschieben, was hier gedruckt ist.`,
    noDays: 'Für keinen Tag ist etwas geplant.',
  },
});
