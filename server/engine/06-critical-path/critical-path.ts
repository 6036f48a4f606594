/**
 * How long the build must take with as many hands and machines as one could wish for, how much every lot can slip, and
 * the chain of lots that drives the end (J. E. Kelley and M. R. Walker 1959; precedence links as in passes.ts).
 */
import type { Network } from '../05-network/index.ts';
import { isInstant, LONG_AGO, NEVER, openMinutesBetween, unionOf } from '../calendar/index.ts';
import type { Calendar, Instant, Lot, Minutes, Work } from '../types.ts';
import { backwardPass, type EarlyDates, forwardPass, freeDates, type LateDates } from './passes.ts';

/**
 * What late dates are counted back from: `finish`, the network's own end, as in the textbooks (work for the site counts
 * back from the end of all, work in the workshop from the end of the workshop's); `deadline`, each lot's own; one
 * instant for all; or one instant a lot.
 */
type Target = 'finish' | 'deadline' | Instant | Int32Array;

/** Slack that cannot be said, because the dates lie beyond the calendars or the lot is in or behind a circle. */
export const UNKNOWN_SLACK: Minutes = LONG_AGO;

/** Slack by lot, negative when late, UNKNOWN_SLACK where there is none to say. */
interface Slack {
  readonly clock: Int32Array;
  /** The same in open minutes of whoever works on the lot. */
  readonly working: Int32Array;
}

interface CriticalPath {
  readonly earlyStart: Int32Array;
  readonly earlyFinish: Int32Array;
  readonly lateStart: Int32Array;
  readonly lateFinish: Int32Array;
  /** How far a lot can slip without missing the target. */
  readonly totalSlack: Slack;
  /**
   * How far it can slip without moving any other lot's early dates, or, for one that feeds nothing, the network's own
   * end.
   */
  readonly freeSlack: Slack;
  /** How far it can slip without moving the network's own end: never negative. */
  readonly slackToOwnEnd: Slack;
  /** 1 where the working slack to the own end is zero. */
  readonly critical: Uint8Array;
  /**
   * Lots in order of time, each driven by the one before it, from what drives the first to the last finish of the
   * workshop's work.
   */
  readonly path: readonly PathStep[];
  /** The same up to the last finish of all, work on the site included; equal to `path` where there is none. */
  readonly pathToFinish: readonly PathStep[];
  /**
   * Last finish of the workshop's lots, and of all; `now` when there are none, NEVER when calendars run out or a circle
   * leaves one without dates.
   */
  readonly readyAt: Instant;
  readonly finishAt: Instant;
  /**
   * Clock minutes from the end to the fixed instants, negative when late: the workshop's end for ready-by and load-in,
   * the end of all for the event.
   */
  readonly room: { readonly readyBy: Minutes; readonly loadIn: Minutes | null; readonly event: Minutes };
}

/**
 * A lot of a path and what drives it: the index of a link, or one of DRIVEN_BY_NOW, DRIVEN_BY_RELEASE, DRIVEN_BY_PIN,
 * ALREADY_BEGUN.
 */
interface PathStep {
  readonly lot: number;
  readonly drivenBy: number;
}

/**
 * The critical path of `work` over its network.
 *
 * Slack is measured between early and late start (for a lot under way, between early and late finish). In working
 * minutes it counts the open minutes of the lot's first hands, or of the union of all people's hours where it needs
 * none; without people, clock minutes.
 *
 * With calendars that close, a lot can often slip through a night without harm, so slack in clock minutes is rarely
 * zero. `critical` therefore means: no working minute to lose. And the lots that drive the end need not all be
 * critical: what is early enough before a night, a delivery or a release has room. So `path` is traced by what drives
 * what, and is one unbroken chain whatever the calendars; in a network that never closes its lots are all critical, as
 * in the textbooks.
 *
 * Lots in or behind a circle are left out (early dates NEVER, late dates LONG_AGO, slack unknown). Linear in lots and
 * links.
 */
export function criticalPath(work: Work, network: Network, target: Target = 'deadline'): CriticalPath {
  const early = forwardPass(work, network);
  const ownEnd = ownEnds(work, early);
  const lateToOwnEnd = backwardPass(work, network, ownEnd);
  const late = target === 'finish' ? lateToOwnEnd : backwardPass(work, network, latestFinishes(work, target, ownEnd));
  const calendars = workingCalendars(work);
  const slackToOwnEnd = slackBetween(work, early, lateToOwnEnd, calendars);
  const free = slackBetween(work, early, freeDates(work, network, early, ownEnd), calendars);
  const readyAt = lastFinish(work, early, (lot) => !lot.onSite);
  const finishAt = lastFinish(work, early, (lot) => lot.spare !== true);
  return {
    earlyStart: early.starts,
    earlyFinish: early.finishes,
    lateStart: late.starts,
    lateFinish: late.finishes,
    totalSlack: target === 'finish' ? slackToOwnEnd : slackBetween(work, early, late, calendars),
    freeSlack: { clock: atMost(free.clock, slackToOwnEnd.clock), working: atMost(free.working, slackToOwnEnd.working) },
    slackToOwnEnd,
    critical: Uint8Array.from(slackToOwnEnd.working, (slack) => (slack === 0 ? 1 : 0)),
    path: pathTo(
      network,
      early,
      lastLot(work, network, early, (lot) => !lot.onSite),
    ),
    pathToFinish: pathTo(
      network,
      early,
      lastLot(work, network, early, (lot) => lot.spare !== true),
    ),
    readyAt,
    finishAt,
    room: {
      readyBy: minutesLeft(work.readyBy, readyAt),
      loadIn: work.loadIn === null ? null : minutesLeft(work.loadIn, readyAt),
      event: minutesLeft(work.event, finishAt),
    },
  };
}

