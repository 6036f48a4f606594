/** Gathers what futures come to: ends, criticality, cruciality, cost. */

import { openMinutesBetween } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import { type Due, duesOf, madeAt } from '../stages/index.ts';
import type { Instant } from '../types.ts';
import type { Future } from './futures.ts';
import { shareError } from './statistics.ts';
import type { World } from './worlds.ts';

/**
 * Driving chains are followed in this many futures at most: a share is then known to a standard error of 0.016 or less.
 */
const FOLLOWED = 1000;

/** What the futures came to so far. Columns have a place for each future up to `most`. */
export class Tally {
  count = 0;
  ready = 0;
  loadIn = 0;
  event = 0;
  beyond = 0;
  /** By due of the plan: futures in which it is kept. */
  readonly dues: Int32Array;
  readonly readyAt: Int32Array;
  readonly finishAt: Int32Array;
  /** By step: futures in which it drove, of those whose chain was followed. */
  private readonly driving: Int32Array;
  /** drawn[step][future]: minutes of its work beyond the plan, rounded. */
  readonly drawn: readonly Int32Array[];
  private readonly seenIn: Int32Array;
  private readonly onSite: Uint8Array;
  private readonly planned: Planned;
  private readonly dueBy: readonly Due[];
  /** The end of the workshop's work in a future that has none left. */
  private readonly readySince: Instant;
  private readonly finishSince: Instant;

  constructor(planned: Planned, most: number) {
    this.planned = planned;
    this.readySince = madeAt(planned, false) ?? planned.surroundings.from;
    this.finishSince = madeAt(planned, true) ?? planned.surroundings.from;
    this.readyAt = new Int32Array(most);
    this.finishAt = new Int32Array(most);
    this.dueBy = duesOf(planned);
    this.dues = new Int32Array(this.dueBy.length);
    this.driving = new Int32Array(planned.plans.length);
    this.drawn = planned.plans.map(() => new Int32Array(most));
    this.seenIn = new Int32Array(planned.plans.length).fill(-1);
    this.onSite = Uint8Array.from(planned.plans, (plan) => Number(plan.onSite));
  }

  add(future: Future, world: World): void {
    const { surroundings } = this.planned;
    const n = this.count++;
    const ready = lastOf(future.finishes, world.workshopLots);
    const finish = world.lots.length === world.workshopLots.length ? ready : lastOf(future.finishes, world.lots);
    const readyAt = ready < 0 ? this.readySince : future.finishes[ready]!;
    const finishAt = finish < 0 ? this.finishSince : future.finishes[finish]!;
    this.readyAt[n] = readyAt;
    this.finishAt[n] = finishAt;
    if (readyAt <= surroundings.readyBy) this.ready++;
    if (surroundings.loadIn !== null && readyAt <= surroundings.loadIn) this.loadIn++;
    if (finishAt <= surroundings.event) this.event++;
    if (finishAt > world.horizon) this.beyond++;
    for (const [i, { at }] of this.dueBy.entries()) {
      const last = lastOf(future.finishes, world.dueLots[i]!);
      if (last < 0 || future.finishes[last]! <= at) this.dues[i] = this.dues[i]! + 1;
    }
    this.addSteps(n, future, world);
    if (n >= FOLLOWED) return;
    if (ready >= 0) this.mark(n, ready, world);
    if (finish >= 0 && finish !== ready) this.mark(n, finish, world);
  }

  /** The steps on the driving chain of this lot drive future n, each once. */
  private mark(n: number, last: number, { chains, stepOf }: World): void {
    const { seenIn, driving } = this;
    const { steps } = chains;
    const count = chains.follow(last);
    for (let i = 0; i < count; i++) {
      const step = stepOf[steps[i]!]!;
      if (step < 0 || seenIn[step] === n) continue;
      seenIn[step] = n;
      driving[step] = driving[step]! + 1;
    }
  }

  /** Share of futures in which the step drove. */
  criticality(step: number): number {
    return this.driving[step]! / Math.min(FOLLOWED, this.count);
  }

  private addSteps(n: number, { drawnMinutes }: Future, { stepOf, more }: World): void {
    for (let own = 0; own < stepOf.length; own++) {
      const step = stepOf[own]!;
      if (step >= 0) this.drawn[step]![n] = Math.round(drawnMinutes[own]! + more[own]!);
    }
  }

  /** The end by which a step is judged: of all for work on site, else of the workshop. */
  ends(step: number): Int32Array {
    return this.onSite[step] === 1 ? this.finishAt : this.readyAt;
  }

  /** The same of a future that is not counted. */
  endOf({ finishes }: Future, world: World, step: number): Instant {
    const lot = lastOf(finishes, this.onSite[step] === 1 ? world.lots : world.workshopLots);
    return lot < 0 ? this.planned.surroundings.from : finishes[lot]!;
  }

  /** Ends in the minutes in which anybody is there, from now. */
  workingEnds(ends: Int32Array): Float64Array {
    const { working, from } = this.planned.surroundings;
    return Float64Array.from(ends, (end) => openMinutesBetween(working, from, end));
  }

  /** The largest standard error of the three chances. */
  error(): number {
    const { surroundings } = this.planned;
    const hits = surroundings.loadIn === null ? [this.ready, this.event] : [this.ready, this.loadIn, this.event];
    return Math.max(...hits.map((count) => shareError(count, this.count)));
  }
}

/** The lot among these that finishes last; -1 for none. */
function lastOf(finishes: Int32Array, lots: Int32Array): number {
  let last = -1;
  let latest = -2147483648;
  for (let i = 0; i < lots.length; i++) {
    const finish = finishes[lots[i]!]!;
    if (finish <= latest) continue;
    latest = finish;
    last = lots[i]!;
  }
  return last;
}
