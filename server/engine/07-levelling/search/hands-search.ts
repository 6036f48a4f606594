/** The search for choices that no order of lots alone can say: see `choices.ts`. */
import type { Random } from '../../numbers/index.ts';
import { type Choices, choose, unchosen, withoutNeedless } from '../generate/choices.ts';
import type { Compiled } from '../generate/compiled.ts';
import { generateSerial } from '../generate/generate.ts';
import { FREE } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { CRITERIA, compareCriteria, type Objective, objectiveOf } from './objective.ts';
import type { Budget } from './passes.ts';

/** What the search found; `schedules`: passes of the generator spent. */
interface FoundHands extends Choices {
  readonly schedules: number;
}

/** Moves made at once at most. */
const MOST_MOVES = 3;
/**
 * How much worse than the last schedule the next may be at first, as a share of the time from now to the ready finish.
 */
const LENIENCE = 0.08;
/** How often the search begins again from the best schedule, with full lenience. */
const ROUNDS = 16;
/** The share of the budget that taking back needless choices may cost. */
const TIDYING = 0.1;
const [IDLE, SWITCHES] = [CRITERIA.indexOf('idle'), CRITERIA.indexOf('switches')];

/**
 * Improves the schedule of `activityList` by small moves: another crew for a phase, a phase that begins only when other
 * work has ended, a lot elsewhere in the order. What makes the schedule worse by less than a threshold, which falls to
 * nothing in each round, is kept (threshold accepting: G. Dueck and T. Scheuer, Journal of Computational Physics 90,
 * 1990, from memory). At the end every choice is taken back that is not needed; that somebody has work for longer is no
 * reason to put it off, nor is a change of work one to leave a piece in a machine, in clamps or on a rack.
 * Deterministic for a seed and a budget of schedules. `onBetter` hears of every better schedule.
 */
export function searchHands(
  compiled: Compiled,
  random: Random,
  budget: Budget,
  activityList: Int32Array,
  onBetter: (found: Choices, schedules: number) => void = () => {},
): FoundHands {
  return new HandsSearch(compiled, random, budget, activityList, onBetter).run();
}

class HandsSearch {
  private readonly instance: Instance;
  private readonly objective: Objective;
  /** Phases that several crews may do, and phases that may wait. */
  private readonly crewed: number[] = [];
  private readonly waiting: number[] = [];
  /** What somebody must come back for. */
  private readonly rests: number[] = [];
  private readonly now: Choices;
  private readonly last: Choices;
  private readonly best: Choices;
  private bestCost: number;
  private bestCriteria: readonly number[];
  private spent = 0;
  private readonly began: number;

  constructor(
    private readonly compiled: Compiled,
    private readonly random: Random,
    private readonly budget: Budget,
    activityList: Int32Array,
    private readonly onBetter: (found: Choices, schedules: number) => void,
  ) {
    this.instance = compiled.forward;
    this.objective = objectiveOf(compiled);
    for (let l = 0; l < this.instance.lots; l++) this.collect(l);
    this.now = unchosen(this.instance, activityList.slice());
    this.last = unchosen(this.instance, activityList.slice());
    this.best = unchosen(this.instance, activityList.slice());
    this.began = budget.clock === null ? 0 : budget.clock();
    const latest = this.generate(this.now);
    this.bestCost = this.objective.cost(latest);
    this.bestCriteria = this.objective.criteria(latest);
  }

  private collect(l: number): void {
    const { phaseFirst, crewRange, phaseMinutes, phaseLoose, begun } = this.instance;
    const first = phaseFirst[l]!;
    for (let p = begun[l] === FREE ? first : first + 1; p < phaseFirst[l + 1]!; p++) {
      if (phaseMinutes[p]! > 0 && crewRange[2 * p + 1]! - crewRange[2 * p]! > 1) this.crewed.push(p);
      if (p === first || phaseLoose[p] === 1) this.waiting.push(p);
      if (p !== first && phaseLoose[p] === 1) this.rests.push(p);
    }
  }

  run(): FoundHands {
    const span = Math.max(1, Math.floor(this.bestCost) - this.compiled.work.now);
    let cost = this.bestCost;
    let round = 0;
    for (;;) {
      const progress = this.progress();
      this.budget.onShare?.(Math.min(1, progress));
      if (progress >= 1 - TIDYING || this.bestCost <= this.budget.bound) break;
      const rounds = (progress / (1 - TIDYING)) * ROUNDS;
      if (Math.floor(rounds) > round) {
        round = Math.floor(rounds);
        copy(this.best, this.now);
        cost = this.bestCost;
      }
      copy(this.now, this.last);
      for (let moves = 1 + this.random.below(MOST_MOVES); moves > 0; moves--) this.move();
      const latest = this.generate(this.now);
      const next = this.objective.cost(latest);
      if (next > cost + LENIENCE * span * (1 - (rounds % 1)) ** 2) copy(this.last, this.now);
      else {
        cost = next;
        this.remember(latest, next);
      }
    }
    return { ...this.tidied(), schedules: this.spent };
  }

  private remember(latest: number, cost: number): void {
    if (cost > this.bestCost) return;
    const criteria = this.objective.criteria(latest, this.bestCriteria);
    if (cost === this.bestCost && compareCriteria(criteria, this.bestCriteria) >= 0) return;
    this.bestCost = cost;
    this.bestCriteria = criteria;
    copy(this.now, this.best);
    this.onBetter(this.best, this.spent);
  }

