/** An exact search for textbook instances, by branch and bound. */
import type { TextbookData } from './textbook.ts';

/** What an exact search says: nothing shorter than `best` exists (proved), or it ran out of its budget. */
interface Proof {
  readonly proved: boolean;
  /** The least makespan known, in ticks; less than the one given only if `activityList` says how. */
  readonly best: number;
  readonly activityList: Int32Array | null;
  readonly nodes: number;
}

/** Nodes between two looks at the clock. */
const LOOK = 1024;
const MOST_MEMORIES = 400_000;

/** Lots that the exact search can tell apart in the keys of its memory. */
export const MOST_LOTS = 53;

/**
 * Depth-first branch and bound over semi-active schedules: at each instant where something ends, all that is ready
 * starts; where the pools do not suffice, each least set of lots whose delay resolves the conflict is a branch, the one
 * with the least bound first. Pruned by tails, by the work left, by left shifts, and by memory of the sets of lots
 * scheduled (E. Demeulemeester and W. Herroelen, Management Science 38, 1992, and 43, 1997). For textbook instances of
 * at most MOST_LOTS lots that take time. `upper`: a makespan that is already known; only shorter ones are looked for,
 * down to `lower`.
 */
export function proveShortest(
  data: TextbookData,
  upper: number,
  lower: number,
  budget: { readonly nodes: number; readonly outOfTime: () => boolean },
): Proof {
  return new BranchAndBound(data, upper, lower, budget).run();
}

interface Memory {
  readonly time: number;
  readonly running: Int32Array;
  readonly finishes: Int32Array;
}

class BranchAndBound {
  private readonly n: number;
  private readonly start: Int32Array;
  private readonly isScheduled: Uint8Array;
  private readonly running: number[] = [];
  private readonly memory = new Map<number, Memory[]>();
  private memories = 0;
  private best: number;
  private bestStart: Int32Array | null = null;
  private nodes = 0;
  private stopped = false;
  private readonly left: Float64Array;
  private key = 0;
  private scheduled = 0;

  constructor(
    private readonly data: TextbookData,
    upper: number,
    private readonly lower: number,
    private readonly budget: { readonly nodes: number; readonly outOfTime: () => boolean },
  ) {
    this.n = data.lots;
    this.start = new Int32Array(this.n).fill(-1);
    this.isScheduled = new Uint8Array(this.n);
    this.best = upper;
    this.left = Float64Array.from(data.capacity, (_, r) => data.work[r]!);
  }

  run(): Proof {
    if (this.best > this.lower) this.advance(0);
    const activityList =
      this.bestStart === null
        ? null
        : Int32Array.from(
            [...this.bestStart.keys()].sort(
              (a, b) => this.bestStart![a]! - this.bestStart![b]! || this.data.rank[a]! - this.data.rank[b]!,
            ),
          );
    return { proved: !this.stopped, best: this.best, activityList, nodes: this.nodes };
  }

  /** Everything ready at `time` starts; conflicts branch. Leaves the state as it found it. */
  private advance(time: number): void {
    if (this.stopped || this.best <= this.lower) return;
    if (++this.nodes % LOOK === 0 && (this.nodes >= this.budget.nodes || this.budget.outOfTime())) {
      this.stopped = true;
      return;
    }
    const { data, start, running } = this;
    const ended: number[] = [];
    for (let i = running.length - 1; i >= 0; i--) {
      const lot = running[i]!;
      if (start[lot]! + data.minutes[lot]! > time) continue;
      ended.push(lot);
      running.splice(i, 1);
    }
    const began = this.beginReady(time);
    if (began !== null) {
      if (!this.isHopeless(time)) this.resolve(time, began);
      for (const lot of began) this.unschedule(lot, running.indexOf(lot));
    }
    for (const lot of ended) running.push(lot);
  }

  /** Starts all that is ready; null (and nothing started) when one of them cannot end in time any more. */
  private beginReady(time: number): number[] | null {
    const { data, start, isScheduled } = this;
    const began: number[] = [];
    for (let lot = 0; lot < this.n; lot++) {
      if (isScheduled[lot] === 1) continue;
      let ready = true;
      for (let i = data.beforeFirst[lot]!; i < data.beforeFirst[lot + 1]! && ready; i++) {
        const before = data.before[i]!;
        ready = isScheduled[before] === 1 && start[before]! + data.minutes[before]! <= time;
      }
      if (!ready) continue;
      if (time + data.tail[lot]! >= this.best) return null;
      began.push(lot);
    }
    for (const lot of began) this.schedule(lot, time);
    return began;
  }

  private schedule(lot: number, time: number): void {
    this.start[lot] = time;
    this.isScheduled[lot] = 1;
    this.key += this.data.bit[lot]!;
    this.scheduled++;
    this.running.push(lot);
    const { data, left } = this;
    for (let r = 0; r < left.length; r++) left[r] = left[r]! - data.demand[lot * left.length + r]! * data.minutes[lot]!;
  }

  private unschedule(lot: number, at: number): void {
    this.isScheduled[lot] = 0;
    this.key -= this.data.bit[lot]!;
    this.scheduled--;
    this.running.splice(at, 1);
    const { data, left } = this;
    for (let r = 0; r < left.length; r++) left[r] = left[r]! + data.demand[lot * left.length + r]! * data.minutes[lot]!;
  }

  private finish(): void {
    let end = 0;
    for (let lot = 0; lot < this.n; lot++) end = Math.max(end, this.start[lot]! + this.data.minutes[lot]!);
    if (end >= this.best) return;
    this.best = end;
    this.bestStart = this.start.slice();
  }

