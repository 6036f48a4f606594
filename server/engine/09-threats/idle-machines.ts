/** Machines that could run tonight and will not. */
import type { Forecast, ForecastRisk, ForecastStep, Threat } from '../../model/index.ts';
import { dateAt, minuteOfDayAt } from '../calendar/index.ts';
import type { Instant } from '../types.ts';
import { isUnlikely } from './slow-steps.ts';

type Given = Omit<Forecast, 'threats'>;

const DAY = 1440;
/** Share of the futures in which a step drives the end that counts. */
const OFTEN = 0.3;
const NIGHT = { from: 22 * 60, minutes: 8 * 60 };

/** Machines that may run tonight, have nothing planned, and hold up a step that counts. */
export function idleMachines(forecast: Given, risk: ForecastRisk | null, now: Instant): Threat[] {
  const night = nightAfter(now, forecast.build.zone);
  const driving = new Map((risk?.steps ?? []).map(({ step, criticality }) => [step, criticality]));
  return forecast.capacity.flatMap((group): Threat[] => {
    if (group.kind !== 'machine' || !runsByNight(forecast, group.id, night.start)) return [];
    const waiting = forecast.steps
      .filter((step) => step.machine === group.id && (step.readyNow ?? 0) > unitsUnderWay(step))
      .filter((step) => isPressed(step) || isUnlikely(risk))
      .filter((step) => (driving.get(step.id) ?? 1) >= OFTEN)
      .sort((a, b) => b.machineMinutesLeft - a.machineMinutesLeft)[0];
    if (waiting === undefined || busyDuring(forecast, group.id, night)) return [];
    const units = waiting.left - unitsUnderWay(waiting);
    const runMinutes = Math.ceil(units / waiting.lotSize) * (waiting.runMinutesPerLot ?? 0);
    const idle = Math.min(NIGHT.minutes, runMinutes);
    return [
      {
        code: 'idle-machine',
        step: waiting.id,
        costMinutes: Math.round(idle * (driving.get(waiting.id) ?? 1)),
        since: now,
        values: { machine: group.id, units, runMinutes, from: night.start, until: night.end },
      },
    ];
  });
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

function unitsUnderWay(step: ForecastStep): number {
  return step.underWay.reduce((units, load) => units + load.units, 0);
}

function busyDuring({ lots, steps }: Given, machine: string, night: { start: Instant; end: Instant }): boolean {
  const planned = lots.some((lot) =>
    lot.placements.some(
      (placement) =>
        placement.machine === machine &&
        placement.kind === 'run' &&
        placement.start < night.end &&
        placement.finish > night.start,
    ),
  );
  const running = steps.some(
    (step) => step.machine === machine && step.underWay.some(({ backAt }) => backAt > night.start),
  );
  return planned || running;
}
