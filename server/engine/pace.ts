/** How long a unit takes, from what was counted and what was thought before. */
import type { Build, Estimate, ForecastPace, Origin, Problem } from '../model/index.ts';
import { warning } from '../model/index.ts';
import { binomialCdf } from './distributions.ts';
import { momentLabel } from './labels.ts';
import { learningExponent, lotMinutes } from './learning.ts';
import type { Tally } from './log-tally.ts';
import { fadePace, learnPace, minutesPerUnit, type Pace, paceFromMinutes } from './pace-model.ts';
import { type ReadingOptions, readingsOf, type TimedCount } from './pace-readings.ts';
import type { Setting } from './setting.ts';
import type { MeasuredPace, PlannedHands } from './step-phases.ts';
import type { StepPlan } from './step-plan.ts';
import { betaPertMoments } from './three-point.ts';

/** What is known of a step's pace. `belief`: of first units an hour; what learning adds comes on top. */
export interface StepPace extends ForecastPace {
  readonly firstUnitMinutes: number;
  readonly belief: Pace;
}

/**
 * The pace of every step that has hands a unit: timed counts of its log joined with its estimate. The estimate is a gamma belief
 * in units an hour whose mean minutes are the estimate and whose weight is that of its origin (a trial weighs as many units as it
 * timed); counting adds units and hours to it (Gelman and others, "Bayesian Data Analysis", 2.6). With a learning rate, units are
 * counted in first units of Crawford's model. `minutesPerUnit` (of the next unit) is the belief's mean, `low` and `high` bound its middle
 * 80 %. Setups and the fixed minutes of a lot are taken off first. `plans`: the steps with their estimates, no measured pace in them.
 */
export function pacesOf(
  build: Build,
  plans: readonly StepPlan[],
  tally: Tally,
  setting: Setting,
): ReadonlyMap<string, StepPace> {
  const paces = new Map<string, StepPace>();
  for (const plan of plans) {
    const index = plan.phases.findIndex((phase) => phase.kind === 'hands' && phase.minutesPerUnit > 0);
    if (plan.step === null || index < 0) continue;
    const hands = plan.phases[index] as PlannedHands;
    const estimate = build.steps.find((step) => step.id === plan.id)?.phases?.[index];
    const given = estimate !== undefined && 'perUnit' in estimate ? estimate.perUnit : undefined;
    paces.set(plan.id, paceOf(plan, hands, given, tally, setting));
  }
  return paces;
}

/** Those of the paces that rest on a count, as the steps take them in place of their estimates. */
export function measuredPaces(paces: ReadonlyMap<string, StepPace>): ReadonlyMap<string, MeasuredPace> {
  const measured = new Map<string, MeasuredPace>();
  for (const [step, { units, firstUnitMinutes }] of paces) {
    if (units > 0) measured.set(step, { firstUnitMinutes, origin: 'measured' });
  }
  return measured;
}

/** A warning for each step that was measured at five times its estimate or a fifth of it: kept, and asked about. */
export function paceProblems(paces: ReadonlyMap<string, StepPace>, plans: readonly StepPlan[]): Problem[] {
  return plans.flatMap((plan) => {
    const pace = paces.get(plan.id);
    if (pace === undefined || !isFar(pace.minutes, pace.units, pace.estimate, ASKED)) return [];
    const measured = `${figure(pace.minutes / pace.units)} min a unit`;
    return [warning('log', `log.${plan.id}`, measured, `"${plan.name}": ${pace.note}`)];
  });
}

/** How far a measured pace may lie from the estimate before that is said, and before it is asked about. */
const SAID = 1.5;
const ASKED = 5;

/** Coefficient of variation of an estimate by its origin: how wrong such numbers usually are (common practice, no source). */
export const ESTIMATE_SPREAD: Readonly<Record<Origin, number>> = {
  guessed: 0.5,
  supplier: 0.3,
  handbook: 0.3,
  trial: 0.3,
  measured: 0.2,
};

