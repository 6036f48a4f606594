/** The last moments of lots under these hands and machines: to begin, to be back, to be there for what takes them. */
import type { LevelledDates } from '../../model/index.ts';
import { FINISH_FINISH, FINISH_START } from '../05-network/index.ts';
import { isInstant, openMinutesBetween } from '../calendar/index.ts';
import type { Dated, Planned } from '../stages/index.ts';
import type { Instant, Minutes } from '../types.ts';

/**
 * Where one lot is in the schedule of these hands and machines, and its last moment in the one from the event
 * backwards.
 */
export function levelledOfLot(planned: Planned, i: number): LevelledDates | null {
  const { schedule, backwards, beyond, work, keepsDeadlines, sparesKeepDeadlines } = planned;
  if (schedule === null || beyond.has(i)) return null;
  const start = schedule.starts[i]!;
  const finish = schedule.finishes[i]!;
  if (work.lots[i]!.begunAt !== null) {
    // What is under way stays where it is in both schedules; how much later it may be back is its room.
    const lastFinish = lastBack(planned, i);
    if (lastFinish === null) return { start, finish, lastStart: null, lastFinish, room: null };
    return { start, finish, lastStart: start + lastFinish - finish, lastFinish, room: lastFinish - finish };
  }
  if (backwards === null) return { start, finish, lastStart: null, lastFinish: null, room: null };
  // A schedule that keeps every deadline proves that nothing in it begins too late; spares may miss theirs.
  const isProof = keepsDeadlines && (work.lots[i]!.spare !== true || sparesKeepDeadlines);
  const isLater = isProof && backwards.starts[i]! < start;
  if (!isLater && isBeforeLoadIn(planned, i, backwards.starts[i]!)) {
    return { start, finish, ...onceThere(planned, i, backwards.finishes[i]!, finish) };
  }
  const lastStart = isLater ? start : backwards.starts[i]!;
  const lastFinish = isLater ? Math.max(finish, backwards.finishes[i]!) : backwards.finishes[i]!;
  // What waits before it begins may begin early and end too late all the same.
  const room = lastFinish < finish ? Math.min(lastStart - start, lastFinish - finish) : lastStart - start;
  return { start, finish, lastStart, lastFinish, room };
}

/** Work on site that the schedule backwards has begin before one may get in: there are too few hours for it there. */
function isBeforeLoadIn({ work, plans, surroundings }: Dated, i: number, start: Instant): boolean {
  const { loadIn } = surroundings;
  return loadIn !== null && start < loadIn && plans[work.lots[i]!.step]!.onSite;
}

/**
 * It should begin as early as it can, and end so, but by its deadline; then it has no room, or is too late by what it
 * ends after that.
 */
function onceThere(
  { work, dates, surroundings }: Planned,
  i: number,
  last: Instant,
  finish: Instant,
): Required<Pick<LevelledDates, 'lastStart' | 'lastFinish' | 'room'>> {
  const { deadline } = work.lots[i]!;
  const loadIn = surroundings.loadIn!;
  const soonest = (early: Instant): Instant => Math.max(loadIn, isInstant(early) ? Math.min(deadline, early) : loadIn);
  const lastFinish = Math.max(last, soonest(dates.earlyFinish[i]!));
  return { lastStart: soonest(dates.earlyStart[i]!), lastFinish, room: Math.min(0, lastFinish - finish) };
}

/** The last moment at which a lot can begin: by its chain, and under hands and machines; on site after the load-in. */
export function lastStartOf(planned: Planned, i: number): number {
  const byChain = lateStartOf(planned, i);
  const last = Math.min(byChain, levelledOfLot(planned, i)?.lastStart ?? byChain);
  return isInstant(last) && isBeforeLoadIn(planned, i, last) ? planned.surroundings.loadIn! : last;
}

/** The last moment to begin with unlimited hands, on site never before the load-in; LONG_AGO where there is none. */
export function lateStartOf(planned: Dated, i: number): Instant {
  const late = planned.dates.lateStart[i]!;
  return isInstant(late) && isBeforeLoadIn(planned, i, late) ? planned.surroundings.loadIn! : late;
}

