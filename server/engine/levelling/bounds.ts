import type { Instant, Minutes, OpenTime, Work } from '../types.ts';
import type { Compiled } from './compiled.ts';
import { unlimitedTimes } from './orders.ts';
import type { TextbookData } from './textbook.ts';

/** What no order of work can beat, and what says so. */
export interface Bound {
  /** No schedule has the workshop's part ready earlier. */
  readonly readyAt: Instant;
  readonly by: 'critical-path' | 'hands' | 'machine' | 'pool' | 'search';
  /** The resources that can stand in for each other and are short; empty for the critical path and for the search. */
  readonly resources: readonly number[];
  /**
   * The window in which, to be ready by the ready-by, these resources would have to do most more than they can (or lack
   * least to fill it). Null where hands and machines are not asked.
   */
  readonly window: {
    readonly start: Instant;
    readonly end: Instant;
    readonly neededMinutes: Minutes;
    readonly offeredMinutes: Minutes;
  } | null;
  /** Needed minus offered in that window; positive: it cannot be done by these hands. 0 where there is no window. */
  readonly shortMinutes: Minutes;
}

/** Distinct ends of windows looked at, at most. */
const MOST_ENDS = 96;

/**
 * The greater of the critical path through the calendars and, for every resource and every set of people who can stand in
 * for each other, the energy bound over windows of time: work that cannot begin before a and must be followed by so much
 * more, against the minutes that the calendars offer from a on. O(resource sets times lots squared) for the windows, of
 * which at most 96 by 96 are looked at.
 */
export function boundOf(compiled: Compiled): Bound {
  const { work, forward, mirrored } = compiled;
  const early = unlimitedTimes(forward);
  const scale = (time: number) => forward.origin + time * forward.tick;
  let readyAt = work.now;
  work.lots.forEach((lot, l) => {
    if (!lot.onSite) readyAt = Math.max(readyAt, scale(early.finishes[l]!));
  });
  const late = unlimitedTimes(mirrored);
  const jobs = jobsOf(compiled, early.starts, late.starts);
  let bound: Bound = { readyAt, by: 'critical-path', resources: [], window: null, shortMinutes: 0 };
  let worst: Bound | null = null;
  for (const group of groupsOf(work)) {
    const own = jobs.filter(
      (job) => job.resources.every((r) => group.resources.includes(r)) && job.kind === group.kind,
    );
    if (own.length === 0) continue;
    const offer = new Offer(group.resources.map((r) => work.resources[r]!));
    const energy = energyBound(own, offer);
    const window = tightestWindow(own, offer, work.readyBy);
    const found: Bound = {
      readyAt: Math.max(readyAt, energy),
      by: group.kind,
      resources: group.resources,
      window,
      shortMinutes: window === null ? 0 : window.neededMinutes - window.offeredMinutes,
    };
    if (found.readyAt > bound.readyAt) bound = found;
    if (found.shortMinutes > 0 && (worst === null || found.shortMinutes > worst.shortMinutes)) worst = found;
  }
  // An overbooked window proves lateness even where no energy bound reaches beyond the ready-by.
  return worst !== null && bound.readyAt <= work.readyBy
    ? { ...worst, readyAt: Math.max(bound.readyAt, work.readyBy + 1) }
    : bound;
}

interface Job {
  readonly kind: 'hands' | 'machine' | 'pool';
  readonly resources: readonly number[];
  readonly minutes: Minutes;
  /** Its lot cannot begin earlier; clock minutes that must pass after the phase began, its own lot and followers. */
  readonly head: Instant;
  readonly tail: Minutes;
  /** Its lot must be finished by then for the ready-by. */
  readonly lateFinish: Instant;
}

