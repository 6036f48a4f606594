/**
 * Open time as the generator's inner loop wants it: all calendars of an instance in three flat arrays, with a table
 * that finds the interval of an instant at once. Every calendar ends in a long open interval that begins where the real
 * ones end: work that finds no room in the calendars lands there, and whoever reads the schedule sees that it is beyond
 * them.
 */
import type { Calendar } from '../../types.ts';
import { FREE } from './codes.ts';

/** No instant of an instance is at or beyond this. */
export const NEVER = 1 << 30;

const BUCKET_BITS = 8;

export class Calendars {
  readonly opens: Int32Array;
  readonly closes: Int32Array;
  /** Open minutes of the same calendar before opens[i]. */
  readonly before: Int32Array;
  /** The same before its close. */
  private readonly through: Int32Array;
  /** The last interval of each calendar: the one beyond the real calendars. */
  readonly last: Int32Array;
  /** Where the real calendars end. */
  readonly horizon: number;
  private readonly from: number;
  private readonly buckets: number;
  private readonly bucket: Int32Array;
  /**
   * The same table by open minutes, each calendar's from workFirst[k] on; longer than the open time within the horizon.
   */
  private readonly workBucket: Int32Array;
  private readonly workFirst: Int32Array;
  /** The calendars that days can be taken out of. */
  private readonly closable: readonly number[];
  /** As they are without a day taken out; the same arrays where none can be. */
  private readonly whole: Columns;
  private isWhole = true;

  /**
   * `closing`: the days that can be taken out later (by when they begin), and whether a calendar is one of those that
   * lose them.
   */
  constructor(
    calendars: readonly Calendar[],
    from: number,
    horizon: number,
    closing: { readonly days: Int32Array; readonly concerns: (calendar: number) => boolean } | null = null,
  ) {
    this.closable = closing === null ? [] : [...calendars.keys()].filter(closing.concerns);
    const spares = calendars.map(({ opens, closes }, k) =>
      closing?.concerns(k) ? opens.map((open, i) => daysWithin(closing.days, open, closes[i]!) >> 1) : null,
    );
    const size = calendars.reduce(
      (sum, { opens }, k) => sum + opens.length + 1 + (spares[k]?.reduce((a, b) => a + b, 0) ?? 0),
      0,
    );
    this.opens = new Int32Array(size);
    this.closes = new Int32Array(size);
    this.before = new Int32Array(size);
    this.through = new Int32Array(size);
    this.last = new Int32Array(calendars.length);
    this.from = from;
    this.horizon = horizon;
    this.buckets = Math.max(1, ((horizon - from) >> BUCKET_BITS) + 1);
    this.bucket = new Int32Array(calendars.length * this.buckets);
    let at = 0;
    calendars.forEach((calendar, k) => {
      at = this.append(calendar, k, at, spares[k]!);
    });
    this.workFirst = new Int32Array(calendars.length + 1);
    for (let k = 0; k < calendars.length; k++) {
      this.workFirst[k + 1] = this.workFirst[k]! + (this.before[this.last[k]!]! >> BUCKET_BITS) + 1;
    }
    this.workBucket = new Int32Array(this.workFirst[calendars.length]!);
    for (let k = 0; k < calendars.length; k++) this.fillWorkBuckets(k);
    const { opens, closes, before, through } = this;
    const isFixed = this.closable.length === 0;
    this.whole = isFixed
      ? { opens, closes, before, through }
      : { opens: opens.slice(), closes: closes.slice(), before: before.slice(), through: through.slice() };
  }

  private fillWorkBuckets(k: number): void {
    let i = k === 0 ? 0 : this.last[k - 1]! + 1;
    for (let b = this.workFirst[k]!; b < this.workFirst[k + 1]!; b++) {
      while (this.through[i]! <= (b - this.workFirst[k]!) << BUCKET_BITS) i++;
      this.workBucket[b] = i;
    }
  }

