/**
 * What is kept but asked about: a count above what is left, more taken back than was counted, the same lot logged by
 * two people, and a load that goes into a full machine.
 */
import {
  type Build,
  type Forecast,
  type ForecastSet,
  type LogEntry,
  type NewLogEntry,
  problemTexts,
  saidOf,
} from '../model/index.ts';
import { effectOf, standingAmong } from '../model/log/index.ts';
import type { Doubt } from '../store/index.ts';
import { type FullMachine, fullMachine, secondsOf } from './machine-loads.ts';

const SECONDS_APART = 60;
/** Nothing was taken back. */
const NONE: Pick<Answers, 'isGone'> = { isGone: () => false };
/** Kinds that say nothing of units. */
const NEVER_TWICE: ReadonlySet<LogEntry['kind']> = new Set(['undo', 'began', 'paused', 'confirmed', 'packed']);

/** What an entry is compared with. */
export interface Standing {
  readonly build: Build;
  readonly forecast: Forecast | null;
  /** What the forecast does not know of yet, and what was sent with this entry before it. */
  readonly since: Since;
  readonly sent: readonly LogEntry[];
  /** The whole log in order of arrival. */
  log(): readonly LogEntry[];
  /** Entries of the log that say the same as one, see `sayingOf`, in order of arrival. */
  alike(entry: NewLogEntry): readonly LogEntry[];
  /** What the log and what was sent say of each other. */
  answers(): Answers;
}

/** The last entries of a log, each question about them answered once. */
interface Since {
  readonly count: number;
  readonly hasUndo: boolean;
  /** As `unitsOf`, with nothing taken back. */
  units(of: NewLogEntry): number;
}

/** Taps come many at a time for the same step. */
export function sinceOf(entries: readonly LogEntry[]): Since {
  const known = new Map<string, number>();
  return {
    count: entries.length,
    hasUndo: entries.some(isUndo),
    units: (of) => {
      const key = `${of.step} ${of.set ?? ''}`;
      const units = known.get(key) ?? unitsOf(of, entries, NONE);
      known.set(key, units);
      return units;
    },
  };
}

/** What the entries of a log say of each other. */
export interface Answers {
  /** Whether an entry has been taken back, by an undo that was not taken back itself. */
  isGone(id: string): boolean;
  /** Whether somebody has said that an entry is right, and has not taken that back. */
  isRight(id: string): boolean;
}

/** Reads what a log, and what was sent after it, say of each other. O(entries). */
export function answersIn(log: readonly LogEntry[], sent: readonly LogEntry[] = []): Answers {
  const all = sent.length === 0 ? log : [...log, ...sent];
  const { stands } = standingAmong(all);
  const right = new Set<string>();
  for (const { id, confirms } of all) if (confirms !== undefined && stands(id)) right.add(confirms);
  return { isGone: (id) => !stands(id), isRight: (id) => right.has(id) };
}

/** What an entry says, as far as another may say it again: which entry an undo takes back, else what was counted. */
export function sayingOf({ kind, step, set, n, undoes }: NewLogEntry): string {
  return kind === 'undo' ? `undo ${undoes}` : `${kind} ${step} ${set ?? ''} ${n ?? ''}`;
}

/** The questions that an entry raises, in sentences; most raise none. It is stored all the same. */
export function doubtsOf(entry: NewLogEntry, standing: Standing): Doubt[] {
  const again = twice(entry, standing);
  const asked = [
    tooMany(entry, standing),
    tooFew(entry, standing),
    again,
    undoneBefore(entry, standing),
    // One load that two people logged goes in once.
    again === null ? intoFullMachine(entry, standing) : null,
  ];
  return asked.filter((one) => one !== null).map((one) => ({ entry: entry.id, ...one }));
}

/** What the questions about a log are held against. */
interface Asking {
  readonly build: Build;
  readonly answers: Answers;
  readonly find: (id: string) => LogEntry | undefined;
  log(): readonly LogEntry[];
}

/**
 * Those that nobody has answered: neither of the two entries has been taken back, and nobody has confirmed it. What was
 * in a machine may have been counted since.
 */
export function openDoubts(asked: readonly Doubt[], { build, answers, find, log }: Asking): Doubt[] {
  const { isGone, isRight } = answers;
  const isSettled = (id: string): boolean => isGone(id) || isRight(id);
  const isCountedOut = (id: string): boolean => {
    const load = find(id);
    return load?.kind === 'loaded' && fullMachine(load, build, log(), isGone) === null;
  };
  return asked.filter(({ entry, other }) => {
    if (isSettled(entry)) return false;
    return other === null ? !isCountedOut(entry) : !isSettled(other);
  });
}

/**
 * Whether a count above what is left has been asked about already: each further tap there is the same question while it
 * is open, and none once somebody has said that they are there. It is asked again when more is counted at once than was
 * said to be right, or when the plan has since asked for as many as there were then.
 */
export function isAsked(
  { other }: Doubt,
  entry: NewLogEntry,
  asked: readonly Doubt[],
  standing: Standing,
  find: (id: string) => LogEntry | undefined,
): boolean {
  if (other !== null || entry.kind === 'undo') return false;
  const same = asked.flatMap((doubt) => {
    const one = doubt.other === null ? find(doubt.entry) : undefined;
    return one?.step === entry.step && one?.set === entry.set && one?.kind === entry.kind ? [one] : [];
  });
  if (same.length === 0) return false;
  const { isGone, isRight } = standing.answers();
  const full = entry.kind === 'loaded' ? machineFor(entry, standing) : null;
  return same.some((one) => {
    if (isGone(one.id)) return false;
    // Once somebody has said that it takes more, until that load is out.
    if (full !== null) return full.loads.has(one.id) && (isRight(one.id) || one.who === entry.who);
    if (!isRight(one.id)) return one.who === entry.who;
    return (entry.n ?? 1) <= (one.n ?? 1) && wasAbove(one, standing);
  });
}

