/** Pinned times that cannot be kept. */
import { type Problem, problemTexts, type Sentence, warning } from '../../model/index.ts';
import { startLink } from '../07-levelling/index.ts';
import { momentText, openMinutesBetween } from '../calendar/index.ts';
import type { Planned } from './planned.ts';

/** Pinned times that the schedule cannot keep, each with what prevents it. */
export function latePins(planned: Planned): Problem[] {
  const { work, schedule, beyond } = planned;
  if (schedule === null) return [];
  return work.lots.flatMap((lot, l): Problem[] => {
    const isPinned = lot.pin !== undefined && lot.pinnedStart !== null;
    return isPinned && !beyond.has(l) && schedule.starts[l]! > lot.pinnedStart! ? [latePin(planned, l)] : [];
  });
}

function latePin(planned: Planned, l: number): Problem {
  const { work, plans, surroundings, schedule } = planned;
  const lot = work.lots[l]!;
  const plan = plans[lot.step]!;
  const when = (instant: number) => momentText(instant, surroundings.zone);
  const [pinned, earliest] = [when(lot.pinnedStart!), when(schedule!.starts[l]!)];
  const late = { step: plan.name, fromUnit: plan.total > 1 ? lot.firstUnit : null, pinned, earliest };
  const message = problemTexts.pins.late(late, reasonOf(planned, l));
  return warning('pin', `${lot.pin}.start`, pinned, message);
}

function reasonOf(planned: Planned, l: number): Sentence {
  const { work, plans, schedule } = planned;
  const lot = work.lots[l]!;
  const at = lot.pinnedStart!;
  const reasons = problemTexts.pins.lateBecause;
  if (at < work.now) return reasons.past;
  const link = startLink(work, schedule!, l);
  const stepOf = (other: number) => plans[work.lots[other]!.step]!.name;
  const resourceOf = (resource: number) => work.resources[resource]!.name;
  const away = (lot.pinnedPeople ?? []).filter(
    (person) => openMinutesBetween(work.resources[person]!.open, at, at + 1) === 0,
  );
  if (away.length > 0) return reasons.away(away.map(resourceOf).join(', '));
  switch (link.cause.kind) {
    case 'lot':
      return reasons.lot(stepOf(link.cause.lot));
    case 'hands':
      return reasons.hands(resourceOf(link.cause.resource), stepOf(link.cause.lot));
    case 'machine':
    case 'station':
      return reasons.machine(resourceOf(link.cause.resource), stepOf(link.cause.lot));
    case 'release':
      return reasons.release;
    default:
      return reasons.sitting;
  }
}
