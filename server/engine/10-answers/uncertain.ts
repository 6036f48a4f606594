/** What hangs on a parameter that is known only as low, likely and high: counts, orders, and by when to find out. */

import type { Build, ForecastDecision, ForecastOrder, ForecastUncertain } from '../../model/index.ts';
import {
  chosenOf,
  costOf,
  dependentsOf,
  impliedOrderId,
  learntYields,
  type PartCount,
  type Quantities,
  quantitiesOf,
  type Tied,
  tiesOf,
} from '../01-quantities/index.ts';
import { lotsOfStep } from '../04-lots/index.ts';
import { isInstant } from '../calendar/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Instant } from '../types.ts';
import { cornersOf, type Uncertain, uncertainIn } from './corners.ts';
import { lastStartOf } from './last-moments.ts';

/**
 * Every uncertain parameter with the counts at its low and its high (the others at their likely values), what its high
 * takes more of each order, and the last moment to settle it: the earliest of the last moments of the orders whose
 * units it sets, of the lots with units that only some of its values need, and of the first lots of drawings that
 * depend on it. `orders` are those of the same case. O(parameters x size of the build).
 */
export function uncertainAnswer(planned: Planned, orders: readonly ForecastOrder[]): ForecastUncertain[] {
  const uncertain = uncertainIn(planned);
  if (uncertain.length === 0) return [];
  const ties = tiesOf(planned.build);
  return uncertain.map((one) => {
    const reached = dependentsOf(ties, [{ kind: 'parameter', id: one.name }]);
    return uncertainOf(planned, one, reached, orders);
  });
}

/** The orders with what they would need more if all that is not known yet came out so that they need most. */
export function withHighs(planned: Planned, orders: readonly ForecastOrder[]): ForecastOrder[] {
  const corners = cornersOf(uncertainIn(planned)).map((corner) => countedAt(planned, corner));
  if (corners.length === 0) return [...orders];
  return orders.map((order) => {
    const now = order.part === null ? undefined : planned.quantities.parts.get(order.part);
    if (now === undefined) return order;
    const most = Math.max(...corners.map(({ parts }) => unitsOf(parts.get(now.part.id)) ?? 0));
    const more = most - unitsOf(now)!;
    return more > 0 ? { ...order, forHigh: { more, cost: costOfMore(now, more) } } : order;
  });
}

/**
 * The trials that would settle what is not known yet, as questions with their last moments; none that nothing waits
 * for.
 */
export function trialsOf(uncertain: readonly ForecastUncertain[]): ForecastDecision[] {
  return uncertain.flatMap(({ parameter, settleBy, waits }) =>
    settleBy === null
      ? []
      : [
          {
            id: `settle ${parameter}`,
            question: parameter,
            settles: parameter,
            decideBy: settleBy,
            decided: null,
            waits,
          },
        ],
  );
}

function uncertainOf(
  planned: Planned,
  { name, range, parameter }: Uncertain,
  reached: readonly Tied[],
  orders: readonly ForecastOrder[],
): ForecastUncertain {
  const ends = {
    low: countedAt(planned, new Map([[name, range.low]])),
    high: countedAt(planned, new Map([[name, range.high]])),
  };
  const parts = idsOf(reached, 'count').flatMap((id) => {
    const likely = unitsOf(planned.quantities.parts.get(id));
    const [low, high] = [unitsOf(ends.low.parts.get(id)), unitsOf(ends.high.parts.get(id))];
    return likely === null || (low === likely && high === likely) ? [] : [{ part: id, low, likely, high }];
  });
  const counts = new Map(parts.map((part) => [part.part, part]));
  const more = orders.flatMap(({ step, part }) => {
    const count = part === null ? undefined : counts.get(part);
    const units = count === undefined ? 0 : Math.max(count.low ?? 0, count.high ?? 0) - count.likely;
    return units > 0 ? [{ step, more: units, cost: costOfMore(planned.quantities.parts.get(part!)!, units) }] : [];
  });
  const waiting = waitingFor(planned, reached, orders, ends);
  return {
    parameter: name,
    unit: parameter.unit ?? null,
    ...range,
    parts,
    orders: more,
    settleBy: waiting.length === 0 ? null : Math.min(...waiting.map(({ by }) => by)),
    waits: waiting.map(({ step }) => step),
  };
}

