/** The plan before anything was counted: what the counts are held against. */
import { type Forecast, type ForecastFirstPlan, type LogEntry, MOST_SCHEDULED_LOTS } from '../../model/index.ts';
import { measuredPaces } from '../03-pace/index.ts';
import { latestSchedule, level } from '../07-levelling/index.ts';
import { tallyLog, timedEntries } from '../log/index.ts';
import type { DeliveryPlan } from '../numbers/index.ts';
import { type KeptBaseline, type Planned, type Remaining, workThrough } from '../stages/index.ts';
import type { Instant } from '../types.ts';
import { type Baseline, baselineFrom } from './burn.ts';
import { passingLines } from './passing.ts';

/** The first plan of a forecast that holds its counts against one; null where there is none. */
export function firstPlanIn({ burn }: Pick<Forecast, 'burn'>, revision: number): KeptBaseline | null {
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
export function firstPlanAnswer({ asked, tally, plans }: Remaining): ForecastFirstPlan | null {
  if (plans.length === 0) return null;
  if (tally.firstAt === null) return { kind: 'open' };
  return asked.first === undefined ? { kind: 'present' } : { kind: 'kept', revision: asked.first.revision };
}

/** With one alone a first plan may be an evening longer than need be. */
const SCHEDULES = 20;

/**
 * The first schedule: as it was kept, else that of the case before anything was counted or lost, by its estimates; and
 * as long as nothing was counted the schedule itself. Null where nothing can be placed.
 */
export function baselineOf(planned: Planned): Baseline | null {
  const { asked, plans, work, schedule, beyond } = planned;
  const begin = beginOf(planned);
  if (begin === null) return schedule === null ? null : baselineFrom(plans, work, schedule, beyond);
  if (asked.first !== undefined) return { all: asked.first.all, steps: new Map(asked.first.steps) };
  const whole = workThrough({ ...asked, log: [], now: begin }, 'work');
  if (whole.work.lots.length === 0 || whole.work.lots.length > MOST_SCHEDULED_LOTS) return null;
  const first = level(whole.work, { seed: 1, schedules: SCHEDULES });
  return baselineFrom(whole.plans, whole.work, first.schedule, new Set(first.beyond));
}

/**
 * The latest schedule of the whole build that is still on time, at the paces and with the lost hours that are known by
 * now: by step, how many units must have passed at each instant. Null where nothing can be placed.
 */
export function latestLinesOf(planned: Planned): readonly DeliveryPlan[] | null {
  const { asked, plans, paces, work, backwards } = planned;
  const begin = beginOf(planned);
  if (begin === null) return backwards === null ? null : passingLines(plans, work, backwards);
  const uncounted = { ...asked, log: asked.log.filter(isOfLostTime), now: begin };
  const whole = workThrough({ ...uncounted, paces: asked.paces ?? measuredPaces(paces) }, 'work');
  if (whole.work.lots.length === 0 || whole.work.lots.length > MOST_SCHEDULED_LOTS) return null;
  const schedule = latestSchedule(whole.work, { seed: 1, schedules: 1 });
  return passingLines(whole.plans, whole.work, schedule);
}

/** When the build began; null as long as nothing is logged. */
function beginOf({ surroundings, tally, now }: Planned): Instant | null {
  return tally.firstAt === null ? null : Math.min(surroundings.start ?? tally.firstAt, now);
}

/** Lost hours, and what takes entries back. */
function isOfLostTime({ kind }: LogEntry): boolean {
  return kind === 'lost' || kind === 'undo';
}
