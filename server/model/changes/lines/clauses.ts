/** What the clauses of a line say, one after the other: how a part comes about, what is done to it, what tests it. */

import { freeId } from '../free-id.ts';
import { type Clause, readClause } from './clause.ts';
import { capital, type LineDraft, named, type StepDraft } from './draft.ts';
import type { Fact } from './facts.ts';
import { TIME_IN_NAME } from './head.ts';
import { machineOf } from './machines.ts';
import { readDays, readNumber } from './measures.ts';

const WAITS =
  /^(?:dry|drying|dries|cure|cures|curing|wait|waits|soak|soaks|set|sets|rest|rests|cool|cools|harden|hardens|settle)\b/;
const RUNS = /^(?:(?:3d[ -])?prints?|mill|cnc|engrave|laser|kiln|bake|fire)\b/;
const TESTS = /^(?:test|check|prove|inspect|try)\b/;
/** What is done after the event. */
const STRIKES = /^(?:strike|take (?:it )?down|dismantle|get.?out|carry (?:it )?out|bring (?:it )?back)\b/;
/** How often something is done, in words that are no number. */
const UNREAD = /\b(?:coats?|times)\b/;
/** Hands are said in hours: how long a day is depends on who is there. */
const DAYS = /\d\s*(?:working )?(?:days?|weeks?|[dw])\b/;
/** A night in which something dries, where no hours are said. */
const NIGHT = 720;
const BOUGHT = /^(?:bought|buy|ordered|order|purchased)(?: from| at)?\b\s*/;
const SENT = /^(?:sent out|send out|made|cut|welded|coated|printed)?\s*(?:from|by|at|to)\s+(?:the )?/;

type Taker = (draft: LineDraft, clause: Clause) => boolean;

/** Takes a clause into the draft; false where nothing understands it. */
export function takeClause(draft: LineDraft, text: string): boolean {
  const machines = [...(draft.build.machines ?? []), ...draft.machines];
  const clause = readClause(
    text,
    machines.map(({ name }) => name),
  );
  return TAKERS.some((take) => take(draft, clause));
}

/** `in packs of 25`. */
const packs: Taker = ({ part, facts }, { text }) => {
  const units = readNumber(/^(?:in )?packs? of (\w+)$/.exec(text.trim().toLowerCase())?.[1] ?? '');
  if (part === null || units === null) return false;
  Object.assign(part.fields, { packSize: units });
  facts.push({ code: 'packs', part: part.name, units });
  return true;
};

/** Spares, what is there, what comes out good, what one costs. */
const numbers: Taker = ({ part, facts }, { text }) => {
  const said = text.trim().toLowerCase();
  const units =
    /^(\w+) (?:(spares?|to spare|extra)|(?:already )?(?:here|on hand|in stock|made|done|there)(?: already)?)$/.exec(
      said,
    );
  const share = /^([\d.,]+)\s*(?:%|percent) (?:(?:come out )?(good)|scrap|waste|loss|fail)$/.exec(said);
  const cost = /^(?:[€$£]\s*([\d.,]+)|([\d.,]+)\s*[€$£])(?: each| apiece| a piece)?$/.exec(said);
  const n = readNumber(units?.[1] ?? share?.[1] ?? cost?.[1] ?? cost?.[2] ?? '');
  if (part === null || n === null) return false;
  if (units !== null) {
    const spare = units[2] !== undefined;
    Object.assign(part.fields, spare ? { spares: n } : { onHand: n });
    facts.push({ code: spare ? 'spares' : 'on-hand', part: part.name, units: n });
  } else if (share !== null) {
    const good = (share[2] === undefined ? 100 - n : n) / 100;
    Object.assign(part.fields, { yield: good });
    facts.push({ code: 'yield', part: part.name, share: good });
  } else {
    Object.assign(part.fields, { unitCost: n });
    facts.push({ code: 'cost', part: part.name, each: n });
  }
  return true;
};

