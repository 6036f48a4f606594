/** Minutes of hands that a unit of a step takes. */
import type { PlannedStep } from './step.ts';

/** Hands minutes of the next unit that is not done, setups and the fixed part of a lot spread over its units. */
export function nextUnitMinutes(plan: PlannedStep): number {
  const units = unitsOfLot(plan);
  const next = Math.min(Math.max(1, plan.total - plan.left + 1), Math.max(1, plan.total));
  let minutes = plan.setupEachLot ? plan.setupMinutes / units : 0;
  for (const phase of plan.phases) {
    if (phase.kind !== 'hands') continue;
    minutes += phase.fixedMinutes / units + phase.firstUnitMinutes * next ** Math.log2(plan.learningRate);
  }
  return minutes;
}

/** Units of a whole lot: none reaches over the end of a set. */
export function unitsOfLot({ lotSize, sets }: PlannedStep): number {
  return Math.max(1, Math.min(lotSize, Math.max(...sets.map(({ total }) => total), 1)));
}
