/** The sentences for what threatens the date, in German. */

import { inGerman } from '../../server/model/texts/language.ts';
import { byNumber, listOf, some } from '../texts/grammar.ts';
import { threatTexts } from '../texts/threats.ts';

inGerman(threatTexts, {
  left: (name, left, total) => (total === 1 ? `${name}: noch zu tun` : `${name}: ${left} von ${total} Stück übrig`),
  work: (hours, each, people) =>
    `, ${hours} Arbeit${each === null ? '' : `, je ${each}`}${people > 1 ? `, ${people} Leute zugleich` : ''}`,
  pace: (needed, counted) =>
    `Nötig: ${needed}; ${counted === null ? 'bisher ist nichts gezählt' : `bisher: ${counted}`}.`,
  noHourLeft: 'Dafür sind nicht mehr genug Stunden übrig.',
  by: (when) => `Der letzte Moment dafür ist ${when}.`,
  byPassed: (when) => `Der letzte Moment dafür war ${when}.`,
  noHours: (loadIn, missing) =>
    `Zwischen dem Aufbau, ${loadIn}, und der Veranstaltung sind zu wenige Stunden dafür${missing === null ? '' : `, der Arbeit vor Ort fehlen ${missing}`}: Gib dann jemandem mehr.`,
  late: (length) => `Wie geplant wird es ${length} danach fertig.`,
  lateOnSite: (length) => `Wie geplant wird es ${length} zu spät fertig.`,
  likely: (length) => `Es kostet wahrscheinlich ${length}.`,
  misses: (share) => `In ${share} von 100 Durchläufen endet die Arbeit vor Ort nach der Veranstaltung.`,
  driving: (share) => `In ${share} von 100 Durchläufen bestimmt es, wann alles fertig ist.`,
  waiting: (names) => `${listOf(names)} ${byNumber(names.length, 'wartet', 'warten')} darauf.`,
  order: { buy: 'bestellen', 'send-out': 'außer Haus geben' },
  ordered: { buy: 'bestellt', 'send-out': 'außer Haus gegeben' },
  orderLate: (order, what, when) => `${what} ${order}: Der letzte Moment war ${when}.`,
  orderLateFromStart: (ordered, what, length) =>
    `${what}: hätte vor Baubeginn ${ordered} sein müssen (${length} zu spät).`,
  orderToday: (order, what, when) => `Vor ${when} ${order}: ${what}.`,
  arrives: (ordered, when, express, needed) =>
    `Jetzt ${ordered}, kommt es ${when}${express === null ? '' : `, per Express ${express}`}; du brauchst es ${needed}.`,
  decide: (question, when) => `${question} Vor ${when} entscheiden.`,
  undecided: (question, when) => `${question} Das hätte bis ${when} entschieden sein müssen.`,
  undecidedFromStart: (question, length) =>
    `${question} Das hätte vor Baubeginn entschieden sein müssen (${length} zu spät).`,
  answer: (names) => `${listOf(names)} ${byNumber(names.length, 'wartet', 'warten')} auf die Antwort.`,
  idle: (machine, units, step, hours) =>
    `${machine} steht heute Nacht still, und ${units} Stück von ${step} ${byNumber(units, 'wartet', 'warten')} darauf (${hours} Laufzeit).`,
  load: (when) => `Bis ${when} beladen; danach ist niemand da.`,
  loadSafely: 'Nur laufen lassen, wenn es unbeaufsichtigt laufen darf und ein Rauchmelder jemanden wecken würde.',
  loadWatched: (hazards) => `Nur laufen lassen, wenn es jemand beaufsichtigt (${listOf(hazards)}).`,
  silent: (name, since, length, left, ready) =>
    `${name}: kein Eintrag seit ${since} (${length}). ${left} übrig, ${workable(left, ready)} kann gearbeitet werden. Trag ein, was fertig ist, oder fang wieder damit an.`,
  nights: (nights, hours, first) =>
    `Der Plan braucht ${some(nights, 'Nacht', 'Nächte')}: ${hours} Arbeit zwischen Mitternacht und fünf, zuerst ${first}.`,
  noSpare: (readyBy, parts, none) =>
    `${none ? 'Kein Ersatz' : 'Zu wenig Ersatz'}, falls eines vor ${readyBy} bricht: ${listOf(parts)}.`,
  needed1: (need) => `${need} gebraucht`,
  sparesOf: (has, wanted) => `${has} von ${wanted} als Ersatz`,
  spareBy: (name, needed, when) => `${name} (${needed}; Ersatz vor ${when} bestellen)`,
  noMore: (name, needed, again) => `${name} (${needed}; eines mehr, jetzt bestellt, kommt ${again}: zu spät)`,
  due: (name, when, left) => `${name} ist ${when} fällig, und ${left} ${byNumber(left, 'ist', 'sind')} noch übrig.`,
  duePlanned: (when) => `Wie geplant ist das letzte ${when} fertig.`,
  dueNever: 'Der Plan hat keine Stunden dafür.',
  dueChance: (share) => `In ${share} der Durchläufe ist es bis dahin fertig.`,
  overdue: (what, when) => `${what}: hätte bis ${when} kommen sollen und ist nicht da.`,
  promised: (what, when) => `${what}: zugesagt für ${when}.`,
  expected: (what, when) => `${what}: erwartet ${when}.`,
  needed: (when) => `Du brauchst es bis ${when}.`,
  wasNeeded: (when) => `Du hättest es bis ${when} gebraucht.`,
  just: (when) => `Du brauchst es bis ${when}, und davon hängt ab, wann alles fertig ist.`,
  ask: 'Frag den Lieferanten und trag den neuen Termin ein.',
  shortMachine: (machine, needed, offered) =>
    `${machine} hat nicht genug Stunden: Die Läufe vor dem Fertigtermin brauchen ${needed}, vorhanden sind ${offered}.`,
  fullMachine: (machine, needed, offered) =>
    `${machine} ist der Engpass: Die Läufe vor dem Fertigtermin brauchen ${needed} von ${offered}, und sie warten aufeinander.`,
  scrap: (step, scrapped, tried, share, expected, left) =>
    `${step}: ${scrapped} von ${tried} ${byNumber(scrapped, 'ging', 'gingen')} schief (${share}; erwartet ${expected}), deshalb ${byNumber(left, 'ist', 'sind')} noch ${left} zu fertigen.`,
  oldPlan: (last, length) =>
    `Der letzte Eintrag im Protokoll ist von ${last}, ${length} nach diesem Plan. Entweder geht die Uhr eines Handys vor, oder der Plan ist alt: Sieh dir diesen Eintrag an.`,
});

/** At how many of those left there is work to do now. */
function workable(left: number, ready: number): string {
  if (ready !== left) return `an ${ready}`;
  return byNumber(left, 'daran', 'an allen');
}
