/** What is wrong with steps, gates, their feeds and what the plan can make of them, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';
import { byNumber } from '../../../texts/grammar.ts';

inGerman(problemWords.steps, {
  twice: (id) => `„${id}“ ist der Kurzname von zwei Schritten; gib jedem einen eigenen.`,
  gateTwice: (id) =>
    `So heißt schon ein Schritt oder eine andere Prüfung: „${id}“; jede braucht einen eigenen Kurznamen.`,
  loggedAndGone: (id) =>
    `Im Protokoll sind Stücke bei „${id}“ gezählt, aber diesen Schritt gibt es nicht mehr; sie bleiben stehen und zählen nicht.`,
  tooManyLots: (step, { left, lotSize, lots, allLots, most }) =>
    `So viel lässt sich nicht planen: ${left} Stück bei „${step}“ in Losen zu ${lotSize} ergeben ${lots} Lose, der ganze Bau ${allLots}; höchstens ${most} gehen. Nimm größere Lose oder weniger Stücke.`,
  tooManySets: (sets, most) =>
    `So viele Sätze lassen sich nicht planen und zählen: ${sets}, höchstens ${most}. Nimm weniger Sätze, oder mach aus dem Gleichen ein Teil mit so vielen Stücken.`,
  unknownPart: (step, part) =>
    `${step} ist Arbeit an „${part}“, aber dieses Teil gibt es hier nicht; nenn eines der Teile, oder lass es bei einer einzelnen Arbeit weg.`,
  takesAndPhases: (field) =>
    `„${field}“ hat eine Dauer („takes“) und ein Arbeitsmuster („phases“); die Dauer ist kurz für ein einziges Warten, also behalte eines von beiden.`,
  unknownMachine: (id) => `Eine Maschine „${id}“ hat dieser Bau nicht; nenn eine, die er hat.`,
  unknownPerson: (id) => `Eine Person „${id}“ hat dieser Bau nicht; nenn eine, die er hat.`,
  nobody: (step, people, able) => {
    const needs = people === 1 ? 'jemanden' : `${people} Leute zugleich`;
    const found =
      able.length === 0
        ? 'niemand hier darf es machen'
        : `nur ${able.join(', ')} ${byNumber(able.length, 'darf', 'dürfen')} es, nie ${people} zugleich`;
    return `„${step}“ braucht ${needs}, aber ${found}. Füg Leute oder Stunden hinzu, oder erlaub es jemandem; bis dahin plant Daywright, als brauchte es niemanden.`;
  },
  feedsItself: (step) => `„${step}“ kann sich nicht selbst beliefern; nenn einen anderen Schritt.`,
  nothingToFeed: (step) =>
    `„${step}“ hat keine Stücke zu zählen und kann nicht Stück für Stück beliefern; gib ein Teil oder eine Anzahl an, oder verknüpf Ende zu Anfang.`,
  ratio: (field, from, to, found) =>
    `„${field}“ muss mehr als 0 Stück „${from}“ für eines von „${to}“ sein; hier steht ${String(found).replace('.', ',')}.`,
  unknownStep: (id) => `Einen Schritt oder eine Prüfung „${id}“ hat dieser Bau nicht; nenn einen seiner Schritte.`,
  orphan: (step) =>
    `Nichts kommt vor „${step}“, und nichts wartet darauf; sag, wonach es kommt oder was darauf wartet, außer es darf jederzeit geschehen.`,
  orphanLot: (lot) => `Nichts kommt vor ${lot}, und nichts wartet darauf. Sag, was darauf wartet.`,
  circle: (names) => `Diese warten im Kreis aufeinander: ${names}. Nimm eine Verknüpfung heraus.`,
  lateDelivery: (step) =>
    `„${step}“ sollte schon hier sein; der Plan nimmt an, dass es jetzt kommt. Trag ein, was eingegangen ist oder was der Lieferant zusagt.`,
  standoff: (step) =>
    `„${step}“ ist in Arbeit und müsste erst nach Arbeit enden, die dieselbe Maschine oder denselben Platz braucht; beide würden aufeinander warten. Der Plan lässt es zuerst enden. Nimm diese Verknüpfung heraus, oder trag ein, was geschehen ist.`,
  overloaded: (machine, loads, count) =>
    `Laut Protokoll sind ${loads} Ladungen zugleich auf „${machine}“, aber es gibt ${byNumber(count, 'nur eine', `nur ${count}`)}; der Plan behält sie alle. Zähl, was herausgekommen ist, oder nimm eine Ladung zurück.`,
  none: 'Noch gibt es keine Schritte; füg die erste Arbeit hinzu, dann gibt es Termine.',
  beyondHorizon: (steps, days) =>
    `Für ${steps} fand sich bis ${days} Tage nach der Veranstaltung keine Zeit: Was in einem Zug geschehen muss, passt in keine Sitzung oder nicht in die Stunden einer Maschine, oder die Stunden sind aufgebraucht. Gib mehr Stunden oder kleinere Lose.`,
  tooManyLinks: (links, most) =>
    `Schritte, Prüfungen und Entscheidungen haben ${links} Verknüpfungen untereinander; höchstens ${most} lassen sich planen. Nenn nur, worauf ein Schritt unmittelbar wartet: Der Rest folgt daraus.`,
});
