import type { Chance, ForecastRisk, StepRisk } from '../../model/index.ts';
import type { Planned } from '../answers/planned.ts';
import { Fans } from './fans.ts';
import { quantilesOf, ranksOf, shareError, spearman, standardDeviation } from './statistics.ts';
import { Tally } from './tally.ts';
import { type World, worldsOf } from './worlds.ts';

export interface RiskOptions {
  readonly seed: number;
  /** Futures at most; 2,000 unless given. */
  readonly futures?: number;
  /** Stops once every chance is known to this standard error; 0.005 unless given, 0 never stops early. */
  readonly exactness?: number;
}

const FUTURES = 2000;
const EXACTNESS = 0.005;
/** Chances are looked at after each of these many futures; none stops earlier. */
const BATCH = 500;
/**
 * A step that drives fewer futures than this is not tried out as planned; nor more steps, nor in more futures, than these. One that has
 * cost nothing in its first futures is given up after them.
 */
const HELD = { criticality: 0.02, steps: 5, futures: 100, first: 30 };

/**
 * The chance to be ready, from futures of the levelled schedule in which all that is uncertain is drawn (see `uncertaintyOf`) and the
 * lots are dispatched anew through calendars, hands and machines: in the schedule's order and with its choices of hands, unless another
 * way serves better when things go otherwise (see `waysOf`). Uncertain parameters change the lots themselves: see `parameterWorlds`. Quantiles are of type 7. Per step: the criticality index (share of futures, of the first 1,000 at most, in which it
 * is on the driving chain; van Slyke 1963), the cruciality (Spearman's correlation of its minutes with the end; Williams 1992), the schedule
 * sensitivity index (criticality x standard deviation of the step / of the end; PMBOK Guide 2004, Vanhoucke 2010; the end in working minutes,
 * save for a step that goes by the clock), and what it costs (see `withCosts`): the mean end less the mean end of the same futures with that
 * step as planned. Deterministic for a seed. Null when nothing is left or nothing could be placed.
 */
export function riskOf(planned: Planned, options: RiskOptions): ForecastRisk | null {
  const { schedule, setting, work } = planned;
  if (schedule === null || work.lots.length === 0) return null;
  const worlds = worldsOf(planned, schedule, options.seed);
  const most = Math.max(1, Math.floor(options.futures ?? FUTURES));
  const exactness = options.exactness ?? EXACTNESS;
  const tally = new Tally(planned, most);
  const fans = new Fans(planned);
  while (tally.count < most) {
    const world = worlds[tally.count % worlds.length]!;
    const future = world.run(tally.count);
    tally.add(future, world);
    fans.add(future.finishes, world.fanLots);
    if (exactness > 0 && tally.count % BATCH === 0 && tally.error() <= exactness) break;
  }
  const { lossRate } = worlds[0]!;
  const chance = (target: number, hits: number): Chance => ({
    target,
    chance: hits / tally.count,
    error: shareError(hits, tally.count),
  });
  const finishAt = quantilesOf(tally.finishAt.subarray(0, tally.count));
  return {
    futures: tally.count,
    seed: options.seed,
    readyBy: chance(setting.readyBy, tally.ready),
    loadIn: setting.loadIn === null ? null : chance(setting.loadIn, tally.loadIn),
    event: chance(setting.event, tally.event),
    readyAt: quantilesOf(tally.readyAt.subarray(0, tally.count)),
    finishAt,
    steps: withCosts(stepRisks(planned, tally), planned, tally, worlds),
    lostDaysPerHundred: (100 * lossRate.shape) / lossRate.days,
    beyond: tally.beyond,
    fans: fans.answer(Math.max(finishAt.p95, setting.event)),
  };
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
 * The steps that move the end most (criticality times the size of the cruciality) with what they cost: the mean of the end less the end of
 * the same future with the step as planned, and that mean's standard error, from HELD.futures, or from HELD.first where these cost nothing.
 */
function withCosts(risks: readonly StepRisk[], planned: Planned, tally: Tally, worlds: readonly World[]): StepRisk[] {
  const weight = ({ criticality, cruciality }: StepRisk) => criticality * Math.abs(cruciality ?? 0);
  const tried = risks
    .filter((risk) => risk.criticality >= HELD.criticality && weight(risk) > 0)
    .sort((a, b) => weight(b) - weight(a))
    .slice(0, HELD.steps);
  const futures = Math.min(HELD.futures, tally.count);
  return risks.map((risk) => {
    if (!tried.includes(risk)) return risk;
    const step = planned.plans.findIndex(({ id }) => id === risk.step);
    const ends = tally.ends(step);
    const saved: number[] = [];
    let sum = 0;
    while (saved.length < futures && !(saved.length === HELD.first && sum <= 0)) {
      const n = saved.length;
      const world = worlds[n % worlds.length]!;
      const minutes = ends[n]! - tally.endOf(world.run(n, world.stepOf.indexOf(step)), world, step);
      saved.push(minutes);
      sum += minutes;
    }
    return {
      ...risk,
      costMinutes: Math.round(sum / saved.length),
      costError: Math.round(standardDeviation(saved) / Math.sqrt(saved.length)),
    };
  });
}
