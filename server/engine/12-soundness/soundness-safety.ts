/** Does somebody competent sign for what can hurt the public? */
import type { UnsignedStep } from '../../model/index.ts';
import { type Hazard, SIGNED_HAZARDS } from '../../model/step.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import type { Planned } from '../stages/index.ts';
import { type Check, countCheck } from './soundness-parts.ts';

/**
 * What hangs above people, and mains, need a competent person by name and a gate after the step at which that person
 * signs (common practice, no source; the law of the place and the venue decide who is competent). A gate signs for the
 * steps that it comes after at once; where it names such hazards of its own, for these alone, and for all steps behind
 * it that carry them.
 */
const unsigned: Check = ({ planned }) => {
  if (planned.plans.every(({ left }) => left === 0)) return null;
  const asked = planned.plans.flatMap((plan) =>
    plan.kind === 'gate' ? [] : signedHazards(plan).map((hazard) => ({ plan, hazard })),
  );
  if (asked.length === 0) return null;
  const gates = signingGates(planned);
  const open = asked.flatMap(({ plan, hazard }): UnsignedStep[] => {
    const own = gates.filter((gate) => signsFor(gate, plan.id, hazard));
    if (own.some((gate) => gate.plan.gate!.signedBy !== undefined)) return [];
    return [{ step: plan.id, hazard, gate: own[0]?.plan.id ?? null }];
  });
  return countCheck({
    code: 'unsigned',
    value: open.length,
    of: asked.length,
    steps: [...new Set(open.map(({ step }) => step))],
    values: { open },
  });
};

/** The checks of safety. */
export const SAFETY_CHECKS: readonly Check[] = [unsigned];

/** A gate with the steps that it comes after at once, and all that lead to it. */
export interface SigningGate {
  readonly plan: PlannedStep;
  readonly direct: ReadonlySet<string>;
  readonly behind: ReadonlySet<string>;
}

/** The gates of a planned build. O(gates x feeds). */
export function signingGates(planned: Planned): SigningGate[] {
  return planned.plans
    .filter(({ gate }) => gate !== null)
    .map((plan) => ({ plan, direct: new Set(plan.gate!.after), behind: stepsBehind(planned, plan.id) }));
}

function signsFor({ plan, direct, behind }: SigningGate, step: string, hazard: Hazard): boolean {
  const named = signedHazards(plan);
  return named.length === 0 ? direct.has(step) : named.includes(hazard) && behind.has(step);
}

function signedHazards({ hazards }: PlannedStep): readonly Hazard[] {
  return SIGNED_HAZARDS.filter((hazard) => hazards.includes(hazard));
}

/** All that leads to a step or gate, over any number of feeds. */
function stepsBehind({ feeds }: Planned, id: string): Set<string> {
  const behind = new Set<string>();
  const next = [id];
  while (next.length > 0) {
    const to = next.pop()!;
    for (const { from } of feeds.filter((feed) => feed.to === to)) {
      if (behind.has(from)) continue;
      behind.add(from);
      next.push(from);
    }
  }
  return behind;
}
