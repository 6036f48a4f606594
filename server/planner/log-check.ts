/** Whether a log entry can be used in this build: what the schema cannot see. */
import { readWall } from '../engine/index.ts';
import {
  type Build,
  type LogKind,
  type NewLogEntry,
  type Problem,
  problem,
  problemTexts,
  type Sentence,
  type Step,
} from '../model/index.ts';

const say = problemTexts.log;

/** The name under which the maker edits and counts; anybody else is a helper and takes back only their own entries. */
export const MAKER = 'maker';

export interface EntryContext {
  readonly build: Build;
  /** Ids under which parts are ordered that have no step of their own, such as `order-screw`. */
  readonly orders: ReadonlySet<string>;
  readonly setCount: number;
  /** Minutes since the epoch. */
  readonly now: number;
  readonly who: string;
  /** An entry of this build's log, or one sent earlier in the same request. */
  readonly entry: (id: string) => { readonly who?: string } | undefined;
  /** The revision in which a step was still there, for a step that is gone; null when it never was. */
  readonly lastSeen: (step: string) => number | null;
  /** It comes with a history that was once exported: its step may be gone since, and its day long past. */
  readonly brought: boolean;
  /** What keeps every entry out of a build that was closed; null or left out: it is open. */
  readonly closed?: Problem | null;
}

const MINUTES_AHEAD = 10;
const DAYS_BACK = 400;
/** This many steps are named where another was meant. */
const MOST_NAMED = 30;
/** 2020-01-01T00:00Z: no log is older; a phone that says so has lost its clock. */
const FIRST_INSTANT = 26_297_280;

const COUNTED: ReadonlySet<LogKind> = new Set(['done', 'scrapped', 'loaded', 'ordered', 'received', 'sent-back']);
const TIMED: ReadonlySet<LogKind> = new Set(['promised', 'lost']);
const WITHOUT_STEP: ReadonlySet<LogKind> = new Set(['undo', 'lost', 'confirmed', 'packed']);

/**
 * What keeps an entry out, one sentence each; empty when it can be used. Looks at its instants, at what its kind needs
 * (a count, an instant, an entry to take back) and at whether the step it names does such a thing.
 */
export function entryProblems(entry: NewLogEntry, context: EntryContext): Problem[] {
  const found = [
    ...momentProblems(entry, context),
    ...needProblems(entry),
    ...countedProblems(entry),
    ...lostProblems(entry, context),
    ...nameProblems(entry, context),
  ];
  if (entry.kind === 'undo') return [...found, ...undoProblems(entry, context)];
  if (entry.kind === 'confirmed') return [...found, ...confirmProblems(entry, context)];
  if (entry.kind === 'packed') return [...found, ...boxProblems(entry, context)];
  return [...found, ...stepProblems(entry, context)];
}

function momentProblems(entry: NewLogEntry, { now, brought }: EntryContext): Problem[] {
  const found: Problem[] = [];
  const at = readWall(entry.at, 'UTC');
  if (!at.ok) return [problem('not-a-date', 'entry.at', entry.at, at.problem)];
  const said = (what: Sentence): void => {
    found.push(problem('log', 'entry.at', entry.at, what));
  };
  if (at.value > now + MINUTES_AHEAD) {
    said(say.ahead(entry.at));
  } else if (at.value < FIRST_INSTANT) said(say.before2020(entry.at));
  else if (!brought && at.value < now - DAYS_BACK * 1440) said(say.longAgo(entry.at, DAYS_BACK));
  if (entry.until === undefined) return found;
  const until = readWall(entry.until, 'UTC');
  if (!until.ok) found.push(problem('not-a-date', 'entry.until', entry.until, until.problem));
  else if (until.value < at.value) {
    const message = say.untilBefore(entry.until, entry.at);
    found.push(problem('log', 'entry.until', entry.until, message));
  }
  return found;
}

