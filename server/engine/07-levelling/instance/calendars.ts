/**
 * Open time as the generator's inner loop wants it: all calendars of an instance in three flat arrays, with a table
 * that finds the interval of an instant at once. Every calendar ends in a long open interval that begins where the real
 * ones end: work that finds no room in the calendars lands there, and whoever reads the schedule sees that it is beyond
 * them.
 */
import type { Calendar } from '../../types.ts';
import * as codes from './codes.ts';

const { FREE, NEVER } = codes;

const BUCKET_BITS = 6;

/**
 * An interval is four numbers, one after the other: when it opens and closes, and the open minutes of its calendar
 * before it and through it. An interval is named by the place of its first number.
 */
const SPAN = 4;
const OPENS = 0;
const CLOSES = 1;
const BEFORE = 2;
const THROUGH = 3;

export class Calendars {
  private readonly spans: Int32Array;
  /** The last interval of each calendar: the one beyond the real calendars. */
  private readonly last: Int32Array;
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
  /** As they are without a day taken out; the same array where none can be. */
  private readonly whole: Int32Array;
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
    const spares = calendars.map((calendar, k) => (closing?.concerns(k) ? sparesOf(calendar, closing.days) : null));
    const size = calendars.reduce(
      (sum, { opens }, k) => sum + opens.length + 1 + (spares[k]?.reduce((a, b) => a + b, 0) ?? 0),
      0,
    );
    this.spans = new Int32Array(SPAN * size);
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
      this.workFirst[k + 1] = this.workFirst[k]! + (this.openMinutes(k) >> BUCKET_BITS) + 1;
    }
    this.workBucket = new Int32Array(this.workFirst[calendars.length]!);
    for (let k = 0; k < calendars.length; k++) this.fillWorkBuckets(k);
    this.whole = this.closable.length === 0 ? this.spans : this.spans.slice();
  }

  /** Open minutes of calendar k until the real calendars end. */
  openMinutes(k: number): number {
    return this.spans[this.last[k]! + BEFORE]!;
  }

  private firstOf(k: number): number {
    return k === 0 ? 0 : this.last[k - 1]! + SPAN;
  }

  private fillWorkBuckets(k: number): void {
    let i = this.firstOf(k);
    for (let b = this.workFirst[k]!; b < this.workFirst[k + 1]!; b++) {
      while (this.spans[i + THROUGH]! <= (b - this.workFirst[k]!) << BUCKET_BITS) i += SPAN;
      this.workBucket[b] = i;
    }
  }

  private append(calendar: Calendar, k: number, first: number, spares: Int32Array | null): number {
    let at = first;
    let open = 0;
    const push = (opens: number, closes: number) => {
      const through = Math.min(NEVER, open + closes - opens);
      this.spans.set([opens, closes, open, through], at);
      open = through;
      at += SPAN;
    };
    for (let i = 0; i < calendar.opens.length; i++) {
      push(calendar.opens[i]!, Math.min(calendar.closes[i]!, this.horizon));
      // Room for the parts of the interval that are left when days in the middle of it are taken out.
      for (let spare = spares?.[i] ?? 0; spare > 0; spare--) push(FREE, FREE);
    }
    push(this.horizon, NEVER);
    this.last[k] = at - SPAN;
    let i = first;
    for (let b = 0; b < this.buckets; b++) {
      while (this.spans[i + CLOSES]! <= this.from + b * (1 << BUCKET_BITS)) i += SPAN;
      this.bucket[k * this.buckets + b] = i;
    }
    return at;
  }

  /**
   * Takes the first `count` of these stretches (whole days, in order, which do not overlap) out of every calendar that
   * can lose days, in place of those taken out before. Returns whether anything changed. O(intervals of these
   * calendars).
   */
  takeOut(starts: Int32Array, ends: Int32Array, count: number): boolean {
    const { spans, whole, closable } = this;
    if (this.isWhole && count === 0) return false;
    if (!this.isWhole) spans.set(whole);
    this.isWhole = count === 0;
    for (let c = 0; c < closable.length && count > 0; c++) this.takeOutOf(closable[c]!, starts, ends, count);
    return true;
  }

  private takeOutOf(k: number, starts: Int32Array, ends: Int32Array, count: number): void {
    const { spans, whole } = this;
    const last = this.last[k]!;
    const touched = this.interval(k, starts[0]!);
    let day = 0;
    for (let i = touched; i < last && day < count; ) {
      let end = i + SPAN;
      while (end < last && whole[end + OPENS] === FREE) end += SPAN;
      const close = whole[i + CLOSES]!;
      let at = whole[i + OPENS]!;
      while (day < count && ends[day]! <= at) day++;
      if (day < count && starts[day]! < close) {
        let slot = i;
        for (let d = day; d < count && starts[d]! < close; d++) {
          if (starts[d]! > at) {
            spans[slot + OPENS] = at;
            spans[slot + CLOSES] = starts[d]!;
            slot += SPAN;
          }
          at = Math.max(at, ends[d]!);
        }
        if (at < close) {
          spans[slot + OPENS] = at;
          spans[slot + CLOSES] = close;
          slot += SPAN;
        }
        for (; slot < end; slot += SPAN) spans[slot + OPENS] = spans[slot + CLOSES] = FREE;
      }
      i = end;
    }
    let open = spans[touched + BEFORE]!;
    for (let i = touched; i <= last; i += SPAN) {
      spans[i + BEFORE] = open;
      open = Math.min(NEVER, open + spans[i + CLOSES]! - spans[i + OPENS]!);
      spans[i + THROUGH] = open;
    }
  }

  /** The interval of calendar k that contains t, or the first one after it. */
  private interval(k: number, t: number): number {
    let b = (t - this.from) >> BUCKET_BITS;
    if (b < 0) b = 0;
    else if (b >= this.buckets) b = this.buckets - 1;
    let i = this.bucket[k * this.buckets + b]!;
    const { spans } = this;
    while (spans[i + CLOSES]! <= t) i += SPAN;
    return i;
  }

  /** The first open instant at or after t. */
  nextOpen(k: number, t: number): number {
    return Math.max(this.spans[this.interval(k, t) + OPENS]!, t);
  }

  /** Start of the work whose end `finish` or `span` returned last. */
  start = 0;
  /** The open minute in which the work begins whose end `finish` returned last. */
  work = 0;
  /** The interval in which `worked` was asked about an instant last, or the first one after it. */
  private asked = 0;

  /** The finish of `minutes` (more than 0) open minutes worked from t on; `start` then says where they begin. */
  finish(k: number, t: number, minutes: number): number {
    const { spans } = this;
    const i = this.interval(k, t);
    const opens = spans[i + OPENS]!;
    const start = Math.max(opens, t);
    this.start = start;
    this.work = spans[i + BEFORE]! + start - opens;
    const end = start + minutes;
    return end <= spans[i + CLOSES]! ? end : this.after(i, end - opens + spans[i + BEFORE]!);
  }

  /** When `target` open minutes are over, which are not yet when interval i closes. */
  private after(i: number, target: number): number {
    const { spans } = this;
    let at = i + SPAN;
    while (target > spans[at + THROUGH]!) at += SPAN;
    return spans[at + OPENS]! + target - spans[at + BEFORE]!;
  }

  /** Open minutes of calendar k before t. */
  worked(k: number, t: number): number {
    const { spans } = this;
    const i = this.interval(k, t);
    this.asked = i;
    const opens = spans[i + OPENS]!;
    const before = spans[i + BEFORE]!;
    return t > opens ? before + t - opens : before;
  }

  /** The interval of calendar k in which its open minute `work` (from 0) is. */
  private intervalOfWork(k: number, work: number): number {
    const first = this.workFirst[k]!;
    const end = this.workFirst[k + 1]! - 1;
    let b = first + (work >> BUCKET_BITS);
    if (b > end) b = end;
    let i = this.workBucket[b]!;
    const { spans } = this;
    while (spans[i + THROUGH]! <= work) i += SPAN;
    return i;
  }

  /** When open minute `work` of calendar k begins. */
  startOf(k: number, work: number): number {
    const i = this.intervalOfWork(k, work);
    return this.spans[i + OPENS]! + work - this.spans[i + BEFORE]!;
  }

  /** When `work` (more than 0) open minutes of calendar k are over. */
  endOf(k: number, work: number): number {
    return this.startOf(k, work - 1) + 1;
  }

  /** How many open minutes of calendar k work has behind it that is over at t or later, at least. */
  leastEnd(k: number, t: number): number {
    const i = this.interval(k, t - 1);
    return this.spans[i + BEFORE]! + Math.max(1, t - this.spans[i + OPENS]!);
  }

  /** The finish of `minutes` (more than 0) from open minute `work` on; `start` then says when that minute begins. */
  span(k: number, work: number, minutes: number): number {
    return this.spanFrom(this.intervalOfWork(k, work), work, minutes);
  }

  /**
   * As `span`, in the calendar that `worked` was asked about last, for an open minute that is no earlier than its
   * answer. Work mostly begins in the interval in which it was asked for, so none is looked up.
   */
  spanAfter(work: number, minutes: number): number {
    const { spans } = this;
    let i = this.asked | 0;
    while (spans[i + THROUGH]! <= work) i = (i + SPAN) | 0;
    return this.spanFrom(i, work, minutes);
  }

  /** The same for an open minute of interval i. */
  private spanFrom(i: number, work: number, minutes: number): number {
    const { spans } = this;
    const start = (spans[i + OPENS]! + work - spans[i + BEFORE]!) | 0;
    this.start = start;
    return start + minutes <= spans[i + CLOSES]! ? start + minutes : this.after(i, work + minutes);
  }

  /** When `minutes` open minutes have passed that began at t; t itself for none. */
  add(k: number, t: number, minutes: number): number {
    if (minutes <= 0) return minutes === 0 ? t : this.subtract(k, t, -minutes);
    const { spans } = this;
    const i = this.interval(k, t);
    const opens = spans[i + OPENS]!;
    const end = Math.max(opens, t) + minutes;
    return end <= spans[i + CLOSES]! ? end : this.after(i, end - opens + spans[i + BEFORE]!);
  }

  /** The latest instant from which `minutes` open minutes have passed by t; FREE if there are fewer. */
  subtract(k: number, t: number, minutes: number): number {
    const { spans } = this;
    const first = this.firstOf(k);
    let i = this.interval(k, t);
    let target = spans[i + BEFORE]! - minutes;
    if (t > spans[i + OPENS]!) target += t - spans[i + OPENS]!;
    if (target < 0) return FREE;
    while (i > first && spans[i + BEFORE]! > target) i -= SPAN;
    // A start exactly at a close is as good as one at the next opening, and the later of the two is asked for.
    const last = this.last[k]!;
    while (i < last && spans[i + OPENS]! + target - spans[i + BEFORE]! >= spans[i + CLOSES]!) i += SPAN;
    return spans[i + OPENS]! + target - spans[i + BEFORE]!;
  }

  /** The first start at or after t of a stretch of `minutes` without a pause. */
  stretch(k: number, t: number, minutes: number): number {
    const { spans } = this;
    let i = this.interval(k, t);
    let start = Math.max(spans[i + OPENS]!, t);
    while (start + minutes > spans[i + CLOSES]!) {
      i += SPAN;
      start = spans[i + OPENS]!;
    }
    return start;
  }
}

/** By interval, one for every two of these days, in order, that begin within it. */
function sparesOf({ opens, closes }: Calendar, days: Int32Array): Int32Array {
  let first = 0;
  return opens.map((open, i) => {
    while (first < days.length && days[first]! <= open) first++;
    let end = first;
    while (end < days.length && days[end]! < closes[i]!) end++;
    return (end - first) >> 1;
  });
}
