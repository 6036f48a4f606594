/** Machines that could run tonight and will not. */
import type { Forecast, ForecastRisk, ForecastStep, Machine, Threat } from '../../model/index.ts';
import { NEVER_UNWATCHED, UNWATCHED_HAZARDS } from '../../model/step.ts';
import { dateAt, minuteOfDayAt } from '../calendar/index.ts';
import type { Instant } from '../types.ts';
import { isUnlikely } from './what-waits.ts';

type Given = Omit<Forecast, 'threats'>;

const DAY = 1440;
/** Share of the futures in which a step drives the end that counts. */
const OFTEN = 0.3;
const NIGHT = { from: 22 * 60, minutes: 8 * 60 };

/**
 * Machines that may run tonight, stand empty from when those who may load them leave, and hold up a step that counts
 * with units at hand. None for what somebody must watch while it runs, and none where nobody is there to load it.
 */
export function idleMachines(
  forecast: Given,
  risk: ForecastRisk | null,
  now: Instant,
  machines: readonly Machine[],
): Threat<'idle-machine'>[] {
  const night = nightAfter(now, forecast.build.zone);
  const driving = new Map((risk?.steps ?? []).map(({ step, criticality }) => [step, criticality]));
  return forecast.capacity.flatMap((group): Threat<'idle-machine'>[] => {
    if (group.kind !== 'machine' || !runsByNight(forecast, group.id, night.start)) return [];
    const count = machines.find(({ id }) => id === group.id)?.count ?? 1;
    const waiting = forecast.steps
      .filter((step) => step.machine === group.id && !step.hazards.some((hazard) => NEVER_UNWATCHED.includes(hazard)))
      .filter((step) => isPressed(step) || isUnlikely(risk))
      .filter((step) => (driving.get(step.id) ?? 1) >= OFTEN)
      .map((step) => ({ step, loadBy: lastThere(forecast, step, now, night.end) }))
      .map(({ step, loadBy }) => ({ step, loadBy, units: unitsAtHand(forecast, step, loadBy ?? now) }))
      .filter(({ units }) => units > 0)
      .sort((a, b) => b.step.machineMinutesLeft - a.step.machineMinutesLeft)[0];
    if (waiting === undefined || waiting.loadBy === null) return [];
    const { step, loadBy, units } = waiting;
    if (unitsBusy(forecast, group.id, loadBy, night.end) >= count) return [];
    const runMinutes = Math.ceil(units / step.lotSize) * (step.runMinutesPerLot ?? 0);
    const idle = Math.min(NIGHT.minutes, runMinutes);
    return [
      {
        code: 'idle-machine',
        step: step.id,
        costMinutes: Math.round(idle * (driving.get(step.id) ?? 1)),
        since: now,
        values: {
          machine: group.id,
          units,
          runMinutes,
          loadBy,
          hazards: step.hazards.filter((hazard) => UNWATCHED_HAZARDS.includes(hazard)),
          from: night.start,
          until: night.end,
        },
      },
    ];
  });
}

/** The last moment before `until` at which somebody who may do the step is there, from now on; null: nobody is. */
function lastThere({ days }: Given, { people }: ForecastStep, now: Instant, until: Instant): Instant | null {
  const ends = days.flatMap((day) =>
    day.people
      .filter(({ id }) => people.includes(id))
      .flatMap(({ open }) =>
        open.filter(([from, to]) => to > now && from < until).map(([, to]) => Math.min(to, until)),
      ),
  );
  return ends.length === 0 ? null : Math.max(...ends);
}

/** Units that can be worked on now and that no run planned to begin before `loadBy` takes. */
function unitsAtHand({ lots }: Given, step: ForecastStep, loadBy: Instant): number {
  const taken = lots
    .filter((lot) => lot.step === step.id && !lot.begun)
    .filter((lot) => lot.placements.some(({ kind, start }) => kind === 'run' && start < loadBy))
    .reduce((sum, lot) => sum + lot.lastUnit - lot.firstUnit + 1, 0);
  return Math.max(0, (step.readyNow ?? 0) - taken);
}

/**
 * How many of the alike machines run, by plan or by what was loaded, when the last one leaves or later in the night.
 */
function unitsBusy({ lots, steps }: Given, machine: string, loadBy: Instant, end: Instant): number {
  const planned = lots.flatMap(({ placements }) =>
    placements
      .filter((one) => one.machine === machine && one.kind === 'run' && one.start < end && one.finish > loadBy)
      .map(({ machineUnit }) => machineUnit ?? 0),
  );
  const loads = steps.flatMap((step) =>
    step.machine === machine ? step.underWay.filter(({ backAt }) => backAt > loadBy) : [],
  );
  return Math.max(new Set(planned).size, loads.length);
}

/** On the critical path, or planned within a day of its last moment under hands and machines. */
function isPressed({ dates, levelled }: ForecastStep): boolean {
  if (dates?.critical) return true;
  return levelled !== null && levelled.lastStart !== null && levelled.lastStart - levelled.start <= DAY;
}

/** The night that comes, or the one that is. */
function nightAfter(now: Instant, zone: string): { start: Instant; end: Instant } {
  const minute = minuteOfDayAt(now, zone);
  const begin =
    minute < (NIGHT.from + NIGHT.minutes) % DAY ? now - minute - (DAY - NIGHT.from) : now - minute + NIGHT.from;
  return { start: Math.max(now, begin), end: begin + NIGHT.minutes };
}

/** Whether the machine offers the whole of the day, nights included. */
function runsByNight({ capacity, build }: Given, machine: string, at: Instant): boolean {
  const days = capacity.find((group) => group.kind === 'machine' && group.id === machine)?.days ?? [];
  const date = dateAt(at + DAY, build.zone);
  return days.some((day) => day.date === date && day.offeredMinutes >= DAY);
}
