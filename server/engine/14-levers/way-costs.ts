/** What a way of a part costs for this many units: its minutes of hands, and money. */
import { type Build, type CostTurn, chosenWay, type Part, type Way } from '../../model/index.ts';
import { costOf, inWholePacks, type PartCount, shareId } from '../01-quantities/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { ceilCount, lotMinutes, unitsToStart } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Minutes } from '../types.ts';
import { HOUR_WORTH } from './worth.ts';

/** No turn is looked for at more units than this many times those wanted, nor at more than `MOST_UNITS`. */
const MOST_TIMES = 4;
const LEAST_UNITS = 100;
const MOST_UNITS = 5000;

/**
 * Minutes of hands for `units` of a step from the first on: T = setup + Q x cycle (Groover, "Automation, Production
 * Systems, and Computer-Integrated Manufacturing", batch production; from memory), the setup and what is fixed of a lot
 * as often as the lots of the step ask for it, and with its learning. O(1).
 *
 * @example setup 45, 6 a unit: 105 for 10, 345 for 50, 1845 for 300
 */
export function batchMinutes(plan: PlannedStep, units: number): Minutes {
  if (units <= 0) return 0;
  const lots = plan.counted ? Math.ceil(units / Math.max(1, plan.lotSize)) : 1;
  const hands = plan.phases.filter((phase) => phase.kind === 'hands');
  const setup = (plan.setupEachLot ? lots : 1) * plan.setupMinutes * (hands[0]?.people ?? 0);
  return plan.phases.reduce((sum, phase) => {
    if (phase.kind !== 'hands' && phase.kind !== 'run') return sum;
    const each = phase.kind === 'hands' ? phase.firstUnitMinutes : phase.minutesPerUnit;
    const rate = phase.kind === 'hands' ? plan.learningRate : 1;
    const minutes = lots * phase.fixedMinutes + (each === 0 ? 0 : lotMinutes(each, rate, 1, units));
    return sum + phase.people * minutes;
  }, setup);
}

/** A way with the plan in which the part comes about by it. */
interface PlannedWay {
  readonly way: Way;
  readonly planned: Planned;
}

/**
 * Money and hands for `units` good ones by a way, hands counted at `hourWorth` an hour, with what goes into the part by
 * this way alone and is not on hand. Null: what is ordered or goes in has no price.
 */
export function costByWay(part: Part, { way, planned }: PlannedWay, units: number, hourWorth: number): number | null {
  const started = startedBy(part, way, units, planned.quantities.confidence);
  const paid = paidFor(part, way, started);
  const own = ownSteps(planned, part, way).reduce((sum, plan) => sum + batchMinutes(plan, started), 0);
  return sumKnown([paid, (own / 60) * hourWorth, insideCost(planned, part, way, started, hourWorth)]);
}

/** Units to begin by a way so that this many come out good, at the build's confidence. */
function startedBy(part: Part, way: Way, units: number, confidence: number): number {
  return unitsToStart(units, way.yield ?? part.yield ?? 1, confidence);
}

/** What is paid for this many good ones by a way, without what goes into them; null where a price is missing. */
export function paidForGood(part: Part, way: Way, units: number, confidence: number): number | null {
  return paidFor(part, way, startedBy(part, way, units, confidence));
}

/** What is paid for this many by a way; what is made here costs nothing where no price is given. */
function paidFor(part: Part, way: Way, units: number): number | null {
  const priced = { ...part, ...way };
  return costOf(priced, inWholePacks(priced, units)) ?? (way.source === 'make' ? 0 : null);
}

/**
 * From which quantity on another of two ways costs less, and stays so up to the most that is looked at. Each quantity
 * is worked out, since setups of lots and packs make steps. Null where a price is missing.
 */
