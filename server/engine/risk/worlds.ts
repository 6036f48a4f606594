import type { Planned } from '../answers/planned.ts';
import type { Schedule } from '../types.ts';
import { uncertaintyOf } from './draws.ts';
import { drivingChainOf } from './driving.ts';
import { type FanLots, fanLotsOf } from './fans.ts';
import { type Future, futuresOf } from './futures.ts';
import type { LossRate } from './lost-days.ts';
import { type ParameterWorld, parameterWorlds } from './parameter-worlds.ts';

/** The build with its uncertain parameters at one set of values, and its futures. Its steps have numbers of their own. */
export interface World {
  /** Future n, with one of its steps as planned if asked for. */
  readonly run: (n: number, held?: number) => Future;
  readonly chainOf: (last: number, mark: (step: number) => void) => void;
  /** Its lots, and those of them that count to the ready-by. */
  readonly lots: Int32Array;
  readonly workshopLots: Int32Array;
  /** By step of the plan. */
  readonly fanLots: FanLots;
  /** By its step: the number of the same step in the plan, -1 for none. */
  readonly stepOf: Int32Array;
  /** By its step: the minutes of work that it has more than in the plan. */
  readonly more: Float64Array;
  readonly horizon: number;
  readonly lossRate: LossRate;
}

/** The worlds that futures are drawn in by turns: as many as `parameterWorlds` gives, one where no parameter is uncertain. */
export function worldsOf(plan: Planned, schedule: Schedule, seed: number): World[] {
  const parameters = parameterWorlds(plan, schedule, seed);
  const made = new Map([...new Set(parameters)].map((world) => [world, worldOf(world, plan, seed)]));
  return parameters.map((world) => made.get(world)!);
}

function worldOf({ planned, schedule }: ParameterWorld, plan: Planned, seed: number): World {
  const { work, plans } = planned;
  const uncertain = uncertaintyOf(planned, schedule);
  const lots = Int32Array.from(work.lots.keys());
  const minutes = minutesByStep(planned);
  const before = planned === plan ? minutes : minutesByStep(plan);
  const at = new Map(plan.plans.map(({ id }, step) => [id, step]));
  const stepOf = Int32Array.from(plans, ({ id }) => at.get(id) ?? -1);
  const fanLots = fanLotsOf(planned, work.lots);
  return {
    run: futuresOf(uncertain, seed),
    chainOf: drivingChainOf(uncertain.compiled),
    lots,
    workshopLots: lots.filter((lot) => !work.lots[lot]!.onSite),
    fanLots: plan.plans.map((_, step) => fanLots[stepOf.indexOf(step)] ?? NO_LOTS),
    stepOf,
    more: Float64Array.from(stepOf, (step, own) => (step < 0 ? 0 : minutes[own]! - before[step]!)),
    horizon: uncertain.compiled.forward.calendars.horizon,
    lossRate: uncertain.lossRate,
  };
}

const NO_LOTS = { lots: new Int32Array(0), units: new Int32Array(0), total: 0 };

/** By step, the minutes of its lots' work: hands, runs and waits. */
function minutesByStep({ work, plans }: Planned): Float64Array {
  const minutes = new Float64Array(plans.length);
  for (const { step, phases } of work.lots) {
    for (const phase of phases) if (phase.kind !== 'lead') minutes[step] = minutes[step]! + phase.minutes;
  }
  return minutes;
}
