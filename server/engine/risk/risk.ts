import type { Chance, ForecastRisk, StepRisk } from '../../model/index.ts';
import type { Planned } from '../answers/planned.ts';
import { uncertaintyOf } from './draws.ts';
import { drivingChainOf } from './driving.ts';
import { Fans, fanLotsOf } from './fans.ts';
import { type Future, futuresOf } from './futures.ts';
import { quantilesOf, rankCorrelation, shareError } from './statistics.ts';

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
/** A step that drives fewer futures than this is not tried out as planned; nor more steps, nor in more futures, than these. */
const HELD = { criticality: 0.02, steps: 6, futures: 150 };

/**
 * The chance to be ready, from futures of the levelled schedule in which all that is uncertain is drawn (see `uncertaintyOf`) and the
 * lots are dispatched anew in the schedule's order through calendars, hands and machines. Quantiles are of type 7. Per step: the
 * criticality index (share of futures in which it is on the driving chain; van Slyke 1963), the cruciality (Spearman's correlation of its
 * minutes with the end; Williams 1992), and what it costs: the mean end less the mean end of the same futures with that step as planned.
 * Deterministic for a seed. Null when nothing is left or nothing could be placed.
 */
export function riskOf(planned: Planned, options: RiskOptions): ForecastRisk | null {
  const { schedule, setting, work } = planned;
  if (schedule === null || work.lots.length === 0) return null;
  const uncertain = uncertaintyOf(planned, schedule);
  const run = futuresOf(uncertain, options.seed);
  const most = Math.max(1, Math.floor(options.futures ?? FUTURES));
  const exactness = options.exactness ?? EXACTNESS;
  const tally = new Futures(planned, uncertain.compiled.forward.calendars.horizon, most);
  const chainOf = drivingChainOf(uncertain.compiled);
  const fans = new Fans(planned);
  const fanLots = fanLotsOf(planned, work.lots);
  while (tally.count < most) {
    const future = run(tally.count);
    tally.add(future, chainOf);
    fans.add(future.finishes, fanLots);
    if (exactness > 0 && tally.count % BATCH === 0 && tally.error() <= exactness) break;
  }
  const { lossRate } = uncertain;
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
    steps: withCosts(planned, stepRisks(planned, tally), tally, run),
    lostDaysPerHundred: (100 * lossRate.shape) / lossRate.days,
    beyond: tally.beyond,
    fans: fans.answer(Math.max(finishAt.p95, setting.event)),
  };
}

/**
 * The steps that move the end most (criticality times the size of the cruciality) with what they cost: the mean of the end less the end of
 * the same future with the step as planned, and that mean's standard error.
 */
function withCosts(
  planned: Planned,
  risks: readonly StepRisk[],
  seen: Futures,
  again: ReturnType<typeof futuresOf>,
): StepRisk[] {
  const weight = ({ criticality, cruciality }: StepRisk) => criticality * Math.abs(cruciality ?? 0);
  const tried = risks
    .filter((risk) => risk.criticality >= HELD.criticality && weight(risk) > 0)
    .sort((a, b) => weight(b) - weight(a))
    .slice(0, HELD.steps);
  const futures = Math.min(HELD.futures, seen.count);
  return risks.map((risk) => {
    if (!tried.includes(risk)) return risk;
    const step = planned.plans.findIndex(({ id }) => id === risk.step);
    let [sum, squares] = [0, 0];
    for (let n = 0; n < futures; n++) {
      const saved = seen.end(n, step) - seen.endOf(again(n, step), step);
      sum += saved;
      squares += saved * saved;
    }
    const variance = Math.max(0, squares / futures - (sum / futures) ** 2);
    return {
      ...risk,
      costMinutes: Math.round(sum / futures),
      costError: Math.round(Math.sqrt(variance / futures)),
    };
  });
}

