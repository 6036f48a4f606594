import type { CapacityGroup, Forecast, LowerBound, Room } from '../../model/index.ts';
import { isInstant, openMinutesBetween } from '../open-time.ts';
import type { Planned } from './planned.ts';

/** Room to the ready-by, the load-in and the event apart: what lies between the finish and each, negative when late. */
export function roomAnswer(planned: Planned): Forecast['room'] {
  const { setting, schedule, dates, work } = planned;
  const nothingLeft = work.lots.length === 0;
  const readyAt = nothingLeft ? planned.now : placed(planned, false) ? (schedule?.readyAt ?? null) : null;
  const finishAt = nothingLeft ? planned.now : placed(planned, true) ? (schedule?.finishAt ?? null) : null;
  const unlimitedReady = nothingLeft ? planned.now : known(dates.readyAt);
  const unlimitedFinish = nothingLeft ? planned.now : known(dates.finishAt);
  const room = (target: number, finish: number | null, unlimited: number | null): Room => ({
    target,
    finish,
    clock: finish === null ? null : target - finish,
    working: finish === null ? null : openMinutesBetween(setting.working, finish, target),
    unlimitedFinish: unlimited,
    unlimitedClock: unlimited === null ? null : target - unlimited,
  });
  return {
    readyBy: room(setting.readyBy, readyAt, unlimitedReady),
    loadIn: setting.loadIn === null ? null : room(setting.loadIn, readyAt, unlimitedReady),
    event: room(setting.event, finishAt, unlimitedFinish),
  };
}

/** An instant, or null where the calendars run out before. */
function known(instant: number): number | null {
  return isInstant(instant) ? instant : null;
}

function placed({ work, beyond, schedule }: Planned, onSite: boolean): boolean {
  if (schedule === null) return false;
  return ![...beyond].some((lot) => onSite || !work.lots[lot]!.onSite);
}

/**
 * The earliest that any order of work can finish the workshop's part: the critical path with hands and machines
 * unlimited, or the first minute by which a group's hours cover the minutes it must work (the energy bound), whichever is later.
 */
export function lowerBoundAnswer(planned: Planned, capacity: readonly CapacityGroup[]): LowerBound | null {
  const { dates, work, setting, schedule } = planned;
  if (work.lots.length === 0 || !isInstant(dates.readyAt)) return null;
  let bound: Omit<LowerBound, 'verdict' | 'shortMinutes'> = {
    readyAt: dates.readyAt,
    by: 'critical-path',
    resource: null,
    windowStart: null,
    windowEnd: null,
  };
  for (const group of capacity) {
    const finish = group.coveredAt;
    if (finish !== null && finish > bound.readyAt) {
      bound = {
        readyAt: finish,
        by: group.kind === 'people' ? 'hands' : 'machine',
        resource: group.id,
        windowStart: setting.from,
        windowEnd: finish,
      };
    }
  }
  const short = capacity.find((group) => group.id === bound.resource)?.shortMinutes ?? 0;
  const verdict =
    bound.readyAt > setting.readyBy
      ? 'impossible'
      : schedule !== null && schedule.readyAt <= bound.readyAt
        ? 'proved-best'
        : 'gap';
  return { ...bound, shortMinutes: Math.max(0, short), verdict };
}
