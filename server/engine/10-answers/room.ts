/** Room before the ready-by, the load-in and the event, and the lower bound. */
import type { Forecast, LowerBound, Room } from '../../model/index.ts';
import { handsOf, lotsOfStep } from '../04-lots/index.ts';
import { isInstant, openMinutesBetween } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import { madeAt } from '../stages/index.ts';
import type { Lot } from '../types.ts';

/**
 * Room to the ready-by, the load-in and the event apart: what is between the finish and each, negative when late; null
 * where something cannot be finished, nothing is planned at all, or not `isWhole`: some of the work is not in the plan.
 * What is done was finished when it was last counted, and stays so.
 */
export function roomAnswer(planned: Planned, isWhole: boolean): Forecast['room'] {
  const { surroundings, schedule, dates, work } = planned;
  const nothingLeft = work.lots.length === 0 && planned.plans.length > 0;
  const done = nothingLeft ? planned.now : null;
  const [workshopDone, allDone] = [madeAt(planned, false) ?? done, madeAt(planned, true) ?? done];
  const readyAt = workshopDone ?? (isWhole && placed(planned, false) ? (schedule?.readyAt ?? null) : null);
  const finishAt = allDone ?? (isWhole && placed(planned, true) ? (schedule?.finishAt ?? null) : null);
  const unlimitedReady = workshopDone ?? (isWhole ? known(dates.readyAt) : null);
  const unlimitedFinish = allDone ?? (isWhole ? known(dates.finishAt) : null);
  const room = (target: number, finish: number | null, unlimited: number | null): Room => ({
    target,
    finish,
    clock: finish === null ? null : target - finish,
    working: finish === null ? null : openMinutesBetween(surroundings.working, finish, target),
    unlimitedFinish: unlimited,
    unlimitedClock: unlimited === null ? null : target - unlimited,
  });
  return {
    readyBy: room(surroundings.readyBy, readyAt, unlimitedReady),
    loadIn: surroundings.loadIn === null ? null : room(surroundings.loadIn, readyAt, unlimitedReady),
    event: { ...room(surroundings.event, finishAt, unlimitedFinish), ...handsMissing(planned) },
  };
}

/**
 * What work on site needs of hands beyond what they have between the load-in and the event: of all of it and of each
 * step by itself whatever is most, each against all who may do it. More may be missing where not everybody may do
 * everything. O(lots + people).
 */
function handsMissing({ work, plans, surroundings, now }: Planned): Pick<Room, 'missingHands'> {
  const { loadIn, event, people } = surroundings;
  if (loadIn === null) return {};
  const from = Math.max(now, loadIn);
  const missingOf = (lots: readonly Lot[]): number => {
    const able = new Set(lots.flatMap(({ phases }) => phases.flatMap((it) => ('eligible' in it ? it.eligible : []))));
    const there = [...people.values()].reduce(
      (sum, { resource, open }) =>
        sum + (able.has(resource) ? openMinutesBetween(open, from, Math.max(from, event)) : 0),
      0,
    );
    return handsOf(lots) - there;
  };
  const bySite = plans.map((plan, step) =>
    plan.onSite ? lotsOfStep(work, step).flatMap((lot) => (work.lots[lot]!.spare ? [] : [work.lots[lot]!])) : [],
  );
  const missing = Math.max(missingOf(bySite.flat()), ...bySite.map(missingOf));
  return missing > 0 ? { missingHands: Math.ceil(missing) } : {};
}

/** An instant, or null where the calendars run out before. */
function known(instant: number): number | null {
  return isInstant(instant) ? instant : null;
}

const UNNAMED = { resource: null, windowStart: null, windowEnd: null, shortMinutes: 0 };

function placed({ work, beyond, schedule }: Planned, onSite: boolean): boolean {
  if (schedule === null) return false;
  return ![...beyond].some((lot) => (onSite ? work.lots[lot]!.spare !== true : !work.lots[lot]!.onSite));
}

/**
 * What no order of work can beat, as the levelling proved it: the critical path through the calendars, or the work of
 * hands or machines that can stand in for each other against the hours of one window of time. Null where nothing of the
 * workshop's work is left, or where the calendars end before it.
 */
export function lowerBoundAnswer(planned: Planned): LowerBound | null {
  const { work, proof } = planned;
  if (proof === null || !isInstant(proof.bound.readyAt) || madeAt(planned, false) !== null) return null;
  const { readyAt, by, resources, window, shortMinutes } = proof.bound;
  // Where the longest chain takes as long with unlimited hands, no lack of hands is to blame.
  if (by !== 'search' && isInstant(planned.dates.readyAt) && planned.dates.readyAt >= readyAt) {
    return { ...UNNAMED, readyAt, by: 'critical-path', verdict: proof.verdict };
  }
  return {
    readyAt,
    by: by === 'pool' ? 'machine' : by,
    resource: resources.length === 0 ? null : resources.map((resource) => work.resources[resource]!.name).join(' or '),
    windowStart: window?.start ?? null,
    windowEnd: window?.end ?? null,
    shortMinutes: Math.max(0, shortMinutes),
    verdict: proof.verdict,
  };
}
