/** What is wrong with the hours of people, machines and suppliers, in German; what is typed stays English. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

inGerman(problemWords.hours, {
  endlessNight: (from, to, length) =>
    `„${from}-${to}“ geht ${length} lang über Mitternacht; schreib ${to}-${from}, oder, wenn du es so meinst, ${from}-24:00 und am nächsten Tag 00:00-${to}.`,
  noSpans: 'Die Stunden des Tages fehlen; schreib sie wie 09:00 to 13:00, oder off.',
  noDays: 'Die Tage fehlen; schreib sie wie Mon to Fri, oder Tue Thu.',
  noDay: (part, span) => `„${part}“ nennt keinen Tag; fang mit den Tagen an, etwa Mon to Fri ${span}.`,
  noHours: (part) => `„${part}“ nennt keine Stunden; schreib sie wie ${part} 08:00 to 17:00.`,
  evenings: (part) => `„${part}“ nennt keine Stunden; schreib sie wie ${part} 18:00 to 22:00.`,
  bothOff: (day) => `„${day}“ hat Stunden und ist zugleich frei (off); lass eines davon weg.`,
  wholeWeek: (word) => `„${word}“ nennt schon die Stunden aller Tage, und weitere folgen; lass eines davon weg.`,
  drawnToo: (typed, drawn) =>
    `Eingetippt sind die Stunden „${typed}“, gezeichnet „${drawn}“; behalte eines: tipp, was du gezeichnet hast, oder lass die Zeichnung, wie sie war.`,
  notADay: (word, days) => `„${word}“ ist kein Tag; Tage sind ${days.join(', ')}, oder daily.`,
  notASpan: (word) => `„${word}“ ist keine Spanne von Stunden; schreib sie wie 08:00 to 12:00.`,
  offTheClock: (word) =>
    `„${word}“ gibt es auf der Uhr nicht; eine Spanne beginnt zwischen 00:00 und 23:59 und endet bis 24:00.`,
  noMinutes: (word, meant) => `„${word}“ ginge über Mitternacht; schreib die Minuten dazu, etwa ${meant}.`,
  emptySpan: (word) => `„${word}“ beginnt und endet in derselben Minute; ein ganzer Tag ist 00:00-24:00.`,
  dateTwice: (date) => `Für ${date} gibt es zwei Zeilen; schreib alle Stunden eines Tages in eine.`,
  personHasNone: (person) =>
    `${person} hat keine Stunden; trag welche ein, etwa Mon to Fri 18:00 to 22:00, oder nimm ${person} heraus.`,
  machineHasNone: (machine) => `${machine} hat keine Stunden; trag welche ein, etwa always, oder daily 08:00 to 20:00.`,
  supplierClosed: (date) =>
    `Der Lieferant hat ab ${date} zehn Jahre lang keinen Tag, an dem er arbeitet oder liefert; nimm einige Feiertage heraus.`,
  supplierHasNone: 'Ein Lieferant braucht mindestens einen Werktag und einen Liefertag; schreib sie wie Mon to Fri.',
  twice: (id) => `„${id}“ gibt es zweimal; jedes braucht einen eigenen Kurznamen.`,
});
