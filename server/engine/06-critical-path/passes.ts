/**
 * The forward and the backward pass of the precedence diagramming method, through working calendars, hands and machines
 * unlimited. Links (J. W. Fondahl 1961; the four types and lags after K. C. Crandall 1973), with s start, f finish of a
 * lot and (+) a lag in clock minutes or in the open minutes of a calendar:
 *
 *     finish-start   s_to >= f_from (+) lag        finish-finish  f_to >= f_from (+) lag
 *     start-start    s_to >= s_from (+) lag        start-finish   f_to >= s_from (+) lag
 *
 * Late dates follow from the exact inverses of these, so they are right to the minute over nights and clock changes.
 */

import { FINISH_FINISH, FINISH_START, type Network, START_FINISH, START_START } from '../05-network/index.ts';
import { addClockMinutes, addOpenMinutes, isInstant, LONG_AGO, NEVER, subtractOpenMinutes } from '../calendar/index.ts';
import type { Calendar, Instant, Lot, Minutes, Work } from '../types.ts';
import {
  earliestSpan,
  earliestSpanFinishing,
  finishOfBegun,
  latestFinishFor,
  latestFinishOfBegun,
  latestStartAtOrBefore,
  latestStartFor,
  type Span,
} from './lot-chain.ts';

/** What drives the start of a lot, so that it is no earlier: the index of a link, or one of these. */
export const DRIVEN_BY_NOW = -1;
export const DRIVEN_BY_RELEASE = -2;
const DRIVEN_BY_PIN = -3;
export const ALREADY_BEGUN = -4;

/** Dates by lot. NEVER where the calendars run out, and for lots in or behind a circle, which have no dates. */
export interface EarlyDates {
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  /** The link, or the reason, that drives each lot; of several the first. */
  readonly drivenBy: Int32Array;
}

/** Dates by lot. LONG_AGO where the calendars do not reach back far enough. */
export interface LateDates {
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
}

/**
 * Early start and finish of every lot: not before now, its release, its pinned start and its links. A lot under way
 * starts when it began. Linear in lots and links, times the logarithm of the calendars' length.
 */
export function forwardPass(work: Work, network: Network): EarlyDates {
  const starts = new Int32Array(network.lots).fill(NEVER);
  const finishes = new Int32Array(network.lots).fill(NEVER);
  const drivenBy = new Int32Array(network.lots).fill(DRIVEN_BY_NOW);
  const bounds: ForwardBounds = { start: 0, startBy: 0, finish: 0, finishBy: 0 };
  const span: Span = { start: 0, finish: 0 };
  for (const i of network.order) {
    const lot = work.lots[i]!;
    boundsFromOwn(work, lot, bounds);
    boundsFromLinks(network, i, starts, finishes, bounds);
    if (lot.begunAt !== null) {
      starts[i] = lot.begunAt;
      const finish = finishOfBegun(lot.phases, lot.begunAt, work.now);
      const isBound = finish < bounds.finish;
      finishes[i] = isBound ? finishOfBegun(lot.phases, lot.begunAt, work.now, bounds.finish) : finish;
      drivenBy[i] = isBound ? bounds.finishBy : ALREADY_BEGUN;
      continue;
    }
    earliestSpan(lot.phases, bounds.start, span);
    drivenBy[i] = bounds.startBy;
    if (span.finish < bounds.finish) {
      earliestSpanFinishing(lot.phases, bounds.start, bounds.finish, span);
      drivenBy[i] = bounds.finishBy;
    }
    starts[i] = span.start;
    finishes[i] = span.finish;
  }
  return { starts, finishes, drivenBy };
}

/**
 * Late start and finish of every lot: the latest that let every lot finish by `latestFinish[lot]` and every link hold.
 * The late finish follows from the late start, save where a lot's last phases may wait: there it is the latest they can
 * wait for. A lot under way cannot start later: its late start is when it began, its late finish the latest allowed.
 */
export function backwardPass(work: Work, network: Network, latestFinish: Int32Array): LateDates {
  const starts = new Int32Array(network.lots).fill(LONG_AGO);
  const finishes = new Int32Array(network.lots).fill(LONG_AGO);
  const span: Span = { start: 0, finish: 0 };
  const limits: BackwardLimits = { start: 0, finish: 0 };
  for (let k = network.order.length - 1; k >= 0; k--) {
    const i = network.order[k]!;
    const lot = work.lots[i]!;
    limits.start = NEVER;
    limits.finish = latestFinish[i]!;
    limitsFromLinks(work, network, i, starts, finishes, limits, false);
    if (lot.begunAt !== null) {
      starts[i] = lot.begunAt;
      finishes[i] = latestFinishOfBegun(lot.phases, limits.finish, span);
      continue;
    }
    starts[i] = latestStart(lot, limits);
    finishes[i] = latestFinishFor(lot.phases, starts[i]!, limits.finish, span);
  }
  return { starts, finishes };
}

/**
 * How late each lot could start, one at a time, without moving another lot's early dates: the dates of free slack. A
 * lot that feeds nothing may reach `latestFinish`. Links that only keep the lots of one step in order are not asked.
 */
