import { FREE } from './problem.ts';

/**
 * Who is taken when: for each person, machine and station a step function of what is still free, kept as sorted
 * breakpoints. All of a problem's timelines lie in two flat arrays; nothing is allocated after the constructor.
 */
export class Timelines {
  private readonly time: Int32Array;
  private readonly free: Int32Array;
  private readonly offset: Int32Array;
  private readonly count: Int32Array;
  private readonly capacity: Int32Array;

  /** `uses[r]`: how many stretches resource r can be taken for in one schedule. */
  constructor(capacity: Int32Array, uses: Int32Array) {
    const n = capacity.length;
    this.capacity = capacity;
    this.offset = new Int32Array(n);
    this.count = new Int32Array(n);
    let size = 0;
    for (let r = 0; r < n; r++) {
      this.offset[r] = size;
      size += 2 * uses[r]! + 3;
    }
    this.time = new Int32Array(size);
    this.free = new Int32Array(size);
    this.clear();
  }

  /** Everything is free again. */
  clear(): void {
    const { offset, count, time, free, capacity } = this;
    for (let r = 0; r < offset.length; r++) {
      const at = offset[r]!;
      time[at] = -2147483648;
      free[at] = capacity[r]!;
      count[r] = 1;
    }
  }

  /** The index of the last breakpoint of r at or before t. */
  private find(r: number, t: number): number {
    const time = this.time;
    let low = this.offset[r]!;
    let high = low + this.count[r]! - 1;
    if (time[high]! <= t) return high;
    if (high - 2 > low) {
      if (time[high - 2]! <= t) return time[high - 1]! <= t ? high - 1 : high - 2;
      high -= 2;
    }
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (time[middle]! <= t) low = middle;
      else high = middle;
    }
    return low;
  }

  /**
   * When nothing of r is left at some minute of [from, to): the end of the last such stretch that begins before `to`.
   * Otherwise FREE. A hold that starts later and lasts no shorter cannot start before that end.
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
