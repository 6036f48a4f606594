/**
 * Arithmetic on open time: when somebody is there, and what a number of their minutes amounts to on the clock.
 *
 * Two rules hold all through this file.
 *
 * 1. A finish is at the end of the time worked, a start at its beginning. Work that fills a Friday to its last minute
 *    finishes on Friday evening, not on Monday morning; work that must be done by Monday morning may start as late as
 *    Friday's last hours, and if Friday is not needed, its latest start is Monday's opening and not Friday's close.
 * 2. Forwards and backwards are exact mirrors: `addOpenMinutes(open, s, m) <= t` if and only if `s <=
 *    subtractOpenMinutes(open, t, m)`, and likewise for the two `InOneGo` functions. So a backward pass gives the true
 *    latest start, to the minute.
 *
 * Outside its intervals open time is closed; a calendar compiled for too short a time runs out. What runs out is NEVER
 * (forwards) or LONG_AGO (backwards), which all functions here pass on, so no wrong number comes of it.
 */
import type { Calendar, Instant, Minutes } from '../types.ts';

/** Later than every instant: there is not enough open time after the given moment. */
export const NEVER: Instant = 2_147_483_647;
/** Earlier than every instant: there is not enough open time before the given moment. */
export const LONG_AGO: Instant = -2_147_483_648;

/**
 * True for an instant, false for NEVER and LONG_AGO. O(1).
 *
 *     isInstant(NEVER) // false
 */
export function isInstant(t: Instant): boolean {
  return t > LONG_AGO && t < NEVER;
}

/** `t` moved by clock minutes, which may be negative; NEVER and LONG_AGO stay what they are. O(1). */
export function addClockMinutes(t: Instant, minutes: Minutes): Instant {
  if (!isInstant(t)) return t;
  const moved = t + minutes;
  return moved >= NEVER ? NEVER : moved <= LONG_AGO ? LONG_AGO : moved;
}

/**
 * The finish of `minutes` open minutes begun at or after `t`: the least instant by which that many have passed. 0
 * minutes finish at `t` itself, open or not: nothing needs nobody. NEVER when the open time does not suffice. O(log n).
 *
 * @example open 08:00-12:00 and 13:00-17:00: 11:00 + 60 = 12:00, 11:00 + 61 = 13:01, 12:30 + 0 = 12:30
 *
 *     addOpenMinutes(calendarFrom([[480, 720], [780, 1020]]), 660, 61) // 781
 */
export function addOpenMinutes(open: Calendar, t: Instant, minutes: Minutes): Instant {
  if (minutes < 0) return subtractOpenMinutes(open, t, -minutes);
  if (minutes === 0 || !isInstant(t)) return t;
  const i = lastAtOrBefore(open.opens, t);
  const target = openMinutesUpTo(open, t, i) + minutes;
  const next = open.openBefore[i + 1];
  if (i >= 0 && next !== undefined && target <= next) return open.opens[i]! + target - open.openBefore[i]!;
  const j = lastAtOrBefore(open.openBefore, target - 1);
  if (j < 0) return NEVER;
  const finish = open.opens[j]! + target - open.openBefore[j]!;
  return finish > open.closes[j]! ? NEVER : finish;
}

/**
 * The latest start from which `minutes` open minutes are over by `t`: the greatest instant s with that many in [s, t).
 * 0 minutes start at `t` itself. LONG_AGO when there are not that many before `t`. O(log n).
 *
 * @example open 08:00-12:00 and 13:00-17:00: 14:00 - 60 = 13:00, 14:00 - 61 = 11:59
 *
 *     subtractOpenMinutes(calendarFrom([[480, 720], [780, 1020]]), 840, 61) // 719
 */
export function subtractOpenMinutes(open: Calendar, t: Instant, minutes: Minutes): Instant {
  if (minutes < 0) return addOpenMinutes(open, t, -minutes);
  if (minutes === 0 || !isInstant(t)) return t;
  const target = openMinutesUpTo(open, t, lastAtOrBefore(open.opens, t)) - minutes;
  if (target < 0) return LONG_AGO;
  const j = lastAtOrBefore(open.openBefore, target);
  return open.opens[j]! + target - open.openBefore[j]!;
}

