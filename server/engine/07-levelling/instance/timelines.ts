/** Which machines and stations are taken when, by the clock. */
import * as codes from './codes.ts';

const { FREE, NEVER } = codes;

/** Before all time that is asked about, with room for differences in 32 bits. */
const DAWN = -(1 << 29);

/** Sizes of gaps told apart: powers of two up to 2^23 minutes, sixteen years. */
const SIZES = 24;

/** One of a resource, for a time. */
export interface TakenStretch {
  readonly resource: number;
  readonly from: number;
  readonly to: number;
}

/**
 * What is taken when: for each machine and station a step function of how many are still free by the clock, kept as
 * sorted breakpoints. All of an instance's timelines lie in two flat arrays; nothing is allocated after the
 * constructor.
 */
export class Timelines {
  /**
   * For each resource and size of gap (powers of two), one stretch from soughtFrom to foundAt in which no gap of at
   * least that size begins. Gaps only shrink while a schedule is made, so it need not be walked through again.
   */
  private readonly soughtFrom: Int32Array;
  private readonly foundAt: Int32Array;
  private readonly time: Int32Array;
  private readonly free: Int32Array;
  private readonly offset: Int32Array;
  private readonly count: Int32Array;
  private readonly capacity: Int32Array;

  /**
   * `uses[r]`: how many stretches resource r can be taken for in one schedule; `out`: when one of it is out of order in
   * all.
   */
  constructor(
    capacity: Int32Array,
    uses: Int32Array,
    private readonly out: readonly TakenStretch[] = [],
  ) {
    const n = capacity.length;
    this.capacity = capacity;
    const outs = new Int32Array(n);
    for (const { resource } of out) outs[resource]!++;
    this.offset = new Int32Array(n);
    this.count = new Int32Array(n);
    let size = 0;
    for (let r = 0; r < n; r++) {
      this.offset[r] = size;
      size += 2 * (uses[r]! + outs[r]!) + 3;
    }
    this.soughtFrom = new Int32Array(n * SIZES);
    this.foundAt = new Int32Array(n * SIZES);
    this.time = new Int32Array(size);
    this.free = new Int32Array(size);
    this.clear();
  }

  /** Everything is free again that is in order. */
  clear(): void {
    const { offset, count, time, free, capacity } = this;
    this.soughtFrom.fill(FREE);
    this.foundAt.fill(FREE);
    for (let r = 0; r < offset.length; r++) {
      const at = offset[r]!;
      time[at] = DAWN;
      free[at] = capacity[r]!;
      count[r] = 1;
    }
    for (const { resource, from, to } of this.out) this.take(resource, from, to);
  }

  /**
   * The index of the last breakpoint of r at or before t. Halves without a branch, which a processor could only guess
   * at.
   */
  private find(r: number, t: number): number {
    const time = this.time;
    let at = this.offset[r]! | 0;
    let n = this.count[r]! | 0;
    // Most questions are about the end.
    const last = (at + n - 1) | 0;
    if (time[last]! <= t) return last;
    while (n > 1) {
      const half = n >> 1;
      const middle = (at + half) | 0;
      at = (at + (half & (((((time[middle]! - t) | 0) - 1) | 0) >> 31))) | 0;
      n = (n - half) | 0;
    }
    return at;
  }

  /**
   * When nothing of r is left at some minute of [from, to), `to` later than `from`: the end of the last such stretch
   * that begins before `to`. Otherwise FREE. An occupation that starts later and lasts no shorter cannot start before
   * that end.
   */
  blockedUntil(r: number, from: number, to: number): number {
    const { time, free } = this;
    let i = this.find(r, to - 1);
    const end = this.offset[r]! + this.count[r]! - 1;
    for (;;) {
      if (free[i]! <= 0) return i === end ? 2147483647 : time[i + 1]!;
      if (time[i]! <= from) return FREE;
      i--;
    }
  }

  /** The first time at or after `from` at which r is free for `minutes` (more than 0) at least. */
  gap(r: number, from: number, minutes: number): number {
    const { time, free, soughtFrom, foundAt } = this;
    const last = this.offset[r]! + this.count[r]! - 1;
    if (time[last]! <= from) return from;
    const size = 31 - Math.clz32(minutes);
    const known = r * SIZES + size;
    const isKnown = soughtFrom[known]! <= from && from <= foundAt[known]!;
    let begin = isKnown ? foundAt[known]! : from;
    let isFirst = true;
    let i = this.find(r, begin);
    for (; i < last; i++) {
      if (free[i]! <= 0) {
        begin = time[i + 1]!;
        continue;
      }
      // More of several alike may come free within the gap.
      while (i < last && free[i + 1]! > 0) i++;
      if (i === last) break;
      const length = time[i + 1]! - begin;
      if (isFirst && length >> size > 0) {
        this.learn(known, isKnown, from, begin);
        isFirst = false;
      }
      if (length >= minutes) return begin;
    }
    if (isFirst) this.learn(known, isKnown, from, begin);
    return begin;
  }

  private learn(known: number, isKnown: boolean, from: number, found: number): void {
    const { soughtFrom, foundAt } = this;
    if (!isKnown) {
      if (found - from <= foundAt[known]! - soughtFrom[known]!) return;
      soughtFrom[known] = from;
    }
    foundAt[known] = found;
  }

  /** Takes one of r for [from, to). */
  take(r: number, from: number, to: number): void {
    if (to <= from) return;
    const { time, free } = this;
    let i = this.find(r, from);
    if (time[i]! !== from) i = this.insert(r, i, from);
    let j = i;
    const end = this.offset[r]! + this.count[r]! - 1;
    while (j < end && time[j + 1]! < to) j++;
    if (j === end || time[j + 1]! !== to) this.insert(r, j, to);
    for (let k = i; k <= j; k++) free[k]!--;
    if (free[j + 1]! === free[j]!) this.remove(r, j + 1);
    if (free[i - 1]! === free[i]!) this.remove(r, i);
  }

  /** What was taken of r until `NEVER` is free again from `from` on, all that was. */
  giveBack(r: number, from: number): void {
    const { time, free } = this;
    let i = this.find(r, from);
    if (time[i]! !== from) i = this.insert(r, i, from);
    for (let k = i; time[k]! < NEVER; k++) free[k]!++;
    const end = this.find(r, NEVER);
    if (free[end] === free[end - 1]) this.remove(r, end);
    if (free[i - 1] === free[i]) this.remove(r, i);
    // Gaps have grown.
    this.soughtFrom.fill(FREE, r * SIZES, (r + 1) * SIZES);
    this.foundAt.fill(FREE, r * SIZES, (r + 1) * SIZES);
  }

  private insert(r: number, after: number, t: number): number {
    const { time, free } = this;
    const at = after + 1;
    for (let k = this.offset[r]! + this.count[r]!; k > at; k--) {
      time[k] = time[k - 1]!;
      free[k] = free[k - 1]!;
    }
    time[at] = t;
    free[at] = free[after]!;
    this.count[r]!++;
    return at;
  }

  private remove(r: number, at: number): void {
    const { time, free } = this;
    const end = this.offset[r]! + --this.count[r]!;
    for (let k = at; k < end; k++) {
      time[k] = time[k + 1]!;
      free[k] = free[k + 1]!;
    }
  }
}
