/** Levers of machines, orders, counts and proofs. */
import { type Change, chosenWay, type LeverCost, type Part, type Supplier, type Way } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import type { Planned } from '../stages/index.ts';
import { FREE, type Proposed, proposed, setField } from './proposed.ts';
import { paidForGood } from './way-costs.ts';
import { switchTo } from './way-switch.ts';

/** One more of each machine that there is work for. */
export function machineLevers({ asked: { build }, plans, surroundings }: Planned): Proposed[] {
  return (build.machines ?? []).flatMap((machine) => {
    const resource = surroundings.machines.get(machine.id)?.resource;
    const eases = plans.flatMap(({ id, left, phases }) =>
      left > 0 && phases.some((phase) => phase.kind === 'run' && phase.machine === resource) ? [id] : [],
    );
    if (eases.length === 0) return [];
    const count = (machine.count ?? 1) + 1;
    const values = { machine: machine.name, count };
    const cost = { money: machine.price ?? null, handsMinutes: 0 };
    return [
      proposed('one-more-machine', values, [setField('machines', machine.id, 'count', count)], cost, eases, true),
    ];
  });
}

/** What is still to be ordered, by express where the supplier has one that is quicker. */
export function expressLevers(planned: Planned): Proposed[] {
  const { asked, plans, work, surroundings, quantities } = planned;
  return plans.flatMap((plan, index) => {
    const lead = plan.phases.find((phase) => phase.kind === 'lead');
    const supplier = lead === undefined ? undefined : surroundings.suppliers.get(lead.supplier);
    const isOpen = work.runs[index]!.some((run) => run.lots.some((lot) => work.lots[lot]!.begunAt === null));
    if (lead === undefined || supplier === undefined || !isOpen) return [];
    if (supplier.expressDays === null || supplier.expressDays >= lead.workingDays) return [];
    const part = plan.part === null ? undefined : quantities.parts.get(plan.part)?.part;
    const typed = asked.build.parts?.find(({ id }) => id === part?.id);
    if (plan.step === null && typed === undefined) return [];
    const cost = { money: supplier.source.express?.extraCost ?? null, handsMinutes: 0 };
    const values = { name: part?.name ?? plan.name, supplier: supplier.name };
    return [proposed('express', values, [byExpress(plan, typed, supplier.source)], cost, [plan.id], true)];
  });
}

/** An order that nobody has typed becomes a step of the same id, which can say how it is sent. */
function byExpress(
  { id, name, step, phases }: PlannedStep,
  part: Part | undefined,
  { id: supplier }: Supplier,
): Change {
  if (step !== null) {
    const sent = step.phases!.map((phase) => (phase.kind === 'lead' ? { ...phase, express: true } : phase));
    return setField('steps', id, 'phases', sent);
  }
  const hands = phases.flatMap((phase) =>
    phase.kind === 'hands' ? [{ kind: 'hands', minutes: phase.fixedMinutes }] : [],
  );
  const sent = [...hands, { kind: 'lead', supplier, express: true }];
  const origin = 'supplier';
  return {
    kind: 'put',
    list: 'steps',
    key: id,
    thing: { id, name, part: part?.id, phases: sent, origin },
    after: null,
  };
}

/** Each part by each of its other ways, as far as it is not begun by the present one. */
export function wayLevers(planned: Planned): Proposed[] {
  const { asked, plans } = planned;
  return (asked.build.parts ?? []).flatMap((part) => {
    const chosen = chosenWay(part);
    if (chosen === null) return [];
    const eases = plans.map(({ id }) => id);
    return part.ways!.flatMap((way) => {
      const { changes, units } = switchTo(planned, part, way);
      if (way.id === chosen.id || units === 0) return [];
      const values = { name: part.name, from: chosen.name, to: way.name };
      return [proposed('other-way', values, changes, costOfWay(planned, part, [chosen, way], units), eases, false)];
    });
  });
}

/** What the second way costs more than the first for this many good units; not known where one has no price. */
function costOfWay({ quantities }: Planned, part: Part, ways: readonly [Way, Way], units: number): LeverCost {
  const [was, is] = ways.map((way) => paidForGood(part, way, units, quantities.confidence));
  return { money: was === null || is === null ? null : is! - was!, handsMinutes: 0 };
}

/** Fewer of what the maker has said may be fewer: the least, and half-way there. */
export function fewerLevers({ asked: { build }, plans }: Planned): Proposed[] {
  const parameters = (build.parameters ?? []).flatMap(({ name, value, atLeast }) =>
    value === undefined || atLeast === undefined
      ? []
      : [{ list: 'parameters' as const, key: name, name, field: 'value', value, atLeast }],
  );
  const parts = (build.parts ?? []).flatMap(({ id, name, count, atLeast }) =>
    typeof count !== 'number' || atLeast === undefined
      ? []
      : [{ list: 'parts' as const, key: id, name, field: 'count', value: count, atLeast }],
  );
  return [...parameters, ...parts].flatMap(({ list, key, name, field, value, atLeast }) => {
    const isWhole = Number.isInteger(value) && Number.isInteger(atLeast);
    const half = isWhole ? Math.ceil((value + atLeast) / 2) : (value + atLeast) / 2;
    const eases = plans.map(({ id }) => id);
    return [...new Set([half, atLeast])]
      .filter((to) => to < value)
      .map((to) => proposed('fewer', { name, from: value, to }, [setField(list, key, field, to)], FREE, eases, false));
  });
}

/** Each gate by sets with its proof the other way round, as long as its first set has not passed. */
export function proofLevers({ asked: { build }, plans, quantities }: Planned): Proposed[] {
  return (build.gates ?? []).flatMap((gate) => {
    const plan = plans.find(({ id }) => id === gate.id);
    if (gate.perSet !== true || quantities.setCount < 2 || plan === undefined) return [];
    if (plan.sets.length < 2 || plan.sets[0]!.left === 0) return [];
    const heldBack = gate.holds ?? gate.before ?? [];
    if (heldBack.length === 0) return [];
    const eases = [gate.id, ...gate.after, ...heldBack];
    const code = gate.proveFirst === true ? 'prove-along' : 'prove-first';
    const value = gate.proveFirst === true ? undefined : true;
    return [proposed(code, { gate: gate.name }, [setField('gates', gate.id, 'proveFirst', value)], FREE, eases, false)];
  });
}
