/** Whether a log entry can be used in this build: what the schema cannot see. */
import { readWall } from '../engine/index.ts';
import { type Build, type LogKind, type NewLogEntry, type Problem, problem, type Step } from '../model/index.ts';

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
}

const MINUTES_AHEAD = 10;
const DAYS_BACK = 400;
/** So many steps are named where another was meant. */
const MOST_NAMED = 30;
/** 2020-01-01T00:00Z: no log is older; a phone that says so has lost its clock. */
const FIRST_INSTANT = 26_297_280;

const COUNTED: ReadonlySet<LogKind> = new Set(['done', 'scrapped', 'loaded', 'ordered', 'received', 'sent-back']);
const TIMED: ReadonlySet<LogKind> = new Set(['promised', 'lost']);
const WITHOUT_STEP: ReadonlySet<LogKind> = new Set(['undo', 'lost', 'confirmed']);

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
  return [...found, ...stepProblems(entry, context)];
}

function momentProblems(entry: NewLogEntry, { now, brought }: EntryContext): Problem[] {
  const found: Problem[] = [];
  const at = readWall(entry.at, 'UTC');
  if (!at.ok) return [problem('not-a-date', 'entry.at', entry.at, at.problem.message)];
  const said = (message: string): void => {
    found.push(problem('log', 'entry.at', entry.at, message));
  };
  if (at.value > now + MINUTES_AHEAD) {
    said(`The entry happened at ${entry.at}, which is still to come; set the clock of the device that made it.`);
  } else if (at.value < FIRST_INSTANT || (!brought && at.value < now - DAYS_BACK * 1440)) {
    const limit = at.value < FIRST_INSTANT ? 'before 2020' : `more than ${DAYS_BACK} days ago`;
    said(`The entry happened at ${entry.at}, ${limit}; set the clock of the device that made it.`);
  }
  if (entry.until === undefined) return found;
  const until = readWall(entry.until, 'UTC');
  if (!until.ok) found.push(problem('not-a-date', 'entry.until', entry.until, until.problem.message));
  else if (until.value < at.value) {
    const message = `"until" (${entry.until}) lies before the entry itself (${entry.at}); it must be later.`;
    found.push(problem('log', 'entry.until', entry.until, message));
  }
  return found;
}

function needProblems(entry: NewLogEntry): Problem[] {
  const { kind, n, until, undoes, confirms, step } = entry;
  const lacks = (field: string, why: string): Problem =>
    problem('log', `entry.${field}`, 'nothing', `An entry of kind "${kind}" needs "${field}": ${why}.`);
  const found: Problem[] = [];
  if (COUNTED.has(kind) && n === undefined) found.push(lacks('n', 'how many units, a whole number from 1'));
  if (TIMED.has(kind) && until === undefined) found.push(lacks('until', 'the instant at which it ends or arrives'));
  if (kind === 'undo' && undoes === undefined) found.push(lacks('undoes', 'the id of the entry to take back'));
  if (kind === 'confirmed' && confirms === undefined)
    found.push(lacks('confirms', 'the id of the entry that is right'));
  if (!WITHOUT_STEP.has(kind) && step === undefined) found.push(lacks('step', 'the id of a step or a gate'));
  if (kind !== 'undo' && undoes !== undefined) {
    const message = `Only an entry of kind "undo" takes another back; this one is "${kind}".`;
    found.push(problem('log', 'entry.undoes', undoes, message));
  }
  if (kind !== 'confirmed' && confirms !== undefined) {
    const message = `Only an entry of kind "confirmed" confirms another; this one is "${kind}".`;
    found.push(problem('log', 'entry.confirms', confirms, message));
  }
  if (kind === 'passed' && n !== undefined && n !== 1) {
    found.push(problem('log', 'entry.n', n, `A gate is passed once; "n" must be 1 or left out, not ${n}.`));
  }
  return found;
}

/** A machine's lost time is nobody's, and only of several alike some may be out of order. */
function lostProblems({ kind, person, machine, n }: NewLogEntry, { build }: EntryContext): Problem[] {
  if (kind !== 'lost') return [];
  const found: Problem[] = [];
  if (person !== undefined && machine !== undefined) {
    const message = `Lost time is of a person or of a machine, not of both; send one entry for "${person}" and one for "${machine}".`;
    found.push(problem('log', 'entry.machine', machine, message));
  }
  const count = build.machines?.find(({ id }) => id === machine)?.count ?? 1;
  if (n !== undefined && machine === undefined) {
    found.push(problem('log', 'entry.n', n, 'Only of a machine can some be out of order; leave "n" out.'));
  } else if (n !== undefined && n > count) {
    const message = `There ${count === 1 ? 'is one' : `are ${count}`} of "${machine}"; "n" must be from 1 to ${count}, not ${n}.`;
    found.push(problem('log', 'entry.n', n, message));
  }
  return found;
}