  private append(calendar: Calendar, k: number, first: number, spares: Int32Array | null): number {
    let at = first;
    let open = 0;
    const push = (opens: number, closes: number) => {
      this.opens[at] = opens;
      this.closes[at] = closes;
      this.before[at] = open;
      open = Math.min(NEVER, open + closes - opens);
      this.through[at] = open;
      at++;
    };
    for (let i = 0; i < calendar.opens.length; i++) {
      push(calendar.opens[i]!, Math.min(calendar.closes[i]!, this.horizon));
      // Room for the parts of the interval that are left when days in the middle of it are taken out.
      for (let spare = spares?.[i] ?? 0; spare > 0; spare--) push(FREE, FREE);
    }
    push(this.horizon, NEVER);
    this.last[k] = at - 1;
    let i = first;
    for (let b = 0; b < this.buckets; b++) {
      while (this.closes[i]! <= this.from + b * (1 << BUCKET_BITS)) i++;
      this.bucket[k * this.buckets + b] = i;
    }
    return at;
  }

  /**
   * Takes the first `count` of these stretches (whole days, in order, which do not overlap) out of every calendar that
   * can lose days, in place of those taken out before. O(intervals of these calendars).
   */
  takeOut(starts: Int32Array, ends: Int32Array, count: number): void {
    const { opens, closes, before, through, whole, closable } = this;
    if (!this.isWhole) {
      opens.set(whole.opens);
      closes.set(whole.closes);
      before.set(whole.before);
      through.set(whole.through);
    }
    this.isWhole = count === 0;
    for (let c = 0; c < closable.length && count > 0; c++) this.takeOutOf(closable[c]!, starts, ends, count);
  }

  private takeOutOf(k: number, starts: Int32Array, ends: Int32Array, count: number): void {
    const { opens, closes, before, through, whole } = this;
    const last = this.last[k]!;
    const touched = this.interval(k, starts[0]!);
    let day = 0;
    for (let i = touched; i < last && day < count; ) {
      let end = i + 1;
      while (end < last && whole.opens[end] === FREE) end++;
      const close = whole.closes[i]!;
      let at = whole.opens[i]!;
      while (day < count && ends[day]! <= at) day++;
      if (day < count && starts[day]! < close) {
        let slot = i;
        for (let d = day; d < count && starts[d]! < close; d++) {
          if (starts[d]! > at) {
            opens[slot] = at;
            closes[slot++] = starts[d]!;
          }
          at = Math.max(at, ends[d]!);
        }
        if (at < close) {
          opens[slot] = at;
          closes[slot++] = close;
        }
        for (; slot < end; slot++) opens[slot] = closes[slot] = FREE;
      }
      i = end;
    }
    let open = before[touched]!;
    for (let i = touched; i <= last; i++) {
      before[i] = open;
      open = Math.min(NEVER, open + closes[i]! - opens[i]!);
      through[i] = open;
    }
  }

  /** The interval of calendar k that contains t, or the first one after it. */
  interval(k: number, t: number): number {
    let b = (t - this.from) >> BUCKET_BITS;
    if (b < 0) b = 0;
    else if (b >= this.buckets) b = this.buckets - 1;
    let i = this.bucket[k * this.buckets + b]!;
    const closes = this.closes;
    while (closes[i]! <= t) i++;
    return i;
  }

  /** The first open instant at or after t. */
  nextOpen(k: number, t: number): number {
    const opens = this.opens[this.interval(k, t)]!;
    return Math.max(opens, t);
  }

  /** Start of the work whose end `finish` or `span` returned last. */
  start = 0;
  /** The open minute in which the work begins whose end `finish` returned last. */
  work = 0;

  /** The finish of `minutes` (more than 0) open minutes worked from t on; `start` then says where they begin. */
  finish(k: number, t: number, minutes: number): number {
    let i = this.interval(k, t);
    const opens = this.opens[i]!;
    const start = Math.max(opens, t);
    this.start = start;
    this.work = this.before[i]! + start - opens;
    const end = start + minutes;
    if (end <= this.closes[i]!) return end;
    const target = end - opens + this.before[i]!;
    i++;
    while (target > this.before[i]! + this.closes[i]! - this.opens[i]!) i++;
    return this.opens[i]! + target - this.before[i]!;
  }

