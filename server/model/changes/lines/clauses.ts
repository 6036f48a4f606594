/** What the clauses of a line say, one after the other: how a part comes about, what is done to it, what tests it. */

import type { Machine } from '../../hands.ts';
import { freeId } from '../free-id.ts';
import { type Clause, readClause } from './clause.ts';
import { type LineDraft, named, type StepDraft } from './draft.ts';
import { capital } from './head.ts';
import { readDays, readNumber } from './measures.ts';

const WAITS =
  /^(?:dry|drying|dries|cure|cures|curing|wait|waits|soak|soaks|set|sets|rest|rests|cool|cools|harden|hardens|settle)\b/;
const RUNS = /^(?:print|prints|mill|engrave|laser|kiln|bake|fire)\b/;
const TESTS = /^(?:test|check|prove|inspect|try)\b/;
/** What is done after the event. */
const STRIKES = /^(?:strike|take (?:it )?down|dismantle|get.?out|carry (?:it )?out|bring (?:it )?back)\b/;
/** How often something is done, in words that are no number. */
const UNREAD = /\b(?:coats?|times)\b/;
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

/** Spares, what is there, what comes out good, what one costs. */
const numbers: Taker = ({ part, facts }, { text }) => {
  const said = text.trim().toLowerCase();
  const units = /^(\w+) (?:(spares?|to spare|extra)|here|on hand|in stock|made already)$/.exec(said);
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
const supply: Taker = (draft, { text, words, by, time }) => {
  const said = text.trim().toLowerCase();
  if (draft.part === null || draft.steps.length > 0) return false;
  const bought = BOUGHT.exec(said);
  if (bought !== null) draft.bought = true;
  const rest = said.slice(bought?.[0].length ?? 0).replace(SENT, '');
  const parts = /^(?:(.*?)\s+)??((?:\d|an? (?:day|week)|one|two|three|four|five)[\w\s.,–-]*(?:days?|weeks?|d|w))$/.exec(
    rest,
  );
  const lead = parts === null ? null : readDays(parts[2]!);
  if (lead === null) return awaitsDays(draft, rest, bought !== null, time !== null || (words === '' && by === null));
  const name = parts![1] ?? draft.pending;
  if (name === null || name === '' || WAITS.test(name)) return false;
  supplied(draft, name, lead);
  return true;
};

/** Words without a number may name a supplier, whose days are to come. */
function awaitsDays(draft: LineDraft, rest: string, bought: boolean, silent: boolean): boolean {
  if (rest === '') return bought;
  if (silent || /\d/.test(rest) || TESTS.test(rest) || draft.pending !== null) return false;
  draft.pending = rest;
  return true;
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
const wait: Taker = (draft, { words, length }) => {
  if (!WAITS.test(words) || length === null) return false;
  const step = draft.steps.at(-1) ?? newStep(draft, words);
  step.phases.push({ kind: 'wait', minutes: Math.round(length.minutes) });
  draft.facts.push({ code: 'wait', step: step.name, minutes: Math.round(length.minutes) });
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
  const chance = /^(?:may fail|fails?)\s*(?:with|in)?\s*([\d.,]+)\s*(?:%|percent)/.exec(text.trim().toLowerCase());
  const back = /^(?:sends?\s+)?(\w+)\s+(?:go(?:es)?\s+)?back to\s+(.+)$/.exec(
    text
      .trim()
      .toLowerCase()
      .replace(/^sends back (\w+)/, '$1 back'),
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

/** `on a plate of 6`, `in lots of 12` by themselves: of the work before, or of the time that comes next. */
const lot: Taker = (draft, clause) => {
  if (clause.words !== '' || clause.time !== null || clause.lot === null) return false;
  const step = draft.steps.at(-1);
  if (step !== undefined && !clause.onPlate) step.lot = clause.lot;
  else draft.lotBefore = { lot: clause.lot, onPlate: clause.onPlate };
  return true;
};

/** `print 3 h 20 at night`, `on a plate of 6, 3 h 20`: a machine does it, a lot at a time. */
const run: Taker = (draft, clause) => {
  const { words, length, machine, onPlate, atNight } = clause;
  const before = draft.lotBefore;
  const isRun = machine !== null || onPlate || RUNS.test(words) || before?.onPlate === true;
  if (!isRun || length === null) return false;
  const step = newStep(draft, words === '' ? 'print' : words);
  const used = machineOf(draft, machine, atNight);
  step.lot = clause.lot ?? before?.lot ?? null;
  const isLot = clause.per === 'lot' || (clause.per === null && step.lot !== null);
  const per = draft.part === null ? 'all' : isLot ? 'lot' : (clause.per ?? 'unit');
  const minutes = Math.round(length.minutes);
  step.phases.push({ kind: 'run', machine: used.id, minutes, per });
  draft.facts.push({ code: 'run', step: step.name, machine: used.name, minutes, per, lot: step.lot });
  if (clause.per === null && per === 'unit') draft.assumed.push({ code: 'each', step: step.name });
  draft.lotBefore = null;
  return true;
};

/** Anything else with a time is the work of hands. */
const hands: Taker = (draft, clause) => {
  const { words, time, times, people, by, oneGo } = clause;
  if (time === null || WAITS.test(words) || UNREAD.test(words)) return false;
  if (words === '' && draft.part === null) return false;
  const who = by === null ? null : named(draft.build.people, by);
  if (by !== null && who === null) return false;
  const step = newStep(draft, words === '' ? 'make' : words);
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

const TAKERS: readonly Taker[] = [numbers, outcome, gate, wait, strike, lot, supply, run, hands];

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

/** The machine that is named, else the only one there is, else a new one that needs nobody to stay with it. */
function machineOf(draft: LineDraft, said: string | null, atNight: boolean): Machine {
  const machines = [...(draft.build.machines ?? []), ...draft.machines];
  const known =
    said === null ? (machines.length === 1 ? machines[0]! : named(machines, 'printer')) : named(machines, said);
  if (known !== null) return known;
  const made = { id: 'printer', name: 'Printer', unattended: true, overnight: atNight };
  draft.machines.push(made);
  draft.assumed.push({ code: 'new-machine', machine: made.name, overnight: atNight });
  return made;
}
