/** What the clauses of a line say, one after the other: what is done to the part, what tests it, who does it. */

import type { Estimate } from '../../common.ts';
import { type Clause, readClause } from './clause.ts';
import { type LineDraft, named } from './draft.ts';
import type { Fact } from './facts.ts';
import { TIME_IN_NAME } from './head.ts';
import { takeLoading } from './loading.ts';
import { machineOf } from './machines.ts';
import { readNumber } from './measures.ts';
import { capital } from './name-words.ts';
import { takePartNumbers } from './part-numbers.ts';
import { takeSupply } from './supply.ts';
import { aboutPending, nameOf, newStep, RUNS, settlePending, TESTS, WAITS } from './work.ts';
import { isWork } from './work-words.ts';

/** What is done after the event. */
const STRIKES =
  /^(?:strike|tak(?:e|ing) (?:it )?down|dismantl(?:e|ing)|de-?(?:rig|install)(?:ging)?|(?:get|load|bump)[ -]?out|tear[ -]?down|pack down|break ?down|carry (?:it )?out|bring (?:it )?back|drive (?:back|home)|return)\b/;
/** How often something is done, in words that are no number. */
const UNREAD = /\b(?:coats?|times)\b/;
/** Hands are said in hours: how long a day is depends on who is there. */
const DAYS =
  /\d\s*[dw]\b|(?:\d|\b(?:an?|all|half))\s*(?:an? )?(?:working )?(?:days?|weeks?|evenings?|mornings?|afternoons?|weekends?)\b/;
/** A night in which something dries, where no hours are said. */
const NIGHT = 720;
const DAY = 1440;
/** `up to 15 min`, `demould after 24 h`: a bound or a wait, not how long the work takes. */
const NO_TIME = /\b(?:max|maximum|minimum|up to|at (?:most|least)|(?:less|more) than|under|over|after)$/;
const CLOCK = /\b(\d{1,2}):([0-5]\d)\b(?!:)/;

type Taker = (draft: LineDraft, clause: Clause) => boolean;

/** Takes a clause into the draft; false where nothing understands it. */
export function takeClause(draft: LineDraft, text: string): boolean {
  const machines = [...(draft.build.machines ?? []), ...draft.machines].map(({ name }) => name);
  const people = (draft.build.people ?? []).map(({ name }) => name);
  const part = draft.part?.name ?? null;
  const unit = draft.part?.fields.unit ?? draft.build.parts?.find(({ id }) => id === draft.part?.id)?.unit ?? null;
  const names = { machines, people, part, unit, hasSite: draft.build.loadIn !== undefined };
  const read = (typed: string): Clause => readClause(typed, names);
  const clause = withClock(draft, text, read);
  return clause !== null && TAKERS.some((take) => take(draft, clause));
}

/** `3:20` of a machine is hours and minutes; of hands it may as well be minutes and seconds, and is not guessed. */
function withClock(draft: LineDraft, text: string, read: (typed: string) => Clause): Clause | null {
  const said = CLOCK.exec(text);
  if (said === null) return read(text);
  const clause = read(text.replace(CLOCK, '$1 h $2 min'));
  if (!isRun(draft, aboutPending(draft, clause))) {
    draft.why = 'clock-time';
    return null;
  }
  const minutes = Number(said[1]) * 60 + Number(said[2]);
  draft.assumed.push({ code: 'hours-minutes', said: said[0], minutes });
  return clause;
}

/** `dry 6 h`: it follows the work before it, once for each coat. */
const wait: Taker = (draft, clause) => {
  const about = aboutPending(draft, clause);
  const { words, length, atNight, between } = about;
  if (!(isWaiting(draft, about) || (between && words === '')) || (length === null && !atNight)) return false;
  const step = draft.steps.at(-1) ?? newStep(draft, words);
  if (clause.words === '') draft.pending = null;
  const minutes = Math.round(length?.minutes ?? NIGHT);
  step.phases.push({ kind: 'wait', minutes });
  draft.facts.push({ code: 'wait', step: step.name, minutes });
  if (length === null) draft.assumed.push({ code: 'over-night', step: step.name, minutes });
  return true;
};

/** Glue sets by itself; but mirrors are set one by one, or before anything else is done to them. */
function isWaiting({ part, steps }: LineDraft, { words, per }: Clause): boolean {
  const isSetting = /^sets?\b|^setting\b/.test(words) && part !== null && (per === 'unit' || steps.length === 0);
  return WAITS.test(words) && !isSetting;
}