/** Total slack to one more target, such as the event, from the early dates already computed. */
export function totalSlackTo(work: Work, network: Network, path: CriticalPath, target: Target): Slack {
  const early = { starts: path.earlyStart, finishes: path.earlyFinish, drivenBy: new Int32Array(0) };
  const late = backwardPass(work, network, latestFinishes(work, target, ownEnds(work, early)));
  return slackBetween(work, early, late, workingCalendars(work));
}

function latestFinishes(work: Work, target: Target, ownEnd: Int32Array): Int32Array {
  if (target === 'finish') return ownEnd;
  if (target === 'deadline') return Int32Array.from(work.lots, (lot) => lot.deadline);
  if (typeof target === 'number') return new Int32Array(work.lots.length).fill(target);
  if (target.length !== work.lots.length) {
    throw new RangeError(`a target for each of ${work.lots.length} lots is needed, got ${target.length}`);
  }
  return target;
}

/**
 * The end of the part each lot belongs to: of what can be finished at all. What cannot may end whenever it likes, so
 * that one hopeless lot spoils the slack of no other, nor of what feeds it.
 */
function ownEnds(work: Work, early: EarlyDates): Int32Array {
  const end = (counts: (lot: Lot) => boolean) =>
    early.finishes.reduce(
      (last, finish, i) => (finish !== NEVER && counts(work.lots[i]!) ? Math.max(last, finish) : last),
      LONG_AGO,
    );
  const [workshop, all, spares] = [end((lot) => !lot.onSite), end((lot) => lot.spare !== true), end(() => true)];
  return Int32Array.from(work.lots, ({ onSite, spare }, i) => {
    if (early.finishes[i] === NEVER) return NEVER;
    return spare === true ? spares : onSite ? all : workshop;
  });
}

function lastFinish(work: Work, early: EarlyDates, counts: (lot: Lot) => boolean): Instant {
  let last: Instant | null = null;
  for (let i = 0; i < work.lots.length; i++) {
    if (counts(work.lots[i]!)) last = Math.max(last ?? LONG_AGO, early.finishes[i]!);
  }
  return last ?? work.now;
}

/** The first, in the order of the network, of the lots that finish last; none when all is beyond the calendars. */
function lastLot(work: Work, network: Network, early: EarlyDates, counts: (lot: Lot) => boolean): number | null {
  let last: number | null = null;
  for (const i of network.order) {
    if (!counts(work.lots[i]!) || early.finishes[i] === NEVER) continue;
    if (last === null || early.finishes[i]! > early.finishes[last]!) last = i;
  }
  return last;
}

function pathTo(network: Network, early: EarlyDates, end: number | null): PathStep[] {
  const backwards: PathStep[] = [];
  for (let lot = end; lot !== null; ) {
    const drivenBy = early.drivenBy[lot]!;
    backwards.push({ lot, drivenBy });
    lot = drivenBy < 0 ? null : network.linkFrom[drivenBy]!;
  }
  return backwards.reverse();
}

/** By lot: whose open minutes its slack is counted in; null for the clock. */
function workingCalendars(work: Work): (Calendar | null)[] {
  const people = work.resources.filter((resource) => resource.kind === 'person').map((resource) => resource.open);
  const anybody = people.length === 0 ? null : unionOf(people);
  return work.lots.map((lot) => {
    for (const phase of lot.phases) {
      const needsPeople = phase.kind === 'hands' || (phase.kind === 'run' && phase.attended && phase.people > 0);
      if (needsPeople && phase.minutes > 0) return phase.open;
    }
    return anybody;
  });
}

function slackBetween(work: Work, early: EarlyDates, late: LateDates, calendars: readonly (Calendar | null)[]): Slack {
  const clock = new Int32Array(work.lots.length).fill(UNKNOWN_SLACK);
  const working = new Int32Array(work.lots.length).fill(UNKNOWN_SLACK);
  for (let i = 0; i < work.lots.length; i++) {
    const begun = work.lots[i]!.begunAt !== null;
    const from = begun ? early.finishes[i]! : early.starts[i]!;
    const to = begun ? late.finishes[i]! : late.starts[i]!;
    if (!isInstant(from) || !isInstant(to)) continue;
    const calendar = calendars[i]!;
    clock[i] = to - from;
    working[i] = calendar === null ? to - from : openMinutesBetween(calendar, from, to);
  }
  return { clock, working };
}

function atMost(slack: Int32Array, limit: Int32Array): Int32Array {
  return slack.map((minutes, i) => Math.min(minutes, limit[i]!));
}

function minutesLeft(until: Instant, from: Instant): Minutes {
  return isInstant(from) ? until - from : UNKNOWN_SLACK;
}
