/** What the log says has happened: the counts by step and set, and what is under way. */
import { type LogEntry, type Problem, problem } from '../model/index.ts';
import { readWall } from './clock.ts';
import type { Instant } from './types.ts';

/** A log entry with its instants as whole minutes. */
export interface TimedEntry extends Omit<LogEntry, 'at' | 'until'> {
  readonly at: Instant;
  readonly until: Instant | null;
}

/** A machine load or an order that has begun and is not back yet. */
export interface OpenStart {
  readonly entry: string;
  readonly kind: 'loaded' | 'ordered';
  readonly units: number;
  readonly at: Instant;
  readonly machine: string | null;
  /** The supplier's own word, by a `promised` entry after the order. */
  promisedAt: Instant | null;
  /** Units of it not back yet. */
  open: number;
}

export interface SetTally {
  /** Good units that have passed, after what was sent back. */
  done: number;
  /** When `done` changed, and by how much, in order. */
  counts: [at: Instant, change: number][];
  scrapped: number;
  starts: OpenStart[];
  /** Of a gate: passed and not failed or sent back since. */
  passed: boolean;
  failures: number;
  /** The run clock of the step is running since. */
  beganAt: Instant | null;
  firstAt: Instant | null;
}

export interface StepTally extends SetTally {
  readonly sets: Map<number, SetTally>;
  lastAt: Instant | null;
}

export interface LostTime {
  readonly person: string | null;
  readonly from: Instant;
  readonly until: Instant;
}

export interface Tally {
  readonly steps: ReadonlyMap<string, StepTally>;
  readonly lost: readonly LostTime[];
  /** Entries that stand, in the order in which they happened: those undone, and the undoing, left out. */
  readonly standing: readonly TimedEntry[];
  readonly firstAt: Instant | null;
  readonly lastAt: Instant | null;
}

/**
 * Adds up a log. Entries are taken in the order in which they happened (`at`, then the number of arrival); an `undo` takes
 * one entry back, and an undo of an undo brings it back. Never throws: an entry that names nothing is kept out of the counts.
 */
export function tallyLog(entries: readonly TimedEntry[]): Tally {
  const standing = standingEntries(entries);
  const steps = new Map<string, StepTally>();
  const lost: LostTime[] = [];
  for (const entry of standing) {
    if (entry.kind === 'lost') {
      if (entry.until !== null && entry.until > entry.at)
        lost.push({ person: entry.person ?? null, from: entry.at, until: entry.until });
    } else if (entry.step !== undefined) {
      const step = steps.get(entry.step) ?? emptyStep();
      steps.set(entry.step, step);
      step.firstAt ??= entry.at;
      step.lastAt = entry.at;
      apply(step, entry);
      if (entry.set !== undefined) {
        const set = step.sets.get(entry.set) ?? emptySet();
        step.sets.set(entry.set, set);
        set.firstAt ??= entry.at;
        apply(set, entry);
      }
    }
  }
  return {
    steps,
    lost,
    standing,
    firstAt: standing[0]?.at ?? null,
    lastAt: standing.at(-1)?.at ?? null,
  };
}

/** Entries with their instants as minutes; one that cannot be read is a problem and is left out. */
export function timedEntries(log: readonly LogEntry[]): { entries: TimedEntry[]; problems: Problem[] } {
  const problems: Problem[] = [];
  const entries = log.flatMap((entry): TimedEntry[] => {
    const at = readWall(entry.at, 'UTC');
    const until = entry.until === undefined ? null : readWall(entry.until, 'UTC');
    const wrong = !at.ok ? at.problem : until !== null && !until.ok ? until.problem : null;
    if (wrong !== null) problems.push(problem('log', `log.${entry.id}`, wrong.value, wrong.message));
    if (!at.ok || (until !== null && !until.ok)) return [];
    return [{ ...entry, at: at.value, until: until === null ? null : until.value }];
  });
  return { entries, problems };
}

/** The tally of a step that nobody has logged. */
export function emptyStep(): StepTally {
  return { ...emptySet(), sets: new Map(), lastAt: null };
}

/** Entries that are not undone, sorted by when they happened. What only answers a question is left out. */
export function standingEntries(entries: readonly TimedEntry[]): TimedEntry[] {
  const undoneBy = new Map<string, string[]>();
  const ids = new Set<string>();
  for (const entry of entries) {
    if (ids.has(entry.id)) continue;
    ids.add(entry.id);
    if (entry.kind === 'undo' && entry.undoes !== undefined) {
      undoneBy.set(entry.undoes, [...(undoneBy.get(entry.undoes) ?? []), entry.id]);
    }
  }
  // An undo may itself be undone, so whether an entry stands depends on the undos that stand; a chain is walked with a guard against circles.
  const stands = (id: string, seen: ReadonlySet<string>): boolean =>
    !(undoneBy.get(id) ?? []).some((undo) => !seen.has(undo) && stands(undo, new Set([...seen, undo])));
  const kept = new Set<string>();
  return entries
    .filter((entry) => {
      if (entry.kind === 'undo' || entry.kind === 'confirmed' || kept.has(entry.id)) return false;
      kept.add(entry.id);
      return stands(entry.id, new Set([entry.id]));
    })
    .sort((a, b) => a.at - b.at || (a.seq ?? 0) - (b.seq ?? 0) || (a.id < b.id ? -1 : 1));
}

function emptySet(): SetTally {
  return { done: 0, counts: [], scrapped: 0, starts: [], passed: false, failures: 0, beganAt: null, firstAt: null };
}

function apply(tally: SetTally, entry: TimedEntry): void {
  const n = entry.n ?? 1;
  switch (entry.kind) {
    case 'done':
    case 'received':
      count(tally, entry.at, n);
      close(tally, n);
      break;
    case 'scrapped':
      tally.scrapped += n;
      close(tally, n);
      break;
    case 'sent-back':
      count(tally, entry.at, -Math.min(n, tally.done));
      break;
    case 'loaded':
    case 'ordered':
      tally.starts.push(begun(entry, entry.kind, n));
      break;
    case 'promised':
      promise(tally, entry);
      break;
    case 'passed':
      tally.passed = true;
      count(tally, entry.at, n);
      break;
    case 'failed':
      tally.passed = false;
      tally.failures += 1;
      break;
    case 'began':
      tally.beganAt = entry.at;
      break;
    case 'paused':
      tally.beganAt = null;
      break;
    default:
      break;
  }
}

function count(tally: SetTally, at: Instant, change: number): void {
  tally.done += change;
  tally.counts.push([at, change]);
}

function begun(entry: TimedEntry, kind: OpenStart['kind'], units: number): OpenStart {
  return {
    entry: entry.id,
    kind,
    units,
    at: entry.at,
    machine: entry.machine ?? null,
    promisedAt: null,
    open: units,
  };
}

/** What comes back closes the oldest starts first. */
function close(tally: SetTally, units: number): void {
  let left = units;
  for (const start of tally.starts) {
    const taken = Math.min(left, start.open);
    start.open -= taken;
    left -= taken;
  }
  tally.starts = tally.starts.filter((start) => start.open > 0);
}

/** A promise speaks of the oldest open order that has none, or else moves the promise of the oldest. */
function promise(tally: SetTally, entry: TimedEntry): void {
  const orders = tally.starts.filter((start) => start.kind === 'ordered');
  const order = orders.find((start) => start.promisedAt === null) ?? orders[0];
  if (order !== undefined && entry.until !== null) order.promisedAt = entry.until;
}