/** `joiner, 5 days`, `from the joiner 5 days`, `bought`: who sends it, and how long that takes. */
const supply: Taker = (draft, { text, words, by, time, times }) => {
  const said = text.trim().toLowerCase();
  if (draft.part === null || draft.steps.length > 0) return false;
  const bought = BOUGHT.exec(said);
  if (bought !== null) draft.bought = true;
  const rest = said.slice(bought?.[0].length ?? 0).replace(SENT, '');
  const parts = /^(?:(.*?)\s+)??((?:\d|an? (?:day|week)|one|two|three|four|five)[\w\s.,–-]*(?:days?|weeks?|d|w))$/.exec(
    rest,
  );
  const lead = parts === null ? null : readDays(parts[2]!);
  if (lead === null && times !== 1) return false;
  if (lead === null) return awaitsDays(draft, rest, bought !== null, time !== null || (words === '' && by === null));
  const name = parts![1] ?? draft.pending;
  if (name === null || name === '' || WAITS.test(name)) return false;
  supplied(draft, name, lead);
  return true;
};

/** Words without a number may name a supplier, whose days are to come. */
function awaitsDays(draft: LineDraft, rest: string, bought: boolean, silent: boolean): boolean {
  if (rest === '') return bought;
  if (silent || (/\d/.test(rest) && !RUNS.test(rest)) || TESTS.test(rest) || draft.pending !== null) return false;
  draft.pending = rest;
  return true;
}

/** `prime`, and then `4 min each`: work whose time is to come. */
const workToCome: Taker = (draft, { words, time, times }) => {
  if (draft.part === null || words === '' || time !== null || draft.pending !== null) return false;
  if (WAITS.test(words) || TESTS.test(words) || /\d/.test(words)) return false;
  draft.pending = words;
  draft.pendingTimes = times;
  return true;
};

/** The words of work: its own, or those that stood before its time; else what is usual. */
function workOf(draft: LineDraft, words: string, usual: string): string {
  if (words !== '' || draft.pending === null) return words === '' ? usual : words;
  const said = draft.pending;
  draft.pending = null;
  if (draft.lotBefore === null && !RUNS.test(said)) draft.assumed.push({ code: 'is-work', words: said });
  return said;
}

function supplied(draft: LineDraft, typed: string, lead: ReturnType<typeof readDays> & {}): void {
  const [part, said] = [draft.part!, typed.replace(/^the /, '')];
  const known = named(draft.build.suppliers, said);
  const taken = new Set((draft.build.suppliers ?? []).map(({ id }) => id));
  const supplier = known ?? { id: freeId(said, taken)!, name: capital(said), lead };
  if (known === null) draft.suppliers.push(supplier);
  Object.assign(part.fields, { source: draft.bought ? 'buy' : 'send-out', supplier: supplier.id });
  draft.facts.push({
    code: 'supplier',
    part: part.name,
    supplier: supplier.name,
    bought: draft.bought,
    lead: known?.lead ?? lead,
  });
  if (!draft.bought) draft.assumed.push({ code: 'sent-out', part: part.name });
  if (typeof lead === 'object') draft.assumed.push({ code: 'likely-middle', what: supplier.name });
  draft.pending = null;
}

/** `dry 6 h`: it follows the work before it, once for each coat. */
const wait: Taker = (draft, { words, length, atNight }) => {
  if (!WAITS.test(words) || (length === null && !atNight)) return false;
  const step = draft.steps.at(-1) ?? newStep(draft, words);
  const minutes = Math.round(length?.minutes ?? NIGHT);
  step.phases.push({ kind: 'wait', minutes });
  draft.facts.push({ code: 'wait', step: step.name, minutes });
  if (length === null) draft.assumed.push({ code: 'over-night', step: step.name, minutes });
  return true;
};

/** `test 40 min`, with what may follow it: `may fail 20 %`, `sends 3 back to mount`. */
const gate: Taker = (draft, clause) => {
  if (!TESTS.test(clause.words) || clause.length === null) return false;
  const perSet = /\b(?:each|every|per) \w+/.test(clause.text);
  const name = nameOf(draft, clause.words.replace(/\b(?:each|every|per)\b.*$/, '').trim());
  const minutes = Math.round(clause.length.minutes);
  const isSets = perSet && draft.build.sets !== undefined;
  draft.facts.push({ code: 'gate', gate: name, minutes, after: [] });
  draft.gates.push({ name, minutes, perSet: isSets, people: clause.people ?? 1, failChance: null, sendsBack: [] });
  if (!isSets) draft.assumed.push({ code: 'tested-once', gate: name });
  return true;
};

