/** The search over activity lists: a population, crossover and local moves within a budget. */
import type { Random } from '../../numbers/index.ts';
import type { Compiled } from '../generate/compiled.ts';
import { type Budget, type Individual, Passes } from './passes.ts';
import { Seen } from './seen.ts';
import { Variation } from './vary.ts';

/** What a search found. Costs and times are the forward instance's own. */
export interface Found {
  /** What generates the best schedule. */
  readonly activityList: Int32Array;
  readonly cost: number;
  readonly criteria: readonly number[];
  /** Passes of the generator spent. */
  readonly schedules: number;
}

/** Children in a row that were met before: then the population has nothing left to give. */
const MOST_REPEATS = 400;
/**
 * Out of ten children, those whose window is drawn again instead of single lots moved, and those generated backwards
 * first.
 */
const WINDOWS_IN_TEN = 2;
const BACKWARDS_IN_TEN = 3;
/** Schedules a lot for which one more population pays. */
const SCHEDULES_PER_ISLAND = 230;
const MOST_ISLANDS = 6;
/** The share of a budget with several populations that is left for solving windows of the best schedule again. */
const WINDOWS_SHARE = 0.15;
/**
 * Lots times orders of a population above which a parent is the best of three instead of two: the more there is to
 * settle.
 */
const MUCH_TO_SETTLE = 5000;
/** Orders and schedules that are known again, at most. */
const MOST_REMEMBERED = 1 << 16;
/** Where only time is given: schedules spent before the budget is reckoned from how fast they go. */
const TRIAL_SCHEDULES = 300;

/**
 * Searches the best schedule within a budget: a population of activity lists, each justified, that breeds by peak
 * crossover, moves of single lots and windows drawn again; nothing is generated twice (orders and schedules met before
 * are rejected by hash). Larger budgets let several populations grow apart before their best are joined, and solve
 * windows of the best schedule again at the end; when there is nothing new left it begins again. Deterministic for a
 * seed and a budget of schedules. `first` are orders to start from, tried in turn. `onBetter` hears of every better
 * schedule as it comes.
 */
export function search(
  compiled: Compiled,
  random: Random,
  budget: Budget,
  first: readonly Int32Array[] = [],
  onBetter: (passes: Passes) => void = () => {},
): Found {
  const passes = new Passes(compiled, budget);
  const search = new Search(compiled, random, passes, onBetter, Math.min(budget.schedules, MOST_REMEMBERED));
  search.run(budget.schedules, first);
  return {
    activityList: passes.bestOrder,
    cost: passes.bestCost,
    criteria: passes.bestCriteria,
    schedules: passes.spent,
  };
}

class Search {
  private readonly vary: Variation;
  private readonly child: Individual;
  private readonly seenOrders: Seen;
  private readonly seenSchedules: Seen;
  private readonly heard: { cost: number };
  private readonly marks: Int32Array;

  constructor(
    compiled: Compiled,
    private readonly random: Random,
    private readonly passes: Passes,
    private readonly onBetter: (passes: Passes) => void,
    remembered: number,
  ) {
    this.seenOrders = new Seen(remembered);
    this.seenSchedules = new Seen(remembered);
    this.vary = new Variation(compiled.work, compiled.forward, passes.lateFinish, random);
    this.child = passes.individual();
    this.heard = { cost: Number.POSITIVE_INFINITY };
    this.marks = Int32Array.from({ length: compiled.forward.lots }, () => random.bits() | 1);
  }

  run(schedules: number, first: readonly Int32Array[]): void {
    const { passes } = this;
    if (passes.lots === 0) return;
    let begun = first;
    let wanted = schedules;
    if (!Number.isFinite(schedules)) {
      const trial = this.settle(TRIAL_SCHEDULES / 3, first);
      begun = trial.slice(0, 1).map((individual) => individual.activityList.slice());
      wanted = passes.expected();
    }
    const size = populationSize(wanted);
    const islands = Math.max(1, Math.min(MOST_ISLANDS, Math.round(wanted / passes.lots / SCHEDULES_PER_ISLAND)));
    let population: Individual[] = [];
    if (islands === 1) population = this.settle(size, begun);
    else {
      const share = 0.1 + 0.125 * islands;
      for (let k = 0; k < islands && !passes.done(); k++) {
        const island = this.settle(Math.round(size * 0.6), k === 0 ? begun : []);
        this.breed(island, (wanted * share * (k + 1)) / islands);
        island.sort((a, b) => a.fitness - b.fitness);
        population.push(...island.slice(0, Math.ceil(size / islands)));
      }
    }
    if (islands > 1) {
      this.breed(population, wanted * (1 - WINDOWS_SHARE));
      this.solveWindows(population, schedules);
    } else this.breed(population, schedules);
    while (!passes.done() && passes.lots > 1) {
      const spent = passes.spent;
      population = this.settle(size, []);
      this.breed(population, schedules);
      if (passes.spent === spent) return;
    }
  }