/**
 * Open minutes from `from` to `to`; negative when `to` comes first. O(log n).
 *
 *     openMinutesBetween(calendarFrom([[480, 720], [780, 1020]]), 660, 840) // 120
 */
export function openMinutesBetween(open: Calendar, from: Instant, to: Instant): Minutes {
  return openMinutesBefore(open, to) - openMinutesBefore(open, from);
}

/** Open minutes before `t`, counted from the calendar's beginning. O(log n). */
function openMinutesBefore(open: Calendar, t: Instant): Minutes {
  return openMinutesUpTo(open, t, lastAtOrBefore(open.opens, t));
}

/**
 * All open minutes of the calendar. O(1).
 *
 *     totalOpenMinutes(calendarFrom([[480, 720], [780, 1020]])) // 480
 */
export function totalOpenMinutes(open: Calendar): Minutes {
  const last = open.opens.length - 1;
  return last < 0 ? 0 : open.openBefore[last]! + open.closes[last]! - open.opens[last]!;
}

/**
 * The earliest start, at or after `t`, of `minutes` that lie inside one open interval; it finishes `minutes` later.
 * 0 minutes start at `t` itself. NEVER when no later interval is long enough. O(log n).
 *
 *     earliestStartInOneGo(calendarFrom([[480, 720], [780, 1020]]), 660, 61) // 780
 */
export function earliestStartInOneGo(open: Calendar, t: Instant, minutes: Minutes): Instant {
  if (minutes === 0 || !isInstant(t)) return t;
  const i = lastAtOrBefore(open.opens, t);
  if (i >= 0 && open.closes[i]! - t >= minutes) return t;
  const j = firstIntervalOfLength(open, i + 1, minutes);
  return j < 0 ? NEVER : open.opens[j]!;
}

/**
 * The latest start of `minutes` that lie inside one open interval and are over by `t`; they finish `minutes` later.
 * 0 minutes start at `t` itself. LONG_AGO when no earlier interval is long enough. O(log n).
 */
export function latestStartInOneGo(open: Calendar, t: Instant, minutes: Minutes): Instant {
  if (minutes === 0 || !isInstant(t)) return t;
  const i = lastAtOrBefore(open.opens, t);
  if (i < 0) return LONG_AGO;
  const end = Math.min(t, open.closes[i]!);
  if (end - open.opens[i]! >= minutes) return end - minutes;
  const j = lastIntervalOfLength(open, i - 1, minutes);
  return j < 0 ? LONG_AGO : open.closes[j]! - minutes;
}

/**
 * Whether the minute that begins at `t` is open. O(log n).
 *
 *     isOpen(calendarFrom([[480, 720]]), 720) // false
 */
export function isOpen(open: Calendar, t: Instant): boolean {
  const i = lastAtOrBefore(open.opens, t);
  return i >= 0 && t < open.closes[i]!;
}

/**
 * The first open minute at or after `t`: `t` itself when it is open; NEVER when none is left. O(log n).
 *
 *     nextOpen(calendarFrom([[480, 720], [780, 1020]]), 730) // 780
 */
export function nextOpen(open: Calendar, t: Instant): Instant {
  const i = lastAtOrBefore(open.opens, t);
  if (i >= 0 && t < open.closes[i]!) return t;
  return open.opens[i + 1] ?? NEVER;
}

/**
 * The last moment at or before `t` up to which it is open: the minute just before it is one; LONG_AGO when there is
 * none. O(log n).
 */
export function previousOpen(open: Calendar, t: Instant): Instant {
  const i = lastAtOrBefore(open.opens, t - 1);
  return i < 0 ? LONG_AGO : Math.min(t, open.closes[i]!);
}

/** Open from `from` to `to` without a break: the calendar of a textbook. */
export function alwaysOpen(from: Instant, to: Instant): Calendar {
  return calendarFrom([[from, to]]);
}

/** Never open. */
export const NEVER_OPEN: Calendar = calendarFrom([]);

/**
 * Open time from half-open intervals [from, to) in any order; overlapping and touching ones become one, empty ones
 * vanish. Throws a RangeError for an instant that is not whole or for one that ends before it begins. O(n log n).
 *
 *     intervalsOf(calendarFrom([[480, 600], [600, 720]])) // [[480, 720]]
 */
