/** The lower bound: the latest of all the reasons why nothing can finish earlier. */
import type { Instant, Minutes } from '../../types.ts';
import type { Compiled } from '../generate/compiled.ts';
import { instants } from '../generate/schedule.ts';
import { type Group, groupsOf, type Limits, tightestWindow, type Window } from './energy.ts';
import { reachOf } from './reach.ts';
import { Supposed } from './suppose.ts';
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
  readonly window: Window | null;
  /** Needed minus offered in that window; positive: it cannot be done by these hands. 0 where there is no window. */
  readonly shortMinutes: Minutes;
}

/** First step beyond an instant that is ruled out; doubled until one is not. */
const STEP = 60;

/**
 * The latest instant before which the workshop can be shown not to be ready. To begin with the critical path through
 * the calendars; then, for every resource and every set of resources that can stand in for each other (`groupsOf`),
 * destructive bounding (R. Klein and A. Scholl, European Journal of Operational Research 112, 1999, from memory): an
 * end is supposed, latest finishes follow from it backwards through the calendars, and where a window of time asks for
 * more minutes than the group offers in it, that end is ruled out; last, by pairs of jobs that must be done one after
 * the other (`Supposed.clash`). The least end not ruled out is sought by bisection. Some twenty passes over lots and
 * windows.
 */
export function boundOf(compiled: Compiled): Bound {
  const { work, forward } = compiled;
  const early = reachOf(forward);
  const time = instants(forward);
  const path = Math.max(work.now, ...work.lots.map((lot, l) => (lot.onSite ? work.now : time(early.finishes[l]!))));
  const groups = groupsOf(compiled);
  const supposed = new Supposed(compiled, groups);
  const horizon = Math.max(path, forward.calendars.horizon);
  let readyAt = path;
  let tightest: Group | null = null;
  for (const group of byExcess(groups, supposed.limits(path))) {
    const isRuledOut = (end: Instant) => excessOf(tightestWindow(group, supposed.limits(end))) > 0;
    if (!isRuledOut(readyAt)) continue;
    readyAt = leastNotRuledOut(readyAt, horizon, isRuledOut);
    tightest = group;
  }
  if (supposed.clash(readyAt) !== null) {
    readyAt = leastNotRuledOut(readyAt, horizon, (end) => supposed.clash(end) !== null);
    tightest = supposed.clash(readyAt - 1);
  }
  return worded(groups, tightest, readyAt, supposed.limits(work.readyBy));
}

/** Those first that are most likely to rule out the latest end: what others would rule out is then asked but once. */
function byExcess(groups: readonly Group[], limits: Limits): readonly Group[] {
  const excess = groups.map((group) => excessOf(tightestWindow(group, limits)) / Math.max(1, group.resources.length));
  const order = [...groups.keys()].sort((a, b) => excess[b]! - excess[a]! || a - b);
  return order.map((i) => groups[i]!);
}

/** The least end above `ruledOut` that is not ruled out, up to `horizon`, where the calendars end. */
function leastNotRuledOut(ruledOut: Instant, horizon: Instant, isRuledOut: (end: Instant) => boolean): Instant {
  let low = ruledOut;
  let high = low + 1;
  for (let step = STEP; high < horizon && isRuledOut(high); step *= 2) {
    low = high;
    high = Math.min(horizon, high + step);
  }
  while (low + 1 < high) {
    const middle = Math.floor((low + high) / 2);
    if (isRuledOut(middle)) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * The bound with what says so: the group that is most overbooked before the ready-by, else the one that raised it last.
 */
function worded(groups: readonly Group[], tightest: Group | null, readyAt: Instant, limits: Limits): Bound {
  let group = tightest;
  let window = tightest === null ? null : tightestWindow(tightest, limits);
  for (const other of groups) {
    const found = tightestWindow(other, limits);
    if (excessOf(found) > Math.max(0, excessOf(window))) [group, window] = [other, found];
  }
  if (group === null) return { readyAt, by: 'critical-path', resources: [], window: null, shortMinutes: 0 };
  return { readyAt, by: group.kind, resources: group.resources, window, shortMinutes: excessOf(window) };
}

function excessOf(window: Window | null): Minutes {
  return window === null ? 0 : window.neededMinutes - window.offeredMinutes;
}

/**
 * The bound of a textbook instance, in ticks: for each pool, heads, work and tails of every pair of thresholds (A.
 * Mingozzi et al., Management Science 44, 1998, name it among others); for each pair of lots that cannot run together,
 * one after the other.
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
