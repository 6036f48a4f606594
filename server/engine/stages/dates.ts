/** Early and late dates and slack of every lot of a build. */

import type { BuildWork } from '../04-lots/index.ts';
import type { Network } from '../05-network/index.ts';
import { criticalPath, totalSlackTo } from '../06-critical-path/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import type { LotDates } from './planned.ts';
import { isOfSite, lateThere } from './site-time.ts';

/**
 * The passes with hands and machines unlimited: late dates to each lot's own deadline, and slack to the event beside
 * it. What comes before work on site need not be done before the load-in, though there be too few hours after it.
 */
export function datesOfLots(work: BuildWork, network: Network, surroundings: Surroundings): LotDates {
  const { asAsked: path, inTime } = lateThere(
    work,
    (other) => criticalPath(other, network, 'deadline'),
    ({ lateStart }) => lateStart,
  );
  const isSite = work.lots.map((lot) => isOfSite(lot, work));
  const chosen = (own: Int32Array, other: Int32Array) => other.map((date, l) => (isSite[l] ? own[l]! : date));
  const toEvent = totalSlackTo(work, network, path, surroundings.event);
  // Where the work on site merely waits for the load-in, the chain that can be acted on is the workshop's.
  const first = path.pathToFinish[0];
  const chain =
    first !== undefined && work.lots[first.lot]!.onSite && path.path.length > 0 ? path.path : path.pathToFinish;
  return {
    earlyStart: path.earlyStart,
    earlyFinish: path.earlyFinish,
    lateStart: chosen(path.lateStart, inTime.lateStart),
    lateFinish: chosen(path.lateFinish, inTime.lateFinish),
    totalSlackClock: chosen(path.totalSlack.clock, inTime.totalSlack.clock),
    totalSlackWorking: chosen(path.totalSlack.working, inTime.totalSlack.working),
    freeSlackClock: path.freeSlack.clock,
    freeSlackWorking: path.freeSlack.working,
    slackToOwnEnd: path.slackToOwnEnd.clock,
    slackToEvent: toEvent.clock,
    critical: Array.from(path.critical, (flag) => flag === 1),
    path: chain.map((step) => step.lot),
    readyAt: path.readyAt,
    finishAt: path.finishAt,
  };
}
