/** From the entries of one step to timed counts: so many units in so many minutes of hands. */
import type { TimedEntry } from './log-tally.ts';
import type { Instant, Minutes, OpenTime } from './types.ts';

/** Units worked (good and scrapped) in minutes of the phase; `at` is when they were counted. */
export interface TimedCount {
  readonly at: Instant;
  readonly units: number;
  readonly minutes: Minutes;
  /** Units of the step worked before these, timed or not. */
  readonly unitsBefore: number;
}

export interface Readings {
  readonly counts: readonly TimedCount[];
  /** Units counted in a time that cannot be told. */
  readonly untimedUnits: number;
}

export interface ReadingOptions {
  /** Minutes a unit is thought to take: what tells work from a gap. */
  readonly minutesPerUnit: number;
  /** People the step needs at once; where more clocks run than that, their minutes add up. */
  readonly people: number;
  /** When those who may do it are there. */
  readonly open: OpenTime;
}

/** Longest stretch between two entries that is taken for one sitting, unless the units in it explain more (common sense, no source). */
const LONGEST_STRETCH = 8 * 60;
/** The same without a run clock: a gap between two counts might be anything. */
const LONGEST_UNCLOCKED = 4 * 60;

/**
 * Reads the timed counts of `step` from the standing entries of a log (in the order in which they happened). Time counts while
 * a run clock of the step runs; without one, from one count of the step to the next when nothing else was logged in between. Of
 * such a stretch the closed time that lies wholly inside it (a lunch, a night) is left out, and a stretch longer than these units can
 * explain is not read at all: its units are untimed. Counts at one instant are one count. O(entries).
 */
export function readingsOf(step: string, standing: readonly TimedEntry[], options: ReadingOptions): Readings {
  const counts: TimedCount[] = [];
  const running = new Set<string>();
  let everRan = false;
  let worked = 0;
  let untimedUnits = 0;
  let mark: Instant | null = null;
  let pending: Minutes | null = 0;
  const groups = groupsOf(step, standing);
  for (const group of groups) {
    const clocked = running.size > 0;
    if (mark !== null && (clocked || (group.units > 0 && !everRan && !group.interrupted))) {
      const ran = stretchMinutes(mark, group.at, group.units, clocked, options);
      const hands = clocked ? Math.max(1, running.size / options.people) : 1;
      pending = ran === null || pending === null ? null : pending + ran * hands;
    }
    if (group.units > 0) {
      if (pending !== null && pending > 0) {
        counts.push({ at: group.at, units: group.units, minutes: pending, unitsBefore: worked });
      } else untimedUnits += group.units;
      worked += group.units;
      pending = 0;
      mark = group.at;
    }
    for (const entry of group.clocks) {
      everRan = true;
      turn(running, entry);
      mark = group.at;
    }
  }
  return { counts, untimedUnits };
}

interface Group {
  readonly at: Instant;
  units: number;
  /** Whether something else was logged since the group before. */
  readonly interrupted: boolean;
  readonly clocks: TimedEntry[];
}

function groupsOf(step: string, standing: readonly TimedEntry[]): Group[] {
  const groups: Group[] = [];
  let interrupted = false;
  for (const entry of standing) {
    if (entry.step !== step) {
      if (entry.kind !== 'promised' && entry.kind !== 'received') interrupted = true;
      continue;
    }
    const units = entry.kind === 'done' || entry.kind === 'scrapped' ? (entry.n ?? 1) : 0;
    const clock = entry.kind === 'began' || entry.kind === 'paused';
    if (units === 0 && !clock) continue;
    let group = groups.at(-1);
    if (group === undefined || group.at !== entry.at || (units > 0 && group.clocks.length > 0)) {
      group = { at: entry.at, units: 0, interrupted, clocks: [] };
      groups.push(group);
    }
    interrupted = false;
    group.units += units;
    if (clock) group.clocks.push(entry);
  }
  return groups;
}

/** A clock belongs to the person it names, or to whoever tapped; a pause of somebody whose clock does not run stops them all. */
function turn(running: Set<string>, entry: TimedEntry): void {
  const whose = entry.person ?? entry.who ?? '';
  if (entry.kind === 'began') running.add(whose);
  else if (!running.delete(whose)) running.clear();
}

function stretchMinutes(
  from: Instant,
  to: Instant,
  units: number,
  clocked: boolean,
  options: ReadingOptions,
): Minutes | null {
  const minutes = to - from - closedInside(options.open, from, to);
  const expected = Math.max(1, units) * options.minutesPerUnit;
  const longest = clocked
    ? Math.max(LONGEST_STRETCH, 3 * expected)
    : Math.max(60, Math.min(LONGEST_UNCLOCKED, 10 * expected));
  return minutes > longest ? null : minutes;
}

/** Minutes of the closed stretches that lie wholly within [from, to]: whoever works at either end of it was plainly there. */
function closedInside({ opens, closes }: OpenTime, from: Instant, to: Instant): Minutes {
  let closed = 0;
  for (let i = 1; i < opens.length; i++) {
    if (opens[i]! > to) break;
    if (closes[i - 1]! >= from) closed += opens[i]! - closes[i - 1]!;
  }
  return closed;
}
