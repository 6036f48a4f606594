/** What is wrong with a number, a span of time or an estimate, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

inGerman(problemWords.amounts, {
  notFinite: (field) => `„${field}“ muss eine endliche Zahl sein.`,
  tooSmall: (field, least, found) => `„${field}“ muss mindestens ${least} sein; hier steht ${comma(found)}.`,
  negativeSpan: (field, minutes) =>
    `„${field}“ ist eine Dauer und darf nicht unter 0 liegen; hier sind es ${comma(minutes)} Minuten.`,
  longSpan: (field, minutes) => `„${field}“ darf höchstens zehn Jahre dauern; hier sind es ${comma(minutes)} Minuten.`,
  negativeEstimate: (field, minutes) =>
    `„${field}“ sind Minuten für ein Stück und dürfen nicht unter 0 liegen; hier sind es ${comma(minutes)}.`,
  range: (field, found) =>
    `„${field}“ muss von niedrig über wahrscheinlich bis hoch steigen, nichts davon unter 0; hier steht ${found}.`,
  leadRange: (field) =>
    `„${field}“ muss in Werktagen von niedrig über wahrscheinlich bis hoch steigen, nichts davon unter 0.`,
  limitTwice: (id) => `„${id}“ ist der Kurzname von zwei Grenzen; gib jeder einen eigenen.`,
  limitEmpty: (name) => `Bei der Grenze „${name}“ fehlen „Mindestens“ und „Höchstens“; gib eines davon an oder beides.`,
  limitCrossed: (name, least, most) =>
    `Bei der Grenze „${name}“ liegt „Mindestens“ (${comma(least)}) über „Höchstens“ (${comma(most)}), das kann nichts einhalten; setz „Mindestens“ herunter.`,
  negative: (field, found) => `„${field}“ darf nicht unter 0 liegen; hier steht ${comma(found)}.`,
});

function comma(value: number | string): string {
  return typeof value === 'number' ? String(value).replace('.', ',') : value;
}
