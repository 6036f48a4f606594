/** Passes of the generator over activity lists: serial, justified, and what they cost. */
import { Random } from '../../numbers/index.ts';
import type { Compiled } from '../generate/compiled.ts';
import { generateSerial } from '../generate/generate.ts';
import { Sorter, unlimitedTimes } from '../generate/orders.ts';
import type { Instance } from '../instance/instance.ts';
import { compareCriteria, type Objective, objectiveOf } from './objective.ts';

/** Passes spent on the later criteria although no schedule can be ready earlier. */
const POLISH = 200;

/** One schedule in the population: the lots in the order of their starts, the starts, and how good it is. */
export interface Individual {
  readonly activityList: Int32Array;
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  /** Objective.cost, in the instance's time. */
  cost: number;
  /** Cost plus a fraction below one that tells how near a schedule one tick shorter is: least is best. */
  fitness: number;
  hash: number;
}

/** When to stop: whichever comes first. `clock` gives milliseconds; the engine has none of its own. */
export interface Budget {
  readonly schedules: number;
  readonly milliseconds: number;
  readonly clock: (() => number) | null;
  /** No schedule costs less; reaching it ends the search, in a build after some passes for the later criteria. */
  readonly bound: number;
  /** Hears between passes what share of the budget is spent, 0 to 1. */
  readonly onShare?: (share: number) => void;
}

/**
 * Passes of the generator for the search: it counts them, remembers the best schedule, and justifies. A pass in the
 * mirror shifts everything to the right; a pass forwards after it shifts all to the left again (forward-backward
 * improvement: K. Li and R. Willis 1992; double justification: V. Valls, F. Ballestin, S. Quintanilla, European Journal
 * of Operational Research 165, 2005). Where a lot's length depends on its start the second pass may be the worse one:
 * the better is kept.
 */
export class Passes {
  readonly forward: Instance;
  readonly mirrored: Instance;
  readonly lots: number;
  /** Late finishes and starts with unlimited resources when all ends at `unlimited`. */
  readonly lateFinish: Int32Array;
  readonly unlimited: number;
  readonly bestOrder: Int32Array;
  bestCost = Number.POSITIVE_INFINITY;
  bestCriteria: readonly number[] = [];
  spent = 0;

  private readonly objective: Objective;
  private readonly sorter: Sorter;
  private readonly scratch: Int32Array;
  private readonly deadlines: Int32Array;
  private readonly hashes: Int32Array;
  private readonly onSite: Uint8Array;
  private readonly began: number;
  private readonly now: number;
  private latest = 0;

  constructor(
    compiled: Compiled,
    private readonly budget: Budget,
  ) {
    this.forward = compiled.forward;
    this.mirrored = compiled.mirrored;
    const lots = compiled.forward.lots;
    this.lots = lots;
    this.now = compiled.forward.isTextbook ? 0 : compiled.work.now;
    this.objective = objectiveOf(compiled);
    this.sorter = new Sorter(lots);
    this.scratch = new Int32Array(lots);
    this.bestOrder = new Int32Array(lots);
    this.deadlines = this.mirrored.earliest.slice();
    this.onSite = Uint8Array.from(compiled.work.lots, (lot) => (lot.onSite ? 1 : 0));
    this.latest = unlimitedTimes(this.forward).latest;
    this.unlimited = this.forward.isTextbook ? this.latest : this.readyAt();
    this.anchor();
    const late = unlimitedTimes(this.mirrored);
    this.lateFinish = late.starts.map((start) => (this.forward.isTextbook ? this.unlimited - start : -start));
    this.release();
    const random = new Random(20_571);
    this.hashes = Int32Array.from({ length: lots }, () => random.bits());
    this.began = budget.clock === null ? 0 : budget.clock();
  }

  individual(): Individual {
    return {
      activityList: new Int32Array(this.lots),
      starts: new Int32Array(this.lots),
      finishes: new Int32Array(this.lots),
      cost: 0,
      fitness: 0,
      hash: 0,
    };
  }

  done(): boolean {
    const { schedules, milliseconds, clock, bound, onShare } = this.budget;
    if (this.spent >= schedules || (this.bestCost <= bound && (this.forward.isTextbook || this.spent >= POLISH)))
      return true;
    const taken = clock === null || this.spent === 0 ? 0 : clock() - this.began;
    onShare?.(Math.min(1, Math.max(this.spent / schedules, taken / milliseconds)));
    return clock !== null && this.spent > 0 && taken >= milliseconds;
  }

