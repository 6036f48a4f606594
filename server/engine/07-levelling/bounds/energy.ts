/** Bounds by energy: the minutes that a window asks of a group against those it has. */
import type { Calendar, HandsPhase, Instant, Minutes, RunPhase, Work } from '../../types.ts';
import type { Compiled } from '../generate/compiled.ts';
import type { Instance } from '../instance/instance.ts';
import { occupationsOf } from '../instance/occupations.ts';

/** Work that a group must do, from the beginning of one phase of a lot to the end of it or of a later one. */
export interface Job {
  readonly resources: readonly number[];
  readonly minutes: Minutes;
  /**
   * The phase that begins it, by its number in the forward instance, and the one that ends it, by its number in the
   * mirrored one.
   */
  readonly first: number;
  readonly last: number;
}

/**
 * Instants: the earliest start of each phase of the forward instance, and the latest end of each of the mirrored one.
 */
export interface Limits {
  readonly early: Float64Array;
  readonly late: Float64Array;
}

/** Resources that can stand in for each other, with all work that they alone may do. */
export interface Group {
  readonly kind: 'hands' | 'machine' | 'pool';
  readonly resources: readonly number[];
  readonly jobs: readonly Job[];
  readonly offer: Offer;
  /**
   * Where one job after the other must be done: when it is there; 'always' by the clock. Null where several go
   * together.
   */
  readonly oneByOne: Calendar | 'always' | null;
}

export interface Window {
  readonly start: Instant;
  readonly end: Instant;
  readonly neededMinutes: Minutes;
  readonly offeredMinutes: Minutes;
}

/** Distinct ends of windows looked at, at most. */
const MOST_ENDS = 96;
/** Lists of eligible people whose unions of two are looked at, at most. */
const MOST_LISTS = 24;

/**
 * Each pool; each machine, by the minutes it runs against its hours and by the minutes it is occupied, loading to
 * unloading, against the clock; each station by its lots; each set of people eligible for some phase, each union of two
 * such sets, and all people. Work on site is left out: the workshop does not wait for it.
 */
export function groupsOf({ work, forward }: Compiled): Group[] {
  const { hands, runs, occupied, pools } = jobsOf(work, forward);
  const groups: Group[] = [];
  const add = (kind: Group['kind'], resources: readonly number[], own: readonly Job[], byTheClock = false) => {
    const jobs = own.filter((job) => job.minutes > 0 && job.resources.every((r) => resources.includes(r)));
    if (jobs.length === 0) return;
    const [first, ...others] = resources.map((r) => work.resources[r]!);
    const isSingle = others.length === 0 && first!.capacity === 1;
    groups.push({
      kind,
      resources,
      jobs,
      offer: byTheClock ? new Offer([], first!.capacity) : new Offer([first!, ...others]),
      oneByOne: isSingle ? (byTheClock ? 'always' : first!.open) : null,
    });
  };
  work.resources.forEach(({ kind }, r) => {
    if (kind === 'pool') add('pool', [r], pools);
    if (kind === 'machine') add('machine', [r], runs);
    if (kind === 'machine' || kind === 'station') add('machine', [r], occupied, true);
  });
  for (const people of setsOfPeople(work)) add('hands', people, hands);
  return groups;
}

interface Jobs {
  readonly hands: Job[];
  readonly runs: Job[];
  readonly occupied: Job[];
  readonly pools: Job[];
}

function jobsOf(work: Work, forward: Instance): Jobs {
  const jobs: Jobs = { hands: [], runs: [], occupied: [], pools: [] };
  const least = (phases: readonly Work['lots'][number]['phases'][number][]) =>
    phases.reduce((sum, phase) => sum + (phase.kind === 'lead' ? 0 : phase.minutes), 0);
  work.lots.forEach(({ phases, onSite, begunAt, station, pinnedPeople }, l) => {
    if (onSite) return;
    const first = forward.phaseFirst[l]!;
    const isUnderWay = (i: number) => begunAt !== null && i === 0;
    const job = (resources: readonly number[], minutes: Minutes, from: number, to = from): Job => ({
      resources,
      minutes,
      first: first + from,
      last: first + phases.length - 1 - to,
    });
    phases.forEach((phase, i) => {
      if (isUnderWay(i)) return;
      if (phase.kind === 'hands' || (phase.kind === 'run' && phase.attended)) {
        jobs.hands.push(job(whoMay(phase, pinnedPeople), phase.minutes * phase.people, i));
      }
      if (phase.kind === 'demand') {
        for (const { resource, amount } of phase.demands) jobs.pools.push(job([resource], phase.minutes * amount, i));
      }
      if (phase.kind === 'run') jobs.runs.push(job([phase.machine], phase.minutes, i));
    });
    const from = begunAt === null ? 0 : 1;
    for (const occupation of occupationsOf(phases)) {
      const begin = Math.max(from, occupation.from);
      if (begin <= occupation.to)
        jobs.occupied.push(
          job([occupation.machine], least(phases.slice(begin, occupation.to + 1)), begin, occupation.to),
        );
    }
    if (station !== null && from < phases.length)
      jobs.occupied.push(job([station], least(phases.slice(from)), from, phases.length - 1));
  });
  return jobs;
}

/** Who may be in the crew of a phase: those it is pinned to, where they are enough. */
function whoMay(
  { eligible, people }: HandsPhase | RunPhase,
  pinnedPeople: readonly number[] | null,
): readonly number[] {
  const pinned = (pinnedPeople ?? []).filter((person) => eligible.includes(person));
  return pinned.length >= Math.max(1, people) ? pinned : eligible;
}

