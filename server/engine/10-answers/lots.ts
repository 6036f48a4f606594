/** Lots with their dates, people and machines. */
import type { Dates, ForecastLot, ForecastPlacement, LevelledDates } from '../../model/index.ts';
import { isInstant } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant, Lot, Minutes, Placement, RunPhase } from '../types.ts';

/** Every lot that remains, milestones left out, with its dates and who does it when. */
export function lotsAnswer(planned: Planned): ForecastLot[] {
  const { work, plans, schedule } = planned;
  const byLot = placementsByLot(planned);
  return work.lots.flatMap((lot, i): ForecastLot[] => {
    if (lot.lastUnit < lot.firstUnit) return [];
    return [
      {
        id: lot.id,
        step: plans[lot.step]!.id,
        set: lot.set,
        number: lot.number,
        firstUnit: lot.firstUnit,
        lastUnit: lot.lastUnit,
        begun: lot.begunAt !== null,
        ...(lot.pin === undefined ? {} : { pinned: true }),
        dates: datesOfLot(planned, i),
        levelled: levelledOfLot(planned, i),
        placements:
          schedule === null ? [] : (byLot.get(i) ?? []).map((placement) => placementAnswer(planned, placement)),
      },
    ];
  });
}

/** Clock minutes of a run that are still to come: of one already under way, what has gone by is not. */
export function runMinutesLeft(lot: Lot, phase: RunPhase, now: Instant): Minutes {
  const gone = lot.begunAt === null || phase !== lot.phases[0] ? 0 : Math.min(phase.minutes, now - lot.begunAt);
  return phase.minutes - gone;
}

/** The dates of one lot from the passes with hands and machines unlimited. */
export function datesOfLot({ dates }: Planned, i: number): Dates {
  return {
    earlyStart: known(dates.earlyStart[i]!),
    earlyFinish: known(dates.earlyFinish[i]!),
    lateStart: known(dates.lateStart[i]!),
    lateFinish: known(dates.lateFinish[i]!),
    totalSlackClock: known(dates.totalSlackClock[i]!),
    totalSlackWorking: known(dates.totalSlackWorking[i]!),
    freeSlackClock: known(dates.freeSlackClock[i]!),
    freeSlackWorking: known(dates.freeSlackWorking[i]!),
    slackToOwnEnd: known(dates.slackToOwnEnd[i]!),
    slackToEvent: known(dates.slackToEvent[i]!),
    critical: dates.critical[i]!,
  };
}

/** A number of the passes; null where they have none to say. */
function known(value: number): number | null {
  return isInstant(value) ? value : null;
}

/**
 * Where one lot is in the schedule of these hands and machines, and its last moment in the one from the event
 * backwards.
 */
export function levelledOfLot(planned: Planned, i: number): LevelledDates | null {
  const { schedule, backwards, beyond, work, dates, keepsDeadlines } = planned;
  if (schedule === null || beyond.has(i)) return null;
  const start = schedule.starts[i]!;
  const finish = schedule.finishes[i]!;
  if (work.lots[i]!.begunAt !== null) {
    // What is under way stays where it is in both schedules; how much later it may be back is its room.
    const lastFinish = known(dates.lateFinish[i]!);
    if (lastFinish === null) return { start, finish, lastStart: null, lastFinish, room: null };
    return { start, finish, lastStart: start + lastFinish - finish, lastFinish, room: lastFinish - finish };
  }
  if (backwards === null) return { start, finish, lastStart: null, lastFinish: null, room: null };
  // A schedule that keeps every deadline proves that nothing in it begins too late.
  const isLater = keepsDeadlines && backwards.starts[i]! < start;
  const lastStart = isLater ? start : backwards.starts[i]!;
  const lastFinish = isLater ? Math.max(finish, backwards.finishes[i]!) : backwards.finishes[i]!;
  // What waits before it begins may begin early and end too late all the same.
  const room = lastFinish < finish ? Math.min(lastStart - start, lastFinish - finish) : lastStart - start;
  return { start, finish, lastStart, lastFinish, room };
}

/** The last moment at which a lot can begin: by its chain, and under hands and machines. */
export function lastStartOf(planned: Planned, i: number): number {
  const byChain = planned.dates.lateStart[i]!;
  return Math.min(byChain, levelledOfLot(planned, i)?.lastStart ?? byChain);
}

/** Placements of the schedule gathered by lot, in the order of phases; none of what has no place before the horizon. */
export function placementsByLot({ schedule, beyond }: Pick<Planned, 'schedule' | 'beyond'>): Map<number, Placement[]> {
  const byLot = new Map<number, Placement[]>();
  for (const placement of schedule?.placements ?? []) {
    if (beyond.has(placement.lot)) continue;
    const list = byLot.get(placement.lot) ?? [];
    byLot.set(placement.lot, list);
    list.push(placement);
  }
  for (const list of byLot.values()) list.sort((a, b) => a.phase - b.phase);
  return byLot;
}

function placementAnswer({ work }: Planned, placement: Placement): ForecastPlacement {
  const phase = work.lots[placement.lot]!.phases[placement.phase]!;
  return {
    kind: phase.kind,
    start: placement.start,
    finish: placement.finish,
    people: placement.people.map((resource) => work.resources[resource]!.id),
    machine: placement.machine === null ? null : work.resources[placement.machine]!.id,
    machineUnit: placement.machineUnit,
  };
}
