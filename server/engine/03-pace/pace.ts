/** How long a unit takes, from what was counted and what was thought before. */
import type { Doubt, ForecastPace, Origin } from '../../model/index.ts';
import type { MeasuredPace, PlannedHands } from '../02-steps/index.ts';
import { isPacedByLot, type PlannedStep, pacedPhase, unitsOfLot } from '../02-steps/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import type { Tally } from '../log/index.ts';
import { betaPertMoments, learningExponent, lotMinutes } from '../numbers/index.ts';
import { ESTIMATE_SPREAD } from './estimate-spread.ts';
import { asFirstUnits, type Change, changeIn } from './pace-change.ts';
import { type Learning, learningOf } from './pace-learning.ts';
import { fadePace, type LikelyPace, minutesAmong, type Pace, paceFromMinutes } from './pace-model.ts';
import { isAskedAbout, notesOf } from './pace-notes.ts';
import { type OddCount, oddCountsOf } from './pace-odd-counts.ts';
import { type Readings, readingsOf, type TimedCount } from './pace-readings.ts';
import {
  ANY_SPREAD,
  learnPaceAndSpread,
  meanSpread,
  type PaceAndSpread,
  type SpreadBelief,
  spreadsByOthers,
  type WorkedUnits,
} from './pace-spread.ts';

/**
 * What is known of a step's pace. `firstUnitMinutes` and `belief` (in first units an hour; what learning adds comes on
 * top) are of whole lots where the step has minutes a lot and none a unit.
 */
export interface StepPace extends ForecastPace {
  readonly firstUnitMinutes: number;
  readonly learningRate: number;
  readonly belief: Pace;
  /** The beliefs that make up `belief`, one for each likely spread of single units. */
  readonly likely: readonly LikelyPace[];
  /** Coefficient of variation of a single unit around the pace, as believed. */
  readonly unitSpread: number;
}

/**
 * The pace of every step of hands: timed counts of its log joined with its estimate. The estimate is a gamma belief in
 * units an hour (in lots an hour where a step has minutes a lot and none a unit) whose mean minutes are the estimate
 * and whose weight is that of its origin (a trial weighs as many units as it timed); counting adds units and hours to
 * it, the more the steadier they are (see `learnPaceAndSpread`), where hands that are steady at one step are thought so
 * at the others (see `spreadsByOthers`). A count far out weighs less (see `oddCountsOf`). With
 * a learning rate, units are counted in first units of Crawford's model. `minutesPerUnit` (of the next unit) is the
 * belief's mean, `low` and `high` bound its middle 80 %. Setups and what else the hands do in a lot are taken off
 * first. `plans`: the steps with their estimates, no measured pace in them.
 */
export function pacesOf(
  plans: readonly PlannedStep[],
  tally: Pick<Tally, 'standing'>,
  surroundings: Surroundings,
): Map<string, StepPace> {
  const heard = plans.flatMap((plan): Heard[] => {
    const hands = pacedPhase(plan);
    return plan.step === null || hands === null ? [] : [heardOf(plan, hands, tally, surroundings)];
  });
  const spreads = spreadsAmong(heard);
  return new Map(heard.map((one, i) => [one.plan.id, paceOf(one, spreads[i]!)]));
}

/** What is thought of each step's spread before its own counts. */
function spreadsAmong(heard: readonly Heard[]): SpreadBelief[] {
  const said = heard.map((one) => {
    const { spread } = beliefOf(one, ANY_SPREAD);
    return one.counts.length === 0 ? null : spread.map((weight, i) => weight / ANY_SPREAD[i]!);
  });
  return spreadsByOthers(said);
}

/**
 * What is known of each pace where `substitutes` replace what was counted: their minutes, as sure as they say
 * or else as counts and estimate make it. A step without one goes by its estimate, whatever was counted. `plans` as for
 * `pacesOf`.
 */
