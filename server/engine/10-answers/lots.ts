/** Lots with their dates, people and machines. */
import type { Dates, ForecastLot, ForecastPlacement } from '../../model/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant, Lot, Minutes, Placement, RunPhase } from '../types.ts';
import { known, levelledOfLot } from './last-moments.ts';

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