function needProblems(entry: NewLogEntry): Problem[] {
  const { kind, n, until, undoes, confirms, step, box } = entry;
  const lacks = (field: 'n' | 'until' | 'undoes' | 'confirms' | 'step' | 'box'): Problem =>
    problem('log', `entry.${field}`, 'nothing', say.lacks(kind, field));
  const found: Problem[] = [];
  if (COUNTED.has(kind) && n === undefined) found.push(lacks('n'));
  if (TIMED.has(kind) && until === undefined) found.push(lacks('until'));
  if (kind === 'undo' && undoes === undefined) found.push(lacks('undoes'));
  if (kind === 'confirmed' && confirms === undefined) found.push(lacks('confirms'));
  if (!WITHOUT_STEP.has(kind) && step === undefined) found.push(lacks('step'));
  if (kind === 'packed' && box === undefined) found.push(lacks('box'));
  if (kind !== 'packed' && box !== undefined) found.push(problem('log', 'entry.box', box, say.onlyPacked(kind)));
  if (kind !== 'undo' && undoes !== undefined) {
    const message = say.onlyUndo(kind);
    found.push(problem('log', 'entry.undoes', undoes, message));
  }
  if (kind !== 'confirmed' && confirms !== undefined) {
    const message = say.onlyConfirmed(kind);
    found.push(problem('log', 'entry.confirms', confirms, message));
  }
  if (kind === 'passed' && n !== undefined && n !== 1) {
    found.push(problem('log', 'entry.n', n, say.passedOnce(n)));
  }
  return found;
}

/** A machine's lost time is nobody's, and only of several alike some may be out of order. */
function lostProblems({ kind, person, machine, n }: NewLogEntry, { build }: EntryContext): Problem[] {
  if (kind !== 'lost') return [];
  const found: Problem[] = [];
  if (person !== undefined && machine !== undefined) {
    const message = say.lostByTwo(person, machine);
    found.push(problem('log', 'entry.machine', machine, message));
  }
  const count = build.machines?.find(({ id }) => id === machine)?.count ?? 1;
  if (n !== undefined && machine === undefined) {
    found.push(problem('log', 'entry.n', n, say.onlyMachines));
  } else if (n !== undefined && n > count) {
    const message = say.tooMany(machine!, count, n);
    found.push(problem('log', 'entry.n', n, message));
  }
  return found;
}

/** Only of what was scrapped can be said whether it was counted before. */
function countedProblems({ kind, counted }: NewLogEntry): Problem[] {
  if (counted === undefined || kind === 'scrapped') return [];
  const message = say.onlyScrapped(kind);
  return [problem('log', 'entry.counted', counted, message)];
}

function nameProblems(entry: NewLogEntry, { build }: EntryContext): Problem[] {
  const found: Problem[] = [];
  const named = (field: 'person' | 'machine', list: readonly { readonly id: string }[]): void => {
    const id = entry[field];
    if (id === undefined || list.some((one) => one.id === id)) return;
    const there = list.map((one) => one.id);
    found.push(problem('unknown-name', `entry.${field}`, id, say.unknown(field, id, there)));
  };
  named('person', build.people ?? []);
  named('machine', build.machines ?? []);
  return found;
}

/** An undo may be undone, which brings the first entry back. */
function undoProblems({ undoes, id }: NewLogEntry, { entry, who }: EntryContext): Problem[] {
  if (undoes === undefined) return [];
  const target = undoes === id ? undefined : entry(undoes);
  if (!target) {
    return [problem('log', 'entry.undoes', undoes, say.nothingToUndo(undoes))];
  }
  if (who === MAKER || target.who === who) return [];
  const owner = target.who ?? MAKER;
  return [problem('log', 'entry.undoes', undoes, say.notYours(owner))];
}

/** Anybody who counts may say that an entry is right. */
function confirmProblems({ confirms }: NewLogEntry, { entry }: EntryContext): Problem[] {
  if (confirms === undefined || entry(confirms)) return [];
  return [problem('log', 'entry.confirms', confirms, say.nothingToConfirm(confirms))];
}