  /** A first population: the given orders, late finish first, then samples; all justified. */
  private settle(size: number, first: readonly Int32Array[]): Individual[] {
    const { passes, vary } = this;
    const population: Individual[] = [];
    for (let i = 0, tries = 0; population.length < size && tries < 3 * size && !passes.done(); i++, tries++) {
      const individual = passes.individual();
      if (i < first.length) individual.activityList.set(first[i]!);
      else vary.sample(individual.activityList);
      if (i >= first.length && !this.seenOrders.isNew(this.hashOf(individual.activityList))) continue;
      passes.forwards(individual);
      this.tell();
      if (passes.allows(2)) passes.justify(individual);
      this.tell();
      if (this.seenSchedules.isNew(individual.hash) || population.length === 0) population.push(individual);
    }
    return population;
  }

  private breed(population: Individual[], until: number): void {
    const { passes, child, random, vary } = this;
    if (population.length === 0) return;
    const drawn = population.length * passes.lots > MUCH_TO_SETTLE ? 3 : 2;
    let repeats = 0;
    while (!passes.done() && passes.spent < until && repeats < MOST_REPEATS) {
      let better = this.pick(population, drawn);
      let other = this.pick(population, drawn);
      if (other === better) other = population[random.below(population.length)]!;
      if (other.fitness < better.fitness) [better, other] = [other, better];
      vary.cross(better, other, child.activityList);
      if (random.below(10) < WINDOWS_IN_TEN) vary.redrawWindow(child.activityList);
      else vary.mutate(child.activityList);
      repeats++;
      if (!this.seenOrders.isNew(this.hashOf(child.activityList)) || !this.grow(child)) continue;
      repeats = 0;
      this.replaceWorst(population);
    }
  }

  /**
   * Decomposition: a window of the best individual's order is drawn again while the rest stays, over and over; what is
   * as good takes its place (after D. Debels and M. Vanhoucke, Operations Research 55, 2007, from memory).
   */
  private solveWindows(population: readonly Individual[], until: number): void {
    const { passes, child, vary } = this;
    if (population.length === 0) return;
    const best = population.reduce((a, b) => (b.fitness < a.fitness ? b : a));
    let repeats = 0;
    while (!passes.done() && passes.spent < until && repeats < MOST_REPEATS) {
      child.activityList.set(best.activityList);
      vary.redrawWindow(child.activityList);
      repeats++;
      if (!this.seenOrders.isNew(this.hashOf(child.activityList)) || !this.grow(child)) continue;
      repeats = 0;
      if (child.fitness <= best.fitness) become(best, child);
    }
  }

  /**
   * Generates and justifies the child; false when its schedule was met before. Some begin with the pass to the right.
   */
  private grow(child: Individual): boolean {
    const { passes, random, seenSchedules } = this;
    if (random.below(10) < BACKWARDS_IN_TEN && passes.allows(2)) {
      passes.backwardsFirst(child);
      this.tell();
      return seenSchedules.isNew(child.hash);
    }
    passes.forwards(child, true);
    this.tell();
    if (!seenSchedules.isNew(child.hash) || !passes.allows(2)) return false;
    const before = child.hash;
    passes.justify(child);
    this.tell();
    return child.hash === before || seenSchedules.isNew(child.hash);
  }

  /** The best of this many drawn at random. */
  private pick(population: readonly Individual[], drawn: number): Individual {
    const { random } = this;
    let best = population[random.below(population.length)]!;
    for (let i = 1; i < drawn; i++) {
      const one = population[random.below(population.length)]!;
      if (one.fitness < best.fitness) best = one;
    }
    return best;
  }

  private replaceWorst(population: Individual[]): void {
    const { random, child } = this;
    let worst = population[0]!;
    for (const one of population) {
      if (one.fitness > worst.fitness || (one.fitness === worst.fitness && random.below(3) === 0)) worst = one;
    }
    if (child.fitness > worst.fitness) return;
    become(worst, child);
  }

  private hashOf(activityList: Int32Array): number {
    let hash = 0;
    for (let i = 0; i < activityList.length; i++) hash = (Math.imul(hash, 31) + this.marks[activityList[i]!]!) | 0;
    return hash;
  }

  private tell(): void {
    if (this.passes.bestCost >= this.heard.cost) return;
    this.heard.cost = this.passes.bestCost;
    this.onBetter(this.passes);
  }
}

/** 25 at a thousand schedules, 77 at five thousand, 390 at fifty thousand. */
function populationSize(schedules: number): number {
  return Math.max(6, Math.min(400, Math.round(25 * (schedules / 1000) ** 0.7)));
}

function become(one: Individual, other: Individual): void {
  one.activityList.set(other.activityList);
  one.starts.set(other.starts);
  one.finishes.set(other.finishes);
  one.cost = other.cost;
  one.fitness = other.fitness;
  one.hash = other.hash;
}
