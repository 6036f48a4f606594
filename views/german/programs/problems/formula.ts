/** What is wrong with a formula or with the parameters that formulas use, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';
import { byNumber } from '../../../texts/grammar.ts';

const RIGHT_FORM = 'Schreib etwa 2 * panels + 4';
const DECIMALS = 'schreib Kommazahlen mit einem Punkt, etwa 1.5';
const ROUND_BRACKETS = 'in Formeln gibt es nur runde Klammern';
const NO_TEXTS = 'eine Formel besteht aus Zahlen und Namen, nicht aus Texten';

inGerman(problemWords.formula, {
  empty: `Die Formel ist leer. ${RIGHT_FORM}.`,
  tooLong: (characters, most) =>
    `Die Formel hat ${characters} Zeichen; höchstens ${most} sind erlaubt. Teil sie in benannte Parameter auf.`,
  tooDeep: (most) => `Die Formel ist tiefer als ${most}-mal verschachtelt. Teil sie in benannte Parameter auf.`,
  unreadable: (at, what) => `Bei Zeichen ${at}: ${what}. ${RIGHT_FORM}.`,
  noResult: (at, formula, what) => `Bei Zeichen ${at} von „${formula}“: ${what}.`,
  noMeaning: (character, hint) => `„${character}“ bedeutet hier nichts: ${hint}`,
  decimals: DECIMALS,
  hints: {
    '%': 'schreib 0.05 für 5 %, oder mod(a, b) für einen Rest',
    ';': 'eine Formel ist ein einziger Ausdruck; nimm für jeden einen Parameter',
    '[': ROUND_BRACKETS,
    ']': ROUND_BRACKETS,
    '{': ROUND_BRACKETS,
    '}': ROUND_BRACKETS,
    '"': NO_TEXTS,
    "'": NO_TEXTS,
    '`': NO_TEXTS,
    '²': 'schreib ^2',
    '³': 'schreib ^3',
  },
  singleEquals: 'zwei Werte vergleicht man mit ==',
  tooEarly: 'die Formel hört zu früh auf',
  noOperator: 'zwei Werte folgen aufeinander, ohne ein Zeichen wie * oder + dazwischen',
  largeNumber: 'die Zahl ist zu groß',
  chained: 'Vergleiche lassen sich nicht aneinanderhängen: schreib a < b && b < c',
  unexpected: (character) => `„${character}“ passt hier nicht`,
  emptyBrackets: 'die Klammern sind leer',
  strayComma: `ein Komma steht nur zwischen Werten einer Funktion; ${DECIMALS}`,
  notClosed: 'eine schließende ) fehlt',
  noOperand: (operator) => `nach ${operator} fehlt ein Wert`,
  pointAfterName: 'nach einem Namen kann kein Punkt stehen',
  noComma: 'ein Komma oder eine schließende ) fehlt',
  noArgument: 'ein Wert fehlt',
  unknownParameter: (name) => `einen Parameter „${name}“ gibt es nicht; füg ihn hinzu oder berichtige den Namen`,
  infiniteName: (name, value) => `${name} ist ${value}; es muss eine endliche Zahl sein`,
  zeroDivisor: (divisor) =>
    `${divisor === '0' ? 'hier wird durch 0 geteilt' : `${divisor} ist 0`}; zum Teilen braucht es eine andere Zahl als 0`,
  infiniteResult: (calculation) =>
    `${calculation} ergibt keine endliche Zahl; nimm kleinere Zahlen und bei negativen nur ganze Hochzahlen`,
  infiniteCall: (call) => `${call} ergibt keine endliche Zahl; nimm andere Werte`,
  ifArguments: (given) =>
    `if braucht 3 Werte, eine Bedingung und zwei Ergebnisse; hier ${byNumber(given, 'ist', 'sind')} es ${given}`,
  unknownFunction: (name) => `eine Funktion „${name}“ gibt es nicht; nimm eine aus der Liste`,
  wrongArguments: (call, given) => `${call} hat hier ${given} ${byNumber(given, 'Wert', 'Werte')}`,
  argument: (name, argument, value, wanted) => `${name}: ${argument} ist ${value}; nötig ist ${wanted}`,
  wanted: {
    above: (limit) => `mehr als ${limit}`,
    least: (limit) => `${limit} oder mehr`,
    below: (limit) => `weniger als ${limit}`,
    most: (limit) => `${limit} oder weniger`,
    whole: 'eine ganze Zahl',
  },
  needsBroken: (name, missing) =>
    `${name} lässt sich nicht berechnen, weil „${missing}“ keinen Wert hat; berichtige zuerst „${missing}“.`,
  noValue: (name, value) =>
    `${name} hat ${value === null ? 'keinen Wert' : `den Wert ${value}`}; gib eine Zahl an, eine Formel oder niedrig, wahrscheinlich und hoch.`,
  rangeOrder: (name, range) =>
    `${name} hat die Spanne niedrig / wahrscheinlich / hoch ${range}; niedrig darf nicht über wahrscheinlich liegen, wahrscheinlich nicht über hoch.`,
  badName: (name) =>
    `„${name}“ geht nicht als Name eines Parameters; fang mit einem Buchstaben an, danach Buchstaben, Ziffern und _.`,
  constant: (name) => `„${name}“ ist in Formeln schon eine feste Zahl; wähl einen anderen Namen.`,
  sameName: (name) => `Es gibt zwei Parameter „${name}“; benenne einen davon um.`,
  circle: (names) => `Diese Formeln brauchen einander im Kreis: ${names}; gib einer davon eine Zahl.`,
});