function jobsOf(compiled: Compiled, earlyStarts: Int32Array, lateStarts: Int32Array): Job[] {
  const { work, forward } = compiled;
  const after = clockTails(work);
  const jobs: Job[] = [];
  work.lots.forEach((lot, l) => {
    if (lot.onSite) return;
    let head = forward.origin + earlyStarts[l]! * forward.tick;
    const lateFinish = forward.plain
      ? work.readyBy - lateStarts[l]! * forward.tick
      : Math.min(-lateStarts[l]!, work.readyBy);
    let tail = after[l]!;
    for (const phase of lot.phases) if (phase.kind !== 'lead') tail += phase.minutes;
    for (const phase of lot.phases) {
      if (phase.kind === 'lead') continue;
      tail -= phase.minutes;
      const add = (kind: Job['kind'], resources: readonly number[], minutes: number) =>
        jobs.push({ kind, resources, minutes, head, tail, lateFinish });
      if (lot.begunAt === null || phase !== lot.phases[0]) {
        if (phase.kind === 'hands' || (phase.kind === 'run' && phase.attended)) {
          add(
            'hands',
            lot.pinnedPeople === null ? phase.eligible : [...new Set([...phase.eligible, ...lot.pinnedPeople])],
            phase.minutes * phase.people,
          );
        }
        if (phase.kind === 'run') add('machine', [phase.machine], phase.minutes);
        if (phase.kind === 'demand')
          for (const { resource, amount } of phase.demands) add('pool', [resource], phase.minutes * amount);
      }
      head += phase.minutes;
    }
  });
  return jobs;
}

/** Clock minutes that must pass after each lot's finish before the workshop is ready: the longest path, calendars apart. */
function clockTails(work: Work): Float64Array {
  const tails = new Float64Array(work.lots.length);
  const minutes = work.lots.map((lot) =>
    lot.phases.reduce((sum, phase) => sum + (phase.kind === 'lead' ? 0 : phase.minutes), 0),
  );
  const next: (readonly [number, number])[][] = work.lots.map(() => []);
  const open = new Int32Array(work.lots.length);
  for (const link of work.links) {
    // Open minutes are at least so many clock minutes, but a head start of open minutes may be any number of them.
    if (link.type !== 'finish-start' || (link.lagMinutes < 0 && link.lagOpen !== null)) continue;
    if (work.lots[link.to]!.onSite || work.lots[link.to]!.begunAt !== null) continue;
    next[link.to]!.push([link.from, link.lagMinutes]);
    open[link.from]!++;
  }
  const ready = [...open.keys()].filter((l) => open[l] === 0);
  for (let l = ready.pop(); l !== undefined; l = ready.pop()) {
    for (const [from, lag] of next[l]!) {
      tails[from] = Math.max(tails[from]!, tails[l]! + minutes[l]! + lag);
      if (--open[from]! === 0) ready.push(from);
    }
  }
  return tails;
}

interface Group {
  readonly kind: Job['kind'];
  readonly resources: readonly number[];
}

/** Each machine, each pool, each set of people eligible for some phase, each union of two such sets, and all people. */
function groupsOf(work: Work): Group[] {
  const sets = new Map<string, Group>();
  const add = (kind: Job['kind'], resources: readonly number[]) => {
    const sorted = [...new Set(resources)].sort((a, b) => a - b);
    sets.set(`${kind} ${sorted.join(' ')}`, { kind, resources: sorted });
  };
  const eligible = new Map<string, readonly number[]>();
  work.resources.forEach(({ kind }, r) => {
    if (kind === 'machine' || kind === 'pool') add(kind, [r]);
  });
  for (const lot of work.lots) {
    for (const phase of lot.phases)
      if (phase.kind === 'hands' || phase.kind === 'run') eligible.set(phase.eligible.join(' '), phase.eligible);
  }
  const lists = [...eligible.values()].filter((list) => list.length > 0).slice(0, 24);
  lists.forEach((a, i) => {
    for (const b of lists.slice(i)) add('hands', [...a, ...b]);
  });
  add(
    'hands',
    [...work.resources.keys()].filter((r) => work.resources[r]!.kind === 'person'),
  );
  return [...sets.values()];
}

/** Minutes that several resources offer together. */
class Offer {
  private readonly parts: { readonly open: OpenTime; readonly capacity: number }[];

  constructor(parts: readonly { readonly open: OpenTime; readonly capacity: number }[]) {
    this.parts = [...parts];
  }

  before(t: Instant): Minutes {
    let sum = 0;
    for (const { open, capacity } of this.parts) {
      const { opens, closes, openBefore } = open;
      let low = 0;
      let high = opens.length;
      while (low < high) {
        const middle = (low + high) >> 1;
        if (opens[middle]! <= t) low = middle + 1;
        else high = middle;
      }
      if (low > 0) sum += capacity * (openBefore[low - 1]! + Math.min(t, closes[low - 1]!) - opens[low - 1]!);
    }
    return sum;
  }