export function substitutedPaces(
  plans: readonly PlannedStep[],
  tally: Pick<Tally, 'standing'>,
  surroundings: Surroundings,
  substitutes: ReadonlyMap<string, MeasuredPace>,
): ReadonlyMap<string, StepPace> {
  const isSubstituted = ({ id }: PlannedStep): boolean => substitutes.has(id);
  const others = plans.filter((plan) => !isSubstituted(plan));
  const paces = pacesOf(others, { standing: [] }, surroundings);
  const counted = pacesOf(plans.filter(isSubstituted), tally, surroundings);
  for (const plan of plans) {
    const own = counted.get(plan.id);
    if (own !== undefined) paces.set(plan.id, paceAt(substitutes.get(plan.id)!, own, plan));
  }
  return paces;
}

/** A belief turned to another mean. */
function paceAt(pace: MeasuredPace, own: StepPace, plan: PlannedStep): StepPace {
  const { firstUnitMinutes, origin, learningRate = plan.learningRate, shape = own.belief.shape } = pace;
  const belief = shape > 1 ? { shape, hours: ((shape - 1) * firstUnitMinutes) / 60 } : own.belief;
  const likely = shape === own.belief.shape ? slowed(own.likely, belief.hours / own.belief.hours) : [sure(belief)];
  const next = nextUnit(likely, firstUnitMinutes, learningRate, plan);
  return { ...own, ...next, origin, learningRate, firstUnitMinutes, belief, likely };
}

function slowed(paces: readonly LikelyPace[], times: number): LikelyPace[] {
  return paces.map((pace) => ({ ...pace, hours: pace.hours * times }));
}

function sure(pace: Pace): LikelyPace {
  return { ...pace, weight: 1 };
}

/** Minutes of the next unit at a pace of first units (or of lots), and the ends of their middle 80 %. */
function nextUnit(
  likely: readonly LikelyPace[],
  firstUnitMinutes: number,
  rate: number,
  plan: PlannedStep,
): Pick<StepPace, 'minutesPerUnit' | 'low' | 'high'> {
  const factor = nextUnitFactor(plan, rate);
  const { low, high } = minutesAmong(likely);
  return { minutesPerUnit: firstUnitMinutes * factor, low: low * factor, high: high * factor };
}

/** What the next unit takes of the first, by what has been learnt until then; of a lot, where lots are timed. */
function nextUnitFactor(plan: PlannedStep, rate: number): number {
  if (isPacedByLot(plan)) return 1 / unitsOfLot(plan);
  return Math.min(Math.max(1, plan.total - plan.left + 1), Math.max(1, plan.total)) ** learningExponent(rate);
}

/** Those of the paces that rest on a count, as the steps take them in place of their estimates. */
export function measuredPaces(paces: ReadonlyMap<string, StepPace>): ReadonlyMap<string, MeasuredPace> {
  const measured = new Map<string, MeasuredPace>();
  for (const [step, { units, firstUnitMinutes, learningRate, belief }] of paces) {
    if (units > 0) measured.set(step, { firstUnitMinutes, origin: 'measured', learningRate, shape: belief.shape });
  }
  return measured;
}

/** A doubt for each step that was measured at five times its estimate or a fifth of it: kept, and asked about. */
export function paceDoubts(paces: ReadonlyMap<string, StepPace>, plans: readonly PlannedStep[]): Doubt[] {
  return plans.flatMap((plan): Doubt[] => {
    const pace = paces.get(plan.id);
    if (pace === undefined || !isAskedAbout(pace.minutes, pace.units, pace.estimate)) return [];
    return [{ code: 'far-pace', field: `log.${plan.id}`, values: { step: plan.id, notes: pace.notes } }];
  });
}

/** How much older counts still weigh once the pace has changed. */
const OLD_WEIGHT = 0.1;

/** What the log says of a step's pace, before it is believed. */
interface Heard {
  readonly plan: PlannedStep;
  /** Whether whole lots are timed, and how many units share one time then; else 1. */
  readonly byLot: boolean;
  readonly size: number;
  /** Minutes of a unit (or lot) as estimated, and how sure that is. */
  readonly thought: number;
  readonly estimate: Pace;
  readonly readings: Readings;
  readonly counts: readonly TimedCount[];
  readonly learning: Learning;
  readonly change: Change | null;
  readonly odd: readonly OddCount[];
}

