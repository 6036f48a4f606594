/** What every page shows, in German. */
import { de } from 'date-fns/locale/de';
import { inGerman } from '../../server/model/texts/language.ts';
import { frameTexts } from '../texts/frame.ts';
import { byNumber } from '../texts/grammar.ts';

/** Days as the language's table numbers them: Sunday is 0. */
const MONDAY_TO_SUNDAY = [1, 2, 3, 4, 5, 6, 0] as const;
const JANUARY_TO_DECEMBER = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11] as const;

inGerman(frameTexts, {
  product: 'Daywright',
  skip: 'Zur Seite springen',
  weekdays: MONDAY_TO_SUNDAY.map((day) => de.localize.day(day, { width: 'short' })),
  months: JANUARY_TO_DECEMBER.map((month) => de.localize.month(month, { width: 'abbreviated', context: 'standalone' })),
  dayOfMonth: (day, month) => `${day}. ${month}`,
  decimal: ',',
  today: 'heute',
  tomorrow: 'morgen',
  yesterday: 'gestern',
  none: 'nichts',
  unknown: 'nicht bekannt',
  tooLateBy: (length) => `${length} zu spät`,
  beforeStart: 'vor Baubeginn',
  unit: {
    min: (n) => `${n}\u00a0min`,
    h: (n) => `${n}\u00a0h`,
    days: (n) => `${n}\u00a0${byNumber(n, 'Tag', 'Tage')}`,
  },
  rate: {
    anHour: (units) => `${units} pro Stunde`,
    oneIn: (length) => `eines in ${length}`,
  },
  things: {
    unit: { one: 'Stück', many: 'Stück' },
    job: { one: 'Arbeit', many: 'Arbeiten' },
    check: { one: 'Prüfung', many: 'Prüfungen' },
  },
  room: {
    word: 'Luft',
    unknown: 'nicht bekannt',
    none: 'keine',
    short: (length) => `${length} fehlen`,
  },
  origin: {
    guessed: 'geschätzt',
    trial: 'aus einem Versuch',
    supplier: 'laut Lieferant',
    handbook: 'aus einem Handbuch',
    measured: 'gemessen',
    decided: 'festgelegt',
    none: 'ohne Herkunft',
  },
  target: { readyBy: 'Fertigtermin', loadIn: 'Aufbau', event: 'Veranstaltung', start: 'Beginn' },
  screens: {
    countdown: 'Countdown',
    now: 'Jetzt',
    count: 'Zählen',
    steps: 'Schritte',
    dates: 'Termine',
    orders: 'Bestellungen',
    money: 'Geld',
    paper: 'Auf Papier',
    tables: 'Tabellen',
    show: 'Am Tag',
    after: 'Danach',
    design: 'Entwurf',
    hands: 'Hände',
    history: 'Verlauf',
    options: 'Varianten',
    lines: 'Kurze Zeilen',
    wrong: 'Was schiefgeht',
    levers: 'Was Zeit bringt',
    ways: 'Machen oder vergeben',
    contents: 'Inhalt',
  },
  nav: 'Seiten dieses Baus',
  sheetLight: { night: 'Kreide auf Schiefer', day: 'Tinte auf Papier' },
  rule: {
    label: 'Der Maßstab: von jetzt bis zur Veranstaltung',
    now: 'jetzt',
    ready: (when) => `fertig ${when}`,
    notKnown: 'keine Prognose',
    noDate: 'noch kein Termin: etwas fehlt, siehe Countdown',
    room: (room) => `Luft ${room}`,
    siteLate: (when, length, missing) =>
      `aber vor Ort bis ${when}, ${length} nach der Veranstaltung${missing === null ? '' : `, denn dort fehlen ${missing} Arbeit`}`,
    short: (length) => `${length} zu spät`,
    says: (parts) => `${parts.join('; ')}.`,
    target: (name, when) => `${name} ${when}`,
  },
  fresh: {
    old: (when, behind) => `Diese Zahlen sind veraltet: von ${when}${behind}.`,
    behind: (edits, entries) => {
      const parts = [
        ...(entries > 0 ? [byNumber(entries, 'dem letzten Eintrag', `den letzten ${entries} Einträgen`)] : []),
        ...(edits > 0 ? [byNumber(edits, 'der letzten Änderung', `den letzten ${edits} Änderungen`)] : []),
      ];
      return parts.length === 0 ? '' : `, vor ${parts.join(' und ')}`;
    },
    coming: 'Neue sind unterwegs.',
    failed: (when) =>
      `Die Prognose ist gescheitert (${when}). Der nächste Versuch folgt bei der nächsten Änderung und alle 15 Minuten.`,
    first: 'Eine schnelle erste Antwort; Daywright sucht noch nach einer besseren Reihenfolge.',
    cutOff: 'Keine Verbindung zum Laptop: Diese Seite ist vielleicht veraltet.',
  },
  atWork: {
    kinds: {
      search: 'eine bessere Reihenfolge',
      'what-if': 'eine Variante neben dem Plan',
      levers: 'was Zeit bringen würde',
      sizes: 'wie viele höchstens gehen',
      ways: 'selbst machen oder außer Haus geben',
      ledger: 'wo die Luft geblieben ist',
      past: 'die Tage vor der ersten Prognose',
    },
    underWay: (what, percent) => `In Arbeit: ${what}${percent === null ? '' : `, ${percent}\u00a0%`}.`,
    waits: (what) => `Danach: ${what}.`,
    more: (n) => ` ${n} ${byNumber(n, 'weitere Aufgabe wartet', 'weitere Aufgaben warten')}.`,
    stop: 'Anhalten',
    stopWithBest: 'Anhalten, das bisher Beste behalten',
    gone: 'Das ist schon fertig, es gibt nichts anzuhalten.',
  },
  block: {
    label: 'Schriftfeld',
    build: 'Bau',
    sheet: 'Seite',
    event: 'Veranstaltung',
    edit: 'Änderung',
    counted: 'Protokoll',
    computed: 'Berechnet',
    zone: 'Zeitzone',
    entries: (n) => byNumber(n, '1 Eintrag', `${n} Einträge`),
    stale: (when) => `${when}, wird erneuert…`,
    failed: (when) => `${when}, nicht erneuert`,
  },
});
