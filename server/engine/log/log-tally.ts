/** What the log says has happened: the counts by step and set, and what is under way. */

import { type LogEntry, type Problem, problem } from '../../model/index.ts';
import { effectOf, ownerOf, standingEntries } from '../../model/log/index.ts';
import type { LostTime } from '../calendar/index.ts';
import { readWall } from '../calendar/index.ts';
import type { Instant } from '../types.ts';

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
  /** Whoever is named, else whoever tapped. */
  readonly by: string;
  /** The supplier's own word, by a `promised` entry after the order. */
  promisedAt: Instant | null;
  /** Units of it not back yet. */
  open: number;
}

export interface SetTally {
  /** Good units that have passed, after what was sent back. */
  good: number;
  /** When `good` changed, and by how much, in order. */
  counts: [at: Instant, change: number][];
  scrapped: number;
  /** Those of them whose entry does not say whether they had been counted: nobody was asked what was in them. */
  scrappedUnasked: number;
  starts: OpenStart[];
  /** For a gate: passed and not failed or sent back since. */
  passed: boolean;
  failures: number;
  firstAt: Instant | null;
}

export interface StepTally extends SetTally {
  readonly sets: Map<number, SetTally>;
  lastAt: Instant | null;
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
 * Adds up a log. Entries are taken in the order in which they happened (`at`, then the number of arrival); an `undo`
 * takes one entry back, and an undo of an undo brings it back. Never throws: an entry that names nothing is kept out of
 * the counts.
 */
export function tallyLog(entries: readonly TimedEntry[]): Tally {
  const standing = standingInOrder(entries);
  const steps = new Map<string, StepTally>();
  const lost: LostTime[] = [];
  for (const entry of standing) {
    if (entry.kind === 'lost') {
      if (entry.until !== null && entry.until > entry.at) lost.push(lostTime(entry, entry.until));
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
    if (wrong !== null) problems.push(problem('log', `log.${entry.id}`, wrong.value, wrong));
    if (!at.ok || (until !== null && !until.ok)) return [];
    return [{ ...entry, at: at.value, until: until === null ? null : until.value }];
  });
  return { entries, problems };
}

/** The tally of a step that nobody has logged. */
export function emptyStep(): StepTally {
  return { ...emptySet(), sets: new Map(), lastAt: null };
}

function lostTime({ person, machine, n, at }: TimedEntry, until: Instant): LostTime {
  const count = machine === undefined ? null : (n ?? null);
  return { person: person ?? null, machine: machine ?? null, count, from: at, until };
}

/** Entries that stand, in the order in which they happened. */
function standingInOrder(entries: readonly TimedEntry[]): TimedEntry[] {
  return standingEntries(entries).sort(inOrder);
}

/** When an entry happened and arrived. */
type InTime = Pick<TimedEntry, 'at' | 'id'> & { readonly seq?: number | undefined };

/** The one that happened first comes first, of the same minute the one that arrived first. */
export function inOrder(a: InTime, b: InTime): number {
  return a.at - b.at || (a.seq ?? 0) - (b.seq ?? 0) || (a.id < b.id ? -1 : 1);
}

function emptySet(): SetTally {
  return {
    good: 0,
    counts: [],
    scrapped: 0,
    scrappedUnasked: 0,
    starts: [],
    passed: false,
    failures: 0,
    firstAt: null,
  };
}

function apply(tally: SetTally, entry: TimedEntry): void {
  const { good, scrapped, begun, back, gate } = effectOf(entry);
  if (good !== 0) count(tally, entry.at, Math.max(good, -tally.good));
  tally.scrapped += scrapped;
  if (entry.counted === undefined) tally.scrappedUnasked += scrapped;
  if (back > 0) close(tally, back);
  if (begun > 0) tally.starts.push(startOf(entry, begun));
  if (gate !== null) tally.passed = gate === 'passed';
  if (gate === 'failed') tally.failures += 1;
  if (entry.kind === 'promised') promise(tally, entry);
}

function count(tally: SetTally, at: Instant, change: number): void {
  tally.good += change;
  tally.counts.push([at, change]);
}

function startOf(entry: TimedEntry, units: number): OpenStart {
  return {
    entry: entry.id,
    kind: entry.kind === 'ordered' ? 'ordered' : 'loaded',
    units,
    at: entry.at,
    machine: entry.machine ?? null,
    by: ownerOf(entry),
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
