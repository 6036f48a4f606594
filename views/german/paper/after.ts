/** The words of After the show, of the maker's own figures and of what earlier builds offer, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { someOf } from '../../texts/grammar.ts';
import { afterTexts } from '../../texts/paper/after.ts';

inGerman(afterTexts, {
  intro: 'Was geschätzt war, neben dem, was gezählt wurde: die Zahlen, mit denen der nächste Bau anfängt.',
  none: 'Noch ist nichts gezählt.',
  csv: 'Als Tabelle speichern (CSV)',
  columns: ['Was', 'Geschätzt', 'Gemessen', 'Verhältnis', 'Aus'],
  /** The names of the columns of a file are the same in every language. */
  csvColumns: ['kind', 'id', 'name', 'measure', 'estimated', 'real', 'times', 'from'],
  kinds: {
    hands: 'Hände, Minuten je Stück',
    run: 'Maschinen, Minuten je Ladung',
    wait: 'Warten, Minuten je Ladung',
    gate: 'Prüfungen, Anteil nicht bestandener Versuche',
    scrap: 'Ausschuss, Anteil der Stücke',
    lead: 'Lieferanten, Werktage',
  },
  from: {
    hands: (n) => `${n} Stück`,
    run: (n) => someOf(n, 'Ladung', 'Ladungen'),
    wait: (n) => someOf(n, 'Ladung', 'Ladungen'),
    gate: (n) => someOf(n, 'Versuch', 'Versuche'),
    scrap: (n) => `${n} Stück`,
    lead: (n) => someOf(n, 'Lieferung', 'Lieferungen'),
  },
  leadNote:
    'Bei Lieferanten sind das die Tage, die Lieferungen im Mittel gebraucht haben. Der Plan rechnet mit ihnen und der Schätzung zusammen.',
  loadNote:
    'Eine Ladung wird gezählt, wenn jemand zu ihr kommt, nie bevor sie fertig ist. Darum sagt die kürzere Hälfte der Ladungen, wie lange eine dauert: von zweien die kürzere.',
  notSaid: 'keine Angabe',
  shelf: {
    heading: 'Deine eigene Sammlung',
    note: 'Behalte Tempo, Gutanteil und Lieferzeiten dieses Baus: Der nächste bietet sie an, wo ein Schritt, ein Teil oder ein Lieferant genauso heißt.',
    kept: (n) => (n === 1 ? '1 Zahl dieses Baus ist aufgehoben.' : `${n} Zahlen dieses Baus sind aufgehoben.`),
    fewest: 'Tempo und Gutanteil aus weniger als fünf Stück bleiben weg.',
    keep: (n) => (n === 1 ? '1 Zahl behalten' : `${n} Zahlen behalten`),
    nothing: 'Nichts wurde oft genug gemessen, um es aufzuheben.',
  },
  offers: {
    heading: 'Aus früheren Bauten',
    note: 'Anderswo unter demselben Namen gemessen. Nimm, was passt: Eine andere Werkstatt, anderes Holz, eine andere Hand sind langsamer.',
    none: 'Kein früherer Bau hat etwas unter demselben Namen gemessen.',
    pace: (minutes) => `${minutes} min je Stück`,
    yield: (share) => `${share} werden gut`,
    lead: (days) => someOf(days, 'Werktag', 'Werktage'),
    measured: (build, n) => `gemessen in ${build}, Grundlage: ${n}`,
    present: (now) => `hier ${now}`,
    take: 'Übernehmen',
    gone: (what) => `„${what}“ wird nicht mehr angeboten; sieh dir die Seite an, wie sie jetzt ist.`,
    onLines: (n) =>
      n === 1
        ? '1 Zahl aus einem früheren Bau passt zu einem Namen hier'
        : `${n} Zahlen aus früheren Bauten passen zu Namen hier`,
  },
});
