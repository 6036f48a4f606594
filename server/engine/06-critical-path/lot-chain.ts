/**
 * When a single lot can start and finish, with hands and machines unlimited: its phases through their calendars.
 *
 * Phases follow each other without a gap, with these exceptions: what needs people begins when they are there, and what
 * has arrived from a supplier may be. A wait and an unattended run begin at the very minute at which the phase before
 * ends: a printer runs from when it is loaded. Where it may not run yet, it is the loading that comes later.
 *
 * Everything here is monotone: a later start never finishes earlier. That is why the latest start for a finish can be
 * found exactly, and why forward and backward passes mirror each other to the minute.
 */
import {
  addClockMinutes,
  addOpenMinutes,
  arrivalOf,
  earliestStartInOneGo,
  isInstant,
  isOpen,
  LONG_AGO,
  latestOrderFor,
  latestStartInOneGo,
  NEVER,
  nextOpen,
  previousOpen,
  subtractOpenMinutes,
} from '../calendar/index.ts';
import type { Instant, Phase } from '../types.ts';

/** Where a chain of phases is; NEVER twice when it finds no place. */
export interface Span {
  start: Instant;
  finish: Instant;
}

/**
 * The earliest start at or after `t` and the finish that follows from it, written to `into`, which is also returned.
 */
export function earliestSpan(phases: readonly Phase[], t: Instant, into: Span): Span {
  return spanOf(phases, 0, phases.length, t, into);
}

/**
 * The earliest start at or after `t` and the earliest finish at or after both what follows from it and `finish`;
 * written like `earliestSpan`. Where the last phases may wait for people or lie after a delivery, they do so; else all
 * comes later.
 */
export function earliestSpanFinishing(phases: readonly Phase[], t: Instant, finish: Instant, into: Span): Span {
  spanOf(phases, 0, phases.length, t, into);
  if (into.finish >= finish) return into;
  const { start } = into;
  const last = lastGroup(phases);
  spanOf(phases, last, phases.length, latestStart(phases, last, finish - 1) + 1, into);
  if (last > 0 && into.finish < NEVER) into.start = start;
  return into;
}

/**
 * The finish of a lot whose first phase began at `begunAt`, whatever its calendar says; what comes after comes now at
 * the earliest, and so late that the lot does not finish before `atLeast`.
 */
export function finishOfBegun(
  phases: readonly Phase[],
  begunAt: Instant,
  now: Instant,
  atLeast: Instant = LONG_AGO,
): Instant {
  const [first] = phases;
  if (first === undefined) return Math.max(begunAt, atLeast);
  const finish = first.kind === 'run' ? addClockMinutes(begunAt, first.minutes) : phaseFinish(first, begunAt);
  if (phases.length === 1) return Math.max(finish, atLeast);
  return earliestSpanFinishing(phases.slice(1), Math.max(now, finish), atLeast, { start: 0, finish: 0 }).finish;
}

/** The latest start from which the phases are finished by `t`; LONG_AGO when there is none. */
export function latestStartFor(phases: readonly Phase[], t: Instant): Instant {
  return latestStart(phases, 0, t);
}

/**
 * The latest finish at or before `t` of phases that start at `start`, a start from which they can be finished by then.
 * Later than what follows from the start only where the last phases may wait.
 */
export function latestFinishFor(phases: readonly Phase[], start: Instant, t: Instant, into: Span): Instant {
  if (!isInstant(start)) return start;
  const last = lastGroup(phases);
  return last > 0 ? latestFinishFrom(phases, last, t, into) : spanOf(phases, 0, phases.length, start, into).finish;
}

/**
 * The latest finish at or before `t` of a lot under way: `t` itself where nothing may wait, for what has begun is not
 * asked.
 */
export function latestFinishOfBegun(phases: readonly Phase[], t: Instant, into: Span): Instant {
  return phases.length < 2 ? t : latestFinishFrom(phases, Math.max(1, lastGroup(phases)), t, into);
}

