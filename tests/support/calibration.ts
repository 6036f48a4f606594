/** Holds forecasts against what became of simulated makers. */
import { lotMinutes } from '../../server/engine/numbers/learning.ts';
import { planBuild } from '../../server/engine/plan.ts';
import type { Build, Forecast, ForecastRisk, LogEntry } from '../../server/model/index.ts';
import { BEGIN, drawMaker, type Maker } from './makers/simulated-makers.ts';
import { estimatedMinutes, isOpen, liveThrough, tappedBefore } from './makers/simulated-work.ts';

/** Where the end came of one maker, and what had been said of it at half time; minutes since the epoch. */
export interface Outcome {
  readonly seed: number;
  readonly now: number;
  readonly readyAt: number;
  readonly risk: ForecastRisk;
  readonly plannedAt: number;
  readonly plugInAt: number;
  /**
   * For each step that was counted: minutes of its next unit in truth, and the ends of the middle 80 % of what is
   * believed of them.
   */
  readonly paces: readonly { readonly truth: number; readonly low: number; readonly high: number }[];
  /** The true chance that a day is lost. */
  readonly lostADay: number;
}

export const LEVELS = [10, 50, 80, 95] as const;

/**
 * Draws a maker, lives through the whole, and asks for a forecast at half time; null for one who is done on the first
 * day.
 */
export function outcomeOf(
  seed: number,
  forecast: (build: Build, log: readonly LogEntry[], now: number) => ReturnType<typeof planBuild>,
): Outcome | null {
  const maker = drawMaker(seed);
  const story = liveThrough(maker, seed + 500_000);
  const now = story.halfAt;
  if (now === 0) return null;
  const log = tappedBefore(story, now);
  const { risk, room, steps } = forecast(maker.build, log, now);
  if (!risk || room.readyBy.finish === null) throw new Error(`nothing was forecast for maker ${seed}`);
  const plugInAt = plugIn(maker, log, now);
  const { lostADay } = maker;
  const paces = pacesOf(maker, steps);
  return { seed, now, readyAt: story.readyAt, risk, plannedAt: room.readyBy.finish, plugInAt, paces, lostADay };
}

function pacesOf({ jobs }: Maker, steps: Forecast['steps']): Outcome['paces'] {
  return jobs.flatMap(({ id, firstUnitMinutes, learning }) => {
    const step = steps.find((one) => one.id === id);
    if (!step?.pace || step.pace.units === 0 || step.left === 0) return [];
    const { low, high } = step.pace;
    const next = step.total - step.left + 1;
    return [{ truth: lotMinutes(firstUnitMinutes, learning, next, next), low, high }];
  });
}

/** The forecast as the background makes it, with a smaller search. */
export function forecastOf(build: Build, log: readonly LogEntry[], now: number, futures: number, schedules = 100) {
  return planBuild(build, log, now, { levelling: { seed: 1, schedules }, risk: { seed: 1, futures, exactness: 0 } });
}

/** How many of the outcomes came by each quantile, with its standard error. */
export function heldOf(outcomes: readonly Outcome[]): { level: number; share: number; error: number }[] {
  return LEVELS.map((level) => {
    const p = level / 100;
    const held = outcomes.filter(({ readyAt, risk }) => readyAt <= risk.readyAt[`p${level}`]).length;
    return { level, share: held / outcomes.length, error: Math.sqrt((p * (1 - p)) / outcomes.length) };
  });
}

/** Mean of how far off, in days: the middle of the forecast, and the plug-in average. */
export function errorsOf(outcomes: readonly Outcome[]): { forecast: number; plan: number; plugIn: number } {
  const offBy = (at: (outcome: Outcome) => number) => mean(outcomes.map((it) => Math.abs(at(it) - it.readyAt))) / 1440;
  return {
    forecast: offBy(({ risk }) => risk.readyAt.p50),
    plan: offBy(({ plannedAt }) => plannedAt),
    plugIn: offBy(({ plugInAt }) => plugInAt),
  };
}

/** The reliability curve in a line: by each quantile so many in a hundred, with the standard error of each. */
export function curveOf(outcomes: readonly Outcome[]): string {
  const parts = heldOf(outcomes).map(
    ({ level, share, error }) => `${level} %: ${(100 * share).toFixed(1)} ±${(100 * error).toFixed(1)}`,
  );
  return parts.join(', ');
}

/** Both, and how well the beliefs behind them hold, as lines to print. */
export function summaryOf(outcomes: readonly Outcome[]): string[] {
  const { forecast, plan, plugIn } = errorsOf(outcomes);
  const days = mean(outcomes.map(({ readyAt, now }) => (readyAt - now) / 1440));
  return [
    ...heldOf(outcomes).map(
      ({ level, share, error }) =>
        `by the ${level} % finish: ${percent(share)} % were ready (standard error ${percent(error)})`,
    ),
    `mean absolute error of ${days.toFixed(1)} days on average that were left:`,
    `  forecast (50 %) ${forecast.toFixed(2)} days, plan ${plan.toFixed(2)}, plug-in average ${plugIn.toFixed(2)}`,
    ...beliefsOf(outcomes),
  ];
}

function beliefsOf(outcomes: readonly Outcome[]): string[] {
  const paces = outcomes.flatMap((outcome) => outcome.paces);
  const faster = mean(paces.map(({ truth, low }) => Number(truth < low)));
  const slower = mean(paces.map(({ truth, high }) => Number(truth > high)));
  const believed = mean(outcomes.map(({ risk }) => risk.lostDaysPerHundred));
  const lost = 100 * mean(outcomes.map(({ lostADay }) => lostADay));
  return [
    `of ${paces.length} steps under way: true pace faster than the middle 80 % believed in ${percent(faster)} %, slower in ${percent(slower)} %`,
    `days lost in a hundred: ${believed.toFixed(1)} believed, ${lost.toFixed(1)} true`,
  ];
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function percent(share: number): string {
  return (100 * share).toFixed(1).padStart(5);
}

/** Estimated minutes done by the open hour so far, those of days lost counted in; what is left at that rate. */
function plugIn(maker: Maker, log: readonly LogEntry[], now: number): number {
  let [done, all] = [0, 0];
  for (const job of maker.jobs) {
    const units = log.reduce((sum, it) => sum + (it.kind === 'done' && it.step === job.id ? it.n! : 0), 0);
    done += units * estimatedMinutes(job);
    all += job.units * estimatedMinutes(job);
  }
  let open = 0;
  for (let minute = BEGIN; minute < now; minute++) if (isOpen(maker, minute)) open++;
  let left = ((all - done) * open) / done;
  let at = now;
  for (; left > 0; at++) if (isOpen(maker, at)) left--;
  return at;
}
