/** What a build must say before it can have a date: a plan that leaves work out would promise a date that is none. */
import { type Missing, MOST_SCHEDULED_LOTS, type Problem } from '../../model/index.ts';
import type { Quantities } from '../01-quantities/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import type { Lot as WorkLot } from '../types.ts';

/**
 * What is missing: made parts that no step works on, steps for which nobody has said how long they take (a nought that
 * is typed is said), steps that nobody here may do or has hours for, and fewer lots than there are, where these are too
 * many to plan. None once nothing is left to do. O(parts + steps + lots + problems).
 */
export function missingOf(
  plans: readonly PlannedStep[],
  quantities: Quantities,
  problems: readonly Problem[],
  lots: readonly Pick<WorkLot, 'step'>[],
): readonly Missing[] {
  if (plans.length > 0 && plans.every(({ neededLeft }) => neededLeft === 0)) return [];
  return [
    ...withoutStep(plans, quantities),
    ...withoutTime(plans),
    ...withoutHands(plans, problems),
    ...tooManyLots(plans, lots),
  ];
}

function withoutStep(plans: readonly PlannedStep[], { parts }: Quantities): Missing[] {
  const worked = new Set(plans.map(({ part }) => part));
  const bare = [...parts.values()].filter(
    ({ part, toMake }) => part.source === 'make' && toMake > 0 && !worked.has(part.id),
  );
  if (bare.length === 0) return [];
  return [
    { code: 'no-step', parts: bare.map(({ part, toMake }) => ({ part: part.id, name: part.name, units: toMake })) },
  ];
}

function withoutTime(plans: readonly PlannedStep[]): Missing[] {
  const bare = plans.filter((plan) => plan.kind === 'step' && plan.left > 0 && !saysHowLong(plan));
  return bare.length === 0 ? [] : [{ code: 'no-time', steps: bare.map(({ id }) => id) }];
}

function saysHowLong({ step, setupMinutes }: PlannedStep): boolean {
  if (step === null || step.takes !== undefined || setupMinutes > 0) return true;
  return (step.phases ?? []).some(
    (phase) =>
      phase.kind === 'lead' || phase.minutes !== undefined || ('perUnit' in phase && phase.perUnit !== undefined),
  );
}

function withoutHands(plans: readonly PlannedStep[], problems: readonly Problem[]): Missing[] {
  const nobody = problems.filter(({ code, severity }) => code === 'nobody' && severity === 'error');
  const fields = new Set(nobody.map(({ field }) => field.split('.')[1]));
  const bare = plans.filter(({ id, left }) => left > 0 && fields.has(id));
  return bare.length === 0 ? [] : [{ code: 'nobody', steps: bare.map(({ id }) => id) }];
}

function tooManyLots(plans: readonly PlannedStep[], lots: readonly Pick<WorkLot, 'step'>[]): Missing[] {
  if (lots.length <= MOST_SCHEDULED_LOTS) return [];
  const byStep = plans.map(() => 0);
  for (const { step } of lots) byStep[step]! += 1;
  const largest = byStep.indexOf(byStep.reduce((most, one) => Math.max(most, one), 0));
  const { id: step, lotSize } = plans[largest]!;
  const [lotsOfStep, most] = [byStep[largest]!, MOST_SCHEDULED_LOTS];
  return [{ code: 'too-many-lots', lots: lots.length, most, step, lotsOfStep, lotSize }];
}