/** A box that was packed and is gone since may come with a history. */
function boxProblems({ box }: NewLogEntry, { build, brought }: EntryContext): Problem[] {
  const boxes = (build.boxes ?? []).map(({ id }) => id);
  if (box === undefined || brought || boxes.includes(box)) return [];
  return [problem('unknown-name', 'entry.box', box, say.unknown('box', box, boxes.slice(0, MOST_NAMED)))];
}

type Thing = 'step' | 'gate' | 'order';

function stepProblems(entry: NewLogEntry, context: EntryContext): Problem[] {
  const { step: id, kind } = entry;
  if (id === undefined) return [];
  const { build, orders } = context;
  const step = build.steps.find((one) => one.id === id);
  const gate = (build.gates ?? []).find((one) => one.id === id);
  if (!step && !gate && !orders.has(id)) return context.brought ? [] : [missing(id, context)];
  const thing: Thing = step ? 'step' : gate ? 'gate' : 'order';
  const unfit = unfitness(kind, thing, step);
  const found = unfit === null ? [] : [problem('log', 'entry.kind', kind, say.unfit(kind, id, unfit))];
  return [...found, ...machineProblems(entry, step), ...setProblems(entry, context)];
}

function missing(id: string, { build, lastSeen }: EntryContext): Problem {
  const revision = lastSeen(id);
  if (revision !== null) {
    const message = say.goneStep(id, revision);
    return problem('log', 'entry.step', id, message);
  }
  const all = [...build.steps, ...(build.gates ?? [])].map((one) => one.id);
  const message = say.noStep(id, build.id, all.slice(0, MOST_NAMED), all.length - MOST_NAMED);
  return problem('unknown-name', 'entry.step', id, message);
}

/** Why a kind of entry says nothing about such a thing; null when it does. */
function unfitness(kind: LogKind, thing: Thing, step: Step | undefined): Sentence | null {
  const why = say.unfitBecause;
  switch (kind) {
    case 'passed':
    case 'failed':
      return thing === 'gate' ? null : why.onlyGates;
    case 'done':
      if (thing === 'gate') return why.gate;
      return thing === 'order' ? why.order : null;
    case 'scrapped':
    case 'sent-back':
      return thing === 'gate' ? why.gateUnits : null;
    case 'loaded':
      return has(step, 'run') || goesOnByItself(step) ? null : why.noRun;
    case 'ordered':
    case 'promised':
    case 'received':
      return thing === 'order' || has(step, 'lead') ? null : why.noOrder;
    case 'began':
    case 'paused':
      return thing === 'order' ? why.nobody : null;
    default:
      return null;
  }
}

function has(step: Step | undefined, kind: 'run' | 'lead'): boolean {
  return step?.phases?.some((phase) => phase.kind === kind) ?? false;
}

/** Whether a step has a wait with more work behind it, or does nothing but wait: what was begun there goes on. */
function goesOnByItself(step: Step | undefined): boolean {
  const phases = step?.phases ?? [];
  if (step?.takes !== undefined || (phases.length > 0 && phases.every(({ kind }) => kind === 'wait'))) return true;
  return phases.some(({ kind }, i) => kind === 'wait' && phases.slice(i + 1).some((after) => after.kind !== 'wait'));
}

function machineProblems({ kind, machine }: NewLogEntry, step: Step | undefined): Problem[] {
  if (kind !== 'loaded' || machine === undefined) return [];
  const runs = (step?.phases ?? []).flatMap((phase) => (phase.kind === 'run' ? [phase.machine] : []));
  if (runs.length === 0 || runs.includes(machine)) return [];
  const message = say.otherMachine(machine, runs);
  return [problem('log', 'entry.machine', machine, message)];
}

/** An entry that names no set fills the sets in their order. */
function setProblems({ set }: NewLogEntry, { setCount }: EntryContext): Problem[] {
  if (set === undefined || set <= setCount) return [];
  const message = say.noSet(set, setCount);
  return [problem('log', 'entry.set', set, message)];
}
