/**
 * What is said of a pace beside its figures: what surprises, what changed, what stands out, what could not be timed.
 */
import type { PaceNote } from '../../model/index.ts';
import type { Change } from './pace-change.ts';
import type { Learning } from './pace-learning.ts';
import type { OddCount } from './pace-odd-counts.ts';
import type { Readings, TimedCount } from './pace-readings.ts';

/** How far a measured pace may be from the estimate before that is said, and before it is asked about. */
const SAID = 1.5;
const ASKED = 5;

interface Told {
  readonly readings: Readings;
  readonly counts: readonly TimedCount[];
  readonly units: number;
  readonly minutes: number;
  readonly estimate: number;
  readonly learning: Learning;
  readonly change: Change | null;
  readonly odd: readonly OddCount[];
}

/** The notes; none where all is as expected. */
export function notesOf(told: Told): PaceNote[] {
  return [...farFromEstimate(told), ...changed(told), ...learnt(told), ...standsOut(told), ...untimed(told)];
}

/** Whether these timed units lie so far from the estimate that a person is asked. */
export function isAskedAbout(minutes: number, units: number, estimate: number): boolean {
  return isFar(minutes, units, estimate, ASKED);
}

function farFromEstimate({ units, minutes, estimate }: Told): PaceNote[] {
  if (!isFar(minutes, units, estimate, SAID)) return [];
  const asked = isFar(minutes, units, estimate, ASKED);
  return [{ code: 'far', units, each: minutes / units, expected: estimate, asked }];
}

function changed({ change }: Told): PaceNote[] {
  return change === null ? [] : [{ code: 'changed', at: change.at, before: change.before, since: change.since }];
}

function learnt({ learning: { rate, given, counts } }: Told): PaceNote[] {
  return counts === 0 ? [] : [{ code: 'learnt', counts, rate, given }];
}

/** The oddest of the odd counts. */
function standsOut({ odd: [oddest] }: Told): PaceNote[] {
  if (oddest === undefined) return [];
  const { count, ratio, weight } = oddest;
  const { at, units, minutes } = count;
  return [{ code: 'stands-out', at, units, minutes, others: minutes / units / ratio, weight }];
}

function untimed({ readings: { untimedUnits }, units }: Told): PaceNote[] {
  return untimedUnits === 0 || units > 0 ? [] : [{ code: 'untimed', units: untimedUnits }];
}

function isFar(minutes: number, units: number, estimate: number, times: number): boolean {
  if (units < 3 || minutes <= 0 || estimate <= 0) return false;
  const ratio = minutes / units / estimate;
  return ratio >= times || ratio <= 1 / times;
}
