/** How long runs of a machine, and waits in the middle of work, really take, by the loads that were logged. */
import type { ForecastRunTime, PaceNote } from '../../model/index.ts';
import { type PlannedStep, phasesByThemselves, unitsOfLot } from '../02-steps/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import type { Tally } from '../log/index.ts';
import { ESTIMATE_SPREAD, RUN_SPREAD } from './estimate-spread.ts';
import { type LikelyPace, minutesAmong, paceFromMinutes } from './pace-model.ts';
import { learnRuns } from './run-model.ts';
import { type RunReading, runReadingsOf } from './run-readings.ts';

/** What is known of the runs of a step, or of its waits. */
export interface RunTime extends ForecastRunTime {
  /** Minutes as a multiple of the estimate's. */
  readonly factor: number;
  /** The beliefs about that factor, as gammas of its inverse. */
  readonly likely: readonly LikelyPace[];
}

/**
 * Minutes of a run are a machine's own as often as somebody's guess of them, which may be far off; seldom they are of
 * something else, an hour for a minute (no source).
 */
const KINDS = { own: 0.5, guess: 0.45, any: 0.05 };
const ANY_SPREAD = 1;

/** A load is odd at this many times the middle one, or that part of it. */
const ODD_RATIO = 3;
/** The middle one of fewer loads says nothing, and the estimate replaces it. */
const FEWEST_LOADS = 3;

/**
 * The run times of every step that the log has loads of. Each load that is back is read as a multiple of its minutes as
 * thought; the multiples join a belief of mean 1 that is as narrow as runs usually keep to their minutes or as wide as
 * estimates of this origin usually are wrong, whichever the loads bear out, so that the estimate weighs the less the
 * more loads there are and the more alike they are. A load is counted at its end or after it, never before: see
 * `learnRuns`. One that is far beside the middle one weighs less, by the square of how far (see `oddCountsOf`). Where
 * nobody saw any of them end, nothing is learnt. `plans`: the steps by their estimates. O(entries).
 *
 * @example 200 minutes thought, out of a handbook, five loads of 250 minutes each: 250 minutes
 */
export function runTimesOf(
  plans: readonly PlannedStep[],
  tally: Pick<Tally, 'standing' | 'steps'>,
  surroundings: Surroundings,
): Map<string, RunTime> {
  const times = new Map<string, RunTime>();
  for (const plan of plans) {
    if (plan.step === null || phasesByThemselves(plan).length === 0 || !tally.steps.has(plan.id)) continue;
    const readings = runReadingsOf(plan, tally.standing, surroundings);
    if (readings.some(({ isBound }) => !isBound)) times.set(plan.id, runTimeOf(plan, readings));
  }
  return times;
}

/** By step, how many times as long as thought its runs and waits take. */
export function runFactors(times: ReadonlyMap<string, RunTime>): ReadonlyMap<string, number> {
  return new Map([...times].map(([step, { factor }]) => [step, factor]));
}

function runTimeOf(plan: PlannedStep, readings: readonly RunReading[]): RunTime {
  const seen = weighedBy(readings.filter(({ isBound }) => !isBound));
  const bounds = readings.filter(({ isBound }) => isBound);
  const origin = plan.origin ?? 'guessed';
  const priors = [
    { ...paceFromMinutes(60, RUN_SPREAD[origin]), weight: KINDS.own },
    { ...paceFromMinutes(60, ESTIMATE_SPREAD[origin]), weight: KINDS.guess },
    { ...paceFromMinutes(60, ANY_SPREAD), weight: KINDS.any },
  ];
  const loads = [
    ...bounds.map(({ minutes, thought }) => ({ ratio: minutes / thought, weight: 1, isBound: true })),
    ...seen.map(({ ratio, weight }) => ({ ratio, weight, isBound: false })),
  ];
  const likely = learnRuns(priors, loads, unsureOf(plan));
  const { low, high } = minutesAmong(likely);
  const factor = likely.reduce((sum, { weight, shape, hours }) => sum + (weight * hours) / (shape - 1), 0);
  const estimate = lotMinutesOf(plan);
  return {
    kind: phasesByThemselves(plan).some(({ kind }) => kind === 'run') ? 'run' : 'wait',
    loads: seen.length,
    estimate,
    minutes: estimate * factor,
    low: (estimate * low) / 60,
    high: (estimate * high) / 60,
    counted: estimate * middleOf(seen.map(({ ratio }) => ratio)),
    notes: notesOf(seen),
    factor,
    likely,
  };
}

interface Weighed {
  readonly reading: RunReading;
  readonly ratio: number;
  readonly weight: number;
  readonly middle: number;
}

function weighedBy(readings: readonly RunReading[]): Weighed[] {
  const ratios = readings.map(({ minutes, thought }) => minutes / thought);
  const middle = readings.length < FEWEST_LOADS ? 1 : middleOf(ratios);
  return readings.map((reading, i) => {
    const ratio = ratios[i]!;
    const beside = Math.max(ratio / middle, middle / ratio) / ODD_RATIO;
    return { reading, ratio, weight: Math.min(1, 1 / beside ** 2), middle };
  });
}

/** The load that is furthest beside the others, if one is odd. */
function notesOf(weighed: readonly Weighed[]): PaceNote[] {
  const [oddest] = weighed.filter(({ weight }) => weight < 1).sort((a, b) => a.weight - b.weight);
  if (oddest === undefined) return [];
  const { at, units, minutes, thought } = oddest.reading;
  return [{ code: 'load-stands-out', at, units, minutes, others: thought * oddest.middle, weight: oddest.weight }];
}

/** All loads may be off by this share at the most, however long it takes to load and to empty (no source). */
const MOST_UNSURE = 0.1;

/**
 * Whether a load is logged before somebody puts it in or after, and counted before it is emptied, which is not what is
 * read, or after, is a habit: so all loads may be off alike, by half of the minutes of loading and by those of
 * emptying.
 */
function unsureOf(plan: PlannedStep): number {
  const units = unitsOfLot(plan);
  const own = plan.phases.indexOf(phasesByThemselves(plan)[0]!);
  const minutes = plan.phases.reduce((sum, phase, i) => {
    if (phase.kind !== 'hands') return sum;
    return sum + (phase.fixedMinutes + units * phase.firstUnitMinutes) * (i < own ? 0.5 : 1);
  }, 0);
  return Math.min(MOST_UNSURE, minutes / Math.max(1, lotMinutesOf(plan)));
}

/** Minutes of the first whole lot. */
function lotMinutesOf(plan: PlannedStep): number {
  const units = unitsOfLot(plan);
  return phasesByThemselves(plan).reduce((sum, phase) => sum + phase.fixedMinutes + units * phase.minutesPerUnit, 0);
}

function middleOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const [low, high] = [sorted[Math.floor((sorted.length - 1) / 2)]!, sorted[Math.ceil((sorted.length - 1) / 2)]!];
  return (low + high) / 2;
}
