/** What a way of a part costs for so many units: its minutes of hands, and money. */
import { type Build, type CostTurn, chosenWay, type Part, type Way } from '../../model/index.ts';
import { costOf, inWholePacks, shareId } from '../01-quantities/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { ceilCount, lotMinutes, unitsToStart } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';
import type { Minutes } from '../types.ts';
import { HOUR_WORTH } from './worth.ts';

/** No turn is looked for at more units than so many times those wanted, nor at more than `MOST_UNITS`. */
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
 * this way alone. Null: what is ordered or goes in has no price.
 */
export function costByWay(part: Part, { way, planned }: PlannedWay, units: number, hourWorth: number): number | null {
  const started = startedBy(part, way, units, planned.quantities.confidence);
  const paid = paidFor(part, way, started);
  const own = ownSteps(planned, part, way).reduce((sum, plan) => sum + batchMinutes(plan, started), 0);
  const inside = onlyInto(planned, part, way).map((one) => insideCost(planned, one, started, hourWorth));
  if (paid === null || inside.includes(null)) return null;
  return inside.reduce<number>((sum, cost) => sum + (cost ?? 0), paid + (own / 60) * hourWorth);
}

/** Units to begin by a way so that so many come out good, at the build's confidence. */
function startedBy(part: Part, way: Way, units: number, confidence: number): number {
  return unitsToStart(units, way.yield ?? part.yield ?? 1, confidence);
}

/** What is paid for so many good ones by a way, without what goes into them; null where a price is missing. */
export function paidForGood(part: Part, way: Way, units: number, confidence: number): number | null {
  return paidFor(part, way, startedBy(part, way, units, confidence));
}

/** What is paid for so many by a way; what is made here costs nothing where no price is given. */
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

/** What goes into a part, and so many of it into one. */
interface Inside {
  readonly part: Part;
  readonly each: number;
}

/** What goes into the part by this way alone, with all that goes into that. */
function onlyInto({ asked, quantities }: Planned, part: Part, way: Way): Inside[] {
  const parts = asked.build.parts ?? [];
  const below = (of: string, each: number, deep: number): Inside[] =>
    deep > parts.length
      ? []
      : parts.flatMap((child) => {
          const uses = quantities.parts.get(child.id)?.usedIn ?? [];
          const count = uses.reduce((sum, use) => sum + (use.part === of ? use.count : 0), 0) * each;
          return count === 0 ? [] : [{ part: child, each: count }, ...below(child.id, count, deep + 1)];
        });
  return parts.flatMap((child) => {
    const isOnly = child.usedIn?.some((use) => use.part === part.id && use.way === way.id) ?? false;
    const uses = quantities.parts.get(child.id)?.usedIn ?? [];
    const into = new Set([part.id, shareId(part, way)]);
    const each = uses.reduce((sum, use) => sum + (into.has(use.part) ? use.count : 0), 0);
    return isOnly && each > 0 ? [{ part: child, each }, ...below(child.id, each, 1)] : [];
  });
}

function insideCost(planned: Planned, { part, each }: Inside, units: number, hourWorth: number): number | null {
  const started = ceilCount(units * each);
  const whole: Way = { id: '', name: part.name, source: part.source };
  const paid = paidFor(part, whole, started);
  if (paid === null) return null;
  const own = planned.plans.filter((plan) => plan.part === part.id);
  return paid + (own.reduce((sum, plan) => sum + batchMinutes(plan, started), 0) / 60) * hourWorth;
}
