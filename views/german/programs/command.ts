/** The words of the command line, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { commandTexts } from '../../texts/programs/command.ts';

inGerman(commandTexts, {
  help: (file, build) => `Daywright auf der Kommandozeile

  daywright plan FILE [--now TIME] [--budget SECONDS] [--seed NUMBER] [--json]
        rechnet eine Baudatei durch: wann der Bau fertig ist, die Luft, der kritische Weg, was zu bestellen ist.
        --now nimmt eine Ortszeit der Veranstaltung, etwa 2026-12-03T14:00, oder einen Zeitpunkt mit seinem Abstand zu
        UTC, etwa 2026-12-03T14:00Z oder 2026-12-03T14:00+01:00 (sonst: jetzt). --budget sucht so lange nach einer besseren
        Reihenfolge, bis zu einer Stunde; --seed lässt Suche und Durchläufe woanders anfangen (sonst: 1)
  daywright calendar FILE [--now TIME] [--person ID] [--alarm MINUTES]
        gibt den Plan als Kalenderdatei aus (iCalendar): letzte Momente, Lieferungen, Ladungen, Tage, Prüfungen, die
        Veranstaltung; mit --person die Tage einer Person, mit --alarm klingelt er so lange vor letzten Momenten
  daywright levers FILE [--now TIME] [--seed NUMBER] [--json]
        sucht, was Zeit bringen würde: Leute, Stunden, Maschinen, Lose, Bestellungen, und was jedes bringt und kostet
  daywright ways FILE [--now TIME] [--seed NUMBER] [--json]
        legt die Wege jedes Teils nebeneinander: hier gefertigt, außer Haus gegeben oder aufgeteilt
  daywright formulas [--json]
        führt die Funktionen auf, die in Formeln gehen: Werte, Einheiten, Quelle und ein gerechnetes Beispiel
  daywright schema
        gibt das JSON-Schema der Baudatei aus
  daywright openapi
        gibt die OpenAPI-Beschreibung dessen aus, was der Server als JSON sagt und annimmt
  daywright import FILE [--db FILE]
        nimmt einen Bau und sein Protokoll in die Datenbank auf
  daywright export BUILD [--yaml] [--db FILE]
        gibt einen Bau und sein Protokoll als Baudatei aus
  daywright close BUILD [--db FILE]
        schließt einen Bau nach seiner Veranstaltung: Man kann ihn lesen, aber nichts mehr ändern oder zählen
  daywright reopen BUILD [--db FILE]
        öffnet einen geschlossenen Bau wieder für Änderungen und Zählungen
  daywright backup FILE [--db FILE]
        kopiert die Datenbank, auch während sie benutzt wird
  daywright restore FILE [--db FILE]
        spielt eine Sicherung zurück, während Daywright steht; was da war, bleibt daneben liegen
  daywright --help
        diese Seite

FILE ist JSON oder YAML mit höchstens ${file} MB, davon ${build} für den Bau ohne sein Protokoll. Die Datenbank ist --db, sonst DAYWRIGHT_DB, sonst data/daywright.sqlite.
Die Sprache ist die des Terminals (LC_ALL, LC_MESSAGES, LANG).
Exit-Code 0: in Ordnung. 2: An der Eingabe stimmte etwas nicht; jedes davon steht in einer Zeile auf der Fehlerausgabe.
`,
  wrong: {
    seeHelp: (what) => `${what} Siehe daywright --help.`,
    noCommand: (commands) => `Ein Befehl fehlt, einer von ${commands}.`,
    notCommand: (name, commands) => `„${name}“ ist kein Befehl; es gibt ${commands}.`,
    stray: (flag, name) => `--${flag} passt nicht zu ${name}.`,
    needs: (name, operand) => `Nach ${name} fehlt ${operand}.`,
    tooMany: (word, name) => `„${word}“ ist bei ${name} ein Wort zu viel.`,
    now: '--now nimmt eine Ortszeit der Veranstaltung, etwa 2026-12-03T14:00, oder einen Zeitpunkt mit seinem Abstand zu UTC, etwa 2026-12-03T14:00Z oder 2026-12-03T14:00+01:00.',
    budget: (most, text) =>
      `--budget nimmt Sekunden zum Suchen, mehr als 0 und höchstens ${most}; hier steht „${text}“.`,
    seed: (most, text) => `--seed nimmt eine ganze Zahl von 0 bis ${most}; hier steht „${text}“.`,
    notClosed: (id) => `„${id}“ ist nicht geschlossen: Er lässt sich ändern und zählen.`,
    noBuild: (id, there) =>
      `Einen Bau „${id}“ gibt es nicht; ${there.length === 0 ? 'es gibt keinen' : `es gibt ${there.join(', ')}`}.`,
    noBackup: (path, why) => `Die Sicherung ließ sich nicht nach ${path} schreiben: ${why}.`,
    tooLongForYaml: (entries) =>
      `Mit ${entries} Einträgen im Protokoll ist der Bau zu lang, um als YAML wieder gelesen zu werden. Lass --yaml weg: Als JSON geht es.`,
    largeFile: (path, megabytes, most) =>
      `${path} hat ${megabytes} MB; eine Baudatei darf höchstens ${most} MB haben. Lass weg, was nicht zum Bau gehört, oder teil ihn auf.`,
    unread: (path, why) => `${path} lässt sich nicht lesen: ${why}.`,
    why: {
      noFile: 'so eine Datei gibt es nicht',
      folder: 'es ist ein Ordner; nenn eine Datei',
      forbidden: 'du darfst sie nicht lesen',
      notText: 'es ist kein Text in UTF-8',
    },
  },
  done: {
    takenIn: (name, id, entries) =>
      `Aufgenommen: ${name} (${id}), ${entries} ${entries === 1 ? 'Eintrag' : 'Einträge'} im Protokoll.`,
    closed: (name, id) => `Geschlossen: ${name} (${id}).`,
    reopened: (name, id) => `Wieder geöffnet: ${name} (${id}).`,
    backedUp: (path) => `Gesichert nach ${path}.`,
    restored: (file, path) => `${file} ist zurückgespielt aus ${path}.`,
    keptAs: (file) => `Was da war, liegt in ${file}.`,
  },
  summary: {
    incomplete:
      'Diese Termine gelten für das, was sich planen ließ; eine Chance gibt es deshalb noch nicht. Was fehlt, steht unter Probleme.',
    noDate: 'Es gibt noch keinen Termin. Zuerst muss jemand sagen:',
    tooLarge: 'Es gibt keinen Termin:',
    threats: 'Was den Termin gefährdet',
    why: 'Warum dieser Termin',
    path: 'Kritischer Weg (Leute und Maschinen unbegrenzt)',
    left: 'Noch zu fertigen',
    pace: 'Tempo',
    capacity: 'Leute und Maschinen bis zum Fertigtermin',
    order: 'Bestellen',
    decide: 'Entscheiden',
    problems: 'Probleme',
    lookAt: 'Ansehen',
    unlimited: (at) => `mit unbegrenzt Leuten und Maschinen ${at}`,
    short: (work) => `, ${work} zu wenig: so geht es nicht`,
    head: (name, zone, now) => `${name}   (${zone}, jetzt ${now})`,
    unknown: 'nicht bekannt',
    ready: 'Fertig',
    readyBy: 'Fertigtermin',
    loadIn: 'Aufbau',
    event: 'Veranstaltung',
    room: (length) => `Luft ${length}`,
    lots: (lots) => `, ${lots} Lose`,
    span: (from, to) => `${from} bis ${to}`,
    unitsLeft: (left, total, units) => `${left} von ${total} ${units} übrig`,
    finished: (when) => `fertig ${when}`,
    lastMoment: (when) => `, letzter Moment ${when}`,
    timed: (units, work) => `, ${units} gestoppt in ${work}`,
    needsHas: (needs, has) => `braucht ${needs}, hat ${has}`,
    orderBefore: (when) => `bestellen vor ${when}`,
    state: { ordered: 'bestellt', late: 'verspätet', received: 'eingegangen' },
    here: (arrives, needed) => `, da ${arrives}, gebraucht ${needed}`,
    before: (when) => `vor ${when}`,
    severity: { error: 'Fehler', warning: 'Warnung' },
  },
});
