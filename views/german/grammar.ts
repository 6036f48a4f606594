/** Lists of names in German; a noun keeps its capital within a sentence. */

import { inGerman } from '../../server/model/texts/language.ts';
import { grammarTexts } from '../texts/grammar.ts';

inGerman(grammarTexts, {
  and: (names, last) => `${names} und ${last}`,
  more: (n) => `${n} weitere`,
  or: (names, last) => `${names} oder ${last}`,
  allHands: 'alle Hände',
  within: (name) => name,
});
