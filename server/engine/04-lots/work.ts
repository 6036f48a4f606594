/** From counts, paces and the log to the lots that remain, each a chain of phases, and the links between them. */
import type { Build, Problem } from '../../model/index.ts';
import { warning } from '../../model/index.ts';
import type { SetPlan, StepPlan } from '../02-steps/index.ts';
import { countedAt, dryingMinutes, lastCountOf, type PinnedUnits, pinsOf } from '../02-steps/index.ts';
import { accept, addOpenMinutes, alwaysOpen, arrivalOf, readWall, type Setting } from '../calendar/index.ts';
import type { OpenStart } from '../log/index.ts';
import type { Instant, Link, LinkReason, LinkType, Lot, OpenTime, Phase, Resource, Work } from '../types.ts';
import { withAttendants } from './attendants.ts';
import { phasesOfLot } from './lot-phases.ts';
import type { LotRun } from './lot-run.ts';
import { linksOfReturns } from './returns.ts';
import { type Borrowed, borrowedBySet, neededInSet } from './set-shares.ts';
import type { Hold, StepFeed } from './step-feeds.ts';
import { unitsNeeded } from './unit-needs.ts';

export interface BuildWork extends Work {
  /** By step: its lots, set by set. */
  readonly runs: readonly (readonly LotRun[])[];
  readonly problems: readonly Problem[];
}

/**
 * The lots that remain and their links. A lot covers units that are not done yet; a loaded machine and an order under way
 * are lots already begun. Cost linear in lots and feeds: a step that needs all of another waits for one milestone, not for
 * every lot.
 */
export function workOf(
  build: Build,
  setting: Setting,
  plans: readonly StepPlan[],
  feeds: readonly StepFeed[],
  holds: readonly Hold[],
): BuildWork {
  const maker = new WorkMaker(build, setting, plans);
  for (const [index, plan] of plans.entries()) maker.addLots(plan, index);
  for (const feed of feeds) maker.addFeed(feed);
  for (const hold of holds) maker.addHold(hold);
  maker.addReturns(feeds);
  return maker.finish();
}

class WorkMaker {
  private readonly lots: Lot[] = [];
  private readonly links: Link[] = [];
  private readonly resources: Resource[];
  private readonly runs: LotRun[][] = [];
  private readonly problems: Problem[] = [];
  private readonly indexById: ReadonlyMap<string, number>;

  /** By lot under way: who loaded or ordered it. */
  private readonly begunBy = new Map<number, string>();
  private readonly setting: Setting;
  private readonly plans: readonly StepPlan[];

  constructor(_build: Build, setting: Setting, plans: readonly StepPlan[]) {
    this.setting = setting;
    this.plans = plans;
    this.resources = [...setting.resources];
    this.indexById = new Map(plans.map((plan, index) => [plan.id, index]));
  }

  addLots(plan: StepPlan, step: number): void {
    const station = plan.stations === null ? null : this.addStation(plan);
    const release = this.releaseOf(plan);
    const runs: LotRun[] = [];
    for (const set of plan.sets) {
      const lots: number[] = [];
      let next = set.offset + set.done + 1;
      const end = set.offset + set.total;
      const pins = pinsOf(plan.pins, set);
      for (const start of this.startsOf(plan, set)) {
        if (next > end) break;
        const last = Math.min(end, next + start.open - 1);
        lots.push(this.push(plan, step, set, lots.length + 1, next, last, release, station, start));
        next = last + 1;
      }
      for (let last = next; next <= end; next = last + 1) {
        last = Math.min(end, lastUnitOfLot(plan, set, next), lastUnitAlike(pins, next));
        lots.push(this.push(plan, step, set, lots.length + 1, next, last, release, station, null));
        this.pin(lots, pins);
      }
      for (let i = 1; i < lots.length; i++) this.link(lots[i - 1]!, lots[i]!, 'start-start', 0, null, 'order');
      runs.push({ set: set.set, lots });
    }
    this.runs.push(runs);
  }

  /** The last of `lots` takes over what is pinned of its units: the people, and the time where it is the first of them. */
  private pin(lots: readonly number[], pins: readonly PinnedUnits[]): void {
    const [index, before] = [lots.at(-1)!, lots.at(-2)];
    const lot = this.lots[index]!;
    const pin = pins.find(({ from, to }) => from <= lot.firstUnit && lot.firstUnit <= to);
    if (pin === undefined) return;
    const isFirst = before === undefined || this.lots[before]!.lastUnit < pin.from;
    this.lots[index] = {
      ...lot,
      pinnedStart: isFirst ? pin.start : null,
      pinnedPeople: pin.people ?? lot.pinnedPeople,
      pin: pin.field,
    };
  }

