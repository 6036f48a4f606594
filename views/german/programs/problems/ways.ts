/** What is wrong with the ways in which parts are made or bought, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

inGerman(problemWords.ways, {
  twice: (part, way) => `Zwei Wege von ${part} heißen „${way}“; gib jedem einen eigenen Kurznamen.`,
  unknown: (part, way, ways) =>
    ways === ''
      ? `Einen Weg „${way}“ hat ${part} nicht, und auch sonst keinen; füg ihn bei ${part} hinzu oder lass das Feld leer.`
      : `Einen Weg „${way}“ hat ${part} nicht; nenn einen davon: ${ways}.`,
  noPart: (step, way) =>
    `${step} gehört zum Weg „${way}“, ist aber Arbeit an keinem Teil; nenn das Teil, oder lass den Weg leer.`,
  tooMany: (part, way, units, left) =>
    `${units} × ${part} sollen auf dem Weg „${way}“ kommen, aber neben den anderen braucht es nur ${left}; gib höchstens ${left} an.`,
});
