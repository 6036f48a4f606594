/** Work in a line: the words that say which kind it is, its name, and what was said of it before its time came. */
import type { Clause } from './clause.ts';
import type { LineDraft, StepDraft } from './draft.ts';
import { capital } from './name-words.ts';
import { isWork } from './work-words.ts';

const LEFT = /(?:(?:leave|let|allow|needs?)(?: (?:it|them))?(?: to)? )?/.source;
const DRIES = /(?:dry|dries|drying|cures?|curing|waits?|waiting|soaks?|soaking|hardens?|hardening|settles?)\b/.source;
const NOT_BY_HAND = /(?![ -](?:fit|fits|fitting|assembl|runs?\b|brush|build|hang|lay|mount|stack|labels?\b))/.source;
const RESTS = /(?:sets?|setting|rests?|resting|cools?|cooling)(?: (?:down|hard|off|time|over))*$|flash(?:es)? off$/
  .source;
const RUNS_ON = /burns?[ -]in\b|leave(?: (?:it|them))?$|(?:let |leave )?(?:it |them )?(?:run|running)$/.source;
/** It dries by itself; but a dry fit and a set-up are the work of hands. */
export const WAITS = new RegExp(`^${LEFT}(?:${DRIES}${NOT_BY_HAND}|${RESTS}|${RUNS_ON})`);
const FIRED = '(?:(?:bisque|biscuit|glaze|glost|raku|second|first) )?fir(?:e|es|ed|ing)';
const PRINTED = '(?:(?:3d|resin|fdm|pla|petg|sla)[ -])?print(?:s|ed|ing|er)?';
export const RUNS = new RegExp(
  `^(?:${PRINTED}|mill(?:s|ed|ing)?|cnc|engrav(?:e|es|ed|ing)|laser(?:s|ed|ing|cut)?|kiln|bak(?:e|es|ed|ing)|${FIRED})\\b(?! on the )`,
);
export const TESTS = /^(?:test|check|prove|inspect|try)\b/;
/** Little words at the ends of work that say nothing of it. */
const IN_FRONT = /^(?:to|then|and|for|needs?|also) /;
const BEHIND =
  /(?:^| )(?:takes?|taking|needs?|lasts?|is|are|time|for|at|about|around|them|it|the|all(?: the)?|each|every|our|my|:|=|of)$/;

/** A clause that is only a time is one about the words that stood before it, with all that was said of them. */
export function aboutPending({ pending, pendingClause: before }: LineDraft, clause: Clause): Clause {
  if (clause.words !== '' || pending === null || before === null) return clause;
  return {
    ...clause,
    words: before.words,
    times: clause.times === 1 ? before.times : clause.times,
    people: clause.people ?? before.people,
    by: clause.by ?? before.by,
    lot: clause.lot ?? before.lot,
    machine: clause.machine ?? before.machine,
    per: clause.per ?? before.per,
    onPlate: clause.onPlate || before.onPlate,
    atNight: clause.atNight || before.atNight,
    oneGo: clause.oneGo || before.oneGo,
    onSite: clause.onSite || before.onSite,
  };
}

/** Words that wait for a time have found it. Those that might have named a supplier are said to be work. */
export function settlePending(draft: LineDraft, { words }: Clause): void {
  const { pending } = draft;
  if (pending === null) return;
  draft.pending = null;
  if (draft.lotBefore === null && !RUNS.test(words) && !isWork(workName(words)))
    draft.assumed.push({ code: 'is-work', words: pending });
}

/**
 * What work is called, without the little words around it.
 *
 *     workName('wiring takes') // 'wiring'
 *     workName('hang the') // 'hang'
 */
export function workName(words: string): string {
  const name = words.replace(IN_FRONT, '').replace(BEHIND, '').trim();
  return name === words ? name : workName(name);
}

/** A further step of the line, called by its words; the second of the same name has a number. */
export function newStep(draft: LineDraft, words: string, name = nameOf(draft, words)): StepDraft {
  const alike = draft.steps.filter((it) => it.name.replace(/ \d+$/, '') === name);
  const step: StepDraft = {
    name: alike.length === 0 ? name : `${name} ${alike.length + 1}`,
    phases: [],
    times: 1,
    lot: null,
    who: null,
    onSite: false,
  };
  draft.steps.push(step);
  return step;
}

/** `Oil slats`, `Solder LEDs`; a job of its own is called as it was typed. */
export function nameOf({ part }: LineDraft, words: string): string {
  const name = workName(words);
  return capital(part === null ? name : `${name} ${withoutCapital(part.name)}`);
}

/** A name within a sentence: its first letter is a small one, unless the word is written in capitals. */
export function withoutCapital(name: string): string {
  return /^\p{Lu}(?![\p{Ll}]*\p{Lu})/u.test(name) && !/^\p{Lu}(?:\s|$)/u.test(name)
    ? name.replace(/^./u, (letter) => letter.toLowerCase())
    : name;
}
