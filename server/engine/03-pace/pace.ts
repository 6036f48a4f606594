/** How long a unit takes, from what was counted and what was thought before. */
import type { Doubt, ForecastPace, Origin } from '../../model/index.ts';
import type { MeasuredPace, PlannedHands } from '../02-steps/index.ts';
import { pacedPhase, type StepPlan } from '../02-steps/index.ts';
import type { Setting } from '../calendar/index.ts';
import type { Tally } from '../log/index.ts';
import { betaPertMoments, learningExponent, lotMinutes } from '../numbers/index.ts';
import { asFirstUnits, changeIn } from './pace-change.ts';
import { learningOf } from './pace-learning.ts';
import { fadePace, learnPace, minutesPerUnit, type Pace, paceFromMinutes } from './pace-model.ts';
import { isAskedAbout, notesOf } from './pace-notes.ts';
import { type ReadingOptions, readingsOf, type TimedCount } from './pace-readings.ts';

/** What is known of a step's pace. `belief`: of first units an hour; what learning adds comes on top. */
export interface StepPace extends ForecastPace {
  readonly firstUnitMinutes: number;
  readonly learningRate: number;
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
  plans: readonly StepPlan[],
  tally: Pick<Tally, 'standing'>,
  setting: Setting,
): ReadonlyMap<string, StepPace> {
  const paces = new Map<string, StepPace>();
  for (const plan of plans) {
    const hands = pacedPhase(plan);
    if (plan.step !== null && hands !== null) paces.set(plan.id, paceOf(plan, hands, tally, setting));
  }
  return paces;
}

/** Those of the paces that rest on a count, as the steps take them in place of their estimates. */
export function measuredPaces(paces: ReadonlyMap<string, StepPace>): ReadonlyMap<string, MeasuredPace> {
  const measured = new Map<string, MeasuredPace>();
  for (const [step, { units, firstUnitMinutes, learningRate }] of paces) {
    if (units > 0) measured.set(step, { firstUnitMinutes, origin: 'measured', learningRate });
  }
  return measured;
}

/** A doubt for each step that was measured at five times its estimate or a fifth of it: kept, and asked about. */
export function paceDoubts(paces: ReadonlyMap<string, StepPace>, plans: readonly StepPlan[]): Doubt[] {
  return plans.flatMap((plan): Doubt[] => {
    const pace = paces.get(plan.id);
    if (pace === undefined || !isAskedAbout(pace.minutes, pace.units, pace.estimate)) return [];
    return [{ code: 'far-pace', field: `log.${plan.id}`, values: { step: plan.id, notes: pace.notes } }];
  });
}

/** Coefficient of variation of an estimate by its origin: how wrong such numbers usually are (common practice, no source). */
export const ESTIMATE_SPREAD: Readonly<Record<Origin, number>> = {
  guessed: 0.5,
  supplier: 0.3,
  handbook: 0.3,
  trial: 0.3,
  measured: 0.2,
};

/** How much older counts still weigh once the pace has changed. */
const OLD_WEIGHT = 0.1;

function paceOf(plan: StepPlan, hands: PlannedHands, tally: Pick<Tally, 'standing'>, setting: Setting): StepPace {
  const overhead = overheadPerUnit(plan, hands);
  const options: ReadingOptions = {
    minutesPerUnit: hands.firstUnitMinutes + overhead,
    people: hands.people,
    waitMinutes: waitAfter(plan, hands),
    openOf: (person) => setting.people.get(person)?.open ?? setting.together(1, hands.eligible),
  };
  const readings = readingsOf(plan.id, tally.standing, options);
  const once = plan.setupEachLot ? 0 : plan.setupMinutes;
  const counts = readings.counts.map((count) =>
    net(count, overhead * count.units + (count.unitsBefore === 0 ? once : 0)),
  );
  const learning = learningOf(counts, plan.learningRate);
  const { rate } = learning;
  const prior = priorOf(hands, plan.origin ?? 'guessed');
  const change = changeIn(counts, rate);
  let belief = learn(change === null ? prior : fadePace(prior, OLD_WEIGHT), counts.slice(0, change?.from ?? 0), rate);
  if (change !== null) belief = fadePace(belief, OLD_WEIGHT);
  belief = learn(belief, counts.slice(change?.from ?? 0), rate);
  const units = counts.reduce((sum, count) => sum + count.units, 0);
  const minutes = counts.reduce((sum, count) => sum + count.minutes, 0);
  const next = Math.min(Math.max(1, plan.total - plan.left + 1), Math.max(1, plan.total));
  const factor = next ** learningExponent(rate);
  const { low, high } = minutesPerUnit(belief);
  const firstUnitMinutes = belief.shape > 1 ? (60 * belief.hours) / (belief.shape - 1) : hands.firstUnitMinutes;
  const estimate = units === 0 ? hands.firstUnitMinutes * factor : estimateOver(counts, hands.firstUnitMinutes, plan);
  return {
    minutesPerUnit: firstUnitMinutes * factor,
    low: low * factor,
    high: high * factor,
    units,
    minutes: Math.round(minutes),
    origin: units > 0 ? 'measured' : (plan.origin ?? 'guessed'),
    estimate,
    notes: notesOf({ readings, counts, units, minutes, estimate, learning, change }),
    learningRate: rate,
    firstUnitMinutes,
    belief,
  };
}

function priorOf({ firstUnitMinutes: minutes, estimate }: PlannedHands, origin: Origin): Pace {
  if (estimate?.kind === 'trial') {
    return { shape: estimate.units + 1, hours: (estimate.units * minutes) / 60 };
  }
  let spread = ESTIMATE_SPREAD[origin];
  if (estimate?.kind === 'range' && estimate.range.high > estimate.range.low) {
    const { mean, variance } = betaPertMoments(estimate.range);
    spread = Math.max(origin === 'guessed' ? 0.3 : 0.1, Math.sqrt(variance) / mean);
  }
  return paceFromMinutes(minutes, spread);
}

/** Minutes a unit for what is not the phase itself: the setup of each lot and the fixed minutes of a lot, and other hands of the step. */
function overheadPerUnit(plan: StepPlan, hands: PlannedHands): number {
  const units = Math.max(1, Math.min(plan.lotSize, plan.total));
  let minutes = plan.setupEachLot ? plan.setupMinutes / units : 0;
  for (const phase of plan.phases) {
    if (phase.kind !== 'hands') continue;
    minutes += phase.fixedMinutes / units + (phase === hands ? 0 : phase.firstUnitMinutes);
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
  return { ...count, minutes: Math.max(count.minutes / 2, count.minutes - overhead) };
}

function learn(belief: Pace, counts: readonly TimedCount[], rate: number): Pace {
  return counts.reduce((known, count) => learnPace(known, count.units, asFirstUnits(count, rate) / 60), belief);
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
