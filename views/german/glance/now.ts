/** The words of the Now sheet, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { nowTexts } from '../../texts/glance/now.ts';
import { byNumber, listOf } from '../../texts/grammar.ts';

inGerman(nowTexts, {
  heading: 'Jetzt',
  planOf: (when) => `Nach dem Plan von ${when}.`,
  behind: (when) =>
    `Die Uhr dieses Geräts ist früher als dieser Plan von ${when}, darum zeigt die Seite diese Zeit. Stell die Uhr richtig.`,
  old: 'Diese Seite hat seitdem nichts vom Laptop gehört; spätere Zählungen fehlen darin.',
  over: 'Diese Kopie des Plans endet hier. Öffne die Seite wieder, wo sie den Laptop erreicht.',
  here: (name, until) => `${name} ist bis ${until} da.`,
  comes: (name, when) => `${name} kommt ${when}.`,
  nobody: (when, comers) =>
    `Bis ${when} ist niemand da, dann ${byNumber(comers.length, 'kommt', 'kommen')} ${listOf(comers)}.`,
  nobodyAhead: 'Von jetzt an hat niemand Stunden.',
  addHours: 'Jemandem Stunden geben',
  tasks: 'Die nächsten zwei Stunden',
  tasksLater: 'Dann, in den ersten zwei Stunden',
  idle: (name, until) => `Für ${name} ist bis ${until} nichts geplant.`,
  instead: (steps) => `Mit dem, was da ist, ginge: ${listOf(steps)}.`,
  runs: (machine, until) => `${machine} läuft dann bis ${until}.`,
  running: (machine, until) => `${machine} läuft bis ${until}.`,
  rests: (until) => `Dann braucht es bis ${until} niemanden.`,
  ships: (until) => `Dann ist es bis ${until} unterwegs.`,
  till: (time) => `bis ${time}`,
  leaving: 'Bevor du gehst',
  leaveAt: (when) => `Die Letzten gehen ${when}. Bring das vorher in Gang; es geht weiter, während niemand da ist.`,
  nothingToLeave: 'Bevor die Letzten gehen, muss nichts in Gang gebracht werden.',
  due: 'Bestellen und entscheiden',
  nothingDue: 'In den nächsten zwei Tagen gibt es nichts zu bestellen und nichts zu entscheiden.',
  next: (what) => `Danach als Nächstes: ${what}`,
  missed: (n) => byNumber(n, '1 letzter Moment verpasst', `${n} letzte Momente verpasst`),
  order: (what, when) => `Vor ${when} bestellen: ${what}.`,
  sendOut: (what, when) => `Vor ${when} außer Haus geben: ${what}.`,
  decide: (question, when) => `${question} Vor ${when} entscheiden.`,
  orderMissed: (what, when) => `Jetzt bestellen: ${what}; der letzte Moment war ${when}.`,
  sendOutMissed: (what, when) => `Jetzt außer Haus geben: ${what}; der letzte Moment war ${when}.`,
  decideMissed: (question, when) => `${question} Jetzt entscheiden; der letzte Moment war ${when}.`,
  allMade: 'Alles ist gefertigt. Es gibt nichts mehr zu tun.',
  passed: (when) => `Die Veranstaltung war ${when}.`,
  passedLeft: (steps) =>
    byNumber(steps, 'Ein Schritt wurde nie als fertig gezählt.', `${steps} Schritte wurden nie als fertig gezählt.`),
  nothingPlanned: 'Noch ist nichts geplant. Trag die erste Arbeit ein, dann sagt diese Seite, was zu tun ist.',
  toLines: 'Arbeit in kurzen Zeilen eintragen',
  toCount: 'Zählen, was fertig ist',
  toDates: 'Alle letzten Momente',
});