/**
 * When what a lot brings must be there: its own deadline, and before that the begin of the first lot that takes it, in
 * the latest schedule that hands and machines can do. Where the plan is late for want of hands, so that what comes
 * waits for them, it is when it is taken in the plan; where it comes too late even with unlimited hands, the last
 * moment with these.
 */
export function neededAt(planned: Planned, lot: number): Instant {
  return Math.min(planned.work.lots[lot]!.deadline, takenAt(planned, lot));
}

/** A number of the passes; null where they have none to say. */
export function known(value: number): number | null {
  return isInstant(value) ? value : null;
}

/** The last moment at which what is under way can be back: by its chain, and for what takes it. */
function lastBack(planned: Planned, i: number): number | null {
  const byChain = planned.dates.lateFinish[i]!;
  return isInstant(byChain) ? Math.min(byChain, neededAt(planned, i)) : null;
}

function takenAt(planned: Planned, lot: number): Instant {
  const { dates, work, schedule, surroundings, keepsDeadlines, beyond } = planned;
  const its = takersOf(planned, lot);
  const late = dates.lateFinish[lot]!;
  const byChain = isInstant(late) ? late : work.lots[lot]!.deadline;
  if (its.length === 0 || schedule === null || beyond.has(lot)) return byChain;
  const lasts = its.map(({ lot: taker, lag }) => lastStartOf(planned, taker) - lag).filter(isInstant);
  if (lasts.length === 0) return byChain;
  const byHands = Math.min(...lasts);
  const arrives = schedule.finishes[lot]!;
  if (keepsDeadlines || its.some((taker) => beyond.has(taker.lot))) return byHands;
  // Too late even with unlimited hands: then it is what is late.
  if (arrives > byChain) return lastWith(planned, its) ?? byChain;
  const taken = Math.min(...its.map(({ lot: taker, lag }) => schedule.starts[taker]! - lag));
  const waitsForHands = taken > arrives && openMinutesBetween(surroundings.working, arrives, taken) > 0;
  // After the last moment with unlimited hands no help could make up for it.
  return waitsForHands ? Math.max(byHands, Math.min(taken, byChain)) : byHands;
}

/** When what takes it must begin at the last with unlimited hands, whether or not the supplier delivers on that day. */
function lastWith(planned: Planned, its: readonly Taker[]): Instant | null {
  const lasts = its.map(({ lot, lag }) => lateStartOf(planned, lot) - lag).filter(isInstant);
  return lasts.length === 0 ? null : Math.min(...lasts);
}

/** A lot that takes what another brings, some clock minutes after it came. */
interface Taker {
  readonly lot: number;
  readonly lag: Minutes;
}

/** Milestones in a row that are looked through: a gathering of units, a gate's hold. */
const MOST_MILESTONES = 4;

/**
 * The lots that are still to begin and wait for the end of this one, through milestones; what waits in working minutes
 * waits as many on the clock at least.
 */
function takersOf(planned: Planned, lot: number, deep = 0, lag: Minutes = 0): Taker[] {
  const { work, network } = planned;
  const takers: Taker[] = [];
  for (let k = network.outFirst[lot]!; k < network.outFirst[lot + 1]!; k++) {
    const link = network.outLinks[k]!;
    const type = network.linkType[link]!;
    if (network.links[link]!.reason === 'order' || (type !== FINISH_START && type !== FINISH_FINISH)) continue;
    const to = network.linkTo[link]!;
    const after = lag + network.linkLag[link]!;
    const isMilestone = work.lots[to]!.phases.length === 0;
    if (isMilestone && deep < MOST_MILESTONES) takers.push(...takersOf(planned, to, deep + 1, after));
    else if (type === FINISH_START && work.lots[to]!.begunAt === null) takers.push({ lot: to, lag: after });
  }
  return takers;
}
