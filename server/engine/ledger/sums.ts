/** What the parts of many changes come to. */
import type { LedgerKind, LedgerPart } from '../../model/index.ts';
import { groupedBy } from './group.ts';

/** All of one kind, with what it was about, the largest first. */
export interface LedgerSum {
  readonly kind: LedgerKind;
  readonly minutes: number;
  readonly subjects: readonly Omit<LedgerPart, 'kind'>[];
}

/**
 * The parts by kind, the largest first. Time that went by is set against what was counted in it: the two stand under `time`,
 * what is left being time with nothing counted where negative, and work ahead of the clock where positive. The sums
 * add up to the parts.
 */
export function sumParts(parts: readonly LedgerPart[]): LedgerSum[] {
  const kinds = groupedBy(parts, ({ kind }) => (kind === 'counted' ? 'time' : kind));
  return [...kinds]
    .map(([kind, all]) => ({ kind, minutes: total(all), subjects: subjectsOf(all) }))
    .filter(({ minutes, subjects }) => minutes !== 0 || subjects.length > 0)
    .sort((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes));
}

function subjectsOf(parts: readonly LedgerPart[]): Omit<LedgerPart, 'kind'>[] {
  const named = parts.filter(({ kind, subject }) => subject !== null && kind !== 'counted');
  return [...groupedBy(named, ({ subject, who }) => JSON.stringify([subject, who])).values()]
    .map((same) => ({ subject: same[0]!.subject, who: same[0]!.who, minutes: total(same) }))
    .filter(({ minutes }) => minutes !== 0)
    .sort((a, b) => Math.abs(b.minutes) - Math.abs(a.minutes));
}

function total(parts: readonly Pick<LedgerPart, 'minutes'>[]): number {
  return parts.reduce((sum, { minutes }) => sum + minutes, 0);
}