/** `test 40 min`, with what may follow it: `may fail 20 %`, `sends 3 back to mount`. */
const gate: Taker = (draft, typed) => {
  const clause = aboutPending(draft, typed);
  if (!TESTS.test(clause.words) || clause.length === null || isTestOfEach(draft, clause)) return false;
  if (typed.words === '') draft.pending = null;
  const perSet = /\b(?:each|every|per) \w+/.test(clause.text);
  const name = nameOf(draft, clause.words.replace(/\b(?:each|every|per)\b.*$/, '').trim());
  const minutes = Math.round(clause.length.minutes);
  const isSets = perSet && draft.build.sets !== undefined;
  draft.facts.push({ code: 'gate', gate: name, minutes, after: [] });
  draft.gates.push({ name, minutes, perSet: isSets, people: clause.people ?? 1, failChance: null, sendsBack: [] });
  if (!isSets) draft.assumed.push({ code: 'tested-once', gate: name });
  return true;
};

/** Three minutes for each lamp are work on the lamps; a gate is passed once, or once for each set. */
function isTestOfEach({ part, build }: LineDraft, { per }: Clause): boolean {
  return per === 'unit' && part !== null && build.sets === undefined;
}

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
  if (n !== null && open === undefined && chance !== null && steps.length > 0) draft.why = 'fails-each';
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
  if (!clause.onPlate && clause.machine === null && !RUNS.test(clause.words)) return false;
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
const withWhom: Taker = (draft, { words, time, people, atNight, by }) => {
  const step = draft.steps.at(-1);
  const phase = step?.phases.at(-1);
  const who = named(draft.build.people, by ?? words);
  if (step !== undefined && who !== null && time === null) {
    step.who = [who.id];
    draft.facts.push({ code: 'who', step: step.name, person: who.name });
    return true;
  }
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

/** Whether a machine does it: one is named, it is on a plate, or the words are of such work. */
function isRun({ lotBefore, pending }: LineDraft, { machine, onPlate, words }: Clause): boolean {
  const work = words === '' ? (pending ?? '') : words;
  return machine !== null || onPlate || RUNS.test(work) || lotBefore?.onPlate === true;
}

/** `print 3 h 20 at night`, `on a plate of 6, 3 h 20`, `print 6 in 3 h`: a machine does it, a lot at a time. */
const run: Taker = (draft, typed) => {
  const clause = aboutPending(draft, typed);
  const { machine, words } = clause;
  const before = draft.lotBefore;
  if (!isRun(draft, clause) || clause.time === null || isUnread(draft, clause)) return false;
  const step = newStep(draft, words === '' ? 'print' : words.replace(/\bprinter$/, 'print'));
  const used = machineOf(draft, {
    step: step.name,
    words,
    said: machine,
    atNight: clause.atNight || before?.atNight === true,
  });
  const { time, lot: units } = lotOfTime(clause.time);
  step.lot = clause.lot ?? before?.lot ?? units;
  step.onSite = clause.onSite;
  const isLot = clause.per === 'lot' || (clause.per === null && step.lot !== null);
  const per = draft.part === null ? 'all' : isLot ? 'lot' : (clause.per ?? 'unit');
  const planned = per === 'all' && draft.part !== null ? sharedOut(draft, time) : time;
  if (planned === null) return false;
  step.phases.push({
    kind: 'run',
    machine: used.id,
    time: planned,
    per: per === 'all' && planned !== time ? 'unit' : per,
  });
  draft.facts.push({ code: 'run', step: step.name, machine: used.name, time, per, lot: step.lot });
  if (clause.per === null && per === 'unit') draft.assumed.push({ code: 'each', step: step.name });
  sayMiddle(draft, step.name, time);
  if (typed.words === '') settlePending(draft, clause);
  draft.lotBefore = null;
  return true;
};

/** Six in three hours, on a machine, are a lot of six. */
function lotOfTime(time: Estimate): { time: Estimate; lot: number | null } {
  return typeof time === 'object' && 'units' in time ? { time: time.minutes, lot: time.units } : { time, lot: null };
}

/** Anything else with a time is the work of hands. */
const hands: Taker = (draft, typed) => {
  const clause = aboutPending(draft, typed);
  const { time, times, people, by, oneGo, words, per: said } = clause;
  const { part } = draft;
  if (time === null || isWaiting(draft, clause) || UNREAD.test(words) || NO_TIME.test(words)) return false;
  if (clause.machine !== null || isUnread(draft, clause) || isDays(draft, typed, clause)) return false;
  if (words === '' && part === null) return false;
  const why = part === null ? (said === 'unit' ? 'each-of-what' : null) : measureAsks(draft, clause);
  const who = by === null ? null : named(draft.build.people, by);
  if (by !== null && who === null) draft.why = 'who';
  if (why !== null) draft.why = why;
  if (why !== null || (by !== null && who === null)) return false;
  const per = part === null || said === 'all' ? 'all' : 'unit';
  const ofLot = part === null ? null : timeOfLot(clause);
  const planned = part !== null && per === 'all' ? sharedOut(draft, time) : time;
  if (planned === null) return false;
  const step = newStep(draft, words === '' ? 'make' : words);
  const { onSite } = clause;
  Object.assign(step, { times, onSite, lot: clause.lot ?? draft.lotBefore?.lot ?? null, who: who && [who.id] });
  const isWhole = part === null || ofLot !== null;
  step.phases.push({ kind: 'hands', time: planned, per: isWhole ? 'all' : 'unit', people: people ?? 1, oneGo });
  draft.facts.push({ code: 'hands', step: step.name, time: ofLot ?? time, per, times, people: people ?? 1 });
  if (who !== null) draft.facts.push({ code: 'who', step: step.name, person: who.name });
  if (per === 'unit' && said === null && ofLot === null) draft.assumed.push({ code: 'each', step: step.name });
  if (part !== null && step.lot === null) draft.assumed.push({ code: 'lots', step: step.name });
  sayMiddle(draft, step.name, time);
  if (typed.words === '') settlePending(draft, clause);
  draft.lotBefore = null;
  return true;
};

/** `oil 12 at a time 40 min`: forty minutes for twelve; null where it is said what the time is for. */
function timeOfLot({ isTogether, lot: units, time, per }: Clause): { units: number; minutes: number } | null {
  if (!isTogether || units === null || typeof time !== 'number' || (per !== null && per !== 'lot')) return null;
  return { units, minutes: time };
}

/** Days, or a day and more of hours for words that may as well name a supplier. */
function isDays(draft: LineDraft, { text, words }: Clause, { length, words: work }: Clause): boolean {
  const isLong = words === '' && draft.pending !== null && !isWork(work) && (length?.minutes ?? 0) >= DAY;
  if (!DAYS.test(text) && !isLong) return false;
  draft.why = 'days-of-hands';
  return true;
}

/** Work on what is measured: for each metre, or for all of them? */
function measureAsks({ part, build }: LineDraft, { per }: Clause): 'each-measure' | null {
  const unit = part!.fields.unit ?? build.parts?.find(({ id }) => id === part!.id)?.unit;
  return unit !== undefined && per === null ? 'each-measure' : null;
}

/** A time for all of them as one for each, since they are made in lots; null where their number is a formula. */
function sharedOut(draft: LineDraft, time: Estimate): Estimate | null {
  const { id, fields } = draft.part!;
  const { count, usedIn = [] } = { ...draft.build.parts?.find((part) => part.id === id), ...fields };
  if (typeof count !== 'number' || count === 0 || usedIn.length > 0) {
    draft.why = 'altogether';
    return null;
  }
  if (typeof time === 'number') return time / count;
  if (typeof time === 'object' && 'low' in time)
    return { low: time.low / count, likely: time.likely / count, high: time.high / count };
  return time;
}

/** A range whose likely value was not said. */
function sayMiddle(draft: LineDraft, what: string, time: Estimate): void {
  if (typeof time === 'object' && 'low' in time && time.likely === (time.low + time.high) / 2)
    draft.assumed.push({ code: 'likely-middle', what });
}

/** Two times in one clause: where one ends and the next begins is not known. */
function isUnread(draft: LineDraft, { words }: Clause): boolean {
  if (!TIME_IN_NAME.test(words)) return false;
  draft.why = 'no-comma';
  return true;
}

/** `prime`, and then `4 min each`: work whose time is to come. */
const workToCome: Taker = (draft, clause) => {
  const { words, time } = clause;
  if (draft.part === null || words === '' || time !== null || draft.pending !== null) return false;
  if (/\d/.test(words.replace(/^3d\b/, ''))) return false;
  draft.pending = words;
  draft.pendingClause = clause;
  return true;
};

const TAKERS: readonly Taker[] = [
  takeLoading,
  outcome,
  takePartNumbers,
  gate,
  wait,
  strike,
  lot,
  withWhom,
  takeSupply,
  run,
  hands,
  workToCome,
];
