/** What is wrong with an entry of the log, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';
import { byNumber } from '../../../texts/grammar.ts';

const NEEDED = {
  n: 'wie viele Stück, eine ganze Zahl ab 1',
  until: 'den Zeitpunkt, an dem es endet oder ankommt',
  undoes: 'die id des Eintrags, der zurückgenommen wird',
  confirms: 'die id des Eintrags, der stimmt',
  step: 'die id eines Schritts oder einer Prüfung',
  box: 'die id einer Kiste dieses Baus',
} as const;

const FIELDS: Readonly<Record<string, string>> = { person: 'Person', machine: 'Maschine', box: 'Kiste' };

inGerman(problemWords.log, {
  ahead: (at) => `Der Eintrag liegt in der Zukunft (${at}); stell die Uhr des Geräts, von dem er kommt.`,
  before2020: (at) => `Der Eintrag liegt vor 2020 (${at}); stell die Uhr des Geräts, von dem er kommt.`,
  longAgo: (at, days) =>
    `Der Eintrag ist mehr als ${days} Tage alt (${at}); stell die Uhr des Geräts, von dem er kommt.`,
  untilBefore: (until, at) => `„until“ (${until}) liegt vor dem Eintrag selbst (${at}); es muss später sein.`,
  lacks: (kind, field) => `Ein Eintrag der Art „${kind}“ braucht „${field}“: ${NEEDED[field]}.`,
  onlyUndo: (kind) => `Nur ein Eintrag der Art „undo“ nimmt einen anderen zurück; dieser ist „${kind}“.`,
  onlyConfirmed: (kind) => `Nur ein Eintrag der Art „confirmed“ bestätigt einen anderen; dieser ist „${kind}“.`,
  onlyPacked: (kind) => `Nur ein Eintrag der Art „packed“ nennt eine Kiste; dieser ist „${kind}“.`,
  passedOnce: (n) => `Eine Prüfung wird einmal bestanden; „n“ muss 1 sein oder fehlen, nicht ${n}.`,
  lostByTwo: (person, machine) =>
    `Verlorene Zeit hat eine Person oder eine Maschine, nicht beide; schick einen Eintrag für „${person}“ und einen für „${machine}“.`,
  onlyMachines: 'Nur von Maschinen kann ein Teil ausfallen; lass „n“ weg.',
  tooMany: (machine, count, n) =>
    `„${machine}“ gibt es ${count}-mal; „n“ muss zwischen 1 und ${count} liegen, nicht bei ${n}.`,
  onlyScrapped: (kind) =>
    `Nur ein Eintrag der Art „scrapped“ sagt, ob seine Stücke schon gezählt waren; dieser ist „${kind}“.`,
  unknown: (field, id, there) =>
    `${FIELDS[field] ?? field} „${id}“ gibt es in diesem Bau nicht (es gibt: ${there.join(', ') || 'nichts'}).`,
  nothingToUndo: (id) => `Im Protokoll dieses Baus gibt es keinen Eintrag „${id}“, den man zurücknehmen könnte.`,
  notYours: (owner) => `Diesen Eintrag hat ${owner} gemacht; nur ${owner} oder der Macher kann ihn zurücknehmen.`,
  nothingToConfirm: (id) => `Im Protokoll dieses Baus gibt es keinen Eintrag „${id}“.`,
  unfit: (kind, id, why) => `„${kind}“ passt nicht zu „${id}“: ${why}.`,
  unfitBecause: {
    onlyGates: 'nur eine Prüfung wird bestanden oder nicht bestanden',
    gate: 'eine Prüfung wird bestanden oder nicht bestanden',
    order: 'Bestelltes geht ein',
    gateUnits: 'eine Prüfung hat keine Stücke; nenn den Schritt, dessen Stücke gemeint sind',
    noRun: 'dort läuft keine Maschine, und nichts wartet nur',
    noOrder: 'dort wird nichts bestellt',
    nobody: 'an einer Bestellung arbeitet niemand',
  },
  goneStep: (id, revision) =>
    `Den Schritt „${id}“ gibt es nicht mehr: Änderung ${revision} war die letzte mit ihm. Zähl bei dem Schritt, der ihn ersetzt, oder füg ihn wieder hinzu.`,
  noStep: (id, build, there, more) =>
    `Im Bau „${build}“ gibt es keinen Schritt und keine Prüfung „${id}“ (es gibt: ${there.join(', ') || 'nichts'}${more > 0 ? ` und ${more} weitere` : ''}).`,
  otherMachine: (machine, runs) => `„${machine}“ macht diesen Schritt nicht; er läuft auf ${runs.join(', ')}.`,
  noSet: (set, sets) =>
    `Einen Satz ${set} gibt es nicht; dieser Bau hat ${byNumber(sets, 'nur Satz 1', `die Sätze 1 bis ${sets}`)}.`,
  idTwice: (id) => `Zwei Einträge des Protokolls haben die id „${id}“.`,
  idTaken: (id, { n, kind, step, at }) => {
    const what = [n, kind, step === undefined ? undefined : `bei ${step}`]
      .filter((word) => word !== undefined)
      .join(' ');
    return `Die id „${id}“ gehört schon zu einem anderen Eintrag (${what}, ${at}); schick diesen mit einer eigenen.`;
  },
});
