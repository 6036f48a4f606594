/** What is wrong with a date, a time, a zone, or the dates of the event, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';
import { frameTexts } from '../../../texts/frame.ts';

inGerman(problemWords.dates, {
  moment: ({ weekday, date, month, time }) =>
    `${frameTexts.weekdays[weekday - 1]} ${frameTexts.dayOfMonth(date, frameTexts.months[month - 1]!)} ${time}`,
  notATime: (text) => `„${text}“ ist kein Datum mit Uhrzeit; schreib es wie 2026-12-03T14:00.`,
  notOfDay: (time) => `${time} ist keine Uhrzeit; der Tag geht von 00:00 bis 23:59.`,
  missingHour: ({ time, date, zone, span, next }) =>
    `${time} am ${date} gibt es in ${zone} nicht: Die Uhr springt von ${span}; die nächste Minute dort ist ${next}.`,
  clocksGo: (from, to) => `${from} auf ${to}`,
  notADate: (text) => `„${text}“ ist kein Datum; schreib es wie 2026-12-03.`,
  year: (year, first, last) => `Das Jahr ${year} geht nicht; erlaubt sind ${first} bis ${last}.`,
  noMonth: (text) => `${text} steht nicht im Kalender; Monate gehen von 01 bis 12.`,
  noDay: (text, days) => `${text} steht nicht im Kalender; dieser Monat hat ${days} Tage.`,
  offset: (text) => `${text} ist kein Abstand zu UTC; er geht von -12:00 bis +14:00.`,
  zone: (zone) => `„${zone}“ ist keine Zeitzone; schreib einen IANA-Namen wie Europe/Berlin.`,
  unknownZone: (zone) =>
    `„${zone}“ ist keine bekannte Zeitzone; schreib sie wie Europe/Lisbon, oder auf einer Seite durch eine große Stadt in der Nähe.`,
  eventPast: (event) =>
    `Die Veranstaltung (${event}) ist vorbei; gib eine spätere an. Bis dahin plant Daywright alles, was übrig ist, ab jetzt.`,
  far: (field, typed) =>
    `${field === 'start' ? 'Der Beginn der Arbeit' : 'Die Veranstaltung'} (${typed}) liegt mehr als zehn Jahre weg, so weit reicht kein Plan; prüf das Jahr.`,
  lateLoadIn: (event) => `Der Aufbau darf nicht nach der Veranstaltung (${event}) liegen.`,
  dueAfter: (name) =>
    `${name} ist erst nach der Veranstaltung fällig; gib einen früheren Tag an oder lass das Feld leer, dann wird es mit dem Rest geplant.`,
  readyAfterEvent: (event) => `Der Fertigtermin darf nicht nach der Veranstaltung (${event}) liegen.`,
  readyAfterLoadIn: (loadIn) => `Der Fertigtermin darf nicht nach dem Aufbau (${loadIn}) liegen.`,
});