  /** The work left on a pool, against what it offers from now on, does not fit before the best known end. */
  private isHopeless(time: number): boolean {
    const { data, left, running, start } = this;
    const pools = left.length;
    for (let r = 0; r < pools; r++) {
      let work = left[r]!;
      for (const lot of running) work += data.demand[lot * pools + r]! * (start[lot]! + data.minutes[lot]! - time);
      if (time + Math.ceil(work / data.capacity[r]!) >= this.best) return true;
    }
    return false;
  }

  private resolve(time: number, began: readonly number[]): void {
    const { data, running } = this;
    const pools = data.capacity.length;
    const excess: number[] = [];
    let conflict = false;
    for (let r = 0; r < pools; r++) {
      let taken = 0;
      for (const lot of running) taken += data.demand[lot * pools + r]!;
      excess.push(taken - data.capacity[r]!);
      if (taken > data.capacity[r]!) conflict = true;
    }
    if (!conflict) {
      if (this.scheduled === this.n) this.finish();
      else this.descend(this.nextEnd(running));
      return;
    }
    const branches = this.delays(excess);
    for (const { delayed, bound } of branches) {
      if (bound >= this.best) break;
      const before = running.slice();
      const starts = delayed.map((lot) => this.start[lot]!);
      for (const lot of delayed) this.unschedule(lot, running.indexOf(lot));
      if (!this.shiftsLeft(time, began, starts)) this.descend(this.nextEnd(running));
      delayed.forEach((lot, i) => {
        this.schedule(lot, starts[i]!);
      });
      running.length = 0;
      running.push(...before);
      if (this.stopped) return;
    }
  }

  private nextEnd(lots: readonly number[]): number {
    let end = 2147483647;
    for (const lot of lots) end = Math.min(end, this.start[lot]! + this.data.minutes[lot]!);
    return end;
  }

  /** Least sets of running lots without which the pools suffice, the least bound first. */
  private delays(excess: readonly number[]): { delayed: number[]; bound: number }[] {
    const { data, running } = this;
    const pools = excess.length;
    const short = excess.map((amount, r) => ({ amount, r })).filter(({ amount }) => amount > 0);
    const candidates = running.filter((lot) => short.some(({ r }) => data.demand[lot * pools + r]! > 0));
    const sets: number[][] = [];
    const chosen: number[] = [];
    const need = short.map(({ amount }) => amount);
    const visit = (i: number): void => {
      if (need.every((amount) => amount <= 0)) {
        const isLeast = chosen.every((lot) => short.some(({ r }, k) => need[k]! + data.demand[lot * pools + r]! > 0));
        if (isLeast) sets.push(chosen.slice());
        return;
      }
      if (i === candidates.length) return;
      const lot = candidates[i]!;
      chosen.push(lot);
      short.forEach(({ r }, k) => {
        need[k] = need[k]! - data.demand[lot * pools + r]!;
      });
      visit(i + 1);
      chosen.pop();
      short.forEach(({ r }, k) => {
        need[k] = need[k]! + data.demand[lot * pools + r]!;
      });
      visit(i + 1);
    };
    visit(0);
    return sets
      .map((delayed) => {
        const end = this.nextEnd(running.filter((lot) => !delayed.includes(lot)));
        return { delayed, bound: end === 2147483647 ? end : Math.max(...delayed.map((lot) => end + data.tail[lot]!)) };
      })
      .sort((a, b) => a.bound - b.bound);
  }

  /**
   * Whether a lot begun now could have begun a tick earlier, now that others are out of its way: then this is
   * dominated.
   */
  private shiftsLeft(time: number, began: readonly number[], starts: readonly number[]): boolean {
    if (starts.every((at) => at === time)) return false;
    const { data, start, isScheduled } = this;
    const pools = data.capacity.length;
    for (const lot of began) {
      if (isScheduled[lot] === 0) continue;
      let can = true;
      for (let i = data.beforeFirst[lot]!; i < data.beforeFirst[lot + 1]! && can; i++) {
        can = start[data.before[i]!]! + data.minutes[data.before[i]!]! < time;
      }
      for (let r = 0; r < pools && can; r++) {
        let taken = data.demand[lot * pools + r]!;
        if (taken === 0) continue;
        for (let other = 0; other < this.n; other++) {
          if (isScheduled[other] === 1 && start[other]! < time && start[other]! + data.minutes[other]! >= time)
            taken += data.demand[other * pools + r]!;
        }
        can = taken <= data.capacity[r]!;
      }
      if (can) return true;
    }
    return false;
  }

  /** Goes on at `time` unless the same lots were scheduled before, at least as early and ending at least as early. */
  private descend(time: number): void {
    const { start, data, running } = this;
    const key = this.key;
    const known = this.memory.get(key);
    if (known !== undefined) {
      for (const { time: then, running: lots, finishes } of known) {
        if (then > time) continue;
        let dominated = true;
        for (let i = 0; i < lots.length && dominated; i++) {
          const finish = start[lots[i]!]! + data.minutes[lots[i]!]!;
          dominated = finishes[i]! <= Math.max(time, finish);
        }
        if (dominated) return;
      }
    }
    const lots = Int32Array.from(running.filter((lot) => start[lot]! + data.minutes[lot]! > time));
    const finishes = lots.map((lot) => start[lot]! + data.minutes[lot]!);
    this.advance(time);
    if (this.stopped || this.memories >= MOST_MEMORIES) return;
    this.memories++;
    if (known === undefined) this.memory.set(key, [{ time, running: lots, finishes }]);
    else known.push({ time, running: lots, finishes });
  }
}
