/** The words of tables that go out to a spreadsheet and come back, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { some } from '../../texts/grammar.ts';
import { csvTexts } from '../../texts/paper/csv.ts';

inGerman(csvTexts, {
  heading: 'Tabellen',
  intro:
    'Teile, Schritte und das Protokoll als Tabellen für eine Tabellenkalkulation, und zurück. Spalten werden an ihren Überschriften erkannt, in jeder Reihenfolge; eine Spalte, die fehlt, ändert nichts, eine leere Zelle leert ihr Feld, und was nicht in der Tabelle steht, bleibt, wie es ist.',
  out: 'Als Tabelle speichern',
  lists: { parts: 'Teile', steps: 'Schritte', log: 'Das Protokoll', orders: 'Bestellungen' },
  comma: 'Komma',
  semicolon: 'Semikolon',
  saved: (list, separator) => `${list}, getrennt durch ${separator}`,
  back: 'Tabelle lesen',
  which: 'Was die Tabelle enthält',
  paste: 'Füg sie hier ein, mit ihren Überschriften',
  file: 'oder wähl eine Datei',
  look: 'Erst ansehen',
  preview: 'Was sich ändern würde',
  save: 'So ändern',
  saveLog: 'Diese Einträge hinzufügen',
  nothing: 'Die Tabelle ändert nichts: Alles ist schon so.',
  entries: (added, known) =>
    `${added === 1 ? '1 Eintrag käme' : `${added} Einträge kämen`} dazu${known === 0 ? '' : `, ${known} ${known === 1 ? 'steht' : 'stehen'} schon im Protokoll`}.`,
  wrong: 'Nichts wurde geändert. Behebe erst das:',
  partly: (added) =>
    `Der Plan wurde inzwischen geändert: Nur ${added === 1 ? '1 Eintrag kam' : `${added} Einträge kamen`} dazu. Sieh dir den Rest noch einmal an:`,
  ignored: (headings) => `Spalten, die nicht gelesen werden: ${headings}.`,
  more: (n) => `${n} weitere`,
  row: (line, message) => `Zeile ${line}: ${message}`,
  moreRows: (n) =>
    `An ${some(n, 'weiteren Zeile', 'weiteren Zeilen')} stimmt etwas nicht; bring zuerst diese in Ordnung.`,
  column: (field, sub, n) => `${field} ${n}: ${sub}`,
  kind: 'Art',
  problems: {
    empty: 'Die Tabelle ist leer. Füg sie ein, mit ihren Überschriften in der ersten Zeile.',
    noHeading:
      'Keine Überschrift der ersten Zeile ist bekannt. Speichere die Tabelle zuerst und behalte ihre Überschriften; „Name“ oder „id“ muss dabei sein.',
    noName: 'Keine Spalte sagt, wovon eine Zeile handelt. Füg eine mit der Überschrift „id“ oder „Name“ hinzu.',
    tooMany: (most) =>
      `Die Tabelle hat mehr als ${most} Zeilen; mehr lassen sich nicht auf einmal lesen. Teil sie in mehrere auf.`,
    unreadable: (line) => `Zeile ${line} lässt sich nicht lesen: Ein Anführungszeichen geht auf und nie zu.`,
    twiceHeading: (heading) => `„${heading}“ steht über zwei Spalten; lass nur eine.`,
    nameless: 'Die Zeile nennt nichts: Füll „Name“ oder „id“ aus.',
    twice: (name, line) => `„${name}“ steht auch in Zeile ${line}; behalte eine davon, oder gib jeder eine eigene id.`,
    otherwise: (id) =>
      `Der Eintrag „${id}“ steht schon im Protokoll und sagt etwas anderes; Einträge ändern sich nie. Lass die Zeile, wie sie gespeichert war, oder nimm den Eintrag unter Zählen zurück und füg eine Zeile ohne id hinzu.`,
    twins: (name, ids) => `„${name}“ heißt hier mehreres (${ids}); sag mit „id“, was gemeint ist.`,
    ambiguous: (label, value) =>
      `„${label}“ ist „${value}“, das kann eine ganze Zahl oder ein Bruch sein; schreib ${value.replace(',', '')} oder ${value.replace(',', '.')}.`,
    yes: (label, value) => `„${label}“ ist „${value}“; schreib ja oder lass es leer.`,
    unknown: (label, value) =>
      `„${label}“ nennt „${value}“, das es nicht gibt; schreib eine id oder einen Namen aus diesem Bau.`,
    conflict: 'Der Plan hat sich geändert, seit du die Tabelle angesehen hast. Sieh sie noch einmal an.',
  },
});