  /**
   * A forward pass in the order of `into`, which then holds its schedule. `hashOnly`: of a textbook instance its cost
   * and hash alone, for one that will be justified if it is new.
   */
  forwards(into: Individual, hashOnly = false): void {
    this.spent++;
    this.latest = generateSerial(this.forward, into.activityList);
    if (!hashOnly || !this.forward.isTextbook) this.judge(into);
    else {
      into.cost = this.remember(into.activityList);
      into.hash = this.hash();
    }
  }

  /**
   * The order of `into` generated in the mirror first, from its last lot, and then forwards by the starts that gives.
   * Two passes; the mirror is anchored where the last forward pass ended.
   */
  backwardsFirst(into: Individual): void {
    const { scratch } = this;
    this.anchor();
    scratch.set(into.activityList);
    scratch.reverse();
    this.thereAndBack();
    into.activityList.set(scratch);
    this.judge(into);
  }

  /** Schedules that the time will suffice for, by how long those so far took; at least a thousand. */
  expected(): number {
    const { clock, milliseconds } = this.budget;
    if (clock === null || this.spent === 0) return 50_000;
    return Math.max(1000, Math.round((this.spent * milliseconds) / Math.max(0.1, clock() - this.began)));
  }

  private hash(): number {
    const { hashes, lots } = this;
    const { starts } = this.forward;
    let hash = 0;
    for (let l = 0; l < lots; l++) hash = (hash + Math.imul(hashes[l]!, starts[l]! + 1)) | 0;
    return hash;
  }

  /** Whether this many passes more lie within the budget of schedules. */
  allows(passes: number): boolean {
    return this.spent + passes <= this.budget.schedules && !this.done();
  }

  /**
   * Justifies once to the right and once to the left the schedule of the last forward pass, which was `individual`'s;
   * the better of before and after stays. Two passes.
   */
  justify(individual: Individual): void {
    const { forward, scratch, sorter } = this;
    this.anchor();
    scratch.set(individual.activityList);
    scratch.reverse();
    sorter.falling(scratch, forward.finishes);
    this.thereAndBack();
    if (!forward.isTextbook && this.objective.cost(this.latest) > individual.cost) this.remember(scratch);
    else {
      individual.activityList.set(scratch);
      this.judge(individual);
    }
  }

  /** Generates the order of `scratch` in the mirror, and then forwards by the starts that gives. Two passes. */
  private thereAndBack(): void {
    const { forward, mirrored, scratch, sorter } = this;
    this.spent++;
    generateSerial(mirrored, scratch);
    this.release();
    scratch.reverse();
    sorter.falling(scratch, mirrored.finishes);
    this.spent++;
    this.latest = generateSerial(forward, scratch);
  }

  /** In the mirror the workshop's lots end when its last one ended forwards, those on site when the last of all did. */
  private anchor(): void {
    const { mirrored, onSite, lots } = this;
    if (mirrored.isTextbook) return;
    const ready = this.readyAt();
    for (let l = 0; l < lots; l++) mirrored.earliest[l] = onSite[l] === 0 ? -ready : -this.latest;
  }

  private release(): void {
    if (!this.mirrored.isTextbook) this.mirrored.earliest.set(this.deadlines);
  }

  private readyAt(): number {
    const { finishes } = this.forward;
    let ready = this.now;
    for (let l = 0; l < this.lots; l++) if (this.onSite[l] === 0 && finishes[l]! > ready) ready = finishes[l]!;
    return ready;
  }

  private judge(into: Individual): void {
    const { forward, lots, lateFinish, hashes } = this;
    const { starts, finishes } = forward;
    const cost = this.remember(into.activityList);
    const shift = Math.floor(cost) - 1 - this.unlimited;
    let over = 0;
    let hash = 0;
    for (let l = 0; l < lots; l++) {
      const late = finishes[l]! - lateFinish[l]! - shift;
      over += Math.max(late, 0);
      hash = (hash + Math.imul(hashes[l]!, starts[l]! + 1)) | 0;
    }
    into.starts.set(starts);
    into.finishes.set(finishes);
    into.cost = cost;
    into.fitness = cost + over / (lots * 20 + over);
    into.hash = hash;
    this.sorter.rising(into.activityList, starts);
  }

  /** Keeps the order of the last forward pass if it is the best so far; returns its cost. */
  private remember(activityList: Int32Array): number {
    const cost = this.objective.cost(this.latest);
    if (cost > this.bestCost) return cost;
    if (cost < this.bestCost || !this.forward.isTextbook) {
      const criteria = this.objective.criteria(this.latest, this.bestCriteria);
      if (cost < this.bestCost || compareCriteria(criteria, this.bestCriteria) < 0) {
        this.bestCriteria = criteria;
        this.bestOrder.set(activityList);
      }
    }
    this.bestCost = cost;
    return cost;
  }
}
