/** Line of balance: who runs out of whose units, and when. */
import type { BalanceChain, BalanceFeed, BalanceStep, ForecastBalance } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { doneBehind, lotsOfStep, placesOfLots, type StepFeed, unitsNeeded, unitsOf } from '../04-lots/index.ts';
import { addClockMinutes, NEVER, openMinutesBetween } from '../calendar/index.ts';
import { type DeliveryPlan, floorCount, groupedBy, unitsThatShouldHavePassed } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant, Lot, Schedule } from '../types.ts';
import type { YardstickLines } from './baseline.ts';
import { passingLines } from './passing.ts';

/** Fewer working minutes without anything to work on are not worth a word. */
const LEAST_STARVED = 30;

/**
 * The line of balance of the steps that are counted (US Navy, Office of Naval Material, "Line of Balance Technology",
 * 1962): what has passed each, what should have by now, what is scheduled to pass, and where one step has nothing left
 * of another or more of it than it can take. What should have passed is read from `yardstick`, the latest schedule of
 * all units that is on time (see `yardstickLinesOf`): so each unit has its own time to delivery, not one for the step.
 * O(lots log lots) a feed. Null where nothing could be placed.
 */
export function balanceAnswer(planned: Planned, yardstick: YardstickLines | null): ForecastBalance | null {
  const { plans, schedule, work, now, beyond } = planned;
  if (schedule === null) return null;
  const scheduled = passingLines(plans, work, schedule, beyond);
  const workedUntil = workedUntilOf(schedule, work.lots.length);
  const steps = plans.flatMap((plan, i): BalanceStep[] => {
    if (!isCounted(plan)) return [];
    const passed = plan.total - plan.left;
    const line = yardstick?.lines[i];
    const due = line === undefined ? null : Math.min(plan.total, floorCount(unitsThatShouldHavePassed(line, now, 0)));
    const enoughUntil = line === undefined || plan.left === 0 ? null : enoughUntilOf(line, passed);
    const own = { step: plan.id, passed, due, enoughUntil, ...onItsWayOf(plan) };
    return [{ ...own, scheduled: pointsOf(scheduled[i]!, now, passed) }];
  });
  const feeds = unitFeedsOf(planned);
  return {
    steps,
    feeds: feeds.map((feed) => feedAnswer(planned, schedule, workedUntil, feed)),
    chains: chainsOf(plans, feeds),
    ...(yardstick === null ? {} : { heldTo: yardstick.heldTo }),
  };
}

function onItsWayOf({ kind, tally }: PlannedStep): Pick<BalanceStep, 'onItsWay'> {
  const units = kind === 'order' ? tally.starts.reduce((sum, { open }) => sum + open, 0) : 0;
  return units === 0 ? {} : { onItsWay: units };
}

/** The last minute at which no more units than these should have passed. */
function enoughUntilOf({ times, units }: DeliveryPlan, passed: number): Instant | null {
  const after = units.findIndex((count) => count > passed);
  if (after < 0) return null;
  const [from, to] = [times[after - 1] ?? times[after]!, times[after]!];
  const [before, count] = [units[after - 1] ?? passed, units[after]!];
  return Math.ceil(from + ((Math.min(count, passed + 1) - before) / (count - before)) * (to - from)) - 1;
}

function isCounted(plan: PlannedStep): boolean {
  return plan.kind !== 'gate' && plan.total > 0;
}

function unitFeedsOf({ feeds, plans }: Planned): StepFeed[] {
  const known = new Set(plans.filter((plan) => plan.counted && isCounted(plan)).map(({ id }) => id));
  return feeds.filter((feed) => feed.type === 'units' && known.has(feed.from) && known.has(feed.to));
}

function pointsOf({ times, units }: DeliveryPlan, now: Instant, passed: number): [number, number][] {
  return [[now, passed], ...times.map((at, i): [number, number] => [Math.max(now, at), units[i]!])];
}