export function calendarFrom(intervals: Iterable<readonly [Instant, Instant]>): Calendar {
  const sorted = [...intervals].sort((a, b) => a[0] - b[0]);
  const opens: Instant[] = [];
  const closes: Instant[] = [];
  for (const [from, to] of sorted) {
    if (!Number.isInteger(from) || !Number.isInteger(to) || to < from) {
      throw new RangeError(`open time needs whole minutes with from <= to, got [${from}, ${to})`);
    }
    const last = closes.length - 1;
    if (to === from) continue;
    if (last >= 0 && from <= closes[last]!) closes[last] = Math.max(closes[last]!, to);
    else {
      opens.push(from);
      closes.push(to);
    }
  }
  return fromSorted(opens, closes);
}

/** The intervals [from, to) in order. */
export function intervalsOf(open: Calendar): [Instant, Instant][] {
  return Array.from(open.opens, (from, i) => [from, open.closes[i]!]);
}

/**
 * Open when any of them is. O(n log n).
 *
 *     intervalsOf(unionOf([calendarFrom([[0, 10]]), calendarFrom([[5, 20]])])) // [[0, 20]]
 */
export function unionOf(calendars: readonly Calendar[]): Calendar {
  return calendars.length === 1 ? calendars[0]! : atLeastOpen(1, calendars);
}

/**
 * Open when all of them are; throws a RangeError for an empty list, which has no intersection. O(n log n).
 *
 *     intervalsOf(intersectionOf([calendarFrom([[0, 10]]), calendarFrom([[5, 20]])])) // [[5, 10]]
 */
export function intersectionOf(calendars: readonly Calendar[]): Calendar {
  if (calendars.length === 0) throw new RangeError('an intersection needs at least one calendar');
  return calendars.length === 1 ? calendars[0]! : atLeastOpen(calendars.length, calendars);
}

/** Open when at least `count` of them are; `count` must be 1 or more. Sweep over all opens and closes, O(n log n). */
export function atLeastOpen(count: number, calendars: readonly Calendar[]): Calendar {
  if (!Number.isInteger(count) || count < 1) throw new RangeError(`at least 1 must be open, got ${count}`);
  const opens = sortedTogether(calendars.map((calendar) => calendar.opens));
  const closes = sortedTogether(calendars.map((calendar) => calendar.closes));
  const from: Instant[] = [];
  const to: Instant[] = [];
  let there = 0;
  let i = 0;
  for (const close of closes) {
    // An open that meets a close counts first: one takes over from the other without a gap.
    for (; i < opens.length && opens[i]! <= close; i++) if (++there === count) from.push(opens[i]!);
    if (there-- === count) to.push(close);
  }
  return mergeTouching(from, to);
}

/** Open when `open` is and `taken` is not. O(n + m). */
export function subtractOpenTime(open: Calendar, taken: Calendar): Calendar {
  const opens: Instant[] = [];
  const closes: Instant[] = [];
  let j = 0;
  for (let i = 0; i < open.opens.length; i++) {
    const close = open.closes[i]!;
    let from = open.opens[i]!;
    while (j < taken.closes.length && taken.closes[j]! <= from) j++;
    for (let k = j; k < taken.opens.length && taken.opens[k]! < close; k++) {
      if (taken.opens[k]! > from) {
        opens.push(from);
        closes.push(taken.opens[k]!);
      }
      from = Math.max(from, taken.closes[k]!);
    }
    if (from < close) {
      opens.push(from);
      closes.push(close);
    }
  }
  return fromSorted(opens, closes);
}

/** The part of `open` that is in [from, to). O(log n + intervals kept). */
export function clipOpenTime(open: Calendar, from: Instant, to: Instant): Calendar {
  const opens: Instant[] = [];
  const closes: Instant[] = [];
  for (let i = Math.max(0, lastAtOrBefore(open.opens, from)); i < open.opens.length && open.opens[i]! < to; i++) {
    const [first, last] = [Math.max(from, open.opens[i]!), Math.min(to, open.closes[i]!)];
    if (last <= first) continue;
    opens.push(first);
    closes.push(last);
  }
  return opens.length === 0 ? NEVER_OPEN : fromSorted(opens, closes);
}