/** Only of what was scrapped can be said whether it was counted before. */
function countedProblems({ kind, counted }: NewLogEntry): Problem[] {
  if (counted === undefined || kind === 'scrapped') return [];
  const message = `Only an entry of kind "scrapped" says whether its units were counted; this one is "${kind}".`;
  return [problem('log', 'entry.counted', counted, message)];
}

function nameProblems(entry: NewLogEntry, { build }: EntryContext): Problem[] {
  const found: Problem[] = [];
  const named = (field: 'person' | 'machine', list: readonly { readonly id: string }[]): void => {
    const id = entry[field];
    if (id === undefined || list.some((one) => one.id === id)) return;
    const there = list.map((one) => one.id).join(', ') || 'none';
    found.push(
      problem('unknown-name', `entry.${field}`, id, `There is no ${field} "${id}" in this build (there: ${there}).`),
    );
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
    return [
      problem('log', 'entry.undoes', undoes, `There is no entry "${undoes}" in the log of this build to take back.`),
    ];
  }
  if (who === MAKER || target.who === who) return [];
  const owner = target.who ?? MAKER;
  return [
    problem('log', 'entry.undoes', undoes, `That entry is ${owner}'s; only ${owner} or the maker may take it back.`),
  ];
}

/** Anybody who counts may say that an entry is right. */
function confirmProblems({ confirms }: NewLogEntry, { entry }: EntryContext): Problem[] {
  if (confirms === undefined || entry(confirms)) return [];
  return [problem('log', 'entry.confirms', confirms, `There is no entry "${confirms}" in the log of this build.`)];
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
  const found = unfit === null ? [] : [problem('log', 'entry.kind', kind, `"${kind}" is not for "${id}": ${unfit}.`)];
  return [...found, ...machineProblems(entry, step), ...setProblems(entry, context)];
}

function missing(id: string, { build, lastSeen }: EntryContext): Problem {
  const revision = lastSeen(id);
  if (revision !== null) {
    const message = `The step "${id}" is gone: it was last there in revision ${revision}. Count on the step that took its place, or put it back.`;
    return problem('log', 'entry.step', id, message);
  }
  const all = [...build.steps, ...(build.gates ?? [])].map((one) => one.id);
  const more = all.length > MOST_NAMED ? ` and ${all.length - MOST_NAMED} more` : '';
  const there = all.length === 0 ? 'none' : `${all.slice(0, MOST_NAMED).join(', ')}${more}`;
  const message = `There is no step or gate "${id}" in the build "${build.id}" (there: ${there}).`;
  return problem('unknown-name', 'entry.step', id, message);
}

/** Why a kind of entry says nothing about such a thing; null when it does. */
function unfitness(kind: LogKind, thing: Thing, step: Step | undefined): string | null {
  switch (kind) {
    case 'passed':
    case 'failed':
      return thing === 'gate' ? null : 'only a gate is passed or failed';
    case 'done':
      if (thing === 'gate') return 'a gate is passed or failed';
      return thing === 'order' ? 'what is ordered is received' : null;
    case 'scrapped':
    case 'sent-back':
      return thing === 'gate' ? 'a gate has no units; name the step whose units they are' : null;
    case 'loaded':
      return has(step, 'run') || waitsInTheMiddle(step)
        ? null
        : 'no machine runs there, and nothing waits in the middle of it';
    case 'ordered':
    case 'promised':
    case 'received':
      return thing === 'order' || has(step, 'lead') ? null : 'nothing is ordered there';
    case 'began':
    case 'paused':
      return thing === 'order' ? 'nobody works on an order' : null;
    default:
      return null;
  }
}

function has(step: Step | undefined, kind: 'run' | 'lead'): boolean {
  return step?.phases?.some((phase) => phase.kind === kind) ?? false;
}

/** Whether a step has a wait with more work behind it: what was begun there goes on by itself. */
function waitsInTheMiddle(step: Step | undefined): boolean {
  const phases = step?.phases ?? [];
  return phases.some(({ kind }, i) => kind === 'wait' && phases.slice(i + 1).some((after) => after.kind !== 'wait'));
}

function machineProblems({ kind, machine }: NewLogEntry, step: Step | undefined): Problem[] {
  if (kind !== 'loaded' || machine === undefined) return [];
  const runs = (step?.phases ?? []).flatMap((phase) => (phase.kind === 'run' ? [phase.machine] : []));
  if (runs.length === 0 || runs.includes(machine)) return [];
  const message = `"${machine}" does not run in this step; it runs on ${runs.join(', ')}.`;
  return [problem('log', 'entry.machine', machine, message)];
}

/** An entry that names no set fills the sets in their order. */
function setProblems({ set }: NewLogEntry, { setCount }: EntryContext): Problem[] {
  if (set === undefined || set <= setCount) return [];
  const message = `There is no set ${set}; the sets of this build are numbered 1 to ${setCount}.`;
  return [problem('log', 'entry.set', set, message)];
}