/** Each step that is fed by units and feeds none so, with all that goes into it. */
function chainsOf(plans: readonly PlannedStep[], feeds: readonly StepFeed[]): BalanceChain[] {
  const feeding = new Set(feeds.map(({ from }) => from));
  const feedsTo = groupedBy(feeds, ({ to }) => to);
  const ends = plans.filter(({ id }) => !feeding.has(id) && feedsTo.has(id));
  return ends.map(({ id: end }) => {
    const perEnd = new Map([[end, 1]]);
    const queue = [end];
    for (const step of queue) {
      for (const feed of feedsTo.get(step) ?? []) {
        if (perEnd.has(feed.from)) continue;
        perEnd.set(feed.from, perEnd.get(step)! * feed.ratio);
        queue.push(feed.from);
      }
    }
    const before = plans.filter(({ id }) => id !== end && perEnd.has(id)).map(({ id }) => id);
    return { end, steps: [...before, end].map((step) => ({ step, perEnd: perEnd.get(step)! })) };
  });
}

/** A lot of the following step, with what it takes: units of the feeding step in all, with those of its lots before. */
interface Taking {
  readonly start: Instant;
  readonly workedUntil: Instant;
  readonly begun: boolean;
  readonly units: number;
  /** When all that it needs is there. */
  readonly suppliedAt: Instant;
}

function feedAnswer(planned: Planned, schedule: Schedule, workedUntil: Int32Array, feed: StepFeed): BalanceFeed {
  const { plans } = planned;
  const from = plans.findIndex(({ id }) => id === feed.from);
  const to = plans.findIndex(({ id }) => id === feed.to);
  const takings = takingsOf(planned, schedule, workedUntil, feed, from, to);
  const passed = plans[from]!.total - plans[from]!.left;
  const taken = wantedOf(feed, plans[to]!.total - plans[to]!.left + begunUnits(planned, to), passed, feed.inStock);
  const placed = lotsOfStep(planned.work, from).filter((lot) => !planned.beyond.has(lot));
  const supplies = placed.map((lot) => ({
    at: schedule.finishes[lot]! + feed.lagMinutes,
    units: unitsOf(planned.work.lots[lot]!),
  }));
  const waiting = Math.max(0, passed - taken);
  return {
    from: feed.from,
    to: feed.to,
    ratio: feed.ratio,
    waiting,
    starves: starvesOf(planned, takings, plans[to]!),
    pile: plans[from]!.kind === 'order' ? null : pileOf(planned.now, waiting, supplies, takings),
  };
}

/** Units of `from` (`passed` of them are counted) that the first `units` of `to` take. */
function wantedOf(feed: StepFeed, units: number, passed: number, stock: number): number {
  return unitsNeeded({ ...feed, headStart: 0 }, units, passed, stock);
}

function begunUnits({ work }: Planned, step: number): number {
  const lots = lotsOfStep(work, step).map((lot) => work.lots[lot]!);
  return lots.reduce((sum, lot) => sum + (lot.begunAt === null ? 0 : unitsOf(lot)), 0);
}

/**
 * The lots of the following step as they start: within their set where both steps are for each set, as the links are.
 */
