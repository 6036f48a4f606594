/** The words around the checks of the plan, and a sentence for each, in German. */

import { inGerman } from '../../server/model/texts/language.ts';
import { frameTexts } from '../texts/frame.ts';
import { byNumber, listOf, some } from '../texts/grammar.ts';
import { soundnessTexts } from '../texts/soundness.ts';

inGerman(soundnessTexts, {
  heading: 'Ist der Plan stimmig?',
  allPassed: (checks) => `Ja: ${some(checks, 'Prüfung', 'Prüfungen')} bestanden.`,
  found: (found, passed, checks) =>
    `${some(found, 'Punkt', 'Punkte')} zu prüfen, ${passed} von ${some(checks, 'Prüfung', 'Prüfungen')} bestanden`,
  elsewhere: (n) =>
    `${some(n, 'weiterer Punkt ist', 'weitere Punkte sind')} unter „Zu beheben“, „Zu prüfen“ oder bei den Gefahren genannt.`,
  toStep: (step) => `Siehe ${step}`,
  looseEnds: (found, ends, begins) => {
    const said = [
      ...(ends.length === 0 ? [] : [`nach ${listOf(ends)} kommt nichts`]),
      ...(begins.length === 0 ? [] : [`vor ${listOf(begins)} kommt vor Ort nichts`]),
    ];
    return `${some(found, 'Schritt hat', 'Schritte haben')} ein loses Ende: ${said.join('; ')}. Gib an, was ${byNumber(found, 'ihn', 'sie')} braucht, oder was ${byNumber(found, 'er braucht', 'sie brauchen')}.`;
  },
  pair: (from, to) => `von ${from} zu ${to}`,
  lag: (pair, length) => `${pair}, ${length}`,
  negativeLag: (found, pairs) =>
    `${some(found, 'Verknüpfung wartet', 'Verknüpfungen warten')} nicht auf das Ende des Schritts davor: ${listOf(pairs)}. Nimm stattdessen einen Vorsprung in Stück.`,
  unnamedLag: (found, pairs) =>
    `${some(found, 'Wartezeit zwischen Schritten hat', 'Wartezeiten zwischen Schritten haben')} keinen Grund: ${listOf(pairs)}. Notier ihn bei der Verknüpfung.`,
  fixedStart: (found, of, steps) =>
    `${found} von ${some(of, 'Los', 'Losen')} ${byNumber(found, 'ist', 'sind')} auf eine Stunde festgelegt: ${listOf(steps)}. Je mehr du festlegst, desto weniger kann sich der Plan anpassen.`,
  brokenPath: 'Keine ununterbrochene Kette von Arbeit führt von jetzt bis zum Ende.',
  highSlack: (found, of, steps) =>
    `${found} von ${some(of, 'Schritt', 'Schritten')} ${byNumber(found, 'könnte', 'könnten')} bei unbegrenzten Händen mehr als die Hälfte der Zeit warten, ohne dass sich das Ende verschiebt: ${listOf(steps)}. Fehlt etwas, das ${byNumber(found, 'seine', 'ihre')} Stücke braucht?`,
  slack: (step, length) => `${step} ${length}`,
  negativeSlack: (found, of, worst, length) =>
    `${found} von ${some(of, 'Schritt', 'Schritten')} ${byNumber(found, 'läuft über seinen', 'laufen über ihren')} letzten Moment hinaus, am weitesten ${worst}: ${length}.`,
  pathIndex: (length, left, byHands, index, least) =>
    `Die längste Kette braucht ${length}${byHands ? ' Arbeitszeit' : ''}; du hast ${left} (${index}; Ziel: ${String(least).replace('.', frameTexts.decimal)} oder mehr).`,
  noRoute: (found, parts) =>
    `Kein Schritt fertigt ${some(found, 'Teil', 'Teile')}: ${listOf(parts)}. Die Stunden ${byNumber(found, 'dieses Teils', 'dieser Teile')} fehlen.`,
  toMake: (name, toMake) => `${name} (${toMake} zu fertigen)`,
  missingKind: (kinds) => `Kein Schritt sieht nach ${listOf(kinds, 5)} aus. Wenn du das brauchst, plan es ein.`,
  kind: {
    testing: 'Testen',
    packing: 'Packen',
    drive: 'Hinfahrt',
    'load-in': 'Aufbau',
    drying: 'Trocknen oder Aushärten',
  },
  noHands: (found) => `Für ${some(found, 'Schritt', 'Schritte')} ist niemand da, der die Arbeit tun darf.`,
  noMinutes: (found, steps) =>
    `${some(found, 'Schritt hat', 'Schritte haben')} keine Dauer: ${listOf(steps)}. Geplant wird, als ${byNumber(found, 'brauchte er', 'brauchten sie')} keine.`,
  guessed: (found, of, steps) =>
    `${found} von ${some(of, 'Schritt', 'Schritten')} ${byNumber(found, 'ist', 'sind')} nur geschätzt: ${listOf(steps)}. Stopp bei jedem die Zeit für ein paar Stück.`,
  longLot: (found, days, day, steps) =>
    `${some(found, 'Los dauert', 'Lose dauern')} länger als ${some(days, 'Arbeitstag', 'Arbeitstage')} zu ${day}: ${listOf(steps)}. Teil ${byNumber(found, 'es', 'sie')} in kleinere Lose, damit du zählen kannst, wie es vorangeht.`,
  unsigned: (steps) =>
    `Alles, was über Menschen hängt oder an Netzspannung liegt, braucht eine Prüfung, bei der eine namentlich genannte, befähigte Person unterschreibt: ${steps.join('; ')}.`,
  unsignedStep: (step, hazard) => `${step} (${hazard})`,
  noGate: (step) => `${step} hat keine solche Prüfung`,
  noSigner: (step, gate) => `${step}: „${gate}“ sagt nicht, wer unterschreibt`,
  totals: (steps) => `Die Stückzahlen von ${listOf(steps)} gehen von Losen zu Schritten zu Teilen nicht auf.`,
  invalidDate: (lots, steps) =>
    `${some(lots, 'Los ist', 'Lose sind')} für eine Stunde geplant, die vorbei ist: ${listOf(steps)}.`,
  noFirstPlan: 'Es gibt keinen ersten Plan, an dem sich die Zählungen messen lassen: Nichts davon ließ sich einteilen.',
  missed: (lots, due, behind) =>
    `${lots} von ${lotsDue(due)} ${byNumber(Number(lots), 'ist', 'sind')} nicht fertig: ${listOf(behind)}.`,
  behind: (step, done, due) => `${step} ${done} statt ${due} wie zuerst geplant`,
  execution: (done, due, percent, least) =>
    `${done} von ${lotsDue(due)} ${byNumber(Number(done), 'ist', 'sind')} fertig (${percent}; Ziel: ${least} oder mehr).`,
  noChance: 'Die Chance, fertig zu werden, ließ sich nicht berechnen; es gibt nur einen Termin.',
  staleLog: (length) => `${length} lang nichts gezählt, obwohl noch Arbeit übrig ist. Trag ein, was fertig ist.`,
});

function lotsDue(due: string): string {
  return `${due} ${byNumber(Number(due), 'Los', 'Losen')}, nach dem ersten Plan bis jetzt fällig,`;
}
