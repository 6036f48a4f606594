/** The words of what goes wrong, in German. */

import { inGerman } from '../../server/model/texts/language.ts';
import { some } from '../texts/grammar.ts';
import { troubleTexts } from '../texts/troubles.ts';

inGerman(troubleTexts, {
  heading: 'Was schiefgeht',
  intro:
    'Versuch, was es kosten würde, oder trag es ein: Dann steht es im Plan, und im Verlauf oder mit „Zurücknehmen“ machst du es rückgängig.',
  link: 'Etwas geht schief, oder noch etwas dazu:',
  linkForHelpers: 'Etwas geht schief:',
  kinds: {
    delivery: 'Eine Lieferung kommt später',
    evening: 'Ein Abend fällt aus',
    machine: 'Eine Maschine steht',
    absent: 'Jemand kann nicht kommen',
    'load-in': 'Der Aufbau verschiebt sich',
    more: 'Noch etwas dazu',
  },
  field: {
    step: 'Welche Bestellung',
    until: 'Bis',
    promised: 'Zugesagt für',
    person: 'Wer',
    from: 'Von',
    machine: 'Welche Maschine',
    n: 'Wie viele davon',
    first: 'Vom Tag',
    last: 'Bis zum Tag',
    loadIn: 'Neuer Aufbau',
    ready: 'Der Fertigtermin verschiebt sich mit',
    name: 'Was',
    count: 'Wie viele',
    minutes: 'Minuten je Stück',
    due: 'Gebraucht bis',
  },
  everybody: 'alle',
  nothingOut:
    'Keine Bestellung ist unterwegs. Für Bestellungen, die noch anstehen, ändere den Lieferanten unter Hände.',
  nobody: 'Im Plan ist noch niemand.',
  noMachine: 'Im Plan ist noch keine Maschine.',
  whatIf: 'Was wäre, wenn',
  tell: 'Eintragen',
  accept: 'Annehmen',
  dueRow: (name, chance) => `${name}: Chance bis dahin ${chance}`,
  duePlanned: (name, when, room) => `${name}: fertig ${when}, Luft ${room}`,
  make: (name) => `${name} fertigen`,
  notTold: 'Noch ist nichts eingetragen:',
  back: 'Zurück zum Zählen',
  wrong: {
    makersOnly: 'Nur der Macher verschiebt den Aufbau und nimmt noch etwas an; sag es ihm.',
    noOrder: 'Wähl eine Bestellung, die unterwegs ist.',
    when: 'Gib Tag und Stunde an, etwa 2026-12-03T18:00.',
    date: 'Gib einen Tag an, etwa 2026-12-03.',
    promiseAhead: 'Gib eine Stunde an, die noch kommt: die, die der Lieferant genannt hat.',
    ahead: 'Gib eine Stunde an, die noch kommt.',
    untilLater: 'Gib ein Ende an, das nach dem Anfang liegt.',
    lastLater: 'Gib einen letzten Tag an, der nicht vor dem ersten liegt.',
    tooLong: (days) => `Gib höchstens ${some(days, 'Tag', 'Tage')} an; für mehr ändere die Stunden unter Hände.`,
    longPast: (days) => `Gib Stunden aus den letzten ${days} Tagen an; was davor war, steckt schon in den Zählungen.`,
    noPerson: 'Wähl jemanden aus dem Plan.',
    noMachine: 'Wähl eine Maschine aus dem Plan.',
    machines: (name, count) =>
      count === 1
        ? `Von ${name} gibt es nur eine: Gib 1 an.`
        : `Von ${name} gibt es ${count}: Gib eine ganze Zahl von 1 bis ${count} an.`,
    noHours: 'Dann sind keine Stunden eingetragen, also ginge nichts verloren; wähl eine andere Zeit.',
    noName: 'Sag, was es ist.',
    longName: (length, most) => `Der Name hat ${length} Buchstaben; gib höchstens ${most} an.`,
    count: 'Gib eine ganze Zahl von 1 bis 100\u202f000 an.',
    minutes: 'Gib die Minuten für eines an, mehr als 0 und höchstens 10\u202f000.',
  },
});
