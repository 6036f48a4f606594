/** The risk stage: draws futures until the chance is known well enough, and words what they come to. */

/** What futures come to, in the quantiles, chances and costs that the pages show. */
import type { Chance, ForecastRisk, StepRisk } from '../../model/index.ts';
import { duesOf, type Planned } from '../stages/index.ts';
import { endsOf, type FutureEnds } from './compare-futures.ts';
import { type Futures, type RiskOptions, runFutures } from './run-futures.ts';
import { quantilesOf, ranksOf, shareError, spearman, standardDeviation } from './statistics.ts';
import type { Tally } from './tally.ts';

/**
 * A step that drives fewer futures than this is not tried out as planned; nor more steps, nor in more futures, than
 * these. One that has cost nothing in its first futures is given up after them.
 */
const AS_PLANNED = { criticality: 0.02, steps: 5, futures: 100, first: 30 };

/**
 * What the futures of a planned build say (see `runFutures` and `riskAnswer`). Null when nothing is left or nothing
 * could be placed; otherwise `onFutures` hears how they ended.
 */
export function riskOf(
  planned: Planned,
  options: RiskOptions,
  onFutures?: (ends: FutureEnds) => void,
): ForecastRisk | null {
  const futures = runFutures(planned, options);
  if (futures !== null) onFutures?.(endsOf(futures));
  return futures && riskAnswer(futures);
}

/**
 * What futures say, in quantiles and chances. Quantiles are of type 7. Per step: the criticality index (share of
 * futures, of the first 1,000 at most, in which it is on the driving chain; van Slyke 1963), the cruciality (Spearman's
 * correlation of its minutes with the end; Williams 1992), the schedule sensitivity index (criticality x standard
 * deviation of the step / of the end; PMBOK Guide 2004, Vanhoucke 2010; the end in working minutes, save for a step
 * that goes by the clock), and what it costs (see `withCosts`): the mean end less the mean end of the same futures with
 * that step as planned. Deterministic.
 */
export function riskAnswer(futures: Futures): ForecastRisk {
  const { planned, seed, count, readyAt, finishAt, tally, fans, worlds } = futures;
  const { surroundings } = planned;
  const { lossRate } = worlds[0]!;
  const chance = (target: number, hits: number): Chance => ({
    target,
    chance: hits / count,
    error: shareError(hits, count),
  });
  const finishes = quantilesOf(finishAt);
  return {
    futures: count,
    seed,
    readyBy: chance(surroundings.readyBy, tally.ready),
    loadIn: surroundings.loadIn === null ? null : chance(surroundings.loadIn, tally.loadIn),
    event: chance(surroundings.event, tally.event),
    ...duesAnswer(futures, chance),
    readyAt: quantilesOf(readyAt),
    finishAt: finishes,
    steps: withCosts(stepRisks(planned, tally), futures),
    lostDaysPerHundred: (100 * lossRate.shape) / lossRate.days,
    beyond: tally.beyond,
    ...untilOf(futures),
    fans: fans.answer(Math.max(finishes.p95, surroundings.event), finishes),
  };
}

function untilOf({ worlds }: Futures): Pick<ForecastRisk, 'until'> {
  const until = Math.min(...worlds.map(({ horizon }) => horizon));
  return Number.isFinite(until) ? { until } : {};
}

/** The chance of each due that has something left; nothing where there is none. */
function duesAnswer(
  { planned, tally, worlds }: Futures,
  chance: (target: number, hits: number) => Chance,
): Pick<ForecastRisk, 'dues'> {
  const dues = duesOf(planned).flatMap(({ list, id, at }, i) =>
    worlds.every(({ dueLots }) => dueLots[i]!.length === 0) ? [] : [{ list, id, ...chance(at, tally.dues[i]!) }],
  );
  return dues.length === 0 ? {} : { dues };
}

function stepRisks(planned: Planned, tally: Tally): StepRisk[] {
  const scales = new Map([tally.readyAt, tally.finishAt].map((ends) => [ends, scaleOf(ends, tally)]));
  return planned.plans.flatMap((plan, step): StepRisk[] => {
    if (planned.work.runs[step]!.every((run) => run.lots.length === 0)) return [];
    const scale = scales.get(tally.ends(step))!;
    const drawn = tally.drawn[step]!.subarray(0, tally.count);
    const criticality = tally.criticality(step);
    const byClock =
      plan.phases.some(({ kind }) => kind === 'lead') || plan.phases.every(({ kind }) => kind !== 'hands');
    const spread = byClock ? scale.clock : scale.working;
    return [
      {
        step: plan.id,
        criticality,
        cruciality: spearman(ranksOf(drawn), scale.ranks),
        sensitivity: spread > 0 ? (criticality * standardDeviation(drawn)) / spread : null,
        costMinutes: 0,
        costError: 0,
      },
    ];
  });
}

function scaleOf(column: Int32Array, tally: Tally) {
  const ends = column.subarray(0, tally.count);
  const working = standardDeviation(tally.workingEnds(ends));
  return { ranks: ranksOf(ends), clock: standardDeviation(ends), working };
}

/**
 * The steps that move the end most (criticality times the size of the cruciality) with what they cost: the mean of the
 * end less the end of the same future with the step as planned, and that mean's standard error, from
 * AS_PLANNED.futures, or from AS_PLANNED.first where these cost nothing, or as far as the time goes.
 */
function withCosts(risks: readonly StepRisk[], { planned, tally, worlds, isOver }: Futures): StepRisk[] {
  const weight = ({ criticality, cruciality }: StepRisk) => criticality * Math.abs(cruciality ?? 0);
  const tried = risks
    .filter((risk) => risk.criticality >= AS_PLANNED.criticality && weight(risk) > 0)
    .sort((a, b) => weight(b) - weight(a))
    .slice(0, AS_PLANNED.steps);
  const futures = Math.min(AS_PLANNED.futures, tally.count);
  return risks.map((risk) => {
    if (!tried.includes(risk)) return risk;
    const step = planned.plans.findIndex(({ id }) => id === risk.step);
    const ends = tally.ends(step);
    const saved: number[] = [];
    let sum = 0;
    while (saved.length < futures && !(saved.length === AS_PLANNED.first && sum <= 0) && !isOver()) {
      const n = saved.length;
      const world = worlds[n % worlds.length]!;
      const minutes = ends[n]! - tally.endOf(world.run(n, world.stepOf.indexOf(step)), world, step);
      saved.push(minutes);
      sum += minutes;
    }
    if (saved.length === 0) return risk;
    return {
      ...risk,
      costMinutes: Math.round(sum / saved.length) + 0,
      costError: Math.round(standardDeviation(saved) / Math.sqrt(saved.length)),
    };
  });
}
