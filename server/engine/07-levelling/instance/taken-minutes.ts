/** Which open minutes of each person are taken, one bit a minute. */
import * as codes from './codes.ts';

const { FREE } = codes;

/** After this many gaps that are too short, what is known of somebody's gaps is asked for. */
const LONG = 1;

/** Sizes of gaps told apart: powers of two up to 2^23 minutes, sixteen years. */
const SIZES = 24;

/**
 * Which of a person's open minutes are taken, one bit a minute, so that days full of work make one stretch and a place
 * is found without a search. Beyond the calendars only the instant from which all is free is kept.
 * All people's minutes lie in one flat array; nothing is allocated after the constructor.
 */
export class TakenMinutes {
  /** A word of 32 minutes of each, side by side, then the next word of each. */
  private readonly taken: Int32Array;
  /** From one word of somebody's to their next. */
  private readonly stride: number;
  /** By resource: open minutes in the calendars; 0 for what is no person. */
  private readonly limit: Int32Array;
  /** By resource: from here on all is free, the calendars' end or later. */
  private readonly beyond: Int32Array;
  /** No word from here on has been written since all was free. */
  private used = 0;
  /**
   * For each person and size of gap (powers of two), one stretch from soughtFrom to foundAt in which no gap of at least
   * that size begins. Gaps only shrink while a schedule is made, so it need not be walked through again.
   */
  private readonly soughtFrom: Int32Array;
  private readonly foundAt: Int32Array;

  /** `limit[r]`: open minutes of person r within the calendars, 0 for a resource that is no person. */
  constructor(limit: Int32Array) {
    const n = limit.length;
    this.limit = limit;
    this.beyond = new Int32Array(n);
    this.stride = limit.findLastIndex((minutes) => minutes > 0) + 1;
    const most = limit.reduce((longest, minutes) => Math.max(longest, minutes), 0);
    // The last two stay empty: a search ends there.
    this.taken = new Int32Array(((most >> 5) + 2) * this.stride);
    this.soughtFrom = new Int32Array(n * SIZES);
    this.foundAt = new Int32Array(n * SIZES);
    this.clear();
  }

  /** The calendars hold this many open minutes of person r from now on, no more than at first. All must be free. */
  shorten(r: number, limit: number): void {
    this.limit[r] = limit;
    this.beyond[r] = limit;
  }

  /** Everything is free again. */
  clear(): void {
    this.taken.fill(0, 0, this.used);
    this.used = 0;
    this.beyond.set(this.limit);
    this.soughtFrom.fill(FREE);
    this.foundAt.fill(FREE);
  }

  /**
   * The first open minute at or after `from` in which one at least of these people is free: `people` from `first` to
   * `end` (left out), at least one, all of them with the same open minutes. `from` is within the calendars, the
   * answer perhaps at their end.
   */
  firstFree(people: Int32Array, first: number, end: number, from: number): number {
    const { taken } = this;
    const stride = this.stride | 0;
    let w = from >> 5;
    let free = -1 << from;
    for (;;) {
      const at = Math.imul(w, stride);
      let word = -1;
      for (let i = first; i < end; i++) word &= taken[(at + people[i]!) | 0]!;
      free &= ~word;
      if (free !== 0) return ((w << 5) + lowest(free)) | 0;
      free = -1;
      w = (w + 1) | 0;
    }
  }

  /** 1 where person r is taken in this open minute, else 0. */
  isTaken(r: number, at: number): number {
    return (this.taken[(Math.imul(at >> 5, this.stride) + r) | 0]! >>> at) & 1;
  }

  /** The open minutes of person r within the calendars. */
  openMinutes(r: number): number {
    return this.limit[r]!;
  }

  /** Whether person r is free for `minutes` (more than 0) from an open minute on that is free, within the calendars. */
  isFree(r: number, at: number, minutes: number): boolean {
    const { taken } = this;
    const stride = this.stride | 0;
    const until = (at + minutes) | 0;
    if (until > this.limit[r]!) return false;
    let w = (Math.imul(at >> 5, stride) + r) | 0;
    const last = (Math.imul((until - 1) >> 5, stride) + r) | 0;
    const head = -1 << at;
    const tail = -1 >>> (31 - ((until - 1) & 31));
    // All bits where it is more than one word, none where it is one.
    const many = (w - last) >> 31;
    let word = (taken[w]! & head & (tail | many)) | (taken[last]! & tail & (head | many));
    for (w = (w + stride) | 0; w < last; w = (w + stride) | 0) word |= taken[w]!;
    return word === 0;
  }