  /** Open minutes of calendar k before t. */
  worked(k: number, t: number): number {
    const i = this.interval(k, t);
    const opens = this.opens[i]!;
    const before = this.before[i]!;
    return t > opens ? before + t - opens : before;
  }

  /** The interval of calendar k in which its open minute `work` (from 0) is. */
  private intervalOfWork(k: number, work: number): number {
    const first = this.workFirst[k]!;
    const end = this.workFirst[k + 1]! - 1;
    let b = first + (work >> BUCKET_BITS);
    if (b > end) b = end;
    let i = this.workBucket[b]!;
    const through = this.through;
    while (through[i]! <= work) i++;
    return i;
  }

  /** When open minute `work` of calendar k begins. */
  startOf(k: number, work: number): number {
    const i = this.intervalOfWork(k, work);
    return this.opens[i]! + work - this.before[i]!;
  }

  /** When `work` (more than 0) open minutes of calendar k are over. */
  endOf(k: number, work: number): number {
    return this.startOf(k, work - 1) + 1;
  }

  /** How many open minutes of calendar k work has behind it that is over at t or later, at least. */
  leastEnd(k: number, t: number): number {
    const i = this.interval(k, t - 1);
    return this.before[i]! + Math.max(1, t - this.opens[i]!);
  }

  /** The finish of `minutes` (more than 0) from open minute `work` on; `start` then says when that minute begins. */
  span(k: number, work: number, minutes: number): number {
    const i = this.intervalOfWork(k, work);
    const start = this.opens[i]! + work - this.before[i]!;
    this.start = start;
    return start + minutes <= this.closes[i]! ? start + minutes : this.endOf(k, work + minutes);
  }

  /** When `minutes` open minutes have passed that began at t; t itself for none. */
  add(k: number, t: number, minutes: number): number {
    if (minutes <= 0) return minutes === 0 ? t : this.subtract(k, t, -minutes);
    let i = this.interval(k, t);
    const opens = this.opens[i]!;
    const end = Math.max(opens, t) + minutes;
    if (end <= this.closes[i]!) return end;
    const target = end - opens + this.before[i]!;
    i++;
    while (target > this.before[i]! + this.closes[i]! - this.opens[i]!) i++;
    return this.opens[i]! + target - this.before[i]!;
  }

  /** The latest instant from which `minutes` open minutes have passed by t; FREE if there are fewer. */
  subtract(k: number, t: number, minutes: number): number {
    const first = k === 0 ? 0 : this.last[k - 1]! + 1;
    let i = this.interval(k, t);
    let target = this.before[i]! - minutes;
    if (t > this.opens[i]!) target += t - this.opens[i]!;
    if (target < 0) return FREE;
    while (i > first && this.before[i]! > target) i--;
    // A start exactly at a close is as good as one at the next opening, and the later of the two is asked for.
    while (i < this.last[k]! && this.opens[i]! + target - this.before[i]! >= this.closes[i]!) i++;
    return this.opens[i]! + target - this.before[i]!;
  }

  /** The first start at or after t of a stretch of `minutes` without a pause. */
  stretch(k: number, t: number, minutes: number): number {
    let i = this.interval(k, t);
    let start = Math.max(this.opens[i]!, t);
    while (start + minutes > this.closes[i]!) start = this.opens[++i]!;
    return start;
  }
}

interface Columns {
  readonly opens: Int32Array;
  readonly closes: Int32Array;
  readonly before: Int32Array;
  readonly through: Int32Array;
}

/** How many of these days begin between two instants. */
function daysWithin(days: Int32Array, from: number, to: number): number {
  let count = 0;
  for (const day of days) if (day > from && day < to) count++;
  return count;
}
