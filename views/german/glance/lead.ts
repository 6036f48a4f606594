/** The words of what leads the Countdown, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { leadTexts } from '../../texts/glance/lead.ts';
import { some } from '../../texts/grammar.ts';

inGerman(leadTexts, {
  likelyBy: (target, when) => `Chance bis zum Ziel „${target}“, ${when}`,
  dates: 'Fertig bis wann',
  planned: 'wie geplant',
  even: 'jedes zweite Mal',
  outOf: (share) => `${share} von 100`,
  noHours: 'nicht in den Stunden, die es gibt',
  isLate: 'nach dem Fertigtermin',
  first: 'Was den Termin bedroht',
  cause: 'Was ihn verspätet',
  wayBack: 'Der Weg zurück',
  wayBackNote: 'So wie geplant wird es zu spät. Diese Änderungen sind an diesem Plan durchgerechnet:',
  lookForWays: 'Zeigen, was den Termin zurückholt',
  allWays: 'Alle Wege, mit ihrem Preis',
  fewerOrLater: 'Eine Änderung neben dem Plan versuchen',
  helps: 'Was hilft',
  more: (n) => some(n, 'weitere Gefahr', 'weitere Gefahren'),
  nothing: 'Nichts bedroht den Termin.',
  nothingYet: 'Nichts bedroht den geplanten Termin. Die neue Chance wird gerade berechnet und kann mehr zeigen.',
  moreToCome: 'Die neue Chance wird gerade berechnet und kann mehr zeigen.',
  next: (what) => `Als Nächstes: ${what}`,
  ways: 'Von hier aus',
  way: {
    now: 'Was jetzt zu tun ist',
    steps: 'Alle Schritte',
    levers: 'Was Zeit bringen würde',
    options: 'Was wäre, wenn',
    ledger: 'Wo die Luft geblieben ist',
    load: 'Auslastung aller Leute und Maschinen',
    waits: 'Welcher Schritt auf welchen wartet',
  },
});