  between(from: Instant, to: Instant): Minutes {
    return to <= from ? 0 : this.before(to) - this.before(from);
  }

  /** The first instant by which `minutes` have been offered since `from`; beyond the calendars, their end. */
  by(from: Instant, minutes: Minutes): Instant {
    const target = this.before(from) + minutes;
    let low = from;
    let high = from;
    for (const { open } of this.parts) high = Math.max(high, open.closes[open.closes.length - 1] ?? from);
    while (low < high) {
      const middle = Math.floor((low + high) / 2);
      if (this.before(middle) >= target) high = middle;
      else low = middle + 1;
    }
    return low;
  }
}

/** For every head a and tail q: work that begins after a and is followed by q or more ends after its minutes are offered. */
function energyBound(jobs: readonly Job[], offer: Offer): Instant {
  let bound = Number.NEGATIVE_INFINITY;
  const byTail = [...jobs].sort((a, b) => b.tail - a.tail);
  for (const from of sample(jobs.map((job) => job.head))) {
    let minutes = 0;
    byTail.forEach((job, i) => {
      if (job.head >= from) minutes += job.minutes;
      if (minutes === 0 || byTail[i + 1]?.tail === job.tail) return;
      // Only what does not fit before the bound so far can raise it.
      if (offer.between(from, bound - job.tail) < minutes) bound = Math.max(bound, offer.by(from, minutes) + job.tail);
    });
  }
  return bound;
}

/** The window in which the work that must lie there is most above, or least below, what is offered. */
function tightestWindow(jobs: readonly Job[], offer: Offer, readyBy: Instant): Bound['window'] {
  let best: NonNullable<Bound['window']> | null = null;
  const byEnd = [...jobs].sort((a, b) => a.lateFinish - b.lateFinish);
  const ends = sample([...jobs.map((job) => job.lateFinish), readyBy]).map((end) => ({
    end,
    offered: offer.before(end),
  }));
  for (const start of sample(jobs.map((job) => job.head))) {
    const offeredBefore = offer.before(start);
    let needed = 0;
    let i = 0;
    for (const { end, offered } of ends) {
      for (; i < byEnd.length && byEnd[i]!.lateFinish <= end; i++)
        if (byEnd[i]!.head >= start) needed += byEnd[i]!.minutes;
      if (end <= start || needed === 0) continue;
      if (best === null || needed - (offered - offeredBefore) > best.neededMinutes - best.offeredMinutes) {
        best = { start, end, neededMinutes: needed, offeredMinutes: offered - offeredBefore };
      }
    }
  }
  return best;
}

function sample(values: readonly number[]): number[] {
  const distinct = [...new Set(values)].sort((a, b) => a - b);
  if (distinct.length <= MOST_ENDS) return distinct;
  return Array.from(
    { length: MOST_ENDS },
    (_, i) => distinct[Math.floor((i * (distinct.length - 1)) / (MOST_ENDS - 1))]!,
  );
}

/**
 * The bound of a textbook problem, in ticks: for each pool, heads, work and tails of every pair of thresholds (A. Mingozzi
 * et al., Management Science 44, 1998, name it among others); for each pair of lots that cannot run together, one after
 * the other.
 */
export function textbookBound(data: TextbookData): number {
  const { lots, minutes, demand, capacity, head, tail } = data;
  let bound = 0;
  for (let i = 0; i < lots; i++) bound = Math.max(bound, head[i]! + tail[i]!);
  const byTail = [...Array(lots).keys()].sort((a, b) => tail[b]! - minutes[b]! - tail[a]! + minutes[a]!);
  const heads = [...new Set(head)];
  for (let r = 0; r < capacity.length; r++) {
    for (const from of heads) {
      let work = 0;
      for (const i of byTail) {
        if (head[i]! < from || demand[i * capacity.length + r] === 0) continue;
        work += minutes[i]! * demand[i * capacity.length + r]!;
        bound = Math.max(bound, from + Math.ceil(work / capacity[r]!) + tail[i]! - minutes[i]!);
      }
    }
  }
  return bound;
}
