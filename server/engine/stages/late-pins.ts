/** Pinned times that cannot be kept. */
import { type Problem, warning } from '../../model/index.ts';
import { startLink } from '../07-levelling/index.ts';
import { momentLabel, openMinutesBetween } from '../calendar/index.ts';
import type { Planned } from './planned.ts';

/** Pinned times that the schedule cannot keep, each with what stands against it. */
export function latePins(planned: Planned): Problem[] {
  const { work, schedule, beyond } = planned;
  if (schedule === null) return [];
  return work.lots.flatMap((lot, l): Problem[] => {
    const isPinned = lot.pin !== undefined && lot.pinnedStart !== null;
    return isPinned && !beyond.has(l) && schedule.starts[l]! > lot.pinnedStart! ? [latePin(planned, l)] : [];
  });
}

function latePin(planned: Planned, l: number): Problem {
  const { work, plans, setting, schedule } = planned;
  const lot = work.lots[l]!;
  const plan = plans[lot.step]!;
  const when = (instant: number) => momentLabel(instant, setting.zone);
  const units = plan.total > 1 ? ` from unit ${lot.firstUnit} on` : '';
  const says = `"${plan.name}"${units} is pinned to ${when(lot.pinnedStart!)} but can begin ${when(schedule!.starts[l]!)} at the earliest`;
  const message = `${says}: ${reasonOf(planned, l)}. Move the pin, or what stands against it.`;
  return warning('pin', `${lot.pin}.start`, when(lot.pinnedStart!), message);
}

function reasonOf(planned: Planned, l: number): string {
  const { work, plans, schedule } = planned;
  const lot = work.lots[l]!;
  const at = lot.pinnedStart!;
  if (at < work.now) return 'that time has passed, and nothing of it is logged';
  const link = startLink(work, schedule!, l);
  const stepOf = (other: number) => `"${plans[work.lots[other]!.step]!.name}"`;
  const away = (lot.pinnedPeople ?? []).filter(
    (person) => openMinutesBetween(work.resources[person]!.open, at, at + 1) === 0,
  );
  if (away.length > 0) return `${away.map((person) => work.resources[person]!.name).join(', ')} cannot be there then`;
  switch (link.cause.kind) {
    case 'lot':
      return `it waits for ${stepOf(link.cause.lot)}`;
    case 'hands':
      return `${work.resources[link.cause.resource]!.name} is busy with ${stepOf(link.cause.lot)}`;
    case 'machine':
    case 'station':
      return `the ${work.resources[link.cause.resource]!.name} is taken by ${stepOf(link.cause.lot)}`;
    case 'release':
      return 'it may not begin earlier';
    default:
      return 'nobody is free for it in one go before';
  }
}