/** What the futures came to so far. */
class Futures {
  count = 0;
  ready = 0;
  loadIn = 0;
  event = 0;
  beyond = 0;
  readonly readyAt: Int32Array;
  readonly finishAt: Int32Array;
  /** By step: futures in which it drove. */
  readonly driving: Int32Array;
  /** drawn[step][future]: minutes of its work beyond the plan. */
  readonly drawn: readonly Float32Array[];
  private readonly seenIn: Int32Array;
  private readonly planned: Planned;
  private readonly horizon: number;

  constructor(planned: Planned, horizon: number, most: number) {
    this.planned = planned;
    this.horizon = horizon;
    this.readyAt = new Int32Array(most);
    this.finishAt = new Int32Array(most);
    this.driving = new Int32Array(planned.plans.length);
    this.drawn = planned.plans.map(() => new Float32Array(most));
    this.seenIn = new Int32Array(planned.plans.length).fill(-1);
  }

  add(future: Future, chainOf: ReturnType<typeof drivingChainOf>): void {
    const { setting } = this.planned;
    const n = this.count++;
    const [readyLot, finishLot] = this.lastLots(future);
    const readyAt = readyLot < 0 ? setting.from : future.finishes[readyLot]!;
    const finishAt = finishLot < 0 ? setting.from : future.finishes[finishLot]!;
    this.readyAt[n] = readyAt;
    this.finishAt[n] = finishAt;
    if (readyAt <= setting.readyBy) this.ready++;
    if (setting.loadIn !== null && readyAt <= setting.loadIn) this.loadIn++;
    if (finishAt <= setting.event) this.event++;
    if (finishAt > this.horizon) this.beyond++;
    for (let step = 0; step < this.drawn.length; step++) this.drawn[step]![n] = future.drawnMinutes[step]!;
    const mark = (step: number) => {
      if (step >= this.seenIn.length || this.seenIn[step] === n) return;
      this.seenIn[step] = n;
      this.driving[step] = this.driving[step]! + 1;
    };
    if (readyLot >= 0) chainOf(readyLot, mark);
    if (finishLot >= 0 && finishLot !== readyLot) chainOf(finishLot, mark);
  }

  /** The end that a step is held against: of all for work on site, else of the workshop. */
  end(n: number, step: number): number {
    return this.planned.plans[step]!.onSite ? this.finishAt[n]! : this.readyAt[n]!;
  }

  endOf(future: Future, step: number): number {
    const [readyLot, finishLot] = this.lastLots(future);
    const lot = this.planned.plans[step]!.onSite ? finishLot : readyLot;
    return lot < 0 ? this.planned.setting.from : future.finishes[lot]!;
  }

  /** The largest standard error of the three chances. */
  error(): number {
    const hits =
      this.planned.setting.loadIn === null ? [this.ready, this.event] : [this.ready, this.loadIn, this.event];
    return Math.max(...hits.map((count) => shareError(count, this.count)));
  }

  private lastLots({ finishes }: Future): [ready: number, finish: number] {
    const { lots } = this.planned.work;
    let [ready, finish] = [-1, -1];
    for (let l = 0; l < lots.length; l++) {
      if (finish < 0 || finishes[l]! > finishes[finish]!) finish = l;
      if (!lots[l]!.onSite && (ready < 0 || finishes[l]! > finishes[ready]!)) ready = l;
    }
    return [ready, finish];
  }
}

function stepRisks(planned: Planned, tally: Futures): StepRisk[] {
  return planned.plans.flatMap((plan, step): StepRisk[] => {
    if (planned.work.runs[step]!.every((run) => run.lots.length === 0)) return [];
    const ends = plan.onSite ? tally.finishAt : tally.readyAt;
    return [
      {
        step: plan.id,
        criticality: tally.driving[step]! / tally.count,
        cruciality: rankCorrelation(tally.drawn[step]!.subarray(0, tally.count), ends.subarray(0, tally.count)),
        costMinutes: 0,
        costError: 0,
      },
    ];
  });
}
