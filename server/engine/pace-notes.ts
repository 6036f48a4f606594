/** What is said of a pace beside its figures: what surprises, what changed, what stands out, what could not be timed. */
import { figureLabel, momentLabel } from './labels.ts';
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
  readonly zone: string;
}

/** The sentences, or null where all is as expected. */
export function noteOf(told: Told): string | null {
  const said = [...farFromEstimate(told), ...changed(told), ...learnt(told), ...standsOut(told), ...untimed(told)];
  return said.length === 0 ? null : said.join(' ');
}

/** Whether these timed units lie so far from the estimate that a person is asked. */
export function isAskedAbout(minutes: number, units: number, estimate: number): boolean {
  return isFar(minutes, units, estimate, ASKED);
}

function farFromEstimate({ units, minutes, estimate }: Told): string[] {
  if (!isFar(minutes, units, estimate, SAID)) return [];
  const measured = minutes / units;
  const times =
    measured > estimate
      ? `${figureLabel(measured / estimate)} times as long`
      : `1/${figureLabel(estimate / measured)} of it`;
  const said = `${units} units took ${figureLabel(measured)} min each where ${figureLabel(estimate)} min was expected, ${times}. The plan goes by the count.`;
  const asked = 'Is a unit still what the estimate meant, and did the clock run only while somebody worked?';
  return isFar(minutes, units, estimate, ASKED) ? [said, asked] : [said];
}

function changed({ change, zone }: Told): string[] {
  if (change === null) return [];
  return [
    `The pace changed before ${momentLabel(change.at, zone)}, from ${figureLabel(change.before)} to ${figureLabel(change.since)} min a unit; what was counted since weighs more.`,
  ];
}

function learnt({ learning: { rate, given, counts } }: Told): string[] {
  if (counts === 0) return [];
  const percent = (share: number) => `${Math.round(100 * share)} %`;
  const assumed = given < 1 ? `${percent(given)} was given` : 'no learning was given';
  return [`By ${counts} counts each doubling of the units takes ${percent(rate)} of the time (${assumed}).`];
}

/** The count furthest from the others of its side of a change. It is told, and counts all the same. */
function standsOut({ counts, change, learning, zone }: Told): string[] {
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
  const each = count.minutes / count.units;
  const why =
    ratio > 1 ? 'Did the clock run on, or was something else done meanwhile?' : 'Were some of them made before?';
  return [
    `The count of ${momentLabel(count.at, zone)} stands out: ${count.units} in ${figureLabel(count.minutes)} min, ${figureLabel(each)} min each where the others took ${figureLabel(each / ratio)}. It is kept and weighs as its units do. ${why}`,
  ];
}

function untimed({ readings: { untimedUnits }, units }: Told): string[] {
  if (untimedUnits === 0 || units > 0) return [];
  return [
    `${untimedUnits} counted, but in a time that cannot be told: one count alone, all at one instant, or after a gap too long to be work. The pace is still the estimate; let the clock run, or count twice in a sitting.`,
  ];
}

function isFar(minutes: number, units: number, estimate: number, times: number): boolean {
  if (units < 3 || minutes <= 0 || estimate <= 0) return false;
  const ratio = minutes / units / estimate;
  return ratio >= times || ratio <= 1 / times;
}
