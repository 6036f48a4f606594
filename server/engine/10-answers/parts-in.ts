/** What goes into one unit: the steps that made its parts, for the maker to say what is lost with it. */
import type { StepUnits } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { ceilCount } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';

/**
 * How many units of which other steps are in one unit of a step when it has passed there: by the last step of each part
 * that went in at this step or at an earlier one of its route, and of what is in those. Whole numbers, as the parts
 * list says; yields are left out, for what is in a unit was good, and so is what is measured. O(steps x feeds).
 *
 * @example a shaft of one rod and 40 cams: [{ step: 'order-rod', units: 1 }, { step: 'clean-cams', units: 40 }]
 */
export function partsIn(planned: Planned, plan: PlannedStep): StepUnits[] {
  const found = new Map<string, number>();
  gather(planned, plan, 1, found, new Set());
  return [...found].map(([step, units]) => ({ step, units }));
}

function gather(
  planned: Planned,
  plan: PlannedStep,
  times: number,
  found: Map<string, number>,
  above: ReadonlySet<string>,
): void {
  const { plans, feeds } = planned;
  const route = plan.part === null ? [plan] : plans.filter(({ part }) => part === plan.part);
  const passed = new Set(route.slice(0, route.indexOf(plan) + 1).map(({ id }) => id));
  const within = new Set([...above, plan.id]);
  for (const { from, to, type, ratio } of feeds) {
    const child = plans.find(({ id }) => id === from);
    if (!passed.has(to) || type !== 'units' || child === undefined || child.part === null) continue;
    const isMeasured = planned.quantities.parts.get(child.part)?.measure != null;
    if (child.part === plan.part || within.has(child.id) || isMeasured) continue;
    const units = times * ceilCount(countIn(planned, child.part, plan.part) ?? ratio);
    found.set(child.id, (found.get(child.id) ?? 0) + units);
    gather(planned, child, units, found, within);
  }
}

/** How many of a part are in one of its parent, by the parts list; null where the list does not say. */
function countIn({ quantities }: Planned, part: string, parent: string | null): number | null {
  return quantities.parts.get(part)?.usedIn.find((use) => use.part === parent)?.count ?? null;
}
