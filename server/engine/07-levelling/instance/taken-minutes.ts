/** Which open minutes of each person are taken, one bit a minute. */
import { FREE } from './codes.ts';

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
  private readonly taken: Int32Array;
  private readonly first: Int32Array;
  /** By resource: open minutes in the calendars; 0 for what is no person. */
  private readonly limit: Int32Array;
  /** By resource: from here on all is free, the calendars' end or later. */
  private readonly beyond: Int32Array;
  /** By resource: no word from here on has been written since all was free. */
  private readonly used: Int32Array;
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
    this.first = new Int32Array(n);
    this.beyond = new Int32Array(n);
    this.used = new Int32Array(n);
    let words = 0;
    for (let r = 0; r < n; r++) {
      this.first[r] = words;
      this.used[r] = words;
      // The last two stay empty: a search ends there.
      words += (limit[r]! >> 5) + 2;
    }
    this.taken = new Int32Array(words);
    this.soughtFrom = new Int32Array(n * SIZES);
    this.foundAt = new Int32Array(n * SIZES);
    this.clear();
  }

  /**
   * The calendars hold this many open minutes from now on, by resource; no more than at first. Everything must be free.
   */
  shorten(limit: Int32Array): void {
    this.limit.set(limit);
  }

  /** Everything is free again. */
  clear(): void {
    const { taken, first, used, beyond, limit } = this;
    for (let r = 0; r < first.length; r++) {
      taken.fill(0, first[r]!, used[r]!);
      used[r] = first[r]!;
      beyond[r] = limit[r]!;
    }
    this.soughtFrom.fill(FREE);
    this.foundAt.fill(FREE);
  }

  /** The first open minute at or after `from` in which person r is free; at the calendars' end or later for none. */
  firstFree(r: number, from: number): number {
    const { taken } = this;
    const limit = this.limit[r]! | 0;
    if (from >= limit) return limit;
    const first = this.first[r]! | 0;
    let w = (first + (from >> 5)) | 0;
    let word = ~taken[w]! & (-1 << from);
    while (word === 0) word = ~taken[++w]!;
    return (((w - first) << 5) + lowest(word)) | 0;
  }

  /** Whether person r is free for `minutes` (more than 0) from an open minute on that is free, within the calendars. */
  isFree(r: number, at: number, minutes: number): boolean {
    const { taken } = this;
    const until = (at + minutes) | 0;
    if (until > this.limit[r]!) return false;
    const first = this.first[r]! | 0;
    let w = (first + (at >> 5)) | 0;
    const last = (first + ((until - 1) >> 5)) | 0;
    const head = -1 << at;
    const tail = -1 >>> (31 - ((until - 1) & 31));
    // All bits where it is more than one word, none where it is one.
    const many = (w - last) >> 31;
    let word = (taken[w]! & head & (tail | many)) | (taken[last]! & tail & (head | many));
    for (w++; w < last; w++) word |= taken[w]!;
    return word === 0;
  }

  /**
   * The first open minute at or after `from` from which person r is free for `minutes` (more than 0) at least; where
   * that is later than `latest`, any minute later than `latest`.
   */
  gap(r: number, from: number, minutes: number, latest: number): number {
    const { taken } = this;
    const first = this.first[r]! | 0;
    const limit = this.limit[r]! | 0;
    const size = 31 - Math.clz32(minutes);
    let roomy = -1;
    let at = from | 0;
    for (let steps = 0; at < limit; steps++) {
      if (steps === LONG) at = Math.max(at, this.known(r, size, from));
      let w = (first + (at >> 5)) | 0;
      let word = ~taken[w]! & (-1 << at);
      while (word === 0) word = ~taken[++w]!;
      at = (((w - first) << 5) + lowest(word)) | 0;
      const until = (at + minutes) | 0;
      if (at > latest || until > limit) break;
      const last = (first + ((until - 1) >> 5)) | 0;
      word = taken[w]! & (-1 << at);
      while (word === 0 && w < last) word = taken[++w]!;
      const stop = (((w - first) << 5) + lowest(word)) | 0;
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
    const first = this.first[r]!;
    const limit = this.limit[r]!;
    const beyond = this.beyond[r]!;
    if (to > limit) {
      if (beyond > limit) return from < beyond ? beyond : FREE;
      to = limit;
      if (to <= from) return FREE;
    }
    let w = first + ((to - 1) >> 5);
    const least = first + (from >> 5);
    let word = taken[w]! & (-1 >>> (31 - ((to - 1) & 31)));
    while (word === 0 && w > least) word = taken[--w]!;
    if (word === 0) return FREE;
    let at = ((w - first) << 5) + 31 - Math.clz32(word);
    if (at < from) return FREE;
    word = ~taken[w]! & (-1 << at);
    while (word === 0) word = ~taken[++w]!;
    at = ((w - first) << 5) + lowest(word);
    return at >= limit ? beyond : at;
  }

  /** Takes minutes [from, to) of person r; where some of them are taken already, they stay so. */
  take(r: number, from: number, to: number): void {
    const { taken, used, first } = this;
    const limit = this.limit[r]!;
    if (to > limit) {
      if (to > this.beyond[r]!) this.beyond[r] = to;
      to = limit;
    }
    if (to <= from) return;
    let w = (first[r]! + (from >> 5)) | 0;
    const last = (first[r]! + ((to - 1) >> 5)) | 0;
    const head = -1 << from;
    const tail = -1 >>> (31 - ((to - 1) & 31));
    const many = (w - last) >> 31;
    taken[w] = taken[w]! | (head & (tail | many));
    taken[last] = taken[last]! | (tail & (head | many));
    for (w++; w < last; w++) taken[w] = -1;
    used[r] = larger(used[r]!, last + 1);
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