  /** Loads and orders of a per-set step that name no set belong to its first set that is not done. */
  private startsOf(plan: StepPlan, set: SetPlan): readonly OpenStart[] {
    if (!plan.perSet) return set.starts;
    const named = new Set(plan.sets.flatMap((other) => other.starts.map((start) => start.entry)));
    const first = plan.sets.find((other) => other.left > 0);
    const unnamed = first === set ? plan.tally.starts.filter((start) => !named.has(start.entry)) : [];
    return [...set.starts, ...unnamed];
  }

  private push(
    plan: StepPlan,
    step: number,
    set: SetPlan,
    number: number,
    first: number,
    last: number,
    release: Instant,
    station: number | null,
    start: OpenStart | null,
  ): number {
    const isSpare = first > set.offset + set.needed;
    const untouched = set.done === 0 && first === set.offset + 1 && plan.tally.good === 0 && (set.set ?? 1) === 1;
    const whole = phasesOfLot(plan, first, last, untouched, this.setting);
    const phases = start === null ? whole : this.phasesAfter(start, whole, plan);
    this.lots.push({
      id: set.set === null ? `${plan.id}/${number}` : `${plan.id}/${set.set}/${number}`,
      step,
      set: set.set,
      number,
      firstUnit: first,
      lastUnit: last,
      phases,
      release,
      deadline: plan.onSite || isSpare ? this.setting.event : this.setting.readyBy,
      begunAt: start === null ? null : Math.min(start.at, this.setting.now),
      pinnedStart: null,
      pinnedPeople: plan.pinnedPeople,
      station,
      onSite: plan.onSite || isSpare,
      ...(isSpare ? { spare: true } : {}),
    });
    if (start !== null) this.begunBy.set(this.lots.length - 1, start.by);
    return this.lots.length - 1;
  }

  /** What of a lot is still to come once the machine runs, or the order is out. What is overdue is taken to be back now. */
  private phasesAfter(start: OpenStart, whole: readonly Phase[], plan: StepPlan): Phase[] {
    const at = phaseBegun(whole, start);
    const begun = at < 0 ? undefined : whole[at];
    const rest = at < 0 ? [] : whole.slice(at + 1);
    const backAt = backAtOf(start, begun);
    if (start.kind === 'ordered' && backAt < this.setting.now) {
      this.problems.push(
        warning(
          'late-order',
          `log.${start.entry}`,
          plan.id,
          `"${plan.name}" should be here already; it is taken to arrive now. Log what was received, or what the supplier promises.`,
        ),
      );
    }
    const minutes = Math.max(backAt, this.setting.now) - Math.min(start.at, this.setting.now);
    if (begun?.kind === 'run') return [{ ...begun, minutes }, ...rest];
    return [{ kind: 'wait', minutes }, ...rest];
  }

  private addStation(plan: StepPlan): number {
    const { horizonStart, horizonEnd } = this.setting;
    this.resources.push({
      id: `station-${plan.id}`,
      name: `place for ${plan.name}`,
      kind: 'station',
      capacity: plan.stations!,
      open: alwaysOpen(horizonStart, horizonEnd),
    });
    return this.resources.length - 1;
  }

  private releaseOf(plan: StepPlan): Instant {
    const { from, loadIn, zone } = this.setting;
    const notBefore =
      plan.notBefore === null
        ? from
        : accept(readWall(plan.notBefore, zone), `steps.${plan.id}.notBefore`, this.problems);
    return Math.max(from, notBefore ?? from, plan.onSite ? (loadIn ?? from) : from);
  }

  addFeed(feed: StepFeed): void {
    const [from, to] = [this.indexById.get(feed.from), this.indexById.get(feed.to)];
    if (from === undefined || to === undefined) return;
    const lagOpen = feed.lagWorking ? this.setting.working : null;
    const reason: LinkReason =
      feed.given === 'gate' ? 'gate' : feed.given === 'maker' ? 'feed' : feed.given === 'route' ? 'route' : 'units';
    for (const [before, after] of this.pairs(from, to)) {
      if (feed.type === 'units') this.linkUnits(feed, from, to, before, after, lagOpen, reason);
      else this.linkRuns(feed.type, from, before, after, feed.lagMinutes, lagOpen, reason);
    }
    if (feed.type === 'units' && this.plans[from]!.perSet && this.plans[to]!.perSet) {
      this.linkBorrowed(feed, from, to, lagOpen, reason);
    }
  }