/** The latest finish at or before `t` of phases[first ..], which hang together. */
function latestFinishFrom(phases: readonly Phase[], first: number, t: Instant, into: Span): Instant {
  const start = latestStart(phases, first, t);
  return isInstant(start) ? spanOf(phases, first, phases.length, start, into).finish : start;
}

/**
 * The latest moment at or before `t` at which the phases can really start: `t` itself when they can; LONG_AGO when
 * there is none.
 */
export function latestStartAtOrBefore(phases: readonly Phase[], t: Instant): Instant {
  if (phases.length === 0 || !isInstant(t)) return t;
  const span: Span = { start: 0, finish: 0 };
  if (spanOf(phases, 0, phases.length, t, span).start === t) return t;
  const start = lastStartOfPhase(phases[0]!, t);
  if (spanOf(phases, 0, phases.length, start, span).start === start) return start;
  return searchLatestStart(phases, 0, (tried) => tried.start <= t, start);
}

/** The latest start of phases[first ..] that are finished by `t`. */
function latestStart(phases: readonly Phase[], first: number, t: Instant): Instant {
  let at = t;
  // Whether what follows without a gap has a machine's hours to keep, and so cannot just come earlier.
  let rigid = false;
  for (let k = phases.length - 1; k >= first; k--) {
    const phase = phases[k]!;
    const start = latestPhaseStart(phase, at);
    const next = phases[k + 1];
    rigid &&= next !== undefined && meets(phase, next);
    // Two phases that must meet and do not: what follows comes earlier if its machine allows; else the forward search
    // decides.
    if (rigid && !followsAt(phases, k + 1, phaseFinish(phase, start), at)) {
      return searchLatestStart(phases, first, (span) => span.finish <= t, start);
    }
    rigid ||= phase.kind === 'run' && !needsPeople(phase);
    at = start;
  }
  return at;
}

/** The first of the last phases that hang together: before it the lot may wait. */
function lastGroup(phases: readonly Phase[]): number {
  let k = phases.length - 1;
  while (k > 0 && (meets(phases[k - 1]!, phases[k]!) || sameHands(phases[k - 1]!, phases[k]!))) k--;
  return Math.max(0, k);
}

function spanOf(phases: readonly Phase[], first: number, end: number, t: Instant, into: Span): Span {
  let at = t;
  let start = t;
  // The phases from `group` on hang together and move together.
  let group = first;
  let groupFrom = t;
  for (let k = first; k < end; k++) {
    const phase = phases[k]!;
    const begins = earliestPhaseStart(phase, at);
    if (begins === NEVER) return never(into);
    if (begins > at && k > first && meets(phases[k - 1]!, phase)) {
      at = leastStartFinishing(phases, group, k, groupFrom, begins);
      if (at === NEVER) return never(into);
      groupFrom = at;
      k = group - 1;
      continue;
    }
    if (k === first) start = begins;
    at = phaseFinish(phase, begins);
    if (at === NEVER) return never(into);
    const next = phases[k + 1];
    if (next !== undefined && !meets(phase, next) && !sameHands(phase, next)) {
      group = k + 1;
      groupFrom = at;
    }
  }
  into.start = start;
  into.finish = at;
  return into;
}

function never(into: Span): Span {
  into.start = NEVER;
  into.finish = NEVER;
  return into;
}

/** Whether `next` must begin at the very minute at which `phase` ends. */
function meets(phase: Phase, next: Phase): boolean {
  return phase.kind !== 'lead' && next.kind !== 'lead' && !needsPeople(next);
}

/** Whether the phases from `k` that hang together can begin at `t`, earlier than at `asPlanned`. */
function followsAt(phases: readonly Phase[], k: number, t: Instant, asPlanned: Instant): boolean {
  if (t === asPlanned) return true;
  let at = t;
  for (let i = k; i < phases.length && (i === k || meets(phases[i - 1]!, phases[i]!)); i++) {
    if (earliestPhaseStart(phases[i]!, at) !== at) return false;
    at = phaseFinish(phases[i]!, at);
  }
  return isInstant(at);
}

