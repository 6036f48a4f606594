/** Where the lots of a step begin and end, and which of them has the setup that is made once. */
import type { PinnedUnits, PlannedSet, PlannedStep } from '../02-steps/index.ts';

/** The last unit of the lot that begins with `unit`, in absolute numbers: never past its set or the end of a pin. */
export function lastUnitOfLot(plan: PlannedStep, set: PlannedSet, pins: readonly PinnedUnits[], unit: number): number {
  return Math.min(set.offset + set.total, lastUnitUnpinned(plan, set, unit), lastUnitAlike(pins, unit));
}

/** Whether a lot that begins with this unit is made before anything of its step was counted. */
export function isFirstOfStep({ sets, tally }: PlannedStep, unit: number): boolean {
  return unit === 1 && tally.good === 0 && sets[0]?.done === 0;
}

/**
 * Where a lot that begins with `unit` ends. Work of hands keeps its lots while units are counted, so that what is
 * planned for a lot stays its own and needs no more than before; spares have lots of their own. A plate that must be
 * set up or run is filled.
 */
function lastUnitUnpinned(
  { lotSize, phases, setupEachLot }: PlannedStep,
  { offset, needed }: PlannedSet,
  unit: number,
): number {
  const isFilled = setupEachLot || phases.some((it) => it.kind === 'run' || it.kind === 'lead');
  if (isFilled) return unit + lotSize - 1;
  const last = offset + Math.ceil((unit - offset) / lotSize) * lotSize;
  return unit <= offset + needed ? Math.min(last, offset + needed) : last;
}

/** Lots do not reach across the ends of a pin: the last unit from `unit` on that is pinned as it is. */
function lastUnitAlike(pins: readonly PinnedUnits[], unit: number): number {
  if (pins.length === 0) return Number.POSITIVE_INFINITY;
  const own = pins.find(({ from, to }) => from <= unit && unit <= to);
  if (own !== undefined) return own.to;
  return Math.min(...pins.filter(({ from }) => from > unit).map(({ from }) => from - 1), Number.POSITIVE_INFINITY);
}
