/** What is asked about a count that may be a slip, in German. */
import { problemWords } from '../../../../server/model/index.ts';
import { inGerman } from '../../../../server/model/texts/language.ts';

/** Kinds of log entries that count units. */
const COUNTED: Readonly<Record<string, string>> = {
  done: 'fertig',
  scrapped: 'Ausschuss',
  loaded: 'geladen',
  ordered: 'bestellt',
  promised: 'zugesagt',
  received: 'eingegangen',
  passed: 'bestanden',
  failed: 'nicht bestanden',
  'sent-back': 'zurückgegeben',
  lost: 'Zeit verloren',
};

inGerman(problemWords.questions, {
  tooMany: (step, set, left, n) =>
    `„${step}“${set === null ? '' : `, Satz ${set},`} hat noch ${left} übrig, dieser Eintrag sagt ${n}: Sind es mehr als geplant, oder ist es ein Versehen?`,
  tooFew: (step, set, counted, n) =>
    `„${step}“${set === null ? '' : `, Satz ${set},`} hat ${counted} als fertig gezählt, dieser Eintrag nimmt davon ${n} zurück: Waren sie gezählt, oder ist es ein Versehen?`,
  twice: ({ first, second, n, kind }, step) =>
    `${first ?? 'Jemand'} und ${second ?? 'jemand'} haben innerhalb einer Minute dasselbe eingetragen: ${n === null ? '' : `${n} `}${COUNTED[kind] ?? kind}${step === null ? '' : ` bei „${step}“`}. Ein Los oder zwei?`,
  undoneBefore: (who) => `${who ?? 'Jemand'} hatte diesen Eintrag schon zurückgenommen; das zählt nur einmal.`,
  fullMachine: (machine, step, units, n) =>
    `Noch hat niemand ${units} von „${step}“ aus der Maschine „${machine}“ gezählt, und dieser Eintrag lädt ${n}: Fasst sie alle, fehlt diese Zählung, oder ist es ein Versehen?`,
});
