/** Units of lots, and the minutes of hands that they still take. */
import type { PlannedStep } from '../02-steps/index.ts';
import type { Lot } from '../types.ts';
import { lotsOfStep } from './lot-run.ts';
import type { BuildWork } from './work.ts';

/**
 * Units of a lot; 0 of a milestone.
 *
 *     unitsOf({ firstUnit: 5, lastUnit: 8 }) // 4
 */
export function unitsOf({ firstUnit, lastUnit }: Lot): number {
  return Math.max(0, lastUnit - firstUnit + 1);
}

/** Minutes of hands that a lot still takes: of everybody who is at it, at a machine too. */
export function handsMinutesOf({ phases }: Pick<Lot, 'phases'>): number {
  return phases.reduce(
    (minutes, phase) => minutes + (phase.kind === 'hands' || phase.kind === 'run' ? phase.minutes * phase.people : 0),
    0,
  );
}

/** The same of several lots. */
export function handsOf(lots: readonly Lot[]): number {
  return lots.reduce((sum, lot) => sum + handsMinutesOf(lot), 0);
}

/**
 * What one unit that is left counts in all steps together, by step: the minutes of everybody's hands that its lots
 * still take, spread over their units. 0 for a step without hands.
 */
export function handsPerUnit(plans: readonly PlannedStep[], work: BuildWork): number[] {
  return plans.map((_, step) => {
    const lots = lotsOfStep(work, step).map((lot) => work.lots[lot]!);
    const units = lots.reduce((sum, lot) => sum + unitsOf(lot), 0);
    return units === 0 ? 0 : handsOf(lots) / units;
  });
}
