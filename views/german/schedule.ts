/** The words for the schedule itself, in German: what is proved, why it gives this date, what it left as it was. */

import { inGerman } from '../../server/model/texts/language.ts';
import { byNumber, listOf, some } from '../texts/grammar.ts';
import { scheduleTexts } from '../texts/schedule.ts';

inGerman(scheduleTexts, {
  anew: 'Allein aus der Datei berechnet. Die Seiten behalten die Reihenfolge, die schon ausgegeben ist; ihre Zeiten können deshalb etwas abweichen.',
  proved: (when) => `Kein Plan kann vor ${when} fertig sein: Dieser ist der beste, den es gibt.`,
  gap: (bound, ready) =>
    `Wenn alles so lange dauert wie geplant, ist ${bound} der früheste mögliche Termin. Dieser Plan ist ${ready} fertig.`,
  noSchedule: (bound) => `Kein Plan kann vor ${bound} fertig sein.`,
  impossible: {
    hands: (length, who, window) => `Zu wenig Hände: ${who} bräuchte ${length} mehr ${window}.`,
    machine: (length, which, window) => `Zu wenig Maschinenstunden: ${which} bräuchte ${length} mehr ${window}.`,
    other: (when) => `Rechtzeitig nicht möglich: Kein Plan kann vor ${when} fertig sein.`,
    past: (when) => `Der Fertigtermin ist vorbei; kein Plan kann vor ${when} fertig sein.`,
  },
  window: {
    before: (to) => `vor ${to}`,
    between: (from, to) => `zwischen ${from} und ${to}`,
  },
  by: {
    'critical-path': 'Die längste Kette von Schritten dauert so lange, wie viele auch mithelfen.',
    hands: (who) => `Bis dahin ist jede Stunde nötig: ${who}.`,
    machine: (which) => `Bis dahin ist jede Stunde der Maschine nötig: ${which}.`,
    search: 'Die Suche hat jeden anderen Plan ausgeschlossen.',
  },
  byDelivery: (what, when) =>
    `${what} kann nicht vor ${when} da sein, und die Arbeit danach dauert so lange, wie viele auch mithelfen.`,
  lotsAssumed: (lots) =>
    `Losgrößen sind angenommen: ${listOf(lots)}. Andere Lose können einen anderen Termin ergeben: Leg sie unter Schritte fest.`,
  lotOf: (name, units) => `${name} (${units})`,
  kept: (minutes, lots) =>
    `Der Plan bleibt, wie er ist: Eine andere Reihenfolge würde ${minutes} sparen, aber in den nächsten 24\u00a0h ${some(lots, 'Los', 'Lose')} verschieben.`,
  why: {
    heading: 'Warum dieser Termin',
    note: 'Diese Arbeiten, in dieser Reihenfolge, bestimmen den Termin. Wer früher fertig sein will, kürzt eine davon.',
    more: (n) => `${n} ${byNumber(n, 'weiteres Glied', 'weitere Glieder')}`,
    busy: (who) => `${who}, ohne Pause von einer Arbeit zur nächsten`,
    lots: (n) => `Glied für Glied (${n})`,
    beyond: (n) => `… und ${n} weitere; die Datei der Prognose hat sie alle.`,
    unit: (n) => `Stück ${n}`,
    units: (from, to) => `Stück ${from} bis ${to}`,
    inLots: (n) => `in ${byNumber(n, '1 Los', `${n} Losen`)}`,
    hands: (who) => `von ${who}`,
    machine: (which) => `auf ${which}`,
    supplier: (who) => `von ${who}`,
    waited: {
      now: 'kann sofort anfangen',
      begun: 'ist in Arbeit',
      release: 'darf nicht früher anfangen',
      pinned: 'ist auf diese Zeit festgelegt',
    },
    waitedFor: {
      units: (step) => `wartet auf Stücke: ${step}`,
      step: (step) => `wartet auf ${step}`,
      gate: (step) => `wartet, bis bestanden ist: ${step}`,
      supplier: (step) => `wartet auf den Lieferanten: ${step}`,
    },
    taken: {
      hands: (who, step) => `wartet auf ${who}, noch bei ${step}`,
      machine: (which, step) => `wartet auf ${which}, noch belegt von ${step}`,
      station: (which, step) => `wartet auf einen Platz (${which}), noch belegt von ${step}`,
    },
    after: {
      morning: (to) => `wartet dann bis ${to}`,
      hands: (to) => `dann ist bis ${to} niemand da`,
      machine: (to) => `dann darf die Maschine bis ${to} nicht laufen`,
    },
    stood: {
      morning: (from, to) => `wartet${since(from)} bis ${to}`,
      hands: (from, to) => `niemand ist da${since(from)} bis ${to}`,
      machine: (from, to) => `die Maschine darf nicht laufen${since(from)} bis ${to}`,
    },
    ready: 'fertig',
  },
});

function since(from: string | null): string {
  return from === null ? '' : ` von ${from}`;
}