function heardOf(
  plan: PlannedStep,
  hands: PlannedHands,
  tally: Pick<Tally, 'standing'>,
  surroundings: Surroundings,
): Heard {
  const byLot = isPacedByLot(plan);
  const size = byLot ? unitsOfLot(plan) : 1;
  const thought = byLot ? hands.fixedMinutes : hands.firstUnitMinutes;
  const { readings, counts } = timedCounts(plan, hands, thought / size, tally, surroundings);
  const learning = byLot ? { rate: 1, given: 1, counts: 0, error: 0 } : learningOf(counts, plan.learningRate);
  const change = changeIn(counts, learning.rate);
  const odd = oddCountsOf(counts, change, learning.rate);
  const estimate = priorOf(byLot ? null : hands.estimate, thought, plan.origin ?? 'guessed');
  return { plan, byLot, size, thought, estimate, readings, counts, learning, change, odd };
}

function paceOf(heard: Heard, thoughtSpread: SpreadBelief): StepPace {
  const { plan, byLot, thought, readings, counts, learning, change, odd } = heard;
  const { rate } = learning;
  const { pace: belief, spread, likely } = beliefOf(heard, thoughtSpread);
  const doubted = (unit: number) => likely.map((pace) => lessSure(pace, learning.error * doublingsFrom(counts, unit)));
  const next = plan.total - plan.left + 1;
  const units = counts.reduce((sum, count) => sum + count.units, 0);
  const minutes = counts.reduce((sum, count) => sum + count.minutes, 0);
  const firstUnitMinutes = belief.shape > 1 ? (60 * belief.hours) / (belief.shape - 1) : thought;
  const estimate = units === 0 || byLot ? thought * nextUnitFactor(plan, rate) : estimateOver(counts, thought, plan);
  return {
    ...nextUnit(doubted(next), firstUnitMinutes, rate, plan),
    units,
    minutes: Math.round(minutes),
    origin: units > 0 ? 'measured' : (plan.origin ?? 'guessed'),
    estimate,
    notes: notesOf({ readings, counts, units, minutes, estimate, learning, change, odd }),
    learningRate: rate,
    firstUnitMinutes,
    belief,
    likely: doubted((next + plan.total) / 2),
    unitSpread: meanSpread(spread),
  };
}

/** How often units have doubled since the middle of those counted, by the time `unit` is made; 0 without counts. */
function doublingsFrom(counts: readonly TimedCount[], unit: number): number {
  const units = counts.reduce((sum, count) => sum + count.units, 0);
  if (units === 0) return 0;
  const middle = (count: TimedCount): number => Math.log2(count.unitsBefore + (count.units + 1) / 2);
  return Math.log2(unit) - counts.reduce((sum, count) => sum + count.units * middle(count), 0) / units;
}

/**
 * A pace with the same mean minutes whose coefficient of variation holds another one besides, as of a factor apart from
 * it.
 */
function lessSure(pace: LikelyPace, logarithm: number): LikelyPace {
  if (logarithm === 0 || pace.shape <= 2) return pace;
  const variance = (logarithm * Math.LN2) ** 2;
  const shape = 2 + 1 / (1 / (pace.shape - 2) + variance);
  return { ...pace, shape, hours: (pace.hours * (shape - 1)) / (pace.shape - 1) };
}

/**
 * The timed counts of a step with all taken off that is not the phase itself; `thought`: minutes a unit of the phase.
 */
function timedCounts(
  plan: PlannedStep,
  hands: PlannedHands,
  thought: number,
  tally: Pick<Tally, 'standing'>,
  surroundings: Surroundings,
): { readonly readings: Readings; readonly counts: readonly TimedCount[] } {
  const overhead = overheadPerUnit(plan, hands);
  const readings = readingsOf(plan.id, tally.standing, {
    minutesPerUnit: thought + overhead,
    people: hands.people,
    waitMinutes: waitAfter(plan, hands),
    clockOnly: isPacedByLot(plan) && plan.phases.some(({ kind }) => kind !== 'hands'),
    openOf: (person) => surroundings.people.get(person)?.open ?? surroundings.together(1, hands.eligible),
  });
  const once = plan.setupEachLot ? 0 : plan.setupMinutes;
  const counts = readings.counts.map((count) =>
    net(count, overhead * count.units + (count.unitsBefore === 0 ? once : 0)),
  );
  return { readings, counts };
}