function needsPeople(phase: Phase): boolean {
  return phase.kind === 'hands' || (phase.kind === 'run' && phase.attended && phase.people > 0);
}

/** Two phases of the same hands are one piece of work. */
function sameHands(phase: Phase, next: Phase): boolean {
  return phase.kind === 'hands' && next.kind === 'hands' && phase.open === next.open;
}

/**
 * The least start in (from, finish] from which phases[first .. end) finish at `finish` or later. Bisection: finishes
 * rise with starts.
 */
function leastStartFinishing(
  phases: readonly Phase[],
  first: number,
  end: number,
  from: Instant,
  finish: Instant,
): Instant {
  const span: Span = { start: 0, finish: 0 };
  let [early, late] = [from, finish];
  while (late - early > 1) {
    const middle = Math.floor((early + late) / 2);
    if (spanOf(phases, first, end, middle, span).finish >= finish) late = middle;
    else early = middle;
  }
  return late;
}

/** How far back the search goes: ten years. */
const LONGEST_SEARCH_MINUTES = 10 * 366 * 1440;

/**
 * The latest start at or before `from` of phases[first ..] whose span does, when all that start earlier do too.
 * Doubling, then bisection.
 */
function searchLatestStart(
  phases: readonly Phase[],
  first: number,
  does: (span: Span) => boolean,
  from: Instant,
): Instant {
  const span: Span = { start: 0, finish: 0 };
  if (!isInstant(from)) return LONG_AGO;
  let [early, late] = [from, from + 1];
  for (let step = 1; !does(spanOf(phases, first, phases.length, early, span)); step *= 2) {
    if (step > LONGEST_SEARCH_MINUTES) return LONG_AGO;
    late = early;
    early -= step;
  }
  while (late - early > 1) {
    const middle = Math.floor((early + late) / 2);
    if (does(spanOf(phases, first, phases.length, middle, span))) early = middle;
    else late = middle;
  }
  return early;
}

function earliestPhaseStart(phase: Phase, t: Instant): Instant {
  switch (phase.kind) {
    case 'hands':
      if (phase.minutes === 0) return t;
      return phase.oneGo ? earliestStartInOneGo(phase.open, t, phase.minutes) : nextOpen(phase.open, t);
    case 'run':
      return earliestStartInOneGo(phase.open, t, phase.minutes);
    default:
      return t;
  }
}

function phaseFinish(phase: Phase, start: Instant): Instant {
  switch (phase.kind) {
    case 'hands':
      return phase.oneGo ? addClockMinutes(start, phase.minutes) : addOpenMinutes(phase.open, start, phase.minutes);
    case 'lead':
      return arrivalOf(phase.arrivals, start);
    default:
      return addClockMinutes(start, phase.minutes);
  }
}

function latestPhaseStart(phase: Phase, t: Instant): Instant {
  switch (phase.kind) {
    case 'hands':
      return phase.oneGo
        ? latestStartInOneGo(phase.open, t, phase.minutes)
        : subtractOpenMinutes(phase.open, t, phase.minutes);
    case 'run':
      return latestStartInOneGo(phase.open, t, phase.minutes);
    case 'lead':
      return latestOrderFor(phase.arrivals, t);
    default:
      return addClockMinutes(t, -phase.minutes);
  }
}

/** The latest start of a single phase at or before `t`. */
function lastStartOfPhase(phase: Phase, t: Instant): Instant {
  if ((phase.kind !== 'hands' && phase.kind !== 'run') || phase.minutes === 0) return t;
  if (phase.kind === 'run' || phase.oneGo) return latestStartInOneGo(phase.open, t + phase.minutes, phase.minutes);
  if (isOpen(phase.open, t)) return t;
  const close = previousOpen(phase.open, t);
  return close === LONG_AGO ? LONG_AGO : close - 1;
}