function paceOf(
  plan: StepPlan,
  hands: PlannedHands,
  given: Estimate | undefined,
  tally: Tally,
  setting: Setting,
): StepPace {
  const overhead = overheadPerUnit(plan, hands);
  const options: ReadingOptions = {
    minutesPerUnit: hands.minutesPerUnit + overhead,
    people: hands.people,
    waitMinutes: waitAfter(plan, hands),
    openOf: (person) => setting.people.get(person)?.open ?? setting.together(1, hands.eligible),
  };
  const counts = readingsOf(plan.id, tally.standing, options).counts.map((count) => net(count, overhead));
  const prior = priorOf(hands.minutesPerUnit, given, plan.origin ?? 'guessed');
  const change = changeIn(counts, plan.learningRate);
  let belief = learn(change === null ? prior : fadePace(prior, OLD_WEIGHT), counts.slice(0, change?.from ?? 0), plan);
  if (change !== null) belief = fadePace(belief, OLD_WEIGHT);
  belief = learn(belief, counts.slice(change?.from ?? 0), plan);
  const units = counts.reduce((sum, count) => sum + count.units, 0);
  const minutes = counts.reduce((sum, count) => sum + count.minutes, 0);
  const next = Math.min(Math.max(1, plan.total - plan.left + 1), Math.max(1, plan.total));
  const factor = next ** learningExponent(plan.learningRate);
  const { low, high } = minutesPerUnit(belief);
  const firstUnitMinutes = belief.shape > 1 ? (60 * belief.hours) / (belief.shape - 1) : hands.minutesPerUnit;
  const estimate = units === 0 ? hands.minutesPerUnit * factor : estimateOver(counts, hands.minutesPerUnit, plan);
  return {
    minutesPerUnit: firstUnitMinutes * factor,
    low: low * factor,
    high: high * factor,
    units,
    minutes: Math.round(minutes),
    origin: units > 0 ? 'measured' : (plan.origin ?? 'guessed'),
    estimate,
    note: noteOf(minutes, units, estimate, change, setting.zone),
    firstUnitMinutes,
    belief,
  };
}

function priorOf(minutes: number, given: Estimate | undefined, origin: Origin): Pace {
  if (typeof given === 'object' && 'units' in given) {
    return { shape: given.units + 1, hours: (given.units * minutes) / 60 };
  }
  let spread = ESTIMATE_SPREAD[origin];
  if (typeof given === 'object' && given.high > given.low) {
    const { mean, variance } = betaPertMoments(given);
    spread = Math.max(origin === 'guessed' ? 0.3 : 0.1, Math.sqrt(variance) / mean);
  }
  return paceFromMinutes(minutes, spread);
}

/** Minutes a unit for what is not the phase itself: setups and the fixed minutes of a lot, and other hands of the step. */
function overheadPerUnit(plan: StepPlan, hands: PlannedHands): number {
  const units = Math.max(1, Math.min(plan.lotSize, plan.total));
  let minutes = plan.setupEachLot ? plan.setupMinutes / units : 0;
  for (const phase of plan.phases) {
    if (phase.kind !== 'hands') continue;
    minutes += phase.fixedMinutes / units + (phase === hands ? 0 : phase.minutesPerUnit);
  }
  return minutes;
}

/** Minutes of waits that follow the hands within the step. */
function waitAfter({ phases }: StepPlan, hands: PlannedHands): number {
  const waits = phases.slice(phases.indexOf(hands) + 1).filter((phase) => phase.kind === 'wait');
  return waits.reduce((sum, phase) => sum + phase.fixedMinutes, 0);
}

/** At least half of what was timed is the units' own, however large the setup is said to be. */
function net(count: TimedCount, overhead: number): TimedCount {
  return { ...count, minutes: Math.max(count.minutes / 2, count.minutes - overhead * count.units) };
}

function learn(belief: Pace, counts: readonly TimedCount[], plan: StepPlan): Pace {
  return counts.reduce(
    (known, count) => learnPace(known, count.units, asFirstUnits(count, plan.learningRate) / 60),
    belief,
  );
}

