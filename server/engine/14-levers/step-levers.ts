/** Levers of single steps: lots, what may be left out, who does it. */
import { ALONE_HAZARDS, type Person, type PhaseShape, referencesTo, type Step } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import type { Planned } from '../stages/index.ts';
import { FREE, type Proposed, proposed, setField } from './proposed.ts';

/** A single job is split between two only where it takes at least so long. */
const LEAST_SPLIT_MINUTES = 60;

/** What could be changed about the steps that are not done. */
export function stepLevers(planned: Planned): Proposed[] {
  return planned.plans.flatMap((plan) => {
    if (plan.kind !== 'step' || plan.step === null || plan.left === 0) return [];
    const step = plan.step;
    return [
      ...lotLevers(plan, step),
      ...leftOut(planned, plan, step),
      ...workers(planned, plan, step),
      ...together(planned, plan, step),
      ...mayToo(planned, plan),
    ];
  });
}

/** Half the lot, of one that nobody has sized a quarter too; twice the lot where nothing says that it would not fit. */
function lotLevers({ id, sets, lotSize, isLotAssumed, phases }: PlannedStep, step: Step): Proposed[] {
  if (step.lotSize !== undefined && typeof step.lotSize !== 'number') return [];
  const most = Math.max(...sets.map(({ left }) => left));
  const now = Math.min(lotSize, most);
  const perUnit = phases.every((phase) => phase.kind === 'hands' && phase.fixedMinutes === 0 && !phase.oneGo);
  const shares = isLotAssumed ? [0.5, 0.25] : [0.5];
  const smaller = shares.map((share) => Math.ceil(now * share)).filter((size) => size < now);
  const larger = (isLotAssumed || perUnit) && lotSize < most ? [Math.min(most, 2 * lotSize)] : [];
  const lever = (code: 'smaller-lots' | 'larger-lots', to: number) => {
    const values = { step: step.name, from: lotSize, to, isAssumed: isLotAssumed };
    return proposed(code, values, [setField('steps', id, 'lotSize', to)], FREE, [id], false);
  };
  return [
    ...[...new Set(smaller)].map((size) => lever('smaller-lots', size)),
    ...larger.map((size) => lever('larger-lots', size)),
  ];
}

/** A step that may be left out, is not begun, and that nothing but the steps after it names. */
function leftOut({ asked: { build } }: Planned, { id, tally }: PlannedStep, step: Step): Proposed[] {
  if (step.mayDrop !== true || tally.good > 0 || tally.starts.length > 0 || (step.uses ?? []).length > 0) return [];
  const references = referencesTo(build, 'steps', id);
  if (references.some(({ list, field }) => list !== 'steps' || field !== 'after')) return [];
  const before = step.after ?? stepBefore(build.steps, id);
  const relinked = references.map(({ key }) => {
    const others = build.steps.find((one) => one.id === key)!.after!.filter((it) => nameOf(it) !== id);
    const known = new Set(others.map(nameOf));
    const after = [...others, ...before.filter((it) => !known.has(nameOf(it)))];
    return setField('steps', key, 'after', after.length === 0 ? undefined : after);
  });
  const remove = { kind: 'remove' as const, list: 'steps' as const, key: id };
  return [proposed('left-out', { step: step.name }, [remove, ...relinked], FREE, [id], false)];
}

function nameOf(after: string | { readonly step: string }): string {
  return typeof after === 'string' ? after : after.step;
}

function stepBefore(steps: readonly Step[], id: string): string[] {
  const at = steps.findIndex((step) => step.id === id);
  const { part: own } = steps[at]!;
  const before = steps.slice(0, at).filter(({ part }) => part !== undefined && part === own);
  return before.slice(-1).map(({ id }) => id);
}

/** What one person alone does could be done by another, or by both. */
function workers(planned: Planned, plan: PlannedStep, step: Step): Proposed[] {
  const own = onlyOne(step);
  const from = planned.asked.build.people?.find(({ id }) => id === own);
  if (own === null || from === undefined) return [];
  const others = (planned.asked.build.people ?? []).filter((person) => person.id !== own && may(person, step));
  return others.flatMap((to) => {
    const shared = changesOf(step, [own, to.id]);
    const values = { step: step.name, how: 'either' as const, people: [from.name, to.name] };
    const split = plan.left > 1 ? [proposed('split-step', values, shared, FREE, [plan.id], true)] : [];
    const other = { step: step.name, from: from.name, to: to.name };
    return [...split, proposed('other-worker', other, changesOf(step, [to.id]), FREE, [plan.id], false)];
  });
}

/** The one person whom all the hands of a step are asked of. */
function onlyOne({ pinnedTo, phases = [] }: Step): string | null {
  const asked = phases.flatMap((phase) => ('who' in phase && phase.who !== undefined ? [phase.who] : []));
  const all = [...(pinnedTo === undefined ? [] : [pinnedTo]), ...asked];
  const names = new Set(all.flat());
  return all.length > 0 && names.size === 1 ? [...names][0]! : null;
}

function may({ can }: Person, { id, skill }: Step): boolean {
  return can === undefined || can.includes(id) || (skill !== undefined && can.includes(skill));
}

function changesOf(step: Step, people: readonly string[]) {
  const phases = step.phases?.map((phase) =>
    'who' in phase && phase.who !== undefined ? { ...phase, who: people } : phase,
  );
  return [
    ...(step.pinnedTo === undefined ? [] : [setField('steps', step.id, 'pinnedTo', people)]),
    ...(step.phases?.some((phase) => 'who' in phase && phase.who !== undefined)
      ? [setField('steps', step.id, 'phases', phases)]
      : []),
  ];
}

/** A long single job for one pair of hands, done by two in half the time: whether it can be, its maker knows. */
function together({ surroundings }: Planned, plan: PlannedStep, step: Step): Proposed[] {
  if (plan.counted || plan.phases.length !== 1 || step.phases?.length !== 1) return [];
  const [phase] = plan.phases;
  const shape = step.phases[0]!;
  if (phase?.kind !== 'hands' || shape.kind !== 'hands' || phase.people !== 1 || phase.eligible.length < 2) return [];
  if (phase.estimate !== null || phase.fixedMinutes < LEAST_SPLIT_MINUTES) return [];
  const phases: PhaseShape[] = [{ ...shape, people: 2, minutes: Math.ceil(phase.fixedMinutes / 2) }];
  const people = [...surroundings.people.values()].filter(({ resource }) => phase.eligible.includes(resource));
  const values = { step: step.name, how: 'together' as const, people: people.map(({ name }) => name) };
  return [proposed('split-step', values, [setField('steps', step.id, 'phases', phases)], FREE, [plan.id], false)];
}

/** Somebody whose list leaves the step out, though it is neither dangerous nor a matter of skill. */
function mayToo({ asked: { build } }: Planned, plan: PlannedStep): Proposed[] {
  const { step, hazards } = plan;
  if (step === null || step.skill !== undefined || onlyOne(step) !== null) return [];
  if (hazards.some((hazard) => ALONE_HAZARDS.includes(hazard))) return [];
  if (!plan.phases.some((phase) => phase.kind === 'hands')) return [];
  return (build.people ?? []).flatMap((person) => {
    if (person.can === undefined || person.can.includes(step.id)) return [];
    const change = setField('people', person.id, 'can', [...person.can, step.id]);
    return [proposed('may-too', { step: step.name, person: person.name }, [change], FREE, [step.id], true)];
  });
}
