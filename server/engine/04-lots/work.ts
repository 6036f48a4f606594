/** From counts, paces and the log to the lots that remain, each a chain of phases, and the links between them. */
import type { Problem } from '../../model/index.ts';
import { problemTexts, warning } from '../../model/index.ts';
import type { PlannedSet, PlannedStep } from '../02-steps/index.ts';
import { type PinnedUnits, phaseBegun, pinsOf } from '../02-steps/index.ts';
import { accept, alwaysOpen, arrivalOf, readWall, type Surroundings } from '../calendar/index.ts';
import type { OpenStart } from '../log/index.ts';
import type { Instant, Link, Lot, Phase, Resource, Work } from '../types.ts';
import { withAttendants } from './attendants.ts';
import { FeedLinks } from './feed-links.ts';
import { isFirstOfStep, lastUnitOfLot } from './lot-cuts.ts';
import { phasesOfLot } from './lot-phases.ts';
import type { LotRun } from './lot-run.ts';
import { linksOfReturns } from './returns.ts';
import { overloaded, withoutStandoffs } from './standoffs.ts';
import type { GateHold, StepFeed } from './step-feeds.ts';

export interface BuildWork extends Work {
  /** By step: its lots, set by set. */
  readonly runs: readonly (readonly LotRun[])[];
  readonly problems: readonly Problem[];
}

/**
 * The lots that remain and their links. A lot covers units that are not done yet; a loaded machine and an order under
 * way are lots already begun. Cost linear in lots and feeds: a step that needs all of another waits for one milestone,
 * not for every lot.
 */
export function workOf(
  surroundings: Surroundings,
  plans: readonly PlannedStep[],
  feeds: readonly StepFeed[],
  holds: readonly GateHold[],
): BuildWork {
  const maker = new WorkMaker(surroundings, plans);
  for (const [index, plan] of plans.entries()) maker.addLots(plan, index);
  return maker.finish(feeds, holds);
}

class WorkMaker {
  readonly lots: Lot[] = [];
  private readonly links: Link[] = [];
  readonly resources: Resource[];
  private readonly runs: LotRun[][] = [];
  private readonly problems: Problem[] = [];

  /** By lot under way: who loaded or ordered it. */
  private readonly begunBy = new Map<number, string>();
  private readonly surroundings: Surroundings;
  private readonly plans: readonly PlannedStep[];

  constructor(surroundings: Surroundings, plans: readonly PlannedStep[]) {
    this.surroundings = surroundings;
    this.plans = plans;
    this.resources = [...surroundings.resources];
  }

  addLots(plan: PlannedStep, step: number): void {
    const station = plan.stations === null ? null : this.addStation(plan);
    const release = this.releaseOf(plan);
    const runs: LotRun[] = [];
    const unnamed = startsOfNoSet(plan);
    for (const set of plan.sets) {
      const lots: number[] = [];
      let next = set.offset + set.done + 1;
      const end = set.offset + set.total;
      const pins = pinsOf(plan.pins, set);
      for (const start of [...set.starts, ...(set === unnamed?.set ? unnamed.starts : [])]) {
        if (next > end) break;
        const last = Math.min(end, next + start.open - 1);
        lots.push(this.push(plan, step, set, lots.length + 1, next, last, release, station, start));
        next = last + 1;
      }
      for (let last = next; next <= end; next = last + 1) {
        last = lastUnitOfLot(plan, set, pins, next);
        lots.push(this.push(plan, step, set, lots.length + 1, next, last, release, station, null));
        if (pins.length > 0) this.pin(lots, pins);
      }
      for (let i = 1; i < lots.length; i++) {
        const [from, to] = [lots[i - 1]!, lots[i]!];
        this.links.push({ from, to, type: 'start-start', lagMinutes: 0, lagOpen: null, reason: 'order' });
      }
      runs.push({ set: set.set, lots });
    }
    this.runs.push(runs);
  }

  /**
   * Copies onto the last lot the pin that covers its units: the people, and the time where it is the first of them.
   */
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

