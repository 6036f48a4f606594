/** The links between lots that feeds and holds ask for; milestones where many lots wait for many. */
import type { PlannedSet, PlannedStep } from '../02-steps/index.ts';
import { countedAt, dryingMinutes, lastCountOf } from '../02-steps/index.ts';
import { addOpenMinutes, type Surroundings } from '../calendar/index.ts';
import type { Calendar, Instant, Link, LinkReason, LinkType, Lot } from '../types.ts';
import type { LotRun } from './lot-run.ts';
import { type Borrowed, borrowedBySet, neededInSet } from './set-shares.ts';
import type { GateHold, StepFeed } from './step-feeds.ts';
import { doneBehind, placesOfLots, unitsNeeded } from './unit-needs.ts';

/** The lots of a build before they are linked. Lots and links grow: milestones and links are added at their ends. */
interface LotsToLink {
  readonly surroundings: Surroundings;
  readonly plans: readonly PlannedStep[];
  /** By step: its lots, set by set. */
  readonly runs: readonly (readonly LotRun[])[];
  readonly lots: Lot[];
  readonly links: Link[];
}

/** Adds links feed by feed. Linear in the lots that a feed touches. */
export class FeedLinks {
  private readonly surroundings: Surroundings;
  private readonly plans: readonly PlannedStep[];
  private readonly runs: readonly (readonly LotRun[])[];
  private readonly lots: Lot[];
  private readonly links: Link[];
  private readonly indexById: ReadonlyMap<string, number>;
  /** By milestone of `gather`: how many lots of its list it stands for. */
  private readonly gatheredUpTo = new Map<number, number>();

  constructor({ surroundings, plans, runs, lots, links }: LotsToLink) {
    this.surroundings = surroundings;
    this.plans = plans;
    this.runs = runs;
    this.lots = lots;
    this.links = links;
    this.indexById = new Map(plans.map((plan, index) => [plan.id, index]));
  }

  /** Links the lots of the two steps of a feed, set by set where both are made for each set. */
  addFeed(feed: StepFeed): void {
    const [from, to] = [this.indexById.get(feed.from), this.indexById.get(feed.to)];
    if (from === undefined || to === undefined) return;
    const lagOpen = feed.lagWorking ? this.surroundings.working : null;
    const reason: LinkReason =
      feed.origin === 'gate' ? 'gate' : feed.origin === 'maker' ? 'feed' : feed.origin === 'route' ? 'route' : 'units';
    for (const [before, after] of this.pairs(from, to)) {
      if (feed.type === 'units') this.linkUnits(feed, from, to, before, after, lagOpen, reason);
      else this.linkRuns(feed.type, from, before, after, feed.lagMinutes, lagOpen, reason);
    }
    if (feed.type === 'units' && this.plans[from]!.perSet && this.plans[to]!.perSet) {
      this.linkBorrowed(feed, from, to, lagOpen, reason);
    }
  }

  /** Per-set steps feed within their set; otherwise everything of the one feeds everything of the other. */
  private pairs(from: number, to: number): [readonly LotRun[], readonly LotRun[]][] {
    const [before, after] = [this.runs[from]!, this.runs[to]!];
    if (!this.plans[from]!.perSet || !this.plans[to]!.perSet) return [[before, after]];
    return before.map((run, i) => [[run], after[i] === undefined ? [] : [after[i]]]);
  }

  private linkRuns(
    type: LinkType,
    from: number,
    before: readonly LotRun[],
    after: readonly LotRun[],
    lag: number,
    lagOpen: Calendar | null,
    reason: LinkReason,
  ): void {
    // Nothing waits for spares.
    const fromLots = before.flatMap((run) => run.lots.filter((lot) => this.lots[lot]!.spare !== true));
    const fromStart = type === 'start-start' || type === 'start-finish';
    const toStart = type === 'start-start' || type === 'finish-start';
    // A step starts with the first lots of its sets (the rest are in order behind them) and finishes with its last to
    // finish; what is under way already asks for nothing any more, but what comes after it does.
    const targets = toStart
      ? after.flatMap((run) => this.firstToBegin(run))
      : after.flatMap((run) => run.lots.slice(-1));
    const since = fromStart ? this.begunAt(from, before) : fromLots.length === 0 ? this.dryAt(from, before) : null;
    if (since !== null) return void this.releaseSince(since, targets, toStart, lag, lagOpen, reason);
    if (fromLots.length === 0 || targets.length === 0) return;
    const sources = fromStart ? [fromLots[0]!] : fromLots;
    if (sources.length === 1 || targets.length === 1) {
      for (const source of sources) for (const target of targets) this.link(source, target, type, lag, lagOpen, reason);
      return;
    }
    const milestone = this.milestone(fromLots[0]!);
    for (const source of sources) this.link(source, milestone, 'finish-start', 0, null, 'group');
    for (const target of targets)
      this.link(milestone, target, toStart ? 'finish-start' : 'finish-finish', lag, lagOpen, reason);
  }

