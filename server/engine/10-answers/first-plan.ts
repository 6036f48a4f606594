/** The plan before anything was counted: what the counts are held against. */
import type { Build, Forecast, ForecastFirstPlan, LogEntry } from '../../model/index.ts';
import type { MeasuredPace } from '../02-steps/index.ts';
import { type StepPlan, stepPlansOf, withPaces } from '../02-steps/index.ts';
import { measuredPaces } from '../03-pace/index.ts';
import { type BuildWork, workOf } from '../04-lots/index.ts';
import { networkOf } from '../05-network/index.ts';
import { level, levelBackwards } from '../07-levelling/index.ts';
import { type Setting, settingOf } from '../calendar/index.ts';
import { type Tally, tallyLog, timedEntries } from '../log/index.ts';
import type { DeliveryPlan } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant } from '../types.ts';
import { type Baseline, baselineFrom } from './burn.ts';
import { passingLines } from './passing.ts';

/** A first plan as plain data, to be kept while the build is edited: `Baseline` with the revision it was a plan of. */
export interface FirstPlan {
  readonly revision: number;
  readonly all: readonly (readonly [number, number])[];
  readonly steps: readonly (readonly [string, readonly (readonly [number, number])[]])[];
}

/** The first plan of a forecast that holds its counts against one; null where there is none. */
export function firstPlanIn({ burn }: Pick<Forecast, 'burn'>, revision: number): FirstPlan | null {
  const lines = burn.filter(({ planned }) => planned.length > 0);
  if (lines.length === 0) return null;
  return {
    revision,
    all: lines.find(({ step }) => step === null)?.planned ?? [],
    steps: lines.flatMap(({ step, planned }) => (step === null ? [] : [[step, planned] as const])),
  };
}

/** The first entry of a log that was not taken back; null where nothing stands. */
export function firstCount(log: readonly LogEntry[]): LogEntry | null {
  const first = tallyLog(timedEntries(log).entries).standing[0];
  return log.find(({ id }) => id === first?.id) ?? null;
}

/** Which plan the counts are held against. */
export function firstPlanAnswer({ tally, plans }: Planned, first: FirstPlan | undefined): ForecastFirstPlan | null {
  if (plans.length === 0) return null;
  if (tally.firstAt === null) return { kind: 'open' };
  return first === undefined ? { kind: 'present' } : { kind: 'kept', revision: first.revision };
}

/** The kept first plan, and what replaces the estimates and the values of parameters, where anything does. */
export interface PlanInputs {
  readonly first?: FirstPlan;
  readonly paces?: ReadonlyMap<string, MeasuredPace>;
  readonly given?: ReadonlyMap<string, number>;
}

interface Kept {
  readonly begin: Instant;
  readonly event: Instant;
  readonly baseline: Baseline | null;
}

/** With one alone a first plan may be an evening longer than need be. */
const SCHEDULES = 20;

const baselines = new WeakMap<Build, Kept>();

/**
 * The first schedule: as it was kept, else from the start of the build as it is and by its estimates (worked out once a
 * build), and before anything was counted the schedule itself. Null where nothing can be placed.
 */
export function baselineOf(planned: Planned, inputs: PlanInputs): Baseline | null {
  const { build, setting, tally, schedule } = planned;
  const begin = setting.start ?? tally.firstAt;
  if (tally.firstAt === null || begin === null)
    return schedule === null ? null : baselineFrom(planned.plans, planned.work, schedule, planned.beyond);
  if (inputs.first !== undefined) return { all: inputs.first.all, steps: new Map(inputs.first.steps) };
  const known = baselines.get(build);
  if (inputs.given === undefined && known?.begin === begin && known.event === setting.event) return known.baseline;
  const whole = wholeWork({ ...planned, setting: asHoped(planned) }, Math.min(begin, planned.now), inputs.paces);
  const first = whole === null ? null : level(whole.work, { seed: 1, schedules: SCHEDULES });
  const baseline =
    whole === null || first === null
      ? null
      : baselineFrom(whole.plans, whole.work, first.schedule, new Set(first.beyond));
  if (inputs.given === undefined) baselines.set(build, { begin, event: setting.event, baseline });
  return baseline;
}

/**
 * The latest schedule of the whole build that is still on time, at the paces known by now: by step, how many units must have
 * passed at each instant. Null where nothing can be placed.
 */
export function latestLinesOf(planned: Planned, inputs: PlanInputs): readonly DeliveryPlan[] | null {
  const { setting, tally, plans, work, backwards } = planned;
  if (tally.firstAt === null) return backwards === null ? null : passingLines(plans, work, backwards);
  const begin = Math.min(setting.start ?? tally.firstAt, planned.now);
  const whole = wholeWork(planned, begin, inputs.paces ?? measuredPaces(planned.paces));
  if (whole === null) return null;
  const { schedule } = levelBackwards(whole.work, { seed: 1, schedules: 1 });
  return passingLines(whole.plans, whole.work, schedule);
}

/** The hours as they were thought of before any were lost. */
function asHoped({ build, setting, tally, now }: Planned): Setting {
  return tally.lost.length === 0 ? setting : settingOf(build, now);
}

/** All steps and lots as if nothing had been counted; null where there are none or they stand in a circle. */
function wholeWork(
  { build, setting, quantities, feeds }: Planned,
  begin: Instant,
  paces: ReadonlyMap<string, MeasuredPace> | undefined,
): { readonly plans: readonly StepPlan[]; readonly work: BuildWork } | null {
  const empty: Tally = tallyLog([]);
  const then: Setting = { ...setting, now: begin, from: begin };
  const steps = withPaces(stepPlansOf(build, then, quantities, empty).steps, paces ?? new Map());
  const work = workOf(build, then, steps, feeds, []);
  const circular = networkOf(work.lots.length, work.links).circles.length > 0;
  return work.lots.length === 0 || circular ? null : { plans: steps, work };
}