  /**
   * The first open minute at or after `from` from which person r is free for `minutes` (more than 0) at least; where
   * that is later than `latest`, any minute later than `latest`.
   */
  gap(r: number, from: number, minutes: number, latest: number): number {
    const { taken } = this;
    const stride = this.stride | 0;
    const limit = this.limit[r]! | 0;
    const size = 31 - Math.clz32(minutes);
    let roomy = -1;
    let at = from | 0;
    for (let steps = 0; at < limit; steps++) {
      if (steps === LONG) at = Math.max(at, this.known(r, size, from));
      let base = at & ~31;
      let w = (Math.imul(at >> 5, stride) + r) | 0;
      let word = ~taken[w]! & (-1 << at);
      for (; word === 0; base = (base + 32) | 0) {
        w = (w + stride) | 0;
        word = ~taken[w]!;
      }
      at = (base + lowest(word)) | 0;
      const until = (at + minutes) | 0;
      if (at > latest || until > limit) break;
      word = taken[w]! & (-1 << at);
      for (const last = (until - 33) | 0; word === 0 && base <= last; base = (base + 32) | 0) {
        w = (w + stride) | 0;
        word = taken[w]!;
      }
      const stop = (base + lowest(word)) | 0;
      if (word === 0 || stop >= until) {
        if (steps > LONG) this.learn(r, size, from, roomy < 0 ? at : roomy);
        return at;
      }
      if (roomy < 0 && (stop - at) >> size > 0) roomy = at;
      at = stop;
    }
    return at > latest ? at : this.gapAtEnd(r, at);
  }

  /** The same where less than is asked for is left of the calendars after `at`. */
  private gapAtEnd(r: number, at: number): number {
    const limit = this.limit[r]!;
    if (at >= limit || this.beyond[r]! > limit) return Math.max(at, this.beyond[r]!);
    const until = this.blockedUntil(r, at, limit);
    return until === FREE ? at : until;
  }

  /**
   * When person r is taken in some minute of [from, to), `to` later than `from`: the end of the last such stretch that
   * begins before `to`. Otherwise FREE. Work that starts later and lasts no shorter cannot start before that end.
   */
  blockedUntil(r: number, from: number, to: number): number {
    const { taken } = this;
    const stride = this.stride | 0;
    const limit = this.limit[r]!;
    const beyond = this.beyond[r]!;
    if (to > limit) {
      if (beyond > limit) return from < beyond ? beyond : FREE;
      to = limit;
      if (to <= from) return FREE;
    }
    let base = (to - 1) & ~31;
    let w = (Math.imul((to - 1) >> 5, stride) + r) | 0;
    let word = taken[w]! & (-1 >>> (31 - ((to - 1) & 31)));
    for (; word === 0 && base > from; base = (base - 32) | 0) {
      w = (w - stride) | 0;
      word = taken[w]!;
    }
    if (word === 0) return FREE;
    let at = (base + 31 - Math.clz32(word)) | 0;
    if (at < from) return FREE;
    word = ~taken[w]! & (-1 << at);
    for (; word === 0; base = (base + 32) | 0) {
      w = (w + stride) | 0;
      word = ~taken[w]!;
    }
    at = (base + lowest(word)) | 0;
    return at >= limit ? beyond : at;
  }

  /** Takes minutes [from, to) of person r; where some of them are taken already, they stay so. */
  take(r: number, from: number, to: number): void {
    const { taken } = this;
    const stride = this.stride | 0;
    const limit = this.limit[r]!;
    if (to > limit) {
      if (to > this.beyond[r]!) this.beyond[r] = to;
      to = limit;
    }
    if (to <= from) return;
    let w = (Math.imul(from >> 5, stride) + r) | 0;
    const last = (Math.imul((to - 1) >> 5, stride) + r) | 0;
    const head = -1 << from;
    const tail = -1 >>> (31 - ((to - 1) & 31));
    const many = (w - last) >> 31;
    taken[w] = taken[w]! | (head & (tail | many));
    taken[last] = taken[last]! | (tail & (head | many));
    for (w = (w + stride) | 0; w < last; w = (w + stride) | 0) taken[w] = -1;
    this.used = larger(this.used, last + 1);
  }

  /** The end of what is known to hold no gap of this size from `from` on; FREE where nothing is. */
  private known(r: number, size: number, from: number): number {
    const at = r * SIZES + size;
    return this.soughtFrom[at]! <= from && from <= this.foundAt[at]! ? this.foundAt[at]! : FREE;
  }

  private learn(r: number, size: number, from: number, found: number): void {
    const { soughtFrom, foundAt } = this;
    const at = r * SIZES + size;
    if (this.known(r, size, from) === FREE) {
      if (found - from <= foundAt[at]! - soughtFrom[at]!) return;
      soughtFrom[at] = from;
      foundAt[at] = found;
    } else if (found > foundAt[at]!) foundAt[at] = found;
  }
}

/** The larger of two numbers of at most 2^30, without a branch that nobody could foresee. */
function larger(a: number, b: number): number {
  const more = (b - a) | 0;
  return (a + (more & ~(more >> 31))) | 0;
}

/** The place of the lowest bit that is set, of at least one. */
function lowest(word: number): number {
  return 31 - Math.clz32(word & -word);
}