function takingsOf(
  planned: Planned,
  schedule: Schedule,
  workedUntil: Int32Array,
  feed: StepFeed,
  from: number,
  to: number,
): Taking[] {
  const { plans, work, beyond } = planned;
  const bySet = plans[from]!.perSet && plans[to]!.perSet;
  const all = lotsOfStep(work, from);
  const stock = bySet ? feed.inStock / plans[from]!.sets.length : feed.inStock;
  const takings = work.runs[to]!.flatMap((run, i) => {
    const sources = bySet ? (work.runs[from]![i]?.lots ?? []) : all;
    const [fromOffset, toOffset] = bySet
      ? [plans[from]!.sets[i]?.offset ?? 0, plans[to]!.sets[i]?.offset ?? 0]
      : [0, -doneBehind(plans[to]!, run.set)];
    const passed = bySet ? (plans[from]!.sets[i]?.done ?? 0) : plans[from]!.total - plans[from]!.left;
    const places = placesOfLots(work.lots, sources, fromOffset + passed);
    let [next, suppliedAt, wantedBefore] = [0, planned.now, 0];
    return run.lots.flatMap((l): Taking[] => {
      const lot: Lot = work.lots[l]!;
      if (unitsOf(lot) === 0) return [];
      const wanted = wantedOf(feed, lot.lastUnit - toOffset, passed, stock);
      const before = Math.max(wantedBefore, wantedOf(feed, lot.firstUnit - 1 - toOffset, passed, stock));
      wantedBefore = wanted;
      const needed = fromOffset + wanted + feed.headStart;
      for (; next < sources.length && places[next]! <= needed; next++) {
        const finish = beyond.has(sources[next]!) ? NEVER : schedule.finishes[sources[next]!]!;
        suppliedAt = Math.max(suppliedAt, addClockMinutes(finish, feed.lagMinutes));
      }
      if (beyond.has(l)) return [];
      const begun = lot.begunAt !== null;
      return [{ start: schedule.starts[l]!, workedUntil: workedUntil[l]!, begun, units: wanted - before, suppliedAt }];
    });
  });
  return takings.sort((a, b) => a.start - b.start);
}

/** When hands and machines are done with each lot, whatever dries after that. */
function workedUntilOf({ placements, starts }: Schedule, lots: number): Int32Array {
  const until = Int32Array.from({ length: lots }, (_, l) => starts[l]!);
  for (const { lot, people, machine, finish } of placements)
    if (people.length > 0 || machine !== null) until[lot] = Math.max(until[lot]!, finish);
  return until;
}

/**
 * Times at which all that was there is worked off before the next has come; a step that has not begun does not starve.
 */
function starvesOf(
  { now, surroundings }: Planned,
  takings: readonly Taking[],
  to: PlannedStep,
): BalanceFeed['starves'] {
  let idleFrom = to.total > to.left ? now : null;
  let first: { at: Instant; until: Instant; workingMinutes: number } | null = null;
  let [times, inAllMinutes] = [0, 0];
  for (const { start, workedUntil, begun, suppliedAt } of takings) {
    if (idleFrom !== null && !begun && suppliedAt > idleFrom && suppliedAt <= start) {
      const workingMinutes = openMinutesBetween(surroundings.working, idleFrom, suppliedAt);
      if (workingMinutes >= LEAST_STARVED) {
        first ??= { at: idleFrom, until: suppliedAt, workingMinutes };
        times += 1;
        inAllMinutes += workingMinutes;
      }
    }
    idleFrom = Math.max(idleFrom ?? now, workedUntil);
  }
  return first === null ? null : { ...first, times, inAllMinutes };
}

/** The most that is between the two and will still be taken, where that is more than any lot takes. */
function pileOf(
  now: Instant,
  waiting: number,
  supplies: readonly { readonly at: Instant; readonly units: number }[],
  takings: readonly Taking[],
): BalanceFeed['pile'] {
  const coming = [...supplies].sort((a, b) => a.at - b.at);
  const open = takings.filter(({ begun }) => !begun);
  const lastStart = open.at(-1)?.start ?? now;
  const mostTaken = Math.max(0, ...open.map(({ units }) => units));
  let toTake = open.reduce((sum, { units }) => sum + units, 0);
  let most = { at: now, units: Math.min(waiting, toTake) };
  let lying = waiting;
  let next = 0;
  for (const [i, { at, units }] of coming.entries()) {
    if (at >= lastStart) break;
    lying += units;
    for (; next < open.length && open[next]!.start <= at; next++) {
      lying -= open[next]!.units;
      toTake -= open[next]!.units;
    }
    const waits = Math.min(lying, toTake);
    if (coming[i + 1]?.at !== at && waits > most.units) most = { at, units: waits };
  }
  return most.units > mostTaken ? most : null;
}