/** The minutes that as many units would have taken at the pace of the first. */
function asFirstUnits({ units, minutes, unitsBefore }: TimedCount, rate: number): number {
  return (minutes * units) / lotMinutes(1, rate, unitsBefore + 1, unitsBefore + units);
}

function estimateOver(counts: readonly TimedCount[], firstUnit: number, plan: StepPlan): number {
  const [thought, units] = counts.reduce(
    ([minutes, sum], { units: n, unitsBefore }) => [
      minutes + lotMinutes(firstUnit, plan.learningRate, unitsBefore + 1, unitsBefore + n),
      sum + n,
    ],
    [0, 0],
  );
  return thought / units;
}

interface Change {
  /** Index of the first count of the new pace. */
  readonly from: number;
  readonly at: number;
  readonly before: number;
  readonly since: number;
}

/** How much older counts still weigh once the pace has changed. */
const OLD_WEIGHT = 0.1;

/**
 * The split of the counts into before and since at which the two paces differ most, if that is no chance: given all units, those of
 * one side are binomial with the share of its time (the conditional test of two Poisson rates; Przyborowski and Wilenski 1940). Asked
 * at one in a hundred, divided by the splits tried; both sides need five units, and a change of a quarter.
 */
function changeIn(counts: readonly TimedCount[], rate: number): Change | null {
  const minutes = counts.map((count) => asFirstUnits(count, rate));
  const allMinutes = minutes.reduce((sum, m) => sum + m, 0);
  const allUnits = counts.reduce((sum, count) => sum + count.units, 0);
  let best: Change | null = null;
  let least = 0.01 / Math.max(1, counts.length - 1);
  let [unitsBefore, minutesBefore] = [0, 0];
  for (let k = 1; k < counts.length; k++) {
    unitsBefore += counts[k - 1]!.units;
    minutesBefore += minutes[k - 1]!;
    const [unitsSince, minutesSince] = [allUnits - unitsBefore, allMinutes - minutesBefore];
    if (unitsBefore < 5 || unitsSince < 5) continue;
    const [before, since] = [minutesBefore / unitsBefore, minutesSince / unitsSince];
    if (Math.max(before, since) < 1.25 * Math.min(before, since)) continue;
    const share = minutesBefore / allMinutes;
    const chance =
      2 * Math.min(binomialCdf(unitsBefore, allUnits, share), 1 - binomialCdf(unitsBefore - 1, allUnits, share));
    if (chance < least) {
      least = chance;
      best = { from: k, at: counts[k]!.at, before, since };
    }
  }
  return best;
}

function noteOf(minutes: number, units: number, estimate: number, change: Change | null, zone: string): string | null {
  const said: string[] = [];
  if (isFar(minutes, units, estimate, SAID)) {
    const measured = minutes / units;
    const times =
      measured > estimate ? `${figure(measured / estimate)} times as long` : `1/${figure(estimate / measured)} of it`;
    said.push(
      `${units} units took ${figure(measured)} min each where ${figure(estimate)} min was expected, ${times}. The plan goes by the count.`,
    );
    if (isFar(minutes, units, estimate, ASKED)) {
      said.push('Is a unit still what the estimate meant, and did the clock run only while somebody worked?');
    }
  }
  if (change !== null) {
    said.push(
      `The pace changed before ${momentLabel(change.at, zone)}, from ${figure(change.before)} to ${figure(change.since)} min a unit; what was counted since weighs more.`,
    );
  }
  return said.length === 0 ? null : said.join(' ');
}

function isFar(minutes: number, units: number, estimate: number, times: number): boolean {
  if (units < 3 || minutes <= 0 || estimate <= 0) return false;
  const ratio = minutes / units / estimate;
  return ratio >= times || ratio <= 1 / times;
}

function figure(value: number): string {
  return value >= 100 ? String(Math.round(value)) : String(Number(value.toPrecision(2)));
}
