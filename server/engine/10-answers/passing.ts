/** How many units have passed each step over time. */

import type { PlannedStep } from '../02-steps/index.ts';
import { type BuildWork, lotsOfStep, unitsOf } from '../04-lots/index.ts';
import type { DeliveryPlan } from '../numbers/index.ts';
import type { Schedule } from '../types.ts';

/** More lots than these are drawn several at a time. */
const LOTS_DRAWN = 60;

/**
 * By step, the units that its lots pass in a schedule, beginning with what had passed before. Work of hands passes unit
 * by unit over its lot; what runs, waits or travels passes all at once when it is back. Lots in `beyond` could not be
 * placed and never pass. O(lots log lots).
 */
export function passingLines(
  plans: readonly PlannedStep[],
  work: BuildWork,
  schedule: Schedule,
  beyond: ReadonlySet<number> = new Set(),
): DeliveryPlan[] {
  return plans.map((plan, step) => {
    const all = lotsOfStep(work, step);
    const lots = all.filter((lot) => unitsOf(work.lots[lot]!) > 0 && !beyond.has(lot));
    lots.sort((a, b) => schedule.finishes[a]! - schedule.finishes[b]!);
    return lineOf(plan.total - plan.left, lots, work, schedule);
  });
}

function lineOf(passedBefore: number, lots: readonly number[], work: BuildWork, schedule: Schedule): DeliveryPlan {
  const times: number[] = [];
  const units: number[] = [];
  const together = Math.ceil(lots.length / LOTS_DRAWN);
  let passed = passedBefore;
  for (let i = 0; i < lots.length; i += together) {
    const group = lots.slice(i, i + together);
    const finish = schedule.finishes[group.at(-1)!]!;
    const gradual = group.every((lot) => work.lots[lot]!.phases.every((phase) => phase.kind === 'hands'));
    const start = gradual ? Math.min(...group.map((lot) => schedule.starts[lot]!)) : finish - 1;
    times.push(Math.max(start, times.at(-1) ?? start), finish);
    units.push(passed);
    passed += group.reduce((sum, lot) => sum + unitsOf(work.lots[lot]!), 0);
    units.push(passed);
  }
  return { times, units };
}