/** The estimate joined with the counts; where the pace has changed, what is before the change is faded. */
function beliefOf(
  { estimate, counts, change, learning: { rate }, size, odd }: Heard,
  spread: SpreadBelief,
): ReturnType<typeof learnPaceAndSpread> {
  const prior: PaceAndSpread = { pace: estimate, spread };
  const worked = counts.map((count, i) => {
    const beside = odd.find(({ index }) => index === i);
    const [units, hours] = [count.units / size, asFirstUnits(count, rate) / 60];
    // What holds a unit up may do so again; nothing makes it in a third of its time.
    const isTooQuick = beside !== undefined && beside.ratio < 1;
    return { units, hours, weight: beside?.weight ?? 1, isTooQuick, hands: count };
  });
  if (change === null) return learnPaceAndSpread(prior, joinedOverNights(worked));
  const before = joinedOverNights(worked.slice(0, change.from));
  const learnt = learnPaceAndSpread(prior, before);
  // However steady the hands were: what has changed may do so again, so a unit of before weighs no more than a Poisson
  // count.
  const unitsWorth = estimate.shape + before.reduce((sum, { units }) => sum + units, 0);
  const weight = OLD_WEIGHT * Math.min(1, unitsWorth / learnt.pace.shape);
  const faded = { pace: fadePace(learnt.pace, weight), spread: learnt.spread };
  return learnPaceAndSpread(faded, joinedOverNights(worked.slice(change.from)));
}

/**
 * A count that leaves a unit half made, and the next of the same hands, which finishes it, as one: apart they would say
 * that the hands are less steady than they are. Two at most, so that there are as good as half as many where every
 * count is one of an evening. An odd count stays alone. O(counts).
 */
function joinedOverNights(counts: readonly (WorkedUnits & { readonly hands: TimedCount })[]): WorkedUnits[] {
  const all: WorkedUnits[] = [];
  const waiting = new Map<string, number>();
  for (const { hands, ...count } of counts) {
    const before = waiting.get(hands.owner);
    waiting.delete(hands.owner);
    if (before !== undefined && count.weight === 1) {
      const { units, hours } = all[before]!;
      all[before] = { units: units + count.units, hours: hours + count.hours };
      continue;
    }
    if (hands.leavesUnit && count.weight === 1) waiting.set(hands.owner, all.length);
    all.push(count);
  }
  return all;
}

function priorOf(estimate: PlannedHands['estimate'], minutes: number, origin: Origin): Pace {
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

/**
 * Minutes a unit for what is not timed: the setup of each lot, the minutes of a lot beside those of a unit, and other
 * hands of the step.
 */
function overheadPerUnit(plan: PlannedStep, hands: PlannedHands): number {
  const units = unitsOfLot(plan);
  let minutes = plan.setupEachLot ? plan.setupMinutes / units : 0;
  for (const phase of plan.phases) {
    if (phase.kind !== 'hands') continue;
    if (phase !== hands) minutes += phase.fixedMinutes / units + phase.firstUnitMinutes;
    else if (!isPacedByLot(plan)) minutes += phase.fixedMinutes / units;
  }
  return minutes;
}

/** Minutes of waits that follow the hands within the step. */
function waitAfter({ phases }: PlannedStep, hands: PlannedHands): number {
  const waits = phases.slice(phases.indexOf(hands) + 1).filter((phase) => phase.kind === 'wait');
  return waits.reduce((sum, phase) => sum + phase.fixedMinutes, 0);
}

/** At least half of what was timed is the units' own, however large the setup is said to be. */
function net(count: TimedCount, overhead: number): TimedCount {
  return { ...count, minutes: Math.max(count.minutes / 2, count.minutes - overhead) };
}

function estimateOver(counts: readonly TimedCount[], firstUnit: number, plan: PlannedStep): number {
  const [thought, units] = counts.reduce(
    ([minutes, sum], { units: n, unitsBefore }) => [
      minutes + lotMinutes(firstUnit, plan.learningRate, unitsBefore + 1, unitsBefore + n),
      sum + n,
    ],
    [0, 0],
  );
  return thought / units;
}
