/** What is said of a pace beside its figures: what surprises, what changed, what stands out, what could not be timed. */
import type { PaceNote } from '../../model/index.ts';
import { asFirstUnits, type Change } from './pace-change.ts';
import type { Learning } from './pace-learning.ts';
import type { Readings, TimedCount } from './pace-readings.ts';

/** How far a measured pace may lie from the estimate before that is said, and before it is asked about. */
const SAID = 1.5;
const ASKED = 5;
/** A single count stands out at so many times the pace of the others, or that part of it; of fewer counts none does. */
const STANDS_OUT = 3;
/** Nor does one that took but so many minutes more or less: a single unit tapped late. */
const LEAST_MINUTES = 10;
const FEWEST_COUNTS = 4;

export interface Told {
  readonly readings: Readings;
  readonly counts: readonly TimedCount[];
  readonly units: number;
  readonly minutes: number;
  readonly estimate: number;
  readonly learning: Learning;
  readonly change: Change | null;
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

/** The count furthest from the others of its side of a change. It is told, and counts all the same. */
function standsOut({ counts, change, learning }: Told): PaceNote[] {
  const sides = change === null ? [counts] : [counts.slice(0, change.from), counts.slice(change.from)];
  const found = sides
    .filter((side) => side.length >= FEWEST_COUNTS)
    .flatMap((side) => {
      const minutes = side.map((count) => asFirstUnits(count, learning.rate));
      const allMinutes = minutes.reduce((sum, m) => sum + m, 0);
      const allUnits = side.reduce((sum, { units }) => sum + units, 0);
      return side.map((count, i) => {
        const others = (allMinutes - minutes[i]!) / (allUnits - count.units);
        const expected = others * count.units;
        return { count, ratio: minutes[i]! / expected, off: Math.abs(minutes[i]! - expected) };
      });
    })
    .filter(({ ratio, off }) => off >= LEAST_MINUTES && (ratio >= STANDS_OUT || ratio <= 1 / STANDS_OUT))
    .sort((a, b) => Math.abs(Math.log(b.ratio)) - Math.abs(Math.log(a.ratio)))[0];
  if (found === undefined) return [];
  const { count, ratio } = found;
  const { at, units, minutes } = count;
  return [{ code: 'stands-out', at, units, minutes, others: minutes / units / ratio }];
}

function untimed({ readings: { untimedUnits }, units }: Told): PaceNote[] {
  return untimedUnits === 0 || units > 0 ? [] : [{ code: 'untimed', units: untimedUnits }];
}

function isFar(minutes: number, units: number, estimate: number, times: number): boolean {
  if (units < 3 || minutes <= 0 || estimate <= 0) return false;
  const ratio = minutes / units / estimate;
  return ratio >= times || ratio <= 1 / times;
}
