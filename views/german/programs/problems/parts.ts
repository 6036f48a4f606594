/** What is wrong with the parts, their counts and where they come from, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

inGerman(problemWords.parts, {
  twice: (id) => `„${id}“ ist der Kurzname von zwei Teilen; gib jedem einen eigenen.`,
  noCount: (name) =>
    `${name} hat keine Anzahl und geht in nichts ein, also wird nichts davon gefertigt; gib eine Anzahl an oder worin es eingeht.`,
  circle: (names) =>
    `Ein Teil kann nicht in sich selbst eingehen: ${names}. Nimm bei einem davon das andere aus „Geht ein in“ heraus.`,
  tooMany: (name, units, most) => `Von ${name} wären es ${units} Stück; höchstens ${most} lassen sich planen.`,
  unknownUse: (name, part) =>
    `${name} geht in „${part}“ ein, das es in diesem Bau nicht gibt; nenn eines seiner Teile.`,
  noSupplier: (name) =>
    `${name} kommt von außen, aber ohne Lieferanten, also nimmt der Plan an, dass es schon da ist. Nenn einen Lieferanten oder einen Schritt mit Lieferzeit.`,
  unknownSupplier: (id) => `Einen Lieferanten „${id}“ hat dieser Bau nicht; nenn einen, den er hat.`,
  wholePack: (name, size) =>
    `${name}: „In einer Packung“ (packSize) ist ${comma(size)}. Stücke sind ganze Zahlen: nimm 1 oder mehr, oder gib unter „Gemessen in“ an, was gemessen wird, etwa L.`,
  wholeOnHand: (name, onHand) =>
    `${name}: „Vorrätig“ (onHand) ist ${comma(onHand)}. Stücke sind ganze Zahlen: runde ab, oder gib unter „Gemessen in“ an, was gemessen wird, etwa L.`,
  wasteOfPieces: (name, waste) =>
    `${name}: Verschnitt (waste) ist ${comma(waste)}, zählt aber nur bei Gemessenem. Gib „Gemessen in“ an, oder stattdessen ${comma(1 - waste)} als „Anteil, der gelingt“ (yield).`,
});

function comma(value: number): string {
  return String(value).replace('.', ',');
}
