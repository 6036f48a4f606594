/**
 * How late or unlikely the end is, which steps wait for which, and what of a late end is explained by what comes before
 * it.
 */
import type { Forecast, ForecastRisk, ForecastStep } from '../../model/index.ts';

type Given = Omit<Forecast, 'threats'>;

/** Nothing is called slow while the chance to be ready is above this. */
const WELL = 0.9;
/** Minutes below which no step is said to cost anything. */
const LEAST_COST = 30;
/** A root explains what waits for it up to its own lateness, this share more, and this many minutes. */
const SHARE_MORE = 1.1;
const MINUTES_MORE = 60;
/** Share of the driving that a root must have of what it explains. */
const MOST_OF_IT = 0.5;

/** Whether futures say that the ready-by or the event may well be missed. */
export function isUnlikely(risk: ForecastRisk | null): boolean {
  return risk !== null && Math.min(risk.readyBy.chance, risk.event.chance) < WELL;
}

/** The same of what is done in the workshop: misses that only the work on site brings are left out. */
export function isWorkshopUnlikely(risk: ForecastRisk | null): boolean {
  return isUnlikely(risk) && !(isLateOnSite(risk) && risk!.readyBy.chance >= WELL);
}

/** Clock minutes by which the plan misses the ready-by or the event, whichever is more; 0 in time. */
export function lateMinutesOf({ room }: Pick<Given, 'room'>): number {
  return Math.max(0, -(room.readyBy.clock ?? 0), -(room.event.clock ?? 0));
}

/** Minutes that a step costs on average where that is more than the error of the draws; else 0. */
export function drawnCost(risk: ForecastRisk | null, id: string): number {
  const drawn = risk?.steps.find(({ step }) => step === id);
  return drawn !== undefined && drawn.costMinutes > Math.max(LEAST_COST, 2 * drawn.costError) ? drawn.costMinutes : 0;
}

/** All steps that wait for one of `steps`, however far on; not these themselves. */
export function waitingFor({ steps }: Pick<Given, 'steps'>, origin: readonly string[]): ReadonlySet<string> {
  const byId = new Map(steps.map((step) => [step.id, step]));
  const waiting = new Set<string>();
  const queue = [...origin];
  for (let id = queue.pop(); id !== undefined; id = queue.pop()) {
    for (const { step } of byId.get(id)?.feeds ?? []) {
      if (waiting.has(step) || origin.includes(step)) continue;
      waiting.add(step);
      queue.push(step);
    }
  }
  return waiting;
}

/**
 * Whether that `step` is late, or likely to cost, is explained by a root at `origin` that costs `cost` minutes: the
 * root comes before it on the chain that drives the ready finish, or costs as much itself, or drives the end as often.
 */
export function isExplained(
  forecast: Given,
  risk: ForecastRisk | null,
  origin: readonly string[],
  cost: number,
  step: ForecastStep,
): boolean {
  if (!origin.includes(step.id) && !waitingFor(forecast, origin).has(step.id)) return false;
  const chain = (forecast.why ?? []).map((line) => line.step);
  const [from, to] = [chain.findIndex((id) => origin.includes(id)), chain.lastIndexOf(step.id)];
  if (from >= 0 && to >= from) return true;
  const late = latenessOf(step);
  if (late <= 0 && step.onSite && isLateOnSite(risk)) return false;
  if (late > 0) return cost > 0 && late <= SHARE_MORE * cost + MINUTES_MORE;
  const drives = (ids: readonly string[]) =>
    Math.max(0, ...(risk?.steps ?? []).filter((one) => ids.includes(one.step)).map(({ criticality }) => criticality));
  const share = drives([step.id]);
  return share > 0 && drives(origin) >= MOST_OF_IT * share;
}

/**
 * Whether the event is missed mostly in futures in which the workshop is ready by the load-in: what comes before it
 * does not explain these.
 */
export function isLateOnSite(risk: ForecastRisk | null): boolean {
  if (risk === null || risk.loadIn === null) return false;
  return 1 - risk.loadIn.chance < MOST_OF_IT * (1 - risk.event.chance);
}

/** By how much the plan runs past the step's last moment under hands and machines, or without them. */
export function latenessOf({ levelled, dates }: ForecastStep): number {
  const ends = levelled === null || levelled.lastFinish === null ? 0 : levelled.finish - levelled.lastFinish;
  // Spares may end after the last moment of the units that are needed.
  const levelledLate = Math.min(ends, -(levelled?.room ?? -ends));
  return Math.max(0, levelledLate, -(dates?.totalSlackClock ?? 0));
}
