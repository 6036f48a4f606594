/**
 * New orders of lots from nothing, from two parents, and by small moves. All keep every lot after those it depends on.
 */

import { indicesByGroup, type Random } from '../../numbers/index.ts';
import type { Phase, Work } from '../../types.ts';
import type { Instance } from '../instance/instance.ts';
import type { Individual } from './passes.ts';

const BUCKETS = 1024;
/** Lots moved by one mutation: a number up to this. */
const MOST_MOVES = 8;

export class Variation {
  private readonly lots: number;
  private readonly linkFirst: Int32Array;
  private readonly linkFrom: Int32Array;
  private readonly nextFirst: Int32Array;
  private readonly nextTo: Int32Array;
  /** How much of the resources a lot takes while it runs. */
  private readonly load: Float64Array;
  private readonly waitingFor: Int32Array;
  private readonly eligible: Int32Array;
  private readonly weight: Float64Array;
  private readonly mark: Int32Array;
  private readonly busy = new Float64Array(BUCKETS + 2);
  private stamp = 0;

  constructor(
    work: Work,
    instance: Instance,
    private readonly lateFinish: Int32Array,
    private readonly random: Random,
  ) {
    const { lots, linkFirst, linkFrom } = instance;
    this.lots = lots;
    this.linkFirst = linkFirst;
    this.linkFrom = linkFrom;
    const [nextFirst, links] = indicesByGroup(lots, linkFrom);
    const linkTo = new Int32Array(linkFrom.length);
    for (let l = 0; l < lots; l++) linkTo.fill(l, linkFirst[l]!, linkFirst[l + 1]!);
    this.nextFirst = nextFirst;
    this.nextTo = links.map((link) => linkTo[link]!);
    this.load = loads(work);
    this.waitingFor = new Int32Array(lots);
    this.eligible = new Int32Array(lots);
    this.weight = new Float64Array(lots);
    this.mark = new Int32Array(lots);
  }

  /** A random order in which lots that must finish early tend to come early (regret-based sampling, A. Drexl 1991). */
  sample(activityList: Int32Array): void {
    const { lots, linkFirst, waitingFor, eligible } = this;
    let ready = 0;
    for (let l = 0; l < lots; l++) {
      waitingFor[l] = linkFirst[l + 1]! - linkFirst[l]!;
      if (waitingFor[l] === 0) eligible[ready++] = l;
    }
    for (let k = 0; k < lots; k++) {
      const i = this.draw(ready);
      const lot = eligible[i]!;
      eligible[i] = eligible[--ready]!;
      activityList[k] = lot;
      for (let j = this.nextFirst[lot]!; j < this.nextFirst[lot + 1]!; j++) {
        const next = this.nextTo[j]!;
        if (--waitingFor[next]! === 0) eligible[ready++] = next;
      }
    }
  }

  private draw(ready: number): number {
    const { eligible, lateFinish, weight } = this;
    let latest = lateFinish[eligible[0]!]!;
    for (let i = 1; i < ready; i++) if (lateFinish[eligible[i]!]! > latest) latest = lateFinish[eligible[i]!]!;
    let sum = 0;
    for (let i = 0; i < ready; i++) {
      weight[i] = latest - lateFinish[eligible[i]!]! + 1;
      sum += weight[i]!;
    }
    let left = this.random.unit() * sum;
    for (let i = 0; i < ready - 1; i++) {
      left -= weight[i]!;
      if (left < 0) return i;
    }
    return ready - 1;
  }

  /**
   * A child of two parents: the lots that `better` has in its busiest window of time stay as they stand there, the rest
   * is taken from `other` (peak crossover, after V. Valls, F. Ballestin and S. Quintanilla, European Journal of
   * Operational Research 185, 2008; the window, of random length, is where resources are used most, as in D. Debels and
   * M. Vanhoucke, Operations Research 55, 2007).
   */
  cross(better: Individual, other: Individual, child: Int32Array): void {
    const { lots, mark } = this;
    const stamp = ++this.stamp;
    const [from, to] = this.busiestWindow(better);
    let k = 0;
    for (; k < from; k++) {
      const lot = other.activityList[k]!;
      mark[lot] = stamp;
      child[k] = lot;
    }
    for (let i = 0; i < lots && k < to; i++) {
      const lot = better.activityList[i]!;
      if (mark[lot] === stamp) continue;
      mark[lot] = stamp;
      child[k++] = lot;
    }
    for (let i = 0; k < lots; i++) {
      const lot = other.activityList[i]!;
      if (mark[lot] !== stamp) child[k++] = lot;
    }
  }