interface Ends {
  readonly low: Quantities;
  readonly high: Quantities;
}

interface Waiting {
  readonly step: string;
  readonly by: Instant;
}

/** The steps and orders that wait for a value, each with its own last moment. */
function waitingFor(
  planned: Planned,
  reached: readonly Tied[],
  orders: readonly ForecastOrder[],
  ends: Ends,
): Waiting[] {
  const [units, drawn] = [new Set(idsOf(reached, 'units')), new Set(idsOf(reached, 'work'))];
  const open = new Map(
    orders.filter(({ state }) => state === 'to-order' || state === 'late').map((it) => [it.step, it]),
  );
  return planned.plans.flatMap((plan, index): Waiting[] => {
    const isSet = units.has(plan.id) && fewestOf(planned, plan.id, ends) !== mostOf(planned, plan.id, ends);
    if (!isSet && !drawn.has(plan.id)) return [];
    const order = open.get(plan.id);
    if (plan.kind === 'order' && order === undefined) return [];
    // Units that every value needs wait for none, unless it draws them; an order is placed whole.
    const from = drawn.has(plan.id) || order !== undefined ? 0 : fewestOf(planned, plan.id, ends);
    const lots = lotsOfStep(planned.work, index).filter(
      (lot) => planned.work.lots[lot]!.lastUnit > from && planned.work.lots[lot]!.begunAt === null,
    );
    const moments = [...lots.map((lot) => lastStartOf(planned, lot)), ...(order === undefined ? [] : [order.orderBy])];
    const known = moments.filter(isInstant);
    return known.length === 0 ? [] : [{ step: plan.id, by: Math.min(...known) }];
  });
}

function fewestOf(planned: Planned, step: string, ends: Ends): number {
  return Math.min(...[ends.low, planned.quantities, ends.high].map((at) => stepUnits(planned.build, step, at)));
}

function mostOf(planned: Planned, step: string, ends: Ends): number {
  return Math.max(...[ends.low, planned.quantities, ends.high].map((at) => stepUnits(planned.build, step, at)));
}

/** Units of a step, a gate or an order at other values, before anything of it is counted. */
function stepUnits(build: Build, id: string, { parts, evaluator, setCount }: Quantities): number {
  const ordered = build.parts?.find((part) => impliedOrderId(part) === id);
  const step = build.steps.find((one) => one.id === id);
  const part = step?.part ?? (step === undefined ? ordered?.id : undefined);
  if (part !== undefined) return unitsOf(parts.get(part)) ?? 0;
  const isPerSet = step?.perSet ?? build.gates?.find((gate) => gate.id === id)?.perSet ?? false;
  const own = step?.count === undefined ? 1 : (evaluator.count(step.count, `steps.${id}.count`) ?? 0);
  return own * (isPerSet ? setCount : 1);
}

function countedAt({ asked, tally }: Planned, values: ReadonlyMap<string, number>): Quantities {
  const overrides = new Map([...(asked.overrides ?? []), ...values]);
  const { build } = chosenOf(asked.build, overrides);
  return quantitiesOf(build, overrides, learntYields(build, tally));
}

function unitsOf(count: PartCount | undefined): number | null {
  return count === undefined ? null : (count.toBuy ?? count.toMake);
}

/** What this many more units cost than those that are counted; null where no price is given. */
function costOfMore(count: PartCount, more: number): number | null {
  const units = unitsOf(count)!;
  const [all, now] = [costOf(count.part, units + more), costOf(count.part, units)];
  return all === null || now === null ? null : all - now;
}

function idsOf(reached: readonly Tied[], kind: Tied['kind']): string[] {
  return reached.filter((one) => one.kind === kind).map(({ id }) => id);
}
