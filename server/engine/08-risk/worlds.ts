/** A world: the build at one set of values, compiled to draw futures from. */

import { choose, waysOf } from '../07-levelling/index.ts';
import { duesOf, type Planned, type Remaining } from '../stages/index.ts';
import type { Lot, Schedule } from '../types.ts';
import { uncertaintyOf } from './draws.ts';
import { DrivingChains } from './driving.ts';
import { type FanLots, fanLotsOf } from './fans.ts';
import { type Future, FutureRuns, type Uncertain } from './futures.ts';
import type { LossRate } from './lost-days.ts';
import { type ParameterWorld, parameterWorlds } from './parameter-worlds.ts';
import { meanOf, standardDeviation } from './statistics.ts';

/**
 * The build with its uncertain parameters at one set of values, and its futures. Its steps have numbers of their own.
 */
export class World {
  /** The numbers of those ways of `waysOf` that differ. */
  readonly ways: readonly number[];
  /** The driving chains of the future that ran last. */
  readonly chains: DrivingChains;
  /** Its lots but spares, and those of them that count to the ready-by. */
  readonly lots: Int32Array;
  readonly workshopLots: Int32Array;
  /** By due of the plan (`duesOf`), the lots that must be finished by it. */
  readonly dueLots: readonly Int32Array[];
  /** By step of the plan. */
  readonly fanLots: FanLots;
  /** By its step: the number of the same step in the plan, -1 for none. */
  readonly stepOf: Int32Array;
  /** By its step: the minutes of work that it has more than in the plan. */
  readonly more: Float64Array;
  /** What ends later found no hours; waits need none. */
  readonly horizon: number;
  readonly lossRate: LossRate;
  private readonly uncertain: Uncertain;
  private readonly runs: FutureRuns;
  private readonly policies: ReturnType<typeof waysOf>;

  constructor({ planned, schedule }: ParameterWorld, plan: Planned, seed: number) {
    const { work, plans } = planned;
    const uncertain = uncertaintyOf(planned, schedule);
    const lots = Int32Array.from(work.lots.keys()).filter((lot) => work.lots[lot]!.spare !== true);
    const minutes = minutesByStep(planned);
    const before = planned === plan ? minutes : minutesByStep(plan);
    const at = new Map(plan.plans.map(({ id }, step) => [id, step]));
    const stepOf = Int32Array.from(plans, ({ id }) => at.get(id) ?? -1);
    const fanLots = fanLotsOf(planned, work.lots);
    const ways = waysOf(uncertain.compiled, { ...schedule, activityList: uncertain.activityList.slice() });
    this.uncertain = uncertain;
    this.runs = new FutureRuns(uncertain, seed);
    this.policies = ways;
    this.ways = [...ways.keys()].filter((way) => ways[way] !== ways[way - 1]);
    this.chains = new DrivingChains(uncertain.compiled);
    this.lots = lots;
    this.workshopLots = lots.filter((lot) => !work.lots[lot]!.onSite);
    this.dueLots = duesOf(plan).map(({ steps }) => lots.filter((lot) => steps.includes(stepOf[work.lots[lot]!.step]!)));
    this.fanLots = plan.plans.map((_, step) => fanLots[stepOf.indexOf(step)] ?? NO_LOTS);
    this.stepOf = stepOf;
    this.more = Float64Array.from(stepOf, (step, own) => (step < 0 ? 0 : minutes[own]! - before[step]!));
    this.horizon = work.lots.every(isWaitAlone)
      ? Number.POSITIVE_INFINITY
      : uncertain.compiled.forward.calendars.horizon;
    this.lossRate = uncertain.lossRate;
  }

  /** Future n, with one of its steps as planned if asked for. */
  run(n: number, asPlanned = -1): Future {
    return this.runs.run(n, asPlanned);
  }

  /**
   * Dispatches later futures by this policy of `waysOf`: by the plan (0), by its activity list alone, or machines
   * first.
   */
  follow(way: number): void {
    choose(this.uncertain.compiled.forward, this.policies[way]!);
    this.uncertain.activityList.set(this.policies[way]!.activityList);
  }
}

/**
 * Futures that each way is tried in at most, in the worlds by turns; they are numbered from the first on and never
 * counted. After every `look` of them a way is given up that is later than the best by `errors` standard errors of
 * the difference, or never was another: in a large build each of them costs a tenth of a second.
 */
const TRIALS = { futures: 20, look: 10, errors: 2, first: 1 << 24 };

/**
 * The worlds that futures are drawn in by turns: as many as `parameterWorlds` gives, one where no parameter is
 * uncertain. All of them go by the one way of working that is ready earliest on average: nobody on the bench keeps to a
 * sheet that no longer serves.
 */
export function worldsOf(plan: Planned, schedule: Schedule, seed: number): World[] {
  const parameters = parameterWorlds(plan, schedule, seed);
  const made = new Map([...new Set(parameters)].map((world) => [world, new World(world, plan, seed)]));
  const worlds = parameters.map((world) => made.get(world)!);
  followBestWay(worlds);
  return worlds;
}

function followBestWay(worlds: readonly World[]): void {
  const numbers = [...new Set(worlds.flatMap((world) => world.ways))].sort((a, b) => a - b);
  let tried = numbers.map((way): Tried => ({ way, ends: [] }));
  while (tried.length > 1 && tried[0]!.ends.length < TRIALS.futures) {
    for (const one of tried) tryOn(worlds, one);
    const best = bestOf(tried);
    tried = tried.filter((one) => one === best || mayBeBetter(one, best));
  }
  const { way } = bestOf(tried);
  for (const world of worlds) world.follow(way);
}

/** A way, with the end of each future that it was tried in. */
interface Tried {
  readonly way: number;
  readonly ends: number[];
}

function tryOn(worlds: readonly World[], { way, ends }: Tried): void {
  for (const world of worlds) world.follow(way);
  for (let i = 0; i < TRIALS.look; i++) {
    const n = ends.length;
    const world = worlds[n % worlds.length]!;
    const { lots, workshopLots } = world;
    ends.push(latestOf(world.run(TRIALS.first + n).finishes, workshopLots.length > 0 ? workshopLots : lots));
  }
}

/** The way that is ready earliest on average, of equal ones the first. */
function bestOf(tried: readonly Tried[]): Tried {
  return tried.reduce((best, one) => (meanOf(one.ends) < meanOf(best.ends) ? one : best));
}

function mayBeBetter({ ends }: Tried, best: Tried): boolean {
  const later = Float64Array.from(ends, (end, n) => end - best.ends[n]!);
  return meanOf(later) < (TRIALS.errors * standardDeviation(later)) / Math.sqrt(later.length);
}

function latestOf(finishes: Int32Array, lots: Int32Array): number {
  let latest = lots.length === 0 ? 0 : finishes[lots[0]!]!;
  for (const lot of lots) latest = Math.max(latest, finishes[lot]!);
  return latest;
}

const isWaitAlone = ({ phases }: Lot): boolean => phases.every(({ kind }) => kind === 'wait');

const NO_LOTS = { lots: new Int32Array(0), units: new Int32Array(0), total: 0 };

/** By step, the minutes of its lots' work: hands, runs and waits. */
function minutesByStep({ work, plans }: Remaining): Float64Array {
  const minutes = new Float64Array(plans.length);
  for (const { step, phases } of work.lots) {
    for (const phase of phases) if (phase.kind !== 'lead') minutes[step] = minutes[step]! + phase.minutes;
  }
  return minutes;
}