  /**
   * Each lot is linked to the units that are new for it: see `StepFeed`. Each set has an equal part of a stock. Where
   * one of the two knows no sets, units are taken in the order of the sets, after what has been taken for any of them.
   */
  private linkUnits(
    feed: StepFeed,
    from: number,
    to: number,
    before: readonly LotRun[],
    after: readonly LotRun[],
    lagOpen: Calendar | null,
    reason: LinkReason,
  ): void {
    const bothPerSet = this.plans[from]!.perSet && this.plans[to]!.perSet;
    const fromOffset = bothPerSet ? (this.setPlan(from, before[0]?.set ?? null)?.offset ?? 0) : 0;
    const fromEnd = bothPerSet
      ? fromOffset + (this.setPlan(from, before[0]?.set ?? null)?.total ?? 0)
      : this.plans[from]!.total;
    const stock = bothPerSet ? feed.inStock / this.plans[from]!.sets.length : feed.inStock;
    const passed = bothPerSet
      ? (this.setPlan(from, before[0]?.set ?? null)?.done ?? 0)
      : this.plans[from]!.total - this.plans[from]!.left;
    const sources = before.flatMap((run) => run.lots);
    const places = placesOfLots(this.lots, sources, fromOffset + passed);
    let gathered: number | null = null;
    let taken = 0;
    for (const run of after) {
      const toOffset = bothPerSet ? (this.setPlan(to, run.set)?.offset ?? 0) : -doneBehind(this.plans[to]!, run.set);
      let first = true;
      const alreadyTaken = taken;
      for (const target of run.lots) {
        // What is under way has what it needs; the units that were thought to be its own are asked for by the next.
        if (this.lots[target]!.begunAt !== null) continue;
        const unit = this.lots[target]!.lastUnit - toOffset;
        const wanted = unitsNeeded(feed, unit, passed, stock);
        const needed = Math.min(fromEnd, fromOffset + wanted);
        if (first && alreadyTaken > 0) {
          gathered = this.gather(sources.slice(0, alreadyTaken), gathered);
          this.link(gathered, target, 'finish-start', feed.lagMinutes, lagOpen, reason);
        }
        this.releaseWhenDry(feed, from, bothPerSet ? run.set : null, needed - fromOffset, target);
        first = false;
        for (; taken < sources.length && places[taken]! <= needed; taken++) {
          this.link(sources[taken]!, target, 'finish-start', feed.lagMinutes, lagOpen, reason);
        }
      }
    }
  }

  /** Where the shares of the sets do not come out even, a set also waits for what it borrows from others. */
  private linkBorrowed(feed: StepFeed, from: number, to: number, lagOpen: Calendar | null, reason: LinkReason): void {
    const [givers, takers] = [this.plans[from]!, this.plans[to]!];
    borrowedBySet(feed, givers, takers).forEach((borrowed, i) => {
      let asked = 0;
      for (const target of borrowed.length === 0 ? [] : (this.runs[to]![i]?.lots ?? [])) {
        if (this.lots[target]!.begunAt !== null) continue;
        const needed = neededInSet(feed, givers, i, this.lots[target]!.lastUnit - takers.sets[i]!.offset);
        const short = needed - givers.sets[i]!.total;
        for (; asked < Math.min(short, borrowed.length); asked++) {
          this.linkUnit(feed, from, borrowed[asked]!, target, lagOpen, reason);
        }
      }
    });
  }

  /** The lot waits for one unit of a set, and for that to be dry. */
  private linkUnit(
    feed: StepFeed,
    from: number,
    { giver, unit }: Borrowed,
    target: number,
    lagOpen: Calendar | null,
    reason: LinkReason,
  ): void {
    const { offset, set } = this.plans[from]!.sets[giver]!;
    this.releaseWhenDry(feed, from, set, unit, target);
    const covers = (l: number) => this.lots[l]!.firstUnit <= offset + unit && offset + unit <= this.lots[l]!.lastUnit;
    const source = this.runs[from]![giver]!.lots.find(covers);
    if (source !== undefined) this.link(source, target, 'finish-start', feed.lagMinutes, lagOpen, reason);
  }

  private firstToBegin(run: LotRun): number[] {
    const first = run.lots.find((lot) => this.lots[lot]!.begunAt === null);
    return first === undefined ? [] : [first];
  }

  /** When a step (or the one set of it) was begun, by the log; null where nothing of it was. */
  private begunAt(step: number, runs: readonly LotRun[]): Instant | null {
    const { tally, perSet } = this.plans[step]!;
    const set = perSet && runs.length === 1 ? runs[0]!.set : null;
    if (set === null) return tally.firstAt;
    return tally.sets.get(set)?.firstAt ?? ((this.setPlan(step, set)?.done ?? 0) > 0 ? tally.firstAt : null);
  }

