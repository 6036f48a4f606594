/** What goes into one unit: the steps that made its parts, for the maker to say what is lost with it. */
import type { StepUnits } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { ceilCount } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';

/**
 * The units of other steps that are in one unit of a step when it has passed there: by the last step of each part that
 * went in at this step or at an earlier one of its route, and of what is in those. Whole numbers, as the parts list
 * says; yields are left out, for what is in a unit was good, and so is what is measured. What is in a step's unit is
 * worked out once, however many ways lead to it. O(steps x feeds between parts).
 *
 * @example a shaft of one rod and 40 cams: [{ step: 'order-rod', units: 1 }, { step: 'clean-cams', units: 40 }]
 */
export function partsFinder(planned: Planned): (plan: PlannedStep) => StepUnits[] {
  const goesIn = feedsOfParts(planned);
  const known = new Map<PlannedStep, ReadonlyMap<string, number>>();
  const within = (plan: PlannedStep): ReadonlyMap<string, number> => {
    const before = known.get(plan);
    if (before !== undefined) return before;
    const found = new Map<string, number>();
    // In a circle of links, which the plan reports, a step is not in itself.
    known.set(plan, NOTHING);
    const passed = passedBefore(planned, plan);
    for (const { to, child, units } of goesIn) if (passed.has(to)) add(found, child, units, within(child));
    known.set(plan, found);
    return found;
  };
  return (plan) => [...within(plan)].map(([step, units]) => ({ step, units }));
}

/** The step and those before it on the route of its part. */
function passedBefore({ plans }: Planned, plan: PlannedStep): ReadonlySet<string> {
  if (plan.part === null) return new Set([plan.id]);
  const route = plans.slice(0, plans.indexOf(plan) + 1).filter(({ part }) => part === plan.part);
  return new Set(route.map(({ id }) => id));
}

const NOTHING: ReadonlyMap<string, number> = new Map();

function add(
  found: Map<string, number>,
  { id }: PlannedStep,
  units: number,
  inEach: ReadonlyMap<string, number>,
): void {
  found.set(id, (found.get(id) ?? 0) + units);
  for (const [step, each] of inEach) found.set(step, (found.get(step) ?? 0) + units * each);
}

/** What the units of another part go into, with how many there are in one. */
function feedsOfParts(planned: Planned): { to: string; child: PlannedStep; units: number }[] {
  const byId = new Map(planned.plans.map((plan) => [plan.id, plan]));
  return planned.feeds.flatMap(({ from, to, type, ratio }) => {
    const [child, parent] = [byId.get(from), byId.get(to)];
    if (type !== 'units' || child === undefined || child.part === null || child.part === parent?.part) return [];
    if (planned.quantities.parts.get(child.part)?.measure != null) return [];
    return [{ to, child, units: ceilCount(countIn(planned, child.part, parent?.part ?? null) ?? ratio) }];
  });
}

/** How many of a part are in one of its parent, by the parts list; null where the list does not say. */
function countIn({ quantities }: Planned, part: string, parent: string | null): number | null {
  return quantities.parts.get(part)?.usedIn.find((use) => use.part === parent)?.count ?? null;
}
