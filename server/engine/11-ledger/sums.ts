/** What the parts of many changes come to. */
import type { LedgerPart, LedgerSum, RoomSince } from '../../model/index.ts';
import { groupedBy } from '../numbers/index.ts';

/** What is read of a row of history. */
interface Booked {
  /** Minutes since the epoch. */
  readonly computedAt: number;
  readonly roomMinutes: number | null;
  readonly parts: readonly LedgerPart[] | null;
}

/**
 * What became of the room over rows of history, from the first of them to a forecast of the room now. What is between
 * the last row and now is time that went by where the forecast is of the same state of the build (`onlyTime`), and not
 * told apart where it is not; nor is what rows without parts changed. Null where there are no rows.
 */
export function roomSince(
  rows: readonly Booked[],
  now: { readonly room: number | null; readonly onlyTime: boolean },
): RoomSince | null {
  const [first, last] = [rows[0], rows.at(-1)];
  if (first === undefined || last === undefined) return null;
  const parts = rows.slice(1).flatMap((row) => row.parts ?? []);
  if (now.onlyTime && now.room !== null && last.roomMinutes !== null) {
    parts.push({ kind: 'time', subject: null, who: null, minutes: now.room - last.roomMinutes });
  }
  const known = first.roomMinutes !== null && now.room !== null;
  const untold = known ? now.room! - first.roomMinutes! - total(parts) : 0;
  return {
    at: first.computedAt,
    roomThen: first.roomMinutes,
    roomNow: now.room,
    sums: known ? sumParts(parts) : [],
    untold,
  };
}

/**
 * The parts by kind, the largest first. Time that went by is set against what was counted in it: the two stand under
 * `time`, as its subjects `counted` and `time` where anything was counted. Left out where they cancel each other. The
 * sums add up to the parts.
 */
export function sumParts(parts: readonly LedgerPart[]): LedgerSum[] {
  const kinds = groupedBy(parts, ({ kind }) => (kind === 'counted' ? 'time' : kind));
  return [...kinds]
    .map(([kind, all]) => ({ kind, minutes: total(all), subjects: kind === 'time' ? bothOf(all) : subjectsOf(all) }))
    .filter(({ kind, minutes, subjects }) => minutes !== 0 || (kind !== 'time' && subjects.length > 0))
    .sort((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes));
}

function subjectsOf(parts: readonly LedgerPart[]): Omit<LedgerPart, 'kind'>[] {
  const named = parts.filter(({ subject }) => subject !== null);
  return [...groupedBy(named, ({ subject, who }) => JSON.stringify([subject, who])).values()]
    .map((same) => ({ subject: same[0]!.subject, who: same[0]!.who, minutes: total(same) }))
    .filter(({ minutes }) => minutes !== 0)
    .sort((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes));
}

function bothOf(parts: readonly LedgerPart[]): LedgerSum['subjects'] {
  const ofCounts = parts.filter(({ kind }) => kind === 'counted');
  if (ofCounts.length === 0) return [];
  const counted = total(ofCounts);
  return [
    { subject: 'counted', who: null, minutes: counted },
    { subject: 'time', who: null, minutes: total(parts) - counted },
  ];
}

function total(parts: readonly Pick<LedgerPart, 'minutes'>[]): number {
  return parts.reduce((sum, { minutes }) => sum + minutes, 0);
}
