/**
 * The demo: a town library opens its new reading room, and above it hangs the Slow Ceiling: five rails, each with 32
 * ash slats on two cords over pulleys, which rise and sink in a slow wave. Half built, with a log of eight evenings:
 * one lost, sanding slower than hoped, the metal shop late. All of it is invented.
 */
import type { BuildFile } from '../server/model/index.ts';
import { daysOf } from './days.ts';
import { ceilingBuild } from './slow-ceiling/build.ts';
import { ceilingLog } from './slow-ceiling/log.ts';

/**
 * The demo as a build file, shifted so that the event is twelve days after `now` (whole minutes since the epoch)
 * whatever the date is; the log ends at `now`. Its zone is UTC: a wall clock that every machine has, and no real place.
 */
export function demoFile(now: number): BuildFile {
  const days = daysOf(now);
  return { format: 'daywright-build', version: 1, build: ceilingBuild(DEMO.id, days), log: ceilingLog(days, now) };
}

/** The demo by its id. */
export const DEMO = { id: 'slow-ceiling', file: demoFile };
