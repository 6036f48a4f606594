/** Early and late dates and slack of every lot of a build. */

import type { BuildWork } from '../04-lots/index.ts';
import type { Network } from '../05-network/index.ts';
import { criticalPath, totalSlackTo } from '../06-critical-path/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import type { LotDates } from './planned.ts';

/**
 * The passes with hands and machines unlimited: late dates to each lot's own deadline, and slack to the event beside
 * it.
 */
export function datesOfLots(work: BuildWork, network: Network, surroundings: Surroundings): LotDates {
  const path = criticalPath(work, network, 'deadline');
  const toEvent = totalSlackTo(work, network, path, surroundings.event);
  // Where the work on site merely waits for the load-in, the chain that can be acted on is the workshop's.
  const first = path.pathToFinish[0];
  const chain =
    first !== undefined && work.lots[first.lot]!.onSite && path.path.length > 0 ? path.path : path.pathToFinish;
  return {
    earlyStart: path.earlyStart,
    earlyFinish: path.earlyFinish,
    lateStart: path.lateStart,
    lateFinish: path.lateFinish,
    totalSlackClock: path.totalSlack.clock,
    totalSlackWorking: path.totalSlack.working,
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