export function freeDates(work: Work, network: Network, early: EarlyDates, latestFinish: Int32Array): LateDates {
  const starts = new Int32Array(network.lots).fill(LONG_AGO);
  const finishes = new Int32Array(network.lots).fill(LONG_AGO);
  const span: Span = { start: 0, finish: 0 };
  const limits: BackwardLimits = { start: 0, finish: 0 };
  for (const i of network.order) {
    const lot = work.lots[i]!;
    limits.start = NEVER;
    limits.finish = latestFinish[i]!;
    limitsFromLinks(work, network, i, early.starts, early.finishes, limits, true);
    starts[i] = lot.begunAt ?? latestStart(lot, limits);
    finishes[i] =
      lot.begunAt === null
        ? latestFinishFor(lot.phases, starts[i]!, limits.finish, span)
        : latestFinishOfBegun(lot.phases, limits.finish, span);
  }
  return { starts, finishes };
}

/** `t` moved by a lag: clock minutes, or open minutes of `open`; negative lags lead. */
export function addLag(open: Calendar | null, t: Instant, lag: Minutes): Instant {
  if (lag === 0) return t;
  return open === null ? addClockMinutes(t, lag) : addOpenMinutes(open, t, lag);
}

/**
 * The latest instant that moved by the lag is still at or before `t`: `addLag(open, s, lag) <= t` if and only if `s <=
 * latestBeforeLag(open, t, lag)`.
 */
export function latestBeforeLag(open: Calendar | null, t: Instant, lag: Minutes): Instant {
  if (lag === 0) return t;
  if (open === null) return addClockMinutes(t, -lag);
  if (lag > 0) return subtractOpenMinutes(open, t, lag);
  if (!isInstant(t)) return t;
  const after = addOpenMinutes(open, t + 1, -lag);
  return after === NEVER ? NEVER : after - 1;
}

interface ForwardBounds {
  start: Instant;
  startBy: number;
  finish: Instant;
  finishBy: number;
}

interface BackwardLimits {
  start: Instant;
  finish: Instant;
}

function boundsFromOwn(work: Work, lot: Lot, bounds: ForwardBounds): void {
  bounds.start = work.now;
  bounds.startBy = DRIVEN_BY_NOW;
  bounds.finish = LONG_AGO;
  bounds.finishBy = DRIVEN_BY_NOW;
  if (lot.release > bounds.start) {
    bounds.start = lot.release;
    bounds.startBy = DRIVEN_BY_RELEASE;
  }
  if (lot.pinnedStart !== null && lot.pinnedStart > bounds.start) {
    bounds.start = lot.pinnedStart;
    bounds.startBy = DRIVEN_BY_PIN;
  }
}

/** A link that just meets what now, release or pin ask is named as the driver: it is what the chain goes through. */
function boundsFromLinks(
  network: Network,
  lot: number,
  starts: Int32Array,
  finishes: Int32Array,
  bounds: ForwardBounds,
): void {
  for (let k = network.inFirst[lot]!; k < network.inFirst[lot + 1]!; k++) {
    const link = network.inLinks[k]!;
    const from = network.linkFrom[link]!;
    const type = network.linkType[link]!;
    const t = type === FINISH_START || type === FINISH_FINISH ? finishes[from]! : starts[from]!;
    const bound = addLag(network.linkOpen[link]!, t, network.linkLag[link]!);
    if (type === FINISH_START || type === START_START) {
      if (bound > bounds.start || (bound === bounds.start && bounds.startBy < 0)) {
        bounds.start = bound;
        bounds.startBy = link;
      }
    } else if (bound > bounds.finish) {
      bounds.finish = bound;
      bounds.finishBy = link;
    }
  }
}

/** What has begun is not asked to start later; what has no early dates (`freely`) holds nobody back. */
function limitsFromLinks(
  work: Work,
  network: Network,
  lot: number,
  starts: Int32Array,
  finishes: Int32Array,
  limits: BackwardLimits,
  freely: boolean,
): void {
  for (let k = network.outFirst[lot]!; k < network.outFirst[lot + 1]!; k++) {
    const link = network.outLinks[k]!;
    const to = network.linkTo[link]!;
    if (network.ordered[to] === 0 || (freely && network.links[link]!.reason === 'order')) continue;
    const type = network.linkType[link]!;
    const ofStart = type === FINISH_START || type === START_START;
    if (ofStart && work.lots[to]!.begunAt !== null) continue;
    const limit = latestBeforeLag(
      network.linkOpen[link]!,
      ofStart ? starts[to]! : finishes[to]!,
      network.linkLag[link]!,
    );
    if (type === FINISH_START || type === FINISH_FINISH) limits.finish = Math.min(limits.finish, limit);
    else if (type === START_START || type === START_FINISH) limits.start = Math.min(limits.start, limit);
  }
}

function latestStart(lot: Lot, limits: BackwardLimits): Instant {
  const start = latestStartFor(lot.phases, limits.finish);
  return limits.start >= start ? start : latestStartAtOrBefore(lot.phases, limits.start);
}
