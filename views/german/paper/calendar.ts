/** The words of the calendar, of its events and of the pages for its addresses, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { calendarTexts } from '../../texts/paper/calendar.ts';

inGerman(calendarTexts, {
  ofAll: (build) => build,
  ofPerson: (build, person) => `${build}: ${person}`,
  orderBy: (what) => `Letzter Moment zum Bestellen: ${what}`,
  orderLate: (what) => `Hätte schon bestellt sein müssen: ${what}`,
  decideBy: (question) => `Letzter Moment zum Entscheiden: ${question}`,
  delivery: (what, supplier) => `${what} sollte von ${supplier} kommen`,
  load: (machine, what) => `${machine} beladen: ${what}`,
  runs: (length) => `Läuft ${length}.`,
  gate: (name) => `Prüfung: ${name}`,
  day: (person, steps) => `${person}: ${steps}`,
  line: (from, to, what) => `${from} bis ${to} ${what}`,
  loadIn: 'Aufbau',
  readyBy: 'Fertigtermin',
  event: 'Veranstaltung',
  moves: 'Aus dem Plan; verschiebt sich mit jeder Zählung und Änderung.',
  heading: 'Kalender',
  fold: 'Im Kalender eines Handys',
  intro:
    'Ein Kalender, der sich selbst erneuert: letzte Momente zum Bestellen und Entscheiden, Lieferungen, Ladungen der Maschinen, die Tage aller Leute, Prüfungen, Aufbau und Veranstaltung. Wer die Adresse hat, kann ihn lesen, bis du sie entfernst.',
  whose: 'Für wen',
  all: 'Alles',
  alarm: 'Wecker vor letzten Momenten',
  alarms: { none: 'nie', '120': '2 Stunden vorher', '1440': 'einen Tag vorher', '2880': 'zwei Tage vorher' },
  make: 'Adresse anlegen',
  download: 'Als Datei herunterladen',
  made: 'Diese Adresse siehst du nur einmal. Abonniere sie in deinem Kalender:',
  copy: 'Adresse kopieren',
  copied: 'Kopiert.',
  selected: 'Sie ist markiert: Kopier sie mit den Tasten oder dem Menü deines Browsers.',
  addresses: 'Adressen',
  none: 'Noch keine.',
  since: (when) => `seit ${when}`,
  end: (whose) => `Adresse entfernen: ${whose}`,
  toDates: 'Zurück zu den Terminen',
  notReachable:
    'Nur dieser Laptop erreicht Daywright, also kann kein Handy den Kalender abholen. Starte es erst mit --lan.',
  ended: 'Diese Kalenderadresse wurde entfernt. Frag nach einer neuen und lösch diese aus deinem Kalender.',
  unknown: 'Unter dieser Adresse gibt es keinen Kalender.',
  noFeed: 'Diese Adresse wurde schon entfernt.',
  noPerson: (id, known) =>
    known === ''
      ? `In diesem Bau heißt niemand „${id}“; lass es leer, um alles zu bekommen.`
      : `In diesem Bau heißt niemand „${id}“; seine Leute sind ${known}. Lass es leer, um alles zu bekommen.`,
  noAlarm: (typed) =>
    `Ein Wecker ist eine ganze Zahl von Minuten, von 0 bis 10080 (eine Woche); hier steht „${typed}“.`,
});