  /**
   * When all that was counted of a step (or of the one set of it) has dried, by a clock that is ahead as of now; null
   * where nothing was counted.
   */
  private dryAt(step: number, runs: readonly LotRun[]): Instant | null {
    const plan = this.plans[step]!;
    const set = plan.perSet && runs.length === 1 ? plan.tally.sets.get(runs[0]!.set ?? 0) : undefined;
    const last = lastCountOf(set ?? plan.tally);
    return last === null ? null : Math.min(last, this.surroundings.now) + dryingMinutes(plan);
  }

  /** A link whose first end is in the past, by the log: what is left of its lag. */
  private releaseSince(
    since: Instant,
    targets: readonly number[],
    toStart: boolean,
    lag: number,
    lagOpen: Calendar | null,
    reason: LinkReason,
  ): void {
    const until = laterBy(since, lag, lagOpen);
    if (toStart) for (const target of targets) this.releaseAt(target, until);
    else if (until > this.surroundings.from && targets.length > 0) {
      const milestone = this.milestone(targets[0]!, until);
      for (const target of targets) this.link(milestone, target, 'finish-finish', 0, null, reason);
    }
  }

  /**
   * Waits for the first `units` of a step (of the one set, where it is counted there) that were counted a moment ago.
   */
  private releaseWhenDry(feed: StepFeed, from: number, set: number | null, units: number, target: number): void {
    const plan = this.plans[from]!;
    const lagOpen = feed.lagWorking ? this.surroundings.working : null;
    const drying = dryingMinutes(plan);
    if (drying + feed.lagMinutes <= 0) return;
    const tally = set === null ? plan.tally : plan.tally.sets.get(set);
    const done = set === null ? plan.total - plan.left : (this.setPlan(from, set)?.done ?? 0);
    // Sets that are counted one beside the other are taken to be dry when all of them are.
    const asked = set === null && plan.perSet ? done : Math.min(units, done);
    const counted = asked <= 0 ? null : (countedAt(tally ?? plan.tally, done, asked) ?? lastCountOf(plan.tally));
    if (counted === null) return;
    this.releaseAt(target, laterBy(Math.min(counted, this.surroundings.now) + drying, feed.lagMinutes, lagOpen));
  }

  private releaseAt(target: number, instant: Instant): void {
    const lot = this.lots[target]!;
    if (lot.begunAt === null && instant > lot.release) this.lots[target] = { ...lot, release: instant };
  }

  /** A milestone after these lots; a further one follows the one before it, so that sets cost what they add. */
  private gather(lots: readonly number[], previous: number | null): number {
    const known = previous === null ? 0 : this.gatheredUpTo.get(previous)!;
    if (previous !== null && known === lots.length) return previous;
    const milestone = this.milestone(lots[0]!);
    if (previous !== null) this.link(previous, milestone, 'finish-start', 0, null, 'group');
    for (const lot of lots.slice(known)) this.link(lot, milestone, 'finish-start', 0, null, 'group');
    this.gatheredUpTo.set(milestone, lots.length);
    return milestone;
  }

  private setPlan(step: number, set: number | null): PlannedSet | undefined {
    return this.plans[step]!.sets.find((candidate) => candidate.set === set);
  }

  private milestone(like: number, release = this.surroundings.from): number {
    const lot = this.lots[like]!;
    this.lots.push({
      ...lot,
      id: `${lot.id}+${this.lots.length}`,
      phases: [],
      firstUnit: 0,
      lastUnit: -1,
      release,
      begunAt: null,
      station: null,
      pinnedStart: null,
      pinnedPeople: null,
    });
    return this.lots.length - 1;
  }

  /** Holds back all but the first set (or lot) of a step until the first try of its gate is over. */
  addHold({ gate, step }: GateHold): void {
    const [gateIndex, stepIndex] = [this.indexById.get(gate), this.indexById.get(step)];
    if (gateIndex === undefined || stepIndex === undefined) return;
    const pilot = this.runs[gateIndex]![0]?.lots[0];
    if (pilot === undefined) return;
    const heldBack = this.plans[stepIndex]!.perSet
      ? this.runs[stepIndex]!.slice(1).flatMap((run) => this.firstToBegin(run))
      : (this.runs[stepIndex]![0]?.lots.slice(1, 2) ?? []);
    for (const lot of heldBack)
      if (this.lots[lot]!.begunAt === null) this.link(pilot, lot, 'finish-start', 0, null, 'gate');
  }

  private link(
    from: number,
    to: number,
    type: LinkType,
    lagMinutes: number,
    lagOpen: Calendar | null,
    reason: LinkReason,
  ): void {
    this.links.push({ from, to, type, lagMinutes, lagOpen, reason });
  }
}

/** `t` and a lag of clock or open minutes after it; a negative one leaves what has happened where it is. */
function laterBy(t: Instant, lagMinutes: number, lagOpen: Calendar | null): Instant {
  const lag = Math.max(0, lagMinutes);
  return lagOpen === null ? t + lag : addOpenMinutes(lagOpen, t, lag);
}