const outcome: Taker = (draft, { text }) => {
  const { gates, build, steps, facts } = draft;
  const open = gates.at(-1);
  const said = text.trim().toLowerCase();
  const chance =
    /^(?:may fail|fails?)\s*(?:with|in)?\s*([\d.,]+)\s*(?:%|percent)/.exec(said) ??
    /^([\d.,]+)\s*(?:%|percent) (?:may )?(?:fail|fails|failing|failures?)$/.exec(said);
  const back = /^(?:sends?\s+)?(\w+)\s+(?:go(?:es)?\s+)?back to\s+(.+)$/.exec(
    said.replace(/^sends back (\w+)/, '$1 back'),
  );
  const n = readNumber(chance?.[1] ?? back?.[1] ?? '');
  if (open === undefined || n === null) return false;
  if (chance !== null) {
    if (n > 100) {
      draft.why = 'over-all';
      return false;
    }
    open.failChance = n / 100;
    facts.push({ code: 'may-fail', gate: open.name, chance: n / 100 });
    return true;
  }
  const own = steps.find(({ name }) => name.toLowerCase().startsWith(back![2]!));
  const step =
    own?.name ??
    named(build.steps, back![2]!)?.name ??
    build.steps.find(({ name }) => name.toLowerCase().startsWith(back![2]!))?.name;
  if (step === undefined) return false;
  open.sendsBack.push({ step, units: n });
  facts.push({ code: 'sends-back', step, units: n });
  return true;
};

/** `strike 2 h with 2 people`: a job after the event. */
const strike: Taker = (draft, { words, length, people }) => {
  if (draft.part !== null || !STRIKES.test(words) || length === null) return false;
  const job = { name: capital(words), minutes: Math.round(length.minutes), people: people ?? 1 };
  draft.strike.push(job);
  draft.facts.push({ code: 'strike', job: job.name, minutes: job.minutes, people: job.people });
  return true;
};

/**
 * `on a plate of 6`, `in lots of 12` by themselves: of the work before, or of the time that comes next; `print on a
 * plate of 6` likewise.
 */
const lot: Taker = (draft, clause) => {
  if (clause.time !== null || clause.lot === null) return false;
  const step = draft.steps.at(-1);
  if (clause.words !== '') return lotOfWork(draft, clause);
  const isOpen = step?.lot === null && step.phases.at(-1)?.kind === 'run';
  if (step === undefined || (clause.onPlate && !isOpen)) return lotToCome(draft, clause);
  step.lot = clause.lot;
  draft.assumed = draft.assumed.filter((one) => !(one.code === 'lots' && one.step === step.name));
  for (const fact of draft.facts) if (fact.code === 'run' && fact.step === step.name) setLot(draft, fact, clause.lot);
  return true;
};

function lotToCome(draft: LineDraft, { lot: units, onPlate, atNight }: Clause): boolean {
  draft.lotBefore = { lot: units!, onPlate, atNight };
  return true;
}

function lotOfWork(draft: LineDraft, clause: Clause): boolean {
  if (!clause.onPlate && !RUNS.test(clause.words)) return false;
  return workToCome(draft, clause) && lotToCome(draft, clause);
}

/** A run was for each unit, or for a lot of unknown size, before its lot was said: now it is for the lot. */
function setLot(draft: LineDraft, run: Extract<Fact, { code: 'run' }>, units: number): void {
  const { phases } = draft.steps.at(-1)!;
  draft.facts[draft.facts.indexOf(run)] = { ...run, per: 'lot', lot: units };
  draft.steps.at(-1)!.phases = phases.map((phase) => (phase.kind === 'run' ? { ...phase, per: 'lot' } : phase));
  draft.assumed = draft.assumed.filter((one) => !(one.code === 'each' && one.step === run.step));
}

/** `two people` by itself: for the work before it. `overnight`: for the machine before it. */
const withWhom: Taker = (draft, { words, time, people, atNight }) => {
  const phase = draft.steps.at(-1)?.phases.at(-1);
  if (words !== '' || time !== null || phase === undefined) return false;
  if (people !== null && phase.kind === 'hands') {
    phase.people = people;
    const at = draft.facts.findLastIndex(({ code }) => code === 'hands');
    draft.facts[at] = { ...(draft.facts[at] as Extract<Fact, { code: 'hands' }>), people };
    return true;
  }
  const made = draft.machines.find(({ id }) => phase.kind === 'run' && phase.machine === id);
  if (!atNight || made === undefined) return false;
  Object.assign(made, { unattended: true, overnight: true });
  draft.assumed = draft.assumed.map((one) =>
    one.code === 'new-machine' ? { ...one, unattended: true, overnight: true } : one,
  );
  return true;
};

