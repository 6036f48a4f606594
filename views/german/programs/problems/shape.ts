/** What is wrong with the form of something that came from outside, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

const TYPES: Readonly<Record<string, string>> = {
  string: 'ein Text',
  number: 'eine Zahl',
  integer: 'eine ganze Zahl',
  boolean: 'true oder false',
  object: 'ein Objekt',
  array: 'eine Liste',
};

inGerman(problemWords.shape, {
  notAFile: (found) => `Eine Baudatei ist ein Objekt mit „format“, „version“ und „build“; hier steht ${found}.`,
  format: (wanted, found) => `„format“ muss „${wanted}“ sein; hier steht ${found}.`,
  version: (known, found) => `Dieses Daywright liest Version ${known} der Baudatei; in dieser steht ${found}.`,
  missing: (field, wanted) => `„${field}“ fehlt${wanted === null ? '' : `; nötig: ${wanted}`}.`,
  subject: (field) => (field === '' ? 'Der Bau' : `„${field}“`),
  whole: (subject, says) => `${subject} ${says}`,
  unknownKeys: (names, more) =>
    `hat ${names.join(', ')}${more > 0 ? ` und ${more} weitere` : ''}; das kennt Daywright dort nicht.`,
  kind: (kinds, found) => `muss eines davon sein: ${kinds.join(', ')}; hier steht ${found}.`,
  atLeast: (limit, found) => `muss mindestens ${limit} sein; hier steht ${found}.`,
  moreThan: (limit, found) => `muss mehr als ${limit} sein; hier steht ${found}.`,
  atMost: (limit, found) => `darf höchstens ${limit} sein; hier steht ${found}.`,
  tooManyItems: (limit, found) => `darf höchstens ${limit} Einträge haben; hier sind es ${found}.`,
  tooLong: (limit, found) => `darf höchstens ${limit} Zeichen haben; hier sind es ${found}.`,
  mustBe: (wanted, found) => `passt nicht; nötig: ${wanted}; hier steht ${found}.`,
  empty: 'ist leer; füll es aus.',
  tooDeep: 'etwas, das zu tief verschachtelt ist',
  other: (_, found) => `hat nicht die richtige Form; hier steht ${found}.`,
  anyForm: 'in einer Form, die „daywright schema“ ausgibt',
  oneOf: (values) => `eines von ${values.join(', ')}`,
  forms: {
    id: 'ein kurzer Name aus kleinen Buchstaben, Ziffern und Bindestrichen',
    parameter: 'ein Buchstabe, danach Buchstaben, Ziffern und _',
    date: 'ein Datum wie 2026-12-05',
    moment: 'ein Datum mit Uhrzeit wie 2026-12-05T19:00',
    time: 'eine Uhrzeit wie 09:30',
    entry: 'eine id aus 8 bis 64 Buchstaben, Ziffern, _ und -',
    pattern: (pattern) => `von der Form ${pattern}`,
  },
  type: (type) => TYPES[type] ?? type,
  nothing: 'nichts',
  list: 'eine Liste',
  noValue: 'nichts',
  emptyValue: 'noch nichts',
});