/** Whether the plan as it is asks for fewer than were counted up to an entry and with it. */
function wasAbove(one: LogEntry, standing: Standing): boolean {
  const all = [...standing.log(), ...standing.sent];
  const later = all.slice(all.findIndex(({ id }) => id === one.id) + 1);
  const known = countedOf(one, standing.forecast);
  const before = madeSince(one, standing) - unitsOf(one, later, standing.answers());
  return known !== null && known.counted + before > known.total;
}

type Asked = Omit<Doubt, 'entry'> | null;

function tooMany(entry: NewLogEntry, standing: Standing): Asked {
  const { forecast } = standing;
  if ((entry.kind !== 'done' && entry.kind !== 'received') || entry.n === undefined) return null;
  const step = forecast?.steps.find((one) => one.id === entry.step);
  const counted = countedOf(entry, forecast);
  // What is ordered comes in packs and may well be more than is needed.
  if (!step || !counted || step.kind === 'order') return null;
  const left = Math.max(0, counted.left - madeSince(entry, standing));
  if (entry.n <= left) return null;
  const question = problemTexts.questions.tooMany(step.name, entry.set ?? null, left, entry.n);
  return { question: saidOf(question), other: null };
}

/** More units scrapped after they were counted, or sent back, than are counted as done. */
function tooFew(entry: NewLogEntry, standing: Standing): Asked {
  const lost = -effectOf(entry).good;
  const step = standing.forecast?.steps.find((one) => one.id === entry.step);
  const known = countedOf(entry, standing.forecast);
  if (lost <= 0 || !step || !known) return null;
  const counted = Math.max(0, known.counted + madeSince(entry, standing));
  if (lost <= counted) return null;
  const question = problemTexts.questions.tooFew(step.name, entry.set ?? null, counted, lost);
  return { question: saidOf(question), other: null };
}

/** What the forecast says of the set that an entry was counted for, or of all sets of the step together. */
function countedOf(
  { step, set }: NewLogEntry,
  forecast: Forecast | null,
): Pick<ForecastSet, 'total' | 'counted' | 'left'> | null {
  const found = forecast?.steps.find((one) => one.id === step);
  if (!found) return null;
  const { total, left, sets } = found;
  return (
    sets.find((one) => one.set === (set ?? null)) ?? {
      total,
      left,
      counted: sets.reduce((sum, { counted }) => sum + counted, 0),
    }
  );
}

/**
 * Units of the step (and set) that the forecast does not know of yet, less those that it knows and that were taken back
 * since.
 */
function madeSince(of: NewLogEntry, { since, sent, log, answers }: Standing): number {
  if (!since.hasUndo && !sent.some(isUndo)) return since.units(of) + unitsOf(of, sent, NONE);
  const all = log();
  const before = all.slice(0, all.length - since.count);
  return unitsOf(of, all, answers()) + unitsOf(of, sent, answers()) - unitsOf(of, before, answersIn(before));
}

function isUndo({ kind }: LogEntry): boolean {
  return kind === 'undo';
}

/** Units of the step (and set) of an entry by which some entries that stand have moved what is done. */
function unitsOf(
  { step, set }: NewLogEntry,
  entries: readonly LogEntry[],
  { isGone }: Pick<Answers, 'isGone'>,
): number {
  let units = 0;
  for (const one of entries) {
    if (one.step === step && (set === undefined || one.set === set) && !isGone(one.id)) units += effectOf(one).good;
  }
  return units;
}

/**
 * The same count of the same step by somebody else within a minute: two lots, or one logged twice? Two people who tap
 * one unit at a time side by side are not asked.
 */
function twice(entry: NewLogEntry, { forecast, alike, sent, answers }: Standing): Asked {
  if (NEVER_TWICE.has(entry.kind) || entry.n === 1) return null;
  const at = secondsOf(entry);
  const near = [...alike(entry), ...sent].filter(
    (one) =>
      one.step === entry.step &&
      one.n === entry.n &&
      one.kind === entry.kind &&
      one.who !== entry.who &&
      one.set === entry.set &&
      Math.abs(secondsOf(one) - at) <= SECONDS_APART,
  );
  const same = near.find(({ id }) => !answers().isGone(id));
  if (!same) return null;
  const name = forecast?.steps.find((one) => one.id === entry.step)?.name ?? entry.step;
  const question = problemTexts.questions.twice(
    { first: same.who ?? null, second: entry.who ?? null, n: entry.n ?? null, kind: entry.kind },
    name ?? null,
  );
  return { question: saidOf(question), other: same.id };
}

function undoneBefore(entry: NewLogEntry, { alike, sent, answers }: Standing): Asked {
  if (entry.kind !== 'undo') return null;
  const before = [...alike(entry), ...sent].find((one) => one.undoes === entry.undoes && !answers().isGone(one.id));
  if (!before) return null;
  return { question: saidOf(problemTexts.questions.undoneBefore(before.who ?? null)), other: null };
}

/** A load that goes into a machine while the one before is not counted out of it. */
function intoFullMachine(entry: NewLogEntry, standing: Standing): Asked {
  const full = entry.kind === 'loaded' ? machineFor(entry, standing) : null;
  if (full === null) return null;
  const { machine, step, units } = full;
  return { question: saidOf(problemTexts.questions.fullMachine(machine, step, units, entry.n ?? 1)), other: null };
}

function machineFor(entry: NewLogEntry, { build, log, sent, answers }: Standing): FullMachine | null {
  return fullMachine(entry, build, [...log(), ...sent], answers().isGone);
}