function setsOfPeople(work: Work): number[][] {
  const sets = new Map<string, number[]>();
  const add = (people: readonly number[]) => {
    const sorted = [...new Set(people)].sort((a, b) => a - b);
    if (sorted.length > 0) sets.set(sorted.join(' '), sorted);
  };
  const eligible = new Map<string, readonly number[]>();
  for (const { phases, pinnedPeople } of work.lots) {
    for (const phase of phases) {
      if (phase.kind !== 'hands' && phase.kind !== 'run') continue;
      const may = whoMay(phase, pinnedPeople);
      eligible.set(may.join(' '), may);
    }
  }
  const lists = [...eligible.values()].slice(0, MOST_LISTS);
  lists.forEach((a, i) => {
    for (const b of lists.slice(i)) add([...a, ...b]);
  });
  add([...work.resources.keys()].filter((r) => work.resources[r]!.kind === 'person'));
  return [...sets.values()];
}

/** Minutes that several resources offer together: in their hours, or `always` of them by the clock. */
class Offer {
  constructor(
    private readonly parts: readonly { readonly open: Calendar; readonly capacity: number }[],
    private readonly always = 0,
  ) {}

  /** Those before t, up to a constant. */
  before(t: Instant): Minutes {
    let sum = this.always * t;
    for (const { open, capacity } of this.parts) sum += capacity * openBefore(open, t);
    return sum;
  }
}

function openBefore({ opens, closes, openBefore }: Calendar, t: Instant): Minutes {
  let low = 0;
  let high = opens.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (opens[middle]! <= t) low = middle + 1;
    else high = middle;
  }
  return low === 0 ? 0 : openBefore[low - 1]! + Math.min(t, closes[low - 1]!) - opens[low - 1]!;
}

/**
 * The window in which the work that must lie there is most above, or least below, what the group offers, within these
 * limits. More needed than offered: that cannot be. O(jobs log jobs) and at most 96 by 96 windows.
 */
export function tightestWindow({ jobs, offer }: Group, { early, late }: Limits): Window | null {
  const begins = beginsOf(jobs, early);
  const latest = new Float64Array(jobs.length);
  for (let i = 0; i < jobs.length; i++) latest[i] = late[jobs[i]!.last]!;
  const { starts } = begins;
  const ends = sample(latest.slice());
  const offered = ends.map((end) => offer.before(end));
  const needed = neededIn(jobs, begins, latest, ends);
  let best: Window | null = null;
  let bestExcess = Number.NEGATIVE_INFINITY;
  starts.forEach((start, s) => {
    const offeredBefore = offer.before(start);
    for (let e = 0; e < ends.length; e++) {
      const neededMinutes = needed[s * ends.length + e]!;
      if (neededMinutes === 0) continue;
      const offeredMinutes = Math.max(0, offered[e]! - offeredBefore);
      if (neededMinutes - offeredMinutes <= bestExcess) continue;
      bestExcess = neededMinutes - offeredMinutes;
      best = { start, end: Math.max(start, ends[e]!), neededMinutes, offeredMinutes };
    }
  });
  return best;
}

/**
 * The minutes of all jobs that begin at a start or later and end by an end, for each of the starts and each of the ends
 * (start by start): each job is put down once, and what is put down is added up over later starts and earlier ends. The
 * first of the starts is before all jobs.
 */
function neededIn(
  jobs: readonly Job[],
  { starts, startOf }: Begins,
  latest: Float64Array,
  ends: readonly Instant[],
): Float64Array {
  const width = ends.length;
  const needed = new Float64Array(starts.length * width);
  for (let i = 0; i < jobs.length; i++) {
    const end = countUpTo(ends, latest[i]! - 1);
    if (end < width) needed[startOf[i]! * width + end]! += jobs[i]!.minutes;
  }
  for (let s = starts.length - 1; s >= 0; s--) {
    let byThen = 0;
    for (let e = 0; e < width; e++) {
      byThen += needed[s * width + e]!;
      needed[s * width + e] = byThen + (s + 1 < starts.length ? needed[(s + 1) * width + e]! : 0);
    }
  }
  return needed;
}

/** When the jobs of a group can begin. */
interface Begins {
  readonly early: Float64Array;
  /** The first instant of windows. */
  readonly starts: readonly Instant[];
  /** By job, the last of these that is not after its begin. */
  readonly startOf: Int32Array;
}

const known = new WeakMap<readonly Job[], Begins>();

/** The begins of jobs, kept as long as they are asked for by the same limits. */
function beginsOf(jobs: readonly Job[], early: Float64Array): Begins {
  const there = known.get(jobs);
  if (there?.early === early) return there;
  const heads = new Float64Array(jobs.length);
  for (let i = 0; i < jobs.length; i++) heads[i] = early[jobs[i]!.first]!;
  const starts = sample(heads.slice());
  const startOf = new Int32Array(jobs.length);
  for (let i = 0; i < jobs.length; i++) startOf[i] = countUpTo(starts, heads[i]!) - 1;
  const begins = { early, starts, startOf };
  known.set(jobs, begins);
  return begins;
}

/** How many of these instants, which rise, are not after another. */
function countUpTo(instants: readonly Instant[], instant: Instant): number {
  let [low, high] = [0, instants.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (instants[middle]! <= instant) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Instants that differ, rising: all of them, or 96 spread over them, the first and the last among these. Sorts
 * `values`.
 */
function sample(values: Float64Array): Instant[] {
  values.sort();
  const distinct: Instant[] = [];
  for (let i = 0; i < values.length; i++) if (i === 0 || values[i] !== values[i - 1]) distinct.push(values[i]!);
  if (distinct.length <= MOST_ENDS) return distinct;
  return Array.from(
    { length: MOST_ENDS },
    (_, i) => distinct[Math.floor((i * (distinct.length - 1)) / (MOST_ENDS - 1))]!,
  );
}