  private push(
    plan: PlannedStep,
    step: number,
    set: PlannedSet,
    number: number,
    first: number,
    last: number,
    release: Instant,
    station: number | null,
    start: OpenStart | null,
  ): number {
    const isSpare = first > set.offset + set.needed;
    const whole = phasesOfLot(plan, first, last, isFirstOfStep(plan, first), this.surroundings);
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
      deadline: deadlineOf(plan, isSpare, this.surroundings),
      begunAt: start === null ? null : Math.min(start.at, this.surroundings.now),
      pinnedStart: null,
      pinnedPeople: plan.pinnedPeople,
      station,
      onSite: plan.onSite || isSpare,
      ...(isSpare ? { spare: true } : {}),
    });
    if (start !== null) this.begunBy.set(this.lots.length - 1, start.by);
    return this.lots.length - 1;
  }

  /**
   * What of a lot is still to come once the machine runs, or the order is out. What is overdue is taken to be back now.
   */
  private phasesAfter(start: OpenStart, whole: readonly Phase[], plan: PlannedStep): Phase[] {
    const at = phaseBegun(whole, start);
    const begun = at < 0 ? undefined : whole[at];
    const rest = at < 0 ? [] : whole.slice(at + 1);
    const backAt = backAtOf(start, begun);
    if (start.kind === 'ordered' && backAt < this.surroundings.now) {
      this.problems.push(
        warning('late-order', `log.${start.entry}`, plan.id, problemTexts.steps.lateDelivery(plan.name)),
      );
    }
    const minutes = Math.max(backAt, this.surroundings.now) - Math.min(start.at, this.surroundings.now);
    if (begun?.kind === 'run') return [{ ...begun, minutes }, ...rest];
    return [{ kind: 'wait', minutes }, ...rest];
  }

  private addStation(plan: PlannedStep): number {
    const { horizonStart, horizonEnd } = this.surroundings;
    this.resources.push({
      id: `station-${plan.id}`,
      name: `place for ${plan.name}`,
      kind: 'station',
      capacity: plan.stations!,
      open: alwaysOpen(horizonStart, horizonEnd),
    });
    return this.resources.length - 1;
  }

  private releaseOf(plan: PlannedStep): Instant {
    const { from, loadIn, zone } = this.surroundings;
    const notBefore =
      plan.notBefore === null
        ? from
        : accept(readWall(plan.notBefore, zone), `steps.${plan.id}.notBefore`, this.problems);
    return Math.max(from, notBefore ?? from, plan.onSite ? (loadIn ?? from) : from);
  }

  /** Links the lots, first by feeds, then by what proves them, last by what a gate sent back. */
  finish(feeds: readonly StepFeed[], holds: readonly GateHold[]): BuildWork {
    const { plans, runs, lots, links, surroundings } = this;
    const linked = new FeedLinks({ surroundings, plans, runs, lots, links });
    for (const feed of feeds) linked.addFeed(feed);
    for (const hold of holds) linked.addHold(hold);
    links.push(...linksOfReturns({ plans, feeds, runs, lots, links }));
    const kept = withoutStandoffs({ plans, resources: this.resources, lots, links });
    const { from, readyBy, loadIn, event } = surroundings;
    return {
      now: from,
      readyBy,
      loadIn,
      event,
      resources: this.resources,
      lots: withAttendants(this.lots, this.begunBy, this.surroundings),
      links: kept.links,
      nights: this.surroundings.nights,
      runs: this.runs,
      problems: [...this.problems, ...kept.problems, ...overloaded(this)],
    };
  }
}

/** The ready-by in the workshop, the event on site, or what is due sooner; spares have until the event. */
function deadlineOf({ onSite, due }: PlannedStep, isSpare: boolean, { readyBy, event }: Surroundings): Instant {
  if (isSpare) return event;
  return Math.min(onSite ? event : readyBy, due ?? event);
}

/**
 * When a load or an order is back: the supplier's promise, the length of the run or the wait, or the lead time from the
 * order.
 */
export function backAtOf(start: OpenStart, begun: Phase | undefined): Instant {
  if (start.promisedAt !== null) return start.promisedAt;
  if (begun?.kind === 'run' || begun?.kind === 'wait') return start.at + begun.minutes;
  if (begun?.kind === 'lead') return arrivalOf(begun.arrivals, start.at);
  return start.at;
}

/** Loads and orders of a per-set step that name no set belong to its first set that is not done. */
function startsOfNoSet(plan: PlannedStep): { readonly set: PlannedSet; readonly starts: readonly OpenStart[] } | null {
  const set = plan.sets.find((other) => other.left > 0);
  if (!plan.perSet || set === undefined) return null;
  const named = new Set(plan.sets.flatMap((other) => other.starts.map((start) => start.entry)));
  return { set, starts: plan.tally.starts.filter((start) => !named.has(start.entry)) };
}