/** `print 3 h 20 at night`, `on a plate of 6, 3 h 20`: a machine does it, a lot at a time. */
const run: Taker = (draft, clause) => {
  const { length, machine, onPlate } = clause;
  const before = draft.lotBefore;
  const words = clause.words === '' ? (draft.pending ?? '') : clause.words;
  const isRun = machine !== null || onPlate || RUNS.test(words) || before?.onPlate === true;
  if (!isRun || length === null || hasTime(draft, words)) return false;
  const step = newStep(draft, workOf(draft, clause.words, 'print'));
  const used = machineOf(draft, {
    step: step.name,
    words,
    said: machine,
    atNight: clause.atNight || before?.atNight === true,
  });
  step.lot = clause.lot ?? before?.lot ?? null;
  const isLot = clause.per === 'lot' || (clause.per === null && step.lot !== null);
  const per = draft.part === null ? 'all' : isLot ? 'lot' : (clause.per ?? 'unit');
  const minutes = per === 'unit' ? length.minutes : Math.max(1, Math.round(length.minutes));
  step.phases.push({ kind: 'run', machine: used.id, minutes, per });
  draft.facts.push({ code: 'run', step: step.name, machine: used.name, minutes, per, lot: step.lot });
  if (clause.per === null && per === 'unit') draft.assumed.push({ code: 'each', step: step.name });
  draft.lotBefore = null;
  return true;
};

/** Anything else with a time is the work of hands. */
const hands: Taker = (draft, clause) => {
  const { time, people, by, oneGo } = clause;
  const times = clause.words === '' && draft.pending !== null ? draft.pendingTimes : clause.times;
  const words = clause.words === '' ? (draft.pending ?? '') : clause.words;
  if (time === null || WAITS.test(words) || UNREAD.test(words) || hasTime(draft, words)) return false;
  if (DAYS.test(clause.text)) {
    draft.why = 'days-of-hands';
    return false;
  }
  if (words === '' && draft.part === null) return false;
  if (draft.part === null && clause.per === 'unit') {
    draft.why = 'each-of-what';
    return false;
  }
  const who = by === null ? null : named(draft.build.people, by);
  if (by !== null && who === null) return false;
  const step = newStep(draft, workOf(draft, clause.words, 'make'));
  const per = draft.part === null || clause.per === 'all' ? 'all' : 'unit';
  Object.assign(step, { times, lot: clause.lot ?? draft.lotBefore?.lot ?? null, who: who === null ? null : [who.id] });
  step.phases.push({ kind: 'hands', time, per, people: people ?? 1, oneGo });
  draft.facts.push({ code: 'hands', step: step.name, time, per, times, people: people ?? 1 });
  if (per === 'unit' && clause.per === null) draft.assumed.push({ code: 'each', step: step.name });
  if (per === 'unit' && step.lot === null) draft.assumed.push({ code: 'lots', step: step.name });
  if (typeof time === 'object' && 'low' in time) draft.assumed.push({ code: 'likely-middle', what: step.name });
  draft.lotBefore = null;
  return true;
};

/** Two times in one clause: where one ends and the next begins is not known. */
function hasTime(draft: LineDraft, words: string): boolean {
  if (!TIME_IN_NAME.test(words)) return false;
  draft.why = 'no-comma';
  return true;
}

const TAKERS: readonly Taker[] = [
  outcome,
  packs,
  numbers,
  gate,
  wait,
  strike,
  lot,
  withWhom,
  supply,
  run,
  hands,
  workToCome,
];

function newStep(draft: LineDraft, words: string): StepDraft {
  const [name, alike] = [
    nameOf(draft, words),
    draft.steps.filter((it) => it.name.replace(/ \d+$/, '') === nameOf(draft, words)),
  ];
  const step = {
    name: alike.length === 0 ? name : `${name} ${alike.length + 1}`,
    phases: [],
    times: 1,
    lot: null,
    who: null,
  };
  draft.steps.push(step);
  return step;
}

/** `Oil slats`; a job of its own is called as it was typed. */
function nameOf({ part }: LineDraft, words: string): string {
  return capital(part === null ? words : `${words} ${part.name.toLowerCase()}`);
}