function mergeTouching(from: readonly Instant[], to: readonly Instant[]): Calendar {
  const opens: Instant[] = [];
  const closes: Instant[] = [];
  from.forEach((open, i) => {
    if (open === to[i]) return;
    if (closes.at(-1) === open) closes.pop();
    else opens.push(open);
    closes.push(to[i]!);
  });
  return fromSorted(opens, closes);
}

function fromSorted(opens: readonly Instant[], closes: readonly Instant[]): Calendar {
  const openBefore = new Int32Array(opens.length);
  for (let i = 1; i < opens.length; i++) openBefore[i] = openBefore[i - 1]! + closes[i - 1]! - opens[i - 1]!;
  return { opens: Int32Array.from(opens), closes: Int32Array.from(closes), openBefore };
}

function sortedTogether(arrays: readonly Int32Array[]): Int32Array {
  const all = new Int32Array(arrays.reduce((length, array) => length + array.length, 0));
  let at = 0;
  for (const array of arrays) {
    all.set(array, at);
    at += array.length;
  }
  return all.sort();
}

function openMinutesUpTo(open: Calendar, t: Instant, i: number): Minutes {
  return i < 0 ? 0 : open.openBefore[i]! + Math.min(t, open.closes[i]!) - open.opens[i]!;
}

/** The last index whose value is at most `value`, or -1. */
function lastAtOrBefore(values: Int32Array, value: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (values[middle]! <= value) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

function firstIntervalOfLength(open: Calendar, from: number, minutes: Minutes): number {
  const near = Math.min(from + NEARBY, open.opens.length);
  for (let i = from; i < near; i++) if (open.closes[i]! - open.opens[i]! >= minutes) return i;
  return near === open.opens.length ? -1 : searchLengths(lengthsOf(open), near, minutes, 1);
}

function lastIntervalOfLength(open: Calendar, from: number, minutes: Minutes): number {
  const near = Math.max(from - NEARBY, -1);
  for (let i = from; i > near; i--) if (open.closes[i]! - open.opens[i]! >= minutes) return i;
  return near < 0 ? -1 : searchLengths(lengthsOf(open), near, minutes, -1);
}

/** The next evenings usually suffice; the tree below is for the piece that only a rare long day can take. */
const NEARBY = 8;

/** A tree of the longest interval under each node, in heap order, leaves last; kept as long as its calendar. */
const lengthTrees = new WeakMap<Calendar, Int32Array>();

function lengthsOf(open: Calendar): Int32Array {
  const known = lengthTrees.get(open);
  if (known) return known;
  let leaves = 1;
  while (leaves < open.opens.length) leaves *= 2;
  const tree = new Int32Array(2 * leaves);
  for (let i = 0; i < open.opens.length; i++) tree[leaves + i] = open.closes[i]! - open.opens[i]!;
  for (let node = leaves - 1; node > 0; node--) tree[node] = Math.max(tree[2 * node]!, tree[2 * node + 1]!);
  lengthTrees.set(open, tree);
  return tree;
}

/** The nearest leaf from `from` on (direction 1) or back (direction -1) that is at least `minutes` long, or -1. */
function searchLengths(tree: Int32Array, from: number, minutes: Minutes, direction: 1 | -1): number {
  const leaves = tree.length / 2;
  const near = direction === 1 ? 0 : 1;
  let node = leaves + from;
  while (tree[node]! < minutes) {
    // Climb while this is the far child, then cross over to the sibling that is further on.
    while (node > 1 && (node & 1) !== near) node >>= 1;
    if (node <= 1) return -1;
    node += direction;
  }
  while (node < leaves) node = 2 * node + (tree[2 * node + near]! >= minutes ? near : 1 - near);
  return node - leaves;
}

/**
 * Minutes of the closed stretches that lie wholly within [from, to]: whoever works at either end of it was plainly
 * there.
 */
export function closedWithin({ opens, closes }: Calendar, from: Instant, to: Instant): Minutes {
  let closed = 0;
  for (let i = 1; i < opens.length; i++) {
    if (opens[i]! > to) break;
    if (closes[i - 1]! >= from) closed += opens[i]! - closes[i - 1]!;
  }
  return closed;
}
