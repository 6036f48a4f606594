/** Holds forecasts against what became of simulated makers. */
import { planBuild } from '../../server/engine/plan.ts';
import type { Build, ForecastRisk, LogEntry } from '../../server/model/index.ts';
import { BEGIN, drawMaker, type Maker } from './simulated-makers.ts';
import { estimatedMinutes, isOpen, liveThrough, tappedBefore } from './simulated-work.ts';

/** Where the end came of one maker, and what had been said of it at half time; minutes since the epoch. */
export interface Outcome {
  readonly seed: number;
  readonly now: number;
  readonly readyAt: number;
  readonly risk: ForecastRisk;
  readonly plannedAt: number;
  readonly plugInAt: number;
}

export const LEVELS = [10, 50, 80, 95] as const;

/** Draws a maker, lives through the whole, and asks for a forecast at half time; null for one who is done on the first day. */
export function outcomeOf(
  seed: number,
  forecast: (build: Build, log: readonly LogEntry[], now: number) => ReturnType<typeof planBuild>,
): Outcome | null {
  const maker = drawMaker(seed);
  const story = liveThrough(maker, seed + 500_000);
  const now = story.halfAt;
  if (now === 0) return null;
  const log = tappedBefore(story, now);
  const { risk, room } = forecast(maker.build, log, now);
  if (!risk || room.readyBy.finish === null) throw new Error(`nothing was forecast for maker ${seed}`);
  const plugInAt = plugIn(maker, log, now);
  return { seed, now, readyAt: story.readyAt, risk, plannedAt: room.readyBy.finish, plugInAt };
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
  const mean = (at: (outcome: Outcome) => number) =>
    outcomes.reduce((sum, it) => sum + Math.abs(at(it) - it.readyAt), 0) / outcomes.length / 1440;
  return {
    forecast: mean(({ risk }) => risk.readyAt.p50),
    plan: mean(({ plannedAt }) => plannedAt),
    plugIn: mean(({ plugInAt }) => plugInAt),
  };
}

/** The reliability curve in a line: by each quantile so many in a hundred, with the standard error of each. */
export function curveOf(outcomes: readonly Outcome[]): string {
  const parts = heldOf(outcomes).map(
    ({ level, share, error }) => `${level} %: ${(100 * share).toFixed(1)} ±${(100 * error).toFixed(1)}`,
  );
  return parts.join(', ');
}

/** Both, as lines to print. */
export function summaryOf(outcomes: readonly Outcome[]): string[] {
  const percent = (share: number) => (100 * share).toFixed(1).padStart(5);
  const { forecast, plan, plugIn } = errorsOf(outcomes);
  const days = outcomes.map(({ readyAt, now }) => (readyAt - now) / 1440);
  return [
    ...heldOf(outcomes).map(
      ({ level, share, error }) =>
        `by the ${level} % finish: ${percent(share)} % were ready (standard error ${percent(error)})`,
    ),
    `mean absolute error of ${(days.reduce((a, b) => a + b, 0) / days.length).toFixed(1)} days on average that were left:`,
    `  forecast (50 %) ${forecast.toFixed(2)} days, plan ${plan.toFixed(2)}, plug-in average ${plugIn.toFixed(2)}`,
  ];
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
