/** The sentences for hours that wear people out, and for what is dangerous at night or alone, in German. */

import { inGerman } from '../../server/model/texts/language.ts';
import { listOf, some } from '../texts/grammar.ts';
import { hoursTexts } from '../texts/hours.ts';

inGerman(hoursTexts, {
  rest: (who, hours, from, to) =>
    `${who} ruht ${hours}, von ${from} bis ${to}. EU-Minimum für Beschäftigte: 11 h zwischen zwei Schichten.`,
  week: (who, hours, from) =>
    `${who} arbeitet ${hours} in den sieben Tagen ab ${from}. EU-Grenze für Beschäftigte: 48 h in der Woche.`,
  average: (who, hours, weeks) =>
    `${who} arbeitet im Mittel ${hours} in der Woche, über ${some(weeks, 'Woche', 'Wochen')}. EU-Grenze für Beschäftigte: 48 h.`,
  noDayOff: (who, from, longest) =>
    `${who} hat keinen ganzen freien Tag in den sieben Tagen ab ${from}; ${longest === null ? 'es gibt gar keine Pause' : `die längste Pause ist ${longest}`}. EU-Minimum für Beschäftigte: 35 h.`,
  noBreak: (who, hours, from) =>
    `${who} arbeitet bis zu ${hours} ohne eine Pause von 20 min, zuerst ab ${from}. EU-Minimum für Beschäftigte: eine Pause, wenn der Tag länger als 6 h ist.`,
  longShift: (who, hours, from) =>
    `${who} arbeitet bis zu ${hours} in einer Schicht, zuerst ab ${from}. Anleitung der HSE: höchstens 12 h, mit Überstunden.`,
  nightShifts: (who, hours, nights, from) =>
    `${who} arbeitet ${hours} ${nights === 1 ? 'in einer Schicht' : `im Mittel in ${nights} Schichten`} mit mindestens 3 h Nacht, zuerst ab ${from}. EU-Grenze für Nachtarbeit: im Mittel 8 h.`,
  nightsInARow: (who, nights, day) =>
    `${who} arbeitet in ${some(nights, 'Nacht', 'Nächten')} hintereinander ab ${day}. Anleitung der HSE: höchstens 3, dann zwei Nächte Schlaf.`,
  night: (who, hours, day, steps) => `${who} arbeitet ${hours} zwischen 00:00 und 05:00, ${day} (${listOf(steps)}).`,
  nightRisk: 'Um diese Zeit machen Menschen Fehler.',
  nightDanger: (hazards) =>
    `Gefährliche Arbeit (${listOf(hazards)}) gehört zu ausgeruhten Leuten und ins Tageslicht: verschieb sie.`,
  fireWatch: 'Beobachte den Ort nach dem letzten Funken.',
  alone: (who, hours, step, hazards, first) =>
    `${who} ist ${hours} allein bei ${step} (${listOf(hazards)}), zuerst ${first}.`,
  withinCall: 'Sorg dafür, dass jemand in Rufweite ist.',
  notAtHeight: 'Arbeite nie allein in der Höhe: Sorg dafür, dass jemand da ist.',
  unwatched: (step, phase, hours, hazards, first) =>
    `${step} ${phase} ${hours} unbeaufsichtigt (${listOf(hazards)}), zuerst ${first}.`,
  phase: {
    run: (machine) => `läuft auf ${machine}`,
    wait: 'wartet',
  },
  watch: {
    lasers: 'Ein Laserschneider läuft nie, ohne dass jemand zusieht.',
    'hot-work': 'Bleib bei Heißarbeit dabei, und beobachte den Ort nach dem letzten Funken.',
    batteries: 'Lithiumzellen werden nie unbeaufsichtigt geladen.',
    mains: 'Lass es nie unbeaufsichtigt an der Netzspannung: Bleib dabei oder schalte es aus.',
    spray:
      'Lösemitteldampf brennt: Halte die Luft in Bewegung, halte Funken und Flammen fern, und lass keine Lappen zurück.',
    resins: 'Aushärtendes Harz wird heiß: Lass es, wo nichts Feuer fangen kann.',
    'moving-parts':
      'Lass es nie laufen, wo jemand hineingreifen kann: Schalte es aus, oder sorg dafür, dass jemand da ist.',
    pressure: 'Schalte den Kompressor aus und lass den Druck ab, bevor du gehst.',
    'solvent-rags':
      'Lappen können sich selbst entzünden: Leg sie erst flach ins Freie, oder in Wasser in eine Metalldose mit Deckel.',
    'outdoor-mains': 'Lass im Freien nie unbeaufsichtigt Strom an: Regen kommt, und Leute kommen auch.',
    isocyanates: 'Halte alle draußen, während es aushärtet, und saug die Luft ins Freie ab.',
  },
  unattendedNights: (machine, nights, hours, first) =>
    nights === 1
      ? `${machine} läuft ${hours} unbeaufsichtigt, in der Nacht auf ${first}.`
      : `${machine} läuft in ${nights} Nächten unbeaufsichtigt, insgesamt ${hours}, in der ersten auf ${first}.`,
  fire: 'Ein Feuer sähe niemand: Bring wenigstens einen Rauchmelder an, der jemanden weckt.',
  guide:
    'Grenzen für Arbeit und Ruhe: Richtlinie 2003/88/EG, für Beschäftigte in der EU, und die Anleitung HSG256 der HSE. Hier sind sie ein Anhalt; die Vorschriften an deinem Ort entscheiden.',
});
