/** Whether a changed plan asks for less than is made. */
import type { Planned } from '../stages/index.ts';

/** Units of a step that are made already, where a plan asks for fewer of it and the present one does not. */
export function madeBeyond(present: Planned, { plans }: Planned): number | null {
  const before = new Map(present.plans.map((plan) => [plan.id, plan]));
  const beyond = plans.filter((plan) => {
    const was = before.get(plan.id);
    return plan.counted && plan.tally.good > plan.total && was !== undefined && was.tally.good <= was.total;
  });
  return beyond.length === 0 ? null : Math.max(...beyond.map(({ tally }) => tally.good));
}