  /** Per-set steps feed within their set; otherwise everything of the one stands against everything of the other. */
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
    lagOpen: OpenTime | null,
    reason: LinkReason,
  ): void {
    // Nothing waits for spares.
    const fromLots = before.flatMap((run) => run.lots.filter((lot) => this.lots[lot]!.spare !== true));
    const fromStart = type === 'start-start' || type === 'start-finish';
    const toStart = type === 'start-start' || type === 'finish-start';
    // A step starts with the first lots of its sets (the rest are in order behind them) and finishes with its last to finish;
    // what is under way already asks for nothing any more, but what comes after it does.
    const targets = toStart
      ? after.flatMap((run) => this.firstToBegin(run))
      : after.flatMap((run) => run.lots.slice(-1));
    const since = fromStart ? this.begunAt(from, before) : fromLots.length === 0 ? this.dryAt(from, before) : null;
    if (since !== null) return void this.holdSince(since, targets, toStart, lag, lagOpen, reason);
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

  /** Each lot is linked to the units that are new for it: see `StepFeed`. Of a stock, each set has an equal part. */
  private linkUnits(
    feed: StepFeed,
    from: number,
    to: number,
    before: readonly LotRun[],
    after: readonly LotRun[],
    lagOpen: OpenTime | null,
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
    let gathered: number | null = null;
    let taken = 0;
    for (const run of after) {
      const toOffset = bothPerSet ? (this.setPlan(to, run.set)?.offset ?? 0) : 0;
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
        this.holdUntilDry(feed, from, bothPerSet ? run.set : null, needed - fromOffset, target);
        first = false;
        for (; taken < sources.length && this.lots[sources[taken]!]!.firstUnit <= needed; taken++) {
          this.link(sources[taken]!, target, 'finish-start', feed.lagMinutes, lagOpen, reason);
        }
      }
    }
  }

  /** Where the shares of the sets do not come out even, a set also waits for what it borrows from others. */
  private linkBorrowed(feed: StepFeed, from: number, to: number, lagOpen: OpenTime | null, reason: LinkReason): void {
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
    lagOpen: OpenTime | null,
    reason: LinkReason,
  ): void {
    const { offset, set } = this.plans[from]!.sets[giver]!;
    this.holdUntilDry(feed, from, set, unit, target);
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

  /** When all that was counted of a step (or of the one set of it) has dried, by a clock that is ahead as of now; null where nothing was counted. */
  private dryAt(step: number, runs: readonly LotRun[]): Instant | null {
    const plan = this.plans[step]!;
    const set = plan.perSet && runs.length === 1 ? plan.tally.sets.get(runs[0]!.set ?? 0) : undefined;
    const last = lastCountOf(set ?? plan.tally);
    return last === null ? null : Math.min(last, this.setting.now) + dryingMinutes(plan);
  }

  /** A link whose first end lies in the past, by the log: what is left of its lag. */
  private holdSince(
    since: Instant,
    targets: readonly number[],
    toStart: boolean,
    lag: number,
    lagOpen: OpenTime | null,
    reason: LinkReason,
  ): void {
    const until = laterBy(since, lag, lagOpen);
    if (toStart) for (const target of targets) this.holdUntil(target, until);
    else if (until > this.setting.from && targets.length > 0) {
      const milestone = this.milestone(targets[0]!, until);
      for (const target of targets) this.link(milestone, target, 'finish-finish', 0, null, reason);
    }
  }

  /** Waits for the first `units` of a step (of the one set, where it is counted there) that were counted a moment ago. */
  private holdUntilDry(feed: StepFeed, from: number, set: number | null, units: number, target: number): void {
    const plan = this.plans[from]!;
    const lagOpen = feed.lagWorking ? this.setting.working : null;
    const drying = dryingMinutes(plan);
    if (drying + feed.lagMinutes <= 0) return;
    const tally = set === null ? plan.tally : plan.tally.sets.get(set);
    const done = set === null ? plan.total - plan.left : (this.setPlan(from, set)?.done ?? 0);
    // Sets that are counted one beside the other are taken to be dry when all of them are.
    const asked = set === null && plan.perSet ? done : Math.min(units, done);
    const counted = asked <= 0 ? null : (countedAt(tally ?? plan.tally, done, asked) ?? lastCountOf(plan.tally));
    if (counted === null) return;
    this.holdUntil(target, laterBy(Math.min(counted, this.setting.now) + drying, feed.lagMinutes, lagOpen));
  }

  private holdUntil(target: number, instant: Instant): void {
    const lot = this.lots[target]!;
    if (lot.begunAt === null && instant > lot.release) this.lots[target] = { ...lot, release: instant };
  }

  private readonly gatheredUpTo = new Map<number, number>();

  /** A milestone after these lots; a further one stands on the one before it, so that sets cost what they add. */
  private gather(lots: readonly number[], previous: number | null): number {
    const known = previous === null ? 0 : this.gatheredUpTo.get(previous)!;
    if (previous !== null && known === lots.length) return previous;
    const milestone = this.milestone(lots[0]!);
    if (previous !== null) this.link(previous, milestone, 'finish-start', 0, null, 'group');
    for (const lot of lots.slice(known)) this.link(lot, milestone, 'finish-start', 0, null, 'group');
    this.gatheredUpTo.set(milestone, lots.length);
    return milestone;
  }

  private setPlan(step: number, set: number | null): SetPlan | undefined {
    return this.plans[step]!.sets.find((candidate) => candidate.set === set);
  }

  private milestone(like: number, release = this.setting.from): number {
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

  addHold({ gate, step }: Hold): void {
    const [gateIndex, stepIndex] = [this.indexById.get(gate), this.indexById.get(step)];
    if (gateIndex === undefined || stepIndex === undefined) return;
    const pilot = this.runs[gateIndex]![0]?.lots[0];
    if (pilot === undefined) return;
    const held = this.plans[stepIndex]!.perSet
      ? this.runs[stepIndex]!.slice(1).flatMap((run) => this.firstToBegin(run))
      : (this.runs[stepIndex]![0]?.lots.slice(1, 2) ?? []);
    for (const lot of held)
      if (this.lots[lot]!.begunAt === null) this.link(pilot, lot, 'finish-start', 0, null, 'gate');
  }

  addReturns(feeds: readonly StepFeed[]): void {
    const { plans, runs, lots, links } = this;
    links.push(...linksOfReturns({ plans, feeds, runs, lots, links }));
  }

  private link(
    from: number,
    to: number,
    type: LinkType,
    lagMinutes: number,
    lagOpen: OpenTime | null,
    reason: LinkReason,
  ): void {
    this.links.push({ from, to, type, lagMinutes, lagOpen, reason });
  }

  finish(): BuildWork {
    const { from, readyBy, loadIn, event } = this.setting;
    return {
      now: from,
      readyBy,
      loadIn,
      event,
      resources: this.resources,
      lots: withAttendants(this.lots, this.begunBy, this.setting),
      links: this.links,
      nights: this.setting.nights,
      runs: this.runs,
      problems: this.problems,
    };
  }
}

/** `t` and a lag of clock or open minutes after it; a negative one leaves what has happened where it is. */
function laterBy(t: Instant, lagMinutes: number, lagOpen: OpenTime | null): Instant {
  const lag = Math.max(0, lagMinutes);
  return lagOpen === null ? t + lag : addOpenMinutes(lagOpen, t, lag);
}

/**
 * Where a lot that begins with `unit` ends. Work of hands keeps its lots while units are counted, so that what is planned for
 * a lot stays its own and needs no more than before; spares have lots of their own. A plate that must be set up or run is filled.
 */
function lastUnitOfLot({ lotSize, phases, setupEachLot }: StepPlan, { offset, needed }: SetPlan, unit: number): number {
  const isFilled = setupEachLot || phases.some((it) => it.kind === 'run' || it.kind === 'lead');
  if (isFilled) return unit + lotSize - 1;
  const last = offset + Math.ceil((unit - offset) / lotSize) * lotSize;
  return unit <= offset + needed ? Math.min(last, offset + needed) : last;
}

/** Lots do not reach across the ends of a pin: the last unit from `unit` on that is pinned as it is. */
function lastUnitAlike(pins: readonly PinnedUnits[], unit: number): number {
  const own = pins.find(({ from, to }) => from <= unit && unit <= to);
  if (own !== undefined) return own.to;
  return Math.min(...pins.filter(({ from }) => from > unit).map(({ from }) => from - 1), Number.POSITIVE_INFINITY);
}

/** Which of the phases a load or an order is in: the run, the first wait that has more work behind it, the lead time; -1: none. */
export function phaseBegun(phases: readonly Phase[], { kind }: Pick<OpenStart, 'kind'>): number {
  if (kind === 'ordered') return phases.findIndex((phase) => phase.kind === 'lead');
  const run = phases.findIndex((phase) => phase.kind === 'run');
  const last = phases.findLastIndex((phase) => phase.kind !== 'wait');
  return run >= 0 ? run : phases.findIndex((phase, i) => phase.kind === 'wait' && i < last);
}

/** When a load or an order is back: the supplier's promise, the length of the run or the wait, or the lead time from the order. */
export function backAtOf(start: OpenStart, begun: Phase | undefined): Instant {
  if (start.promisedAt !== null) return start.promisedAt;
  if (begun?.kind === 'run' || begun?.kind === 'wait') return start.at + begun.minutes;
  if (begun?.kind === 'lead') return arrivalOf(begun.arrivals, start.at);
  return start.at;
}