  /**
   * Positions in the order of the lots that start in the busiest stretch of a quarter to three quarters of the
   * schedule.
   */
  private busiestWindow({ activityList, starts, finishes }: Individual): readonly [number, number] {
    const { lots, busy, load, random } = this;
    const begin = starts[activityList[0]!]!;
    let span = 1;
    for (let l = 0; l < lots; l++) if (finishes[l]! - begin > span) span = finishes[l]! - begin;
    const buckets = Math.min(span, BUCKETS);
    const scale = buckets / span;
    busy.fill(0, 0, buckets + 2);
    for (let l = 0; l < lots; l++) {
      const a = ((starts[l]! - begin) * scale) | 0;
      const b = ((finishes[l]! - begin) * scale) | 0;
      busy[a] = busy[a]! + load[l]!;
      busy[b] = busy[b]! - load[l]!;
    }
    const wide = Math.max(1, (buckets * (0.25 + 0.5 * random.unit())) | 0);
    let level = 0;
    let sum = 0;
    for (let t = 0; t < wide; t++) {
      level += busy[t]!;
      busy[t] = level;
      sum += level;
    }
    let most = sum;
    let at = 0;
    for (let t = wide; t < buckets; t++) {
      level += busy[t]!;
      busy[t] = level;
      sum += level - busy[t - wide]!;
      if (sum > most + 1e-9 || (sum > most - 1e-9 && random.below(2) === 0)) {
        most = sum;
        at = t - wide + 1;
      }
    }
    const opens = begin + at / scale;
    const closes = begin + (at + wide) / scale;
    let from = 0;
    while (from < lots && starts[activityList[from]!]! < opens) from++;
    let to = from;
    while (to < lots && starts[activityList[to]!]! < closes) to++;
    return [from, to];
  }

  /** Moves a random number of lots some places forwards or back, as far as their links allow. */
  mutate(activityList: Int32Array): void {
    for (let moves = this.random.below(MOST_MOVES + 1); moves > 0; moves--) this.move(activityList);
  }

  private move(activityList: Int32Array): void {
    const { random, lots } = this;
    const from = random.below(lots);
    const lot = activityList[from]!;
    const far = 1 + random.below(Math.max(1, lots >> 2));
    let at = from;
    if (random.below(2) === 0) {
      for (const end = Math.max(0, from - far); at > end && !this.isLinked(activityList[at - 1]!, lot); at--)
        activityList[at] = activityList[at - 1]!;
    } else {
      for (const end = Math.min(lots - 1, from + far); at < end && !this.isLinked(lot, activityList[at + 1]!); at++)
        activityList[at] = activityList[at + 1]!;
    }
    activityList[at] = lot;
  }

  private isLinked(before: number, after: number): boolean {
    const { linkFirst, linkFrom } = this;
    for (let i = linkFirst[after]!, end = linkFirst[after + 1]!; i < end; i++) if (linkFrom[i] === before) return true;
    return false;
  }

  /** Draws the lots of a stretch of the order again, the rest staying: a window of the schedule solved again. */
  redrawWindow(activityList: Int32Array): void {
    const { random, lots } = this;
    const length = Math.min(lots, 3 + random.below(Math.max(1, (lots / 5) | 0)));
    const first = random.below(lots - length + 1);
    for (let k = first; k < first + length; k++) {
      for (let tries = 0; tries < 8; tries++) {
        const at = k + random.below(first + length - k);
        if (!this.isFree(activityList, k, at)) continue;
        const lot = activityList[at]!;
        for (let i = at; i > k; i--) activityList[i] = activityList[i - 1]!;
        activityList[k] = lot;
        break;
      }
    }
  }

  private isFree(activityList: Int32Array, from: number, at: number): boolean {
    for (let i = from; i < at; i++) if (this.isLinked(activityList[i]!, activityList[at]!)) return false;
    return true;
  }
}

/** The share of the resources that each lot takes while it runs, added over resources. */
function loads(work: Work): Float64Array {
  const persons = Math.max(1, work.resources.filter((resource) => resource.kind === 'person').length);
  const share = (phase: Phase): number => {
    if (phase.kind === 'demand')
      return phase.demands.reduce((sum, d) => sum + d.amount / Math.max(1, work.resources[d.resource]!.capacity), 0);
    if (phase.kind === 'hands') return phase.people / persons;
    if (phase.kind === 'run') return 1 / work.resources[phase.machine]!.capacity + phase.people / persons;
    return 0;
  };
  const minutes = (phase: Phase) => (phase.kind === 'lead' ? phase.workingDays * 1440 : phase.minutes);
  return Float64Array.from(work.lots, ({ phases }) => {
    const total = phases.reduce((sum, phase) => sum + minutes(phase), 0);
    return phases.reduce((sum, phase) => sum + share(phase) * minutes(phase), 0) / Math.max(1, total);
  });
}
