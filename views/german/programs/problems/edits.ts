/** What is wrong with an edit of the plan, or with an option for it, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

inGerman(problemWords.edits, {
  noBuild: (id) => `Einen Bau „${id}“ gibt es nicht.`,
  notRemoved: 'Dieser Bau ist nicht mehr unter den entfernten; sieh noch einmal in die Liste.',
  idTaken: (id) => `Es gibt wieder einen Bau „${id}“; entferne zuerst jenen oder behalte ihn.`,
  taken: (id) =>
    `Es gibt schon einen Bau „${id}“; gib diesem einen anderen Kurznamen, entferne zuerst den anderen oder lies die Datei auf dessen Seite „Verlauf“ über den Plan.`,
  changedMeanwhile: (who, now, begun) =>
    `${who} hat den Bau geändert, seit du ihn geöffnet hast: Er steht bei Änderung ${now}, deine begann bei Änderung ${begun}.`,
  noEdit: (edit, last) => `Eine Änderung ${edit} gibt es nicht; sie haben die Nummern 1 bis ${last}.`,
  closed: {
    by: (who, when) =>
      `${who} hat diesen Bau am ${when} geschlossen: Hier wird nichts geändert oder gezählt, bis er wieder geöffnet ist.`,
    notYet: 'Ein Bau wird nach der Veranstaltung geschlossen, und seine kommt noch.',
  },
  option: {
    noName: 'Die Variante hat noch keinen Namen; gib ihr einen, etwa „Nocken statt Kurbeln“.',
    longName: (length, most) => `Der Name hat ${length} Zeichen; er darf höchstens ${most} haben.`,
    taken: (name) => `Es gibt schon eine Variante „${name}“; füg sie dort hinzu oder nimm einen anderen Namen.`,
    tooMany: (most) => `Höchstens ${most} Varianten lassen sich merken; verwirf zuerst eine oder erweitere eine davon.`,
    gone: 'Diese Variante gibt es nicht mehr: Sie wurde inzwischen übernommen oder verworfen.',
    nothing: 'Das ändert nichts, also gibt es nichts zu merken.',
    isPlan: (name) => `„${name}“ ändert nichts: Der Plan ist schon so.`,
    thing: (list, name) => problemWords.changes.named(list, name),
    isGone: (name, what) => `„${name}“ ändert etwas, das nicht mehr im Plan ist: ${what}.`,
  },
  file: {
    ofAnother: (file, build) =>
      `Die Datei gehört zum Bau „${file}“, nicht zu „${build}“. Lies sie auf der Seite aller Baue ein, oder gib ihr die Kennung „${build}“.`,
    same: 'Die Datei sagt, was der Plan schon sagt; nichts wurde geändert.',
  },
  firstEdit: 'Mit Änderung 1 fängt der Bau an; davor ist nichts, wohin man zurückgehen könnte.',
});
