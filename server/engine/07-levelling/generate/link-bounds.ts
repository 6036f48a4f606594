/** What the links of a lot let it do no earlier. */
import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';

const { FINISH_FINISH, FINISH_START, FREE, START_START } = codes;

/** No start of the lot before this, by its own bound and its links. */
export function startBound(instance: Instance, lot: number): number {
  const { linkFirst, linkTime, linkLag, times } = instance;
  let bound = instance.earliest[lot]!;
  const end = linkFirst[lot + 1]!;
  for (let i = linkFirst[lot]!; i < end; i++) {
    const time = linkTime[i]!;
    const after = time >= 0 ? times[time]! + linkLag[i]! : linkBound(instance, i);
    if (after > bound) bound = after;
  }
  return bound;
}

/** No start before this, by link i alone; FREE where it does not bind the start. */
export function linkBound(instance: Instance, i: number): number {
  const { linkFrom, linkType, linkLag, linkCalendar, starts, finishes, calendars } = instance;
  const type = linkType[i]!;
  if (type > START_START) return FREE;
  const at = type === FINISH_START ? finishes[linkFrom[i]!]! : starts[linkFrom[i]!]!;
  const calendar = linkCalendar[i]!;
  return calendar < 0 ? at + linkLag[i]! : calendars.add(calendar, at, linkLag[i]!);
}

/** No finish of the lot before this, by its links. */
export function finishBound(instance: Instance, lot: number): number {
  if (instance.startsOnly) return FREE;
  const { linkFirst, linkFrom, linkType, linkLag, linkCalendar, starts, finishes, calendars } = instance;
  let bound = FREE;
  for (let i = linkFirst[lot]!; i < linkFirst[lot + 1]!; i++) {
    const type = linkType[i]!;
    if (type <= START_START) continue;
    const at = type === FINISH_FINISH ? finishes[linkFrom[i]!]! : starts[linkFrom[i]!]!;
    const calendar = linkCalendar[i]!;
    const after = calendar < 0 ? at + linkLag[i]! : calendars.add(calendar, at, linkLag[i]!);
    if (after > bound) bound = after;
  }
  return bound;
}
