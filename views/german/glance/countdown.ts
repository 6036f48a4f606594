/** The words of the Countdown and its pictures, in German. */

import { inGerman } from '../../../server/model/texts/language.ts';
import { countdownTexts } from '../../texts/glance/countdown.ts';
import { byNumber, some } from '../../texts/grammar.ts';

inGerman(countdownTexts, {
  ready: 'Fertig, wie geplant',
  readySince: 'Fertig seit',
  notReady: 'Noch kein Termin',
  missing: {
    noStep: (parts, many) =>
      many
        ? `Noch kein Schritt fertigt ${parts}. Leg die Schritte an, die sie fertigen.`
        : `Noch kein Schritt fertigt ${parts}. Leg die Schritte an, die es fertigen.`,
    part: (name, units) => `${name} (${units})`,
    noTime: (steps, many) =>
      many
        ? `${steps} haben noch keine Dauer. Gib an, wie lange sie brauchen.`
        : `${steps} hat noch keine Dauer. Gib an, wie lange es braucht.`,
    nobody: (steps) => `Niemand hat Stunden für ${steps} oder darf diese Arbeit tun. Trag Leute oder Stunden ein.`,
    tooManyLots: (step, { lots, most, lotsOfStep, lotSize }) =>
      `Dieser Bau hat ${lots} Lose; Daywright plant für höchstens ${most}, wer wann was tut. ${step} allein hat ${lotsOfStep} zu je ${lotSize} Stück. Nimm größere Lose oder plane weniger Stück. Die Zahlen und die frühesten Termine bei unbegrenzten Händen sind trotzdem da.`,
    more: (n) => `${n} weitere`,
  },
  earliest: (when) => `Mit unbegrenzt vielen Händen und Maschinen wäre der Bau ${when} fertig.`,
  notReadyWhy: 'Behebe zuerst, was unter „Zu beheben“ steht.',
  roomBefore: (room, target) => `Luft ${room} bis zum Ziel „${target}“`,
  lateAfter: (length, target) => `${length} zu spät für das Ziel „${target}“`,
  nothingLeft: 'Alles ist gefertigt',
  nothingPlanned: 'Noch ist nichts geplant',
  addSteps: 'Sag, was zu fertigen ist, dann sagt diese Seite, wann es fertig ist.',
  noHands: 'Vor dem Fertigtermin braucht nichts mehr Hände oder Maschinen.',
  chance: (target) => `Chance bis zum Ziel „${target}“`,
  chanceAfter: (target) => `Chance bis zum Ziel „${target}“, vor Ort aufgebaut`,
  chanceAlso: (percent, target) => `${percent} bis zum Ziel „${target}“`,
  chanceOnSite: (percent, target) => `${percent} vor dem Ziel „${target}“ aufgebaut`,
  howSure: 'Wie sicher ist das?',
  over: (share) => `über ${share}`,
  under: (share) => `unter ${share}`,
  half: 'jedes zweite Mal',
  outOf: (share) => `${share} von 100`,
  afterReadyBy: 'nach dem Fertigtermin',
  unplaced: (n, all) =>
    `In ${n} von ${all} Durchläufen reichten die Stunden nicht für alle Arbeit; diese Durchläufe zählen als zu spät.`,
  futures: (count, points) =>
    `Aus ${count} simulierten Durchläufen dieses Plans mit langsamen Tagen, Ausfällen und Nacharbeit, genau auf etwa ±${points} Punkte. Falsche Schätzungen kommen hinzu.`,
  oldChance: (when, entries, edits, failed) =>
    `Diese Zahlen sind veraltet, von ${when}${since(entries, edits)}: Neue ${failed ? 'ließen sich nicht berechnen' : 'sind unterwegs'}.`,
  since: (when) => `Seit ${when}.`,
  rooms: 'Luft, Ziel für Ziel',
  tight: 'Was knapp ist',
  left: (left, done) => `${left} übrig, ${done} fertig`,
  pace: (has, needs) => `${has}, nötig ${needs}`,
  paceNeeds: (needs) => `nötig ${needs}`,
  each: (time, low, high) => `je ${time} (${low} bis ${high})`,
  whatIsLeft: 'Was übrig ist',
  handsLeft: 'Hände',
  stepsLeft: (left, all) => `${left} von ${some(all, 'Schritt', 'Schritten')} noch offen`,
  enough: 'Reichen die Hände?',
  enoughNote:
    'Arbeitsstunden vor dem Fertigtermin, verglichen mit den Stunden, die Leute und Maschinen haben, wenn jede Stunde genutzt werden könnte. Arbeit vor Ort ist nicht dabei.',
  offered: (needed, offered) => `braucht ${needed}, hat ${offered}`,
  sparesBeside: (length) => `dazu ${length} für Ersatz, der bis zur Veranstaltung Zeit hat`,
  spare: (length) => `${length} übrig`,
  shortBy: (length) => `${length} fehlen: zu wenig Hände`,
  machineShortBy: (length) => `${length} fehlen: zu wenig Maschinenstunden`,
  enoughBy: (when) => `gedeckt bis ${when}`,
  hoursByDay: 'Stunden nach Tagen',
  due: 'Fällig',
  decisions: 'Entscheidungen',
  orderBefore: (what, when) => `Vor ${when} bestellen: ${what}`,
  sendBefore: (what, when) => `Vor ${when} außer Haus geben: ${what}`,
  orderedBeforeStart: (what, late) => `${what}: hätte vor Baubeginn bestellt sein müssen, ${late}`,
  sentBeforeStart: (what, late) => `${what}: hätte vor Baubeginn außer Haus gehen müssen, ${late}`,
  decidedBeforeStart: (question, late) => `${question} Das hätte vor Baubeginn entschieden sein müssen, ${late}`,
  packs: (needed, size) => `${needed} noch gebraucht, in Packungen zu ${size}`,
  from: (supplier) => `von ${supplier}`,
  leadLearnt: (planned, given, deliveries) =>
    `Werktage: mit ${planned} statt ${given} geplant, nach ${some(deliveries, 'Lieferung', 'Lieferungen')}`,
  tooLate: 'letzter Moment verpasst',
  arrives: (when) => `hier ${when}`,
  arrivesIf: (ordered, when) => `hier ${when}, wenn wie geplant ${ordered} bestellt`,
  decideBefore: (question, when) => `${question} Vor ${when} entscheiden`,
  decideUndated: (question) => `${question} Entscheiden; der letzte Moment ist noch nicht bekannt.`,
  waiting: (steps) => `hält auf: ${steps}`,
  nothingDue: 'Nichts zu bestellen, nichts zu entscheiden.',
  problems: 'Zu beheben',
  warnings: 'Zu prüfen',
  furtherWarnings: (n) => `${n} weitere`,
  incomplete: 'Ein Teil des Plans ließ sich nicht berechnen, deshalb gibt es keine Prozentzahl. Siehe „Zu beheben“.',
});

function since(entries: number, edits: number): string {
  const parts = [
    ...(entries > 0 ? [byNumber(entries, 'dem letzten Eintrag', `den letzten ${entries} Einträgen`)] : []),
    ...(edits > 0 ? [byNumber(edits, 'der letzten Änderung', `den letzten ${edits} Änderungen`)] : []),
  ];
  return parts.length === 0 ? '' : `, vor ${parts.join(' und ')}`;
}
