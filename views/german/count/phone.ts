/** What the phone says on the Count page by itself, in German. */
import { inGerman } from '../../../server/model/texts/language.ts';
import { phoneTexts } from '../../texts/count/phone.ts';

const counts = (n: number): string => (n === 1 ? '1 Zählung' : `${n} Zählungen`);
const kept = (n: number): string => `${counts(n)} auf diesem Handy aufgehoben`;
/** Ends a sentence; a day such as `Fr., 4. Dez.` has ended it already. */
const sentence = (text: string): string => (text.endsWith('.') ? text : `${text}.`);

inGerman(phoneTexts, {
  locale: 'de-DE',
  left: (n) => `${n} übrig`,
  pieces: (n, unit) => `${n} × ${unit}`,
  measured: (amount, unit) => `${amount} ${unit}`,
  packs: (n, size, unit) => `${n} ${n === 1 ? 'Packung' : 'Packungen'} zu ${size} ${unit}`,
  ready: (n) => `${n} jetzt machbar`,
  waitsFor: (what) => `wartet auf ${what}`,
  notSoMany: (typed, have) =>
    have === 0
      ? 'Hier ist noch nichts als fertig gezählt.'
      : `Hier ${have === 1 ? 'ist' : 'sind'} nur ${have} als fertig gezählt, nicht ${typed}.`,
  lostWhen:
    'Gib beide Male Tag und Stunde an, das spätere zuletzt, und lass es nicht später als jetzt beginnen. Für einen Tag, der noch kommt, ändere die Stunden unter Hände.',
  promisedWhen: 'Gib Tag und Stunde an, die der Lieferant genannt hat, später als jetzt.',
  undo: 'Zurücknehmen',
  kept: {
    allHere: 'Jede Zählung ist angekommen.',
    refused: (n) =>
      `Der Laptop hat ${n === 1 ? 'eine Zählung' : `${n} Zählungen`} nicht genommen: siehe die Fragen unten.`,
    none: 'Auf diesem Handy ist noch nichts gezählt.',
    waiting: (n) => `${kept(n)}, unterwegs.`,
    silent: (n, since) => {
      const quiet = `Keine Antwort vom Laptop${since === null ? '' : ` seit ${since}`}.`;
      return n === 0
        ? `${quiet} Mach weiter: Dieses Handy hebt deine Zählungen auf.`
        : `${quiet} Mach weiter: ${kept(n)}.`;
    },
    shutOut: (n) =>
      n === 0
        ? 'Der Laptop kennt dieses Handy nicht mehr. Bitte den Macher um einen neuen Code.'
        : `Der Laptop kennt dieses Handy nicht mehr. ${counts(n)} hier aufgehoben; melde dich mit einem neuen Code an, um ${n === 1 ? 'sie' : 'alle'} zu senden.`,
    trouble: (n, said) =>
      `Der Laptop sagt: ${said} ${n === 0 ? '' : `${kept(n)}; es sendet ${n === 1 ? 'sie' : 'alle'} noch einmal.`}`,
    clockOff: (minutes) =>
      `Die Uhr dieses Handys geht ${Math.abs(minutes)} min ${minutes > 0 ? 'nach' : 'vor'}; der Laptop berichtigt die Zählungen.`,
    clockSet: (minutes) =>
      `Die Uhr dieses Handys wurde um ${Math.abs(minutes)} min ${minutes > 0 ? 'vorgestellt' : 'zurückgestellt'}, während Zählungen warteten; der Laptop berichtigt die früheren.`,
  },
  place: {
    beingKept: 'Eine Kopie dieser Seite wird gespeichert.',
    durable: 'Diese Seite geht auch ohne Netz auf.',
    mustStayOpen:
      'Lass diese Seite offen, wo kein Netz ist. Sie zählt und hebt alles auf, aber über einfaches HTTP kannst du sie erst wieder öffnen, wenn der Laptop zurück ist.',
    nothingKept:
      'Dieser Browser hebt nichts auf (ein privates Fenster?). Ein Tipp zählt erst, wenn der Laptop geantwortet hat. Öffne die Seite in einem gewöhnlichen Fenster.',
    full: 'Dieses Handy konnte den Tipp nicht aufheben, also wurde er nicht gezählt. Schaff Speicherplatz und tippe noch einmal.',
  },
  kinds: {
    done: (n) => `${n} fertig`,
    scrapped: (n) => `${n} Ausschuss`,
    loaded: (n) => `${n} geladen`,
    ordered: (n) => `${n} bestellt`,
    received: (n) => `${n} eingegangen`,
    promised: () => 'ein Termin zugesagt',
    lost: () => 'Zeit verloren',
    passed: () => 'bestanden',
    failed: () => 'nicht bestanden',
    'sent-back': (n) => `${n} zurückgegeben`,
    began: () => 'Uhr gestartet',
    paused: () => 'Uhr angehalten',
    undo: () => 'zurückgenommen',
  },
  where: { phone: 'auf diesem Handy aufgehoben', arrived: 'auf dem Laptop gespeichert', refused: 'abgelehnt' },
  ordered: (what) => `${what} bestellt`,
  receivedUnits: (what) => `${what} eingegangen`,
  told: (what, place) => `${what}. ${place.charAt(0).toUpperCase()}${place.slice(1)}.`,
  undone: 'zurückgenommen',
  undoneBy: (who) => `zurückgenommen von ${who}`,
  bringBack: 'Wiederherstellen',
  set: (name, set) => `${name} ${set}`,
  takeBack: (whose, one) => {
    const what = whose === null ? 'Meine zurücknehmen' : `Die von ${whose} zurücknehmen`;
    return one ? `Dasselbe Los: ${what}` : what;
  },
  keep: 'Das stimmt: so lassen',
  two: 'Zwei Lose: beide behalten',
  doubts: (n) => (n === 1 ? '1 Frage' : `${n} Fragen`),
  putAway: 'Weglegen',
  sendAgain: 'Noch einmal senden',
  refused: (what, reason) => `Nicht gezählt: ${what}. ${reason}`,
  asked: (what, question) => `${what}: ${question}`,
  counted: (what, place) => `${what}, ${place}`,
  clock: {
    off: 'Die Uhr startet mit dem ersten Tipp.',
    on: (since, pace) => `Die Uhr läuft seit ${since}${pace === null ? '' : `, ${pace} pro Stunde`}.`,
    start: 'Uhr starten',
    pause: 'Uhr anhalten',
  },
  loads: {
    back: (n, time, length) => `${n} in der Maschine: Sei um ${time} da, in ${length}.`,
    ready: (n, time) =>
      `${n} fertig seit ${time}: Nimm ${n === 1 ? 'das Stück' : 'sie'} heraus und zähl ${n === 1 ? 'es' : 'sie'}.`,
    waits: (n, time, length) => `${n} angefangen: Um ${time} geht es weiter, in ${length}.`,
    waited: (n, time) => `${n} ${n === 1 ? 'wartet' : 'warten'} seit ${time}: Mach damit weiter.`,
    coming: (n, since, when, promised) =>
      sentence(
        when === null
          ? `${n} bestellt ${since}`
          : `${n} bestellt ${since}, ${promised ? 'zugesagt für' : 'erwartet'} ${when}`,
      ),
  },
  pedalSaid: {
    on: 'Das Pedal zählt: Jede Taste zählt eins. Escape beendet das.',
    off: 'Das Pedal zählt nicht.',
    nowhere: 'Öffne zuerst einen Laufzettel: Das Pedal zählt auf dem offenen.',
  },
  awakeSaid: {
    on: 'Der Bildschirm bleibt an.',
    off: 'Der Bildschirm darf ausgehen.',
    refused:
      'Dieser Browser lässt die Seite den Bildschirm nicht anlassen. Stell am Handy eine längere Zeit bis zum Abschalten ein.',
  },
  cleared: (n) =>
    `Dieser Browser hat seinen Speicher geleert, während die Seite offen war. Die Seite hat ${n === 1 ? '1 Eintrag' : `${n} Einträge`} wieder gespeichert.`,
  tooFew: (typed) => `„${typed}“ ist keine Anzahl: Gib eine ganze Zahl von 1 bis 1\u202f000\u202f000 ein.`,
  planChanged: 'Der Plan hat sich geändert; diese Liste ist auf dem neuesten Stand.',
});
