/** What to buy from whom: how much in which packs, how far it has come, and what is missing. */
import type {
  ForecastLoads,
  ForecastOrder,
  ForecastStep,
  ForecastSupplies,
  ForecastSupply,
  Part,
  SupplyState,
} from '../../../model/index.ts';
import type { PartCount } from '../../01-quantities/index.ts';
import { type PlannedStep, unitsOfLot } from '../../02-steps/index.ts';
import type { Planned } from '../../stages/index.ts';
import { costOfPart } from './money.ts';

/**
 * Every part that is bought or sent out, and all other work of suppliers: what must be ordered first, then what is on
 * its way, then what is here. Amounts are in the unit that a part is measured in, else pieces; units of the log are
 * packs of what is measured, else pieces. Last moments and arrivals are those of the orders, what is out is as the
 * steps say. O(parts x steps).
 */
export function suppliesAnswer(
  planned: Planned,
  steps: readonly ForecastStep[],
  orders: readonly ForecastOrder[],
): ForecastSupplies {
  const { plans, quantities } = planned;
  const leads = plans.filter(({ phases }) => phases.some(({ kind }) => kind === 'lead'));
  const outside = [...quantities.parts.values()].filter(({ part }) => part.source !== 'make');
  const firstOf = new Map(outside.map(({ part }) => [part.id, leads.find((plan) => plan.part === part.id)]));
  const taken = new Set([...firstOf.values()].map((plan) => plan?.id));
  const known = (id: string | undefined): Known => ({
    step: steps.find((step) => step.id === id),
    order: orders.find((order) => order.step === id),
  });
  const supplies = [
    ...outside.map((count) => partSupply(planned, count, known(firstOf.get(count.part.id)?.id))),
    ...leads.filter(({ id }) => !taken.has(id)).map((plan) => workSupply(plan, known(plan.id))),
  ];
  return { supplies: supplies.sort(byUrgency), loads: plans.flatMap((plan) => loadsOf(planned, plan)) };
}

/** What the forecast says of the step at which something is ordered. */
interface Known {
  readonly step: ForecastStep | undefined;
  readonly order: ForecastOrder | undefined;
}

function partSupply(planned: Planned, count: PartCount, known: Known): ForecastSupply {
  const { part } = count;
  return {
    id: part.id,
    part: part.id,
    step: known.step?.id ?? null,
    name: part.name,
    supplier: known.order?.supplier ?? part.supplier ?? null,
    kind: part.source === 'buy' ? 'buy' : 'send-out',
    ...amountsOf(count),
    ...progressOf(count.toBuy ?? count.toMake, known),
    cost: costOfPart(planned, count)?.inAll ?? null,
  };
}

function workSupply(plan: PlannedStep, known: Known): ForecastSupply {
  const units = plan.total;
  return {
    id: plan.id,
    part: null,
    step: plan.id,
    name: plan.name,
    supplier: known.order?.supplier ?? null,
    kind: 'send-out',
    ...{ measure: PIECES, need: units, spares: 0, onHand: 0, amount: units, packs: null, units },
    ...progressOf(units, known),
    cost: null,
  };
}

const PIECES = { unit: null, pack: 1, waste: 0 };

type Amounts = Pick<ForecastSupply, 'measure' | 'need' | 'spares' | 'onHand' | 'amount' | 'packs' | 'units'>;

function amountsOf(count: PartCount): Amounts {
  const { part, measure, packs, need, spares, onHand } = count;
  const units = count.toBuy ?? count.toMake;
  if (measure === null)
    return { measure: { ...PIECES, pack: sizeOf(part) }, need, spares, onHand, amount: units, packs, units };
  const { unit, pack, ...amounts } = measure;
  return {
    measure: { unit, pack, waste: part.waste ?? 0 },
    need: amounts.need,
    spares: amounts.spares,
    onHand: amounts.onHand,
    amount: units * pack,
    packs,
    units,
  };
}

/** Pieces in a pack of what is bought. */
function sizeOf({ source, packSize = 1 }: Part): number {
  return source === 'buy' ? packSize : 1;
}

type Progress = Omit<ForecastSupply, keyof Amounts | 'id' | 'part' | 'step' | 'name' | 'supplier' | 'kind' | 'cost'>;

function progressOf(units: number, { step, order }: Known): Progress {
  const moments = { orderBy: null, arrives: null, neededBy: null };
  if (step === undefined || order === undefined) {
    const state = units === 0 ? ('here' as const) : ('nobody' as const);
    return { here: 0, onTheWay: 0, toOrder: units, state, ...moments, orders: [] };
  }
  const orders = step.underWay
    .filter(({ kind }) => kind === 'ordered')
    .map(({ entry, units, since, backAt, promised }) => ({ entry, units, at: since, due: backAt, promised }));
  const here = step.sets.reduce((sum, { counted }) => sum + counted, 0);
  const onTheWay = orders.reduce((sum, { units }) => sum + units, 0);
  const isOpen = step.left > 0 && (order.state === 'to-order' || order.state === 'late');
  const toOrder = isOpen ? order.units : 0;
  const progress = { here, onTheWay, toOrder, orders };
  const state = stateOf(step.left, order, progress);
  if (state === 'here') return { ...progress, state, ...moments };
  // What is overdue is planned as if it came now: `order.arrives` is then later than what its entries say.
  const due = [...orders.map((one) => one.due), order.arrives];
  const orderBy = isOpen ? order.orderBy : null;
  return { ...progress, state, orderBy, arrives: Math.max(...due), neededBy: order.neededBy };
}

function stateOf(
  left: number,
  order: ForecastOrder,
  { here, orders }: Pick<ForecastSupply, 'here' | 'orders'>,
): SupplyState {
  if (left === 0) return 'here';
  if (here > 0) return 'part-here';
  if (orders.length > 0) return orders.every(({ promised }) => promised) ? 'promised' : 'ordered';
  return order.state === 'late' ? 'late' : 'to-order';
}

/** Loads of a machine in all and left; nothing for what no machine does. */
function loadsOf({ work }: Planned, plan: PlannedStep): ForecastLoads[] {
  const { id, name, phases, sets } = plan;
  const run = phases.find((phase) => phase.kind === 'run');
  if (run === undefined) return [];
  const size = unitsOfLot(plan);
  const loads = (units: number): number => Math.ceil(units / size);
  return [
    {
      step: id,
      name,
      machine: work.resources[run.machine]!.id,
      size,
      total: sets.reduce((sum, { total }) => sum + loads(total), 0),
      left: sets.reduce((sum, { left }) => sum + loads(left), 0),
    },
  ];
}

/** What is to be ordered by its last moment, then what is on its way by its arrival, then what is here. */
function byUrgency(a: ForecastSupply, b: ForecastSupply): number {
  return rankOf(a) - rankOf(b) || (a.orderBy ?? a.arrives ?? 0) - (b.orderBy ?? b.arrives ?? 0);
}

function rankOf({ toOrder, state }: ForecastSupply): number {
  if (state === 'here') return 3;
  if (state === 'nobody') return 2;
  return toOrder > 0 ? 0 : 1;
}