export function costTurnOf(
  part: Part,
  one: PlannedWay,
  other: PlannedWay,
  { wanted, build }: { readonly wanted: number; readonly build: Build },
): CostTurn | null {
  const hourWorth = build.hourWorth ?? HOUR_WORTH;
  const upTo = Math.min(MOST_UNITS, Math.max(LEAST_UNITS, MOST_TIMES * wanted));
  const differs = (units: number): number | null => {
    const costs = [one, other].map((it) => costByWay(part, it, units, hourWorth));
    return costs.includes(null) ? null : costs[1]! - costs[0]!;
  };
  const atMost = differs(upTo);
  if (atMost === null) return null;
  const [few, many] = atMost <= 0 ? [one, other] : [other, one];
  const isCheaper = (units: number) => (atMost <= 0 ? differs(units)! <= 0 : differs(units)! >= 0);
  let from = upTo;
  while (from > 1 && isCheaper(from - 1)) from--;
  return { few: few.way.id, many: many.way.id, from, upTo, hourWorth };
}

/** The steps and the order by which a part comes about this way, in a plan where it does. */
export function ownSteps({ asked, plans }: Planned, part: Part, way: Way): PlannedStep[] {
  const named = new Set(
    asked.build.steps.flatMap((step) => (step.part === part.id && step.way === way.id ? step.id : [])),
  );
  // The order of the part itself is that of the way chosen; each other way has one of its own.
  const chosen = chosenWay(asked.build.parts?.find(({ id }) => id === part.id) ?? part);
  const orders = new Set([shareId(part, way), ...(chosen?.id === way.id ? [part.id] : [])]);
  const isOrder = ({ kind, part: of }: PlannedStep) =>
    way.source !== 'make' && kind === 'order' && orders.has(of ?? '');
  return plans.filter((plan) => named.has(plan.id) || isOrder(plan));
}

/**
 * What is still to be paid for what goes into the part by this way alone, with all that goes into that; null where a
 * price is missing.
 */
function insideCost(planned: Planned, part: Part, way: Way, units: number, hourWorth: number): number | null {
  const isOnly = ({ usedIn = [] }: Part) => usedIn.some((use) => use.part === part.id && use.way === way.id);
  const children = (planned.asked.build.parts ?? []).filter(isOnly);
  const into = [part.id, shareId(part, way)];
  return sumKnown(children.map((child) => childCost(planned, { child, into, units, deep: 1 }, hourWorth)));
}

/** What goes into units of a part, known by these ids, at a depth of the parts list. */
interface Inside {
  readonly child: Part;
  readonly into: readonly string[];
  readonly units: number;
  readonly deep: number;
}

function childCost(planned: Planned, { child, into, units, deep }: Inside, hourWorth: number): number | null {
  const { asked, plans, quantities } = planned;
  const parts = asked.build.parts ?? [];
  const count = quantities.parts.get(child.id);
  const each = eachInto(count, into);
  if (count === undefined || each === 0 || deep > parts.length) return 0;
  const begun = Math.max(0, ceilCount(units * each - freeStock(planned, count, into)));
  const paid = begun === 0 ? 0 : paidFor(child, { id: '', name: child.name, source: child.source }, begun);
  const own = plans.filter((plan) => plan.part === child.id);
  const hands = own.reduce((sum, plan) => sum + batchMinutes(plan, begun), 0);
  const below = parts.map((one) =>
    childCost(planned, { child: one, into: [child.id], units: begun, deep: deep + 1 }, hourWorth),
  );
  return sumKnown([paid, (hands / 60) * hourWorth, ...below]);
}

/** What nothing else needs of what is on hand, in the units that are counted. */
function freeStock({ quantities }: Planned, count: PartCount, into: readonly string[]): number {
  const here = into.reduce((sum, id) => sum + eachInto(count, [id]) * (quantities.parts.get(id)?.fedFor ?? 0), 0);
  const elsewhere = Math.max(0, count.need + count.spares - here);
  return Math.max(0, count.onHand - elsewhere);
}

function eachInto(count: PartCount | undefined, into: readonly string[]): number {
  return (count?.usedIn ?? []).reduce((sum, use) => sum + (into.includes(use.part) ? use.count : 0), 0);
}

function sumKnown(costs: readonly (number | null)[]): number | null {
  return costs.reduce((sum, cost) => (sum === null || cost === null ? null : sum + cost), 0);
}