  private tidied(): Choices {
    const { wanted, notBefore } = this.best;
    const rests = this.rests.filter((p) => notBefore[p] !== FREE || wanted[p]! >= 0);
    this.putOffNoMore(rests, [IDLE, SWITCHES]);
    const isNeedless = (tried: Choices) => this.progress() < 1 - TIDYING / 3 && this.isAsGood(tried);
    copy(withoutNeedless(this.best, isNeedless), this.best);
    this.putOffNoMore(
      this.waiting.filter((p) => this.best.notBefore[p] !== FREE),
      [IDLE],
    );
    for (const p of this.waiting) {
      const isLeft = this.progress() < 1 && this.spent + 2 <= this.budget.schedules;
      if (isLeft && this.best.notBefore[p] !== FREE) this.tighten(p);
    }
    return this.best;
  }

  /**
   * Lets phases begin as early as they can, by whoever ends them first, that nothing gains by waiting but what is not
   * asked (`but`): all together, then by halves.
   */
  private putOffNoMore(phases: readonly number[], but: readonly number[]): void {
    if (phases.length === 0 || this.progress() >= 1 - TIDYING / 3) return;
    copy(this.best, this.now);
    for (const p of phases) {
      this.now.notBefore[p] = FREE;
      if (but.includes(SWITCHES)) this.now.wanted[p] = -1;
    }
    if (this.isAsGood(this.now, but)) copy(this.now, this.best);
    else if (phases.length > 1) {
      const half = phases.length >> 1;
      this.putOffNoMore(phases.slice(0, half), but);
      this.putOffNoMore(phases.slice(half), but);
    } else this.putOffOneNight(phases[0]!, but);
  }

  /** The phase, which waits no more in the last pass, waits until the night is over in which it began or went on. */
  private putOffOneNight(p: number, but: readonly number[]): void {
    const { nights } = this.compiled.work;
    const finish = this.instance.phaseFinishes[p]!;
    const night = nights === undefined ? -1 : nights.closes.findIndex((end) => end > this.instance.phaseStarts[p]!);
    if (nights === undefined || night < 0 || nights.opens[night]! >= finish) return;
    this.now.notBefore[p] = nights.closes[night]!;
    if (nights.closes[night]! < this.best.notBefore[p]! && this.isAsGood(this.now, but)) copy(this.now, this.best);
  }

  /** Lets a phase that waits begin when the last one before it ends, where that is no worse. */
  private tighten(p: number): void {
    this.generate(this.best);
    const { phaseStarts, phaseFinishes } = this.instance;
    let earlier = FREE;
    for (const finish of phaseFinishes) if (finish < phaseStarts[p]! && finish > earlier) earlier = finish;
    copy(this.best, this.now);
    this.now.notBefore[p] = earlier;
    if (this.isAsGood(this.now, [IDLE])) copy(this.now, this.best);
  }

  /** `but`: criteria that are not asked. */
  private isAsGood(tried: Choices, but: readonly number[] = []): boolean {
    const criteria = this.objective.criteria(this.generate(tried), this.bestCriteria);
    const asked = (given: readonly number[]) => given.map((one, k) => (but.includes(k) ? 0 : one));
    if (compareCriteria(asked(criteria), asked(this.bestCriteria)) > 0) return false;
    this.bestCriteria = criteria;
    return true;
  }

  private generate(choices: Choices): number {
    this.spent++;
    choose(this.instance, choices);
    return generateSerial(this.instance, choices.activityList);
  }

  /** The share of the budget that is spent. */
  private progress(): number {
    const { schedules, milliseconds, clock } = this.budget;
    const bySchedules = this.spent / schedules;
    return clock === null ? bySchedules : Math.max(bySchedules, (clock() - this.began) / milliseconds);
  }

  private move(): void {
    const { random, crewed, waiting } = this;
    const kind = random.below(3);
    if (kind === 0 && crewed.length > 0) this.moveCrew(crewed[random.below(crewed.length)]!);
    else if (kind === 1 && waiting.length > 0) this.moveNotBefore(waiting[random.below(waiting.length)]!);
    else this.moveLot();
  }

  private moveCrew(p: number): void {
    const { crewRange } = this.instance;
    const first = crewRange[2 * p]!;
    const crews = crewRange[2 * p + 1]! - first;
    this.now.wanted[p] = this.random.below(3) === 0 ? -1 : first + this.random.below(crews);
  }

  /** The phase waits until one drawn at random has ended, or for as long as that one takes; or no more. */
  private moveNotBefore(p: number): void {
    const { random, now } = this;
    const { phaseStarts, phaseFinishes, phaseMinutes } = this.instance;
    const other = random.below(phaseFinishes.length);
    if (now.notBefore[p] !== FREE && random.below(2) === 0) now.notBefore[p] = FREE;
    else if (random.below(2) === 0) now.notBefore[p] = phaseStarts[p]! + phaseMinutes[other]!;
    else now.notBefore[p] = phaseFinishes[other]!;
  }

  private moveLot(): void {
    const { random, now } = this;
    const { activityList } = now;
    const from = random.below(activityList.length);
    const to = random.below(activityList.length);
    const lot = activityList[from]!;
    if (from < to) activityList.copyWithin(from, from + 1, to + 1);
    else activityList.copyWithin(to + 1, to, from);
    activityList[to] = lot;
  }
}

function copy(from: Choices, into: Choices): void {
  into.activityList.set(from.activityList);
  into.wanted.set(from.wanted);
  into.notBefore.set(from.notBefore);
}
