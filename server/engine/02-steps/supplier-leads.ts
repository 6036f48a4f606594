/** What deliveries say of a supplier's lead times. */
import type { Build, Range, Step, Supplier } from '../../model/index.ts';
import { hasLead, impliedOrderId } from '../01-quantities/index.ts';
import {
  type LearntLead,
  leadDaysOf,
  type SettingSupplier,
  type Surroundings,
  workingDaysTaken,
} from '../calendar/index.ts';
import type { Tally, TimedEntry } from '../log/index.ts';
import type { Instant } from '../types.ts';

/** How many deliveries a given lead time weighs as (common practice, no source). */
const GIVEN_DELIVERIES = 2;

/**
 * How a supplier's deliveries compare with the lead times given, by supplier: of those of whom the log has an order
 * that is back. Days are the supplier's working days, cut-off and delivery days counted; what comes on the day that the
 * given lead time says took just that. What was ordered of one supplier on one day and came on one day is one delivery.
 * The factor is the mean ratio of days taken to days given, joined with 1 at the weight of GIVEN_DELIVERIES. A lead
 * time of no days says nothing. O(entries).
 *
 * @example 3 days given, one delivery after 7: (2 + 7 / 3) / 3 = 1.44, so the next is expected after 4 days
 */
export function learntLeads(build: Build, surroundings: Surroundings, tally: Tally): ReadonlyMap<string, LearntLead> {
  const ratios = new Map<string, Map<string, number>>();
  for (const { step, supplier: id, lead } of ordersOf(build)) {
    const supplier = surroundings.suppliers.get(id);
    if (supplier === undefined) continue;
    for (const [from, to] of deliveriesOf(step, tally.standing)) {
      const ratio = ratioOf(supplier, leadDaysOf(lead(supplier)), from, to, surroundings.zone);
      if (ratio === null) continue;
      const known = ratios.get(id) ?? new Map<string, number>();
      ratios.set(id, known.set(`${ratio.days} ${ratio.given} ${ratio.orderDay}`, ratio.days / ratio.given));
    }
  }
  return new Map([...ratios].map(([id, taken]) => [id, learntOf([...taken.values()])]));
}

/** The lead time that was given for a step, of its own or of its supplier. */
export function leadOf(step: Step | null, supplier: Supplier): number | Range {
  const shape = step?.phases?.find((phase) => phase.kind === 'lead');
  const own = shape?.days ?? supplier.lead;
  return shape?.express ? (supplier.express?.lead ?? own) : own;
}

function learntOf(ratios: readonly number[]): LearntLead {
  const sum = ratios.reduce((all, ratio) => all + ratio, 0);
  const factor = (GIVEN_DELIVERIES + sum) / (GIVEN_DELIVERIES + ratios.length);
  const [mean, shortest, longest] = [sum / ratios.length, Math.min(...ratios), Math.max(...ratios)];
  return { factor, deliveries: ratios.length, mean, shortest, longest };
}

function ratioOf(
  supplier: SettingSupplier,
  given: number,
  from: Instant,
  to: Instant,
  zone: string,
): { readonly days: number; readonly given: number; readonly orderDay: number } | null {
  const taken = given <= 0 ? null : workingDaysTaken(supplier, given, from, to, zone);
  return taken === null ? null : { ...taken, given };
}

interface OrderStep {
  readonly step: string;
  readonly supplier: string;
  /** As given for this step. */
  readonly lead: (supplier: SettingSupplier) => number | Range;
}

function ordersOf(build: Build): OrderStep[] {
  const implied = (build.parts ?? []).flatMap((part): OrderStep[] =>
    part.source === 'make' || part.supplier === undefined || hasLead(part, build)
      ? []
      : [{ step: impliedOrderId(part), supplier: part.supplier, lead: ({ source }) => source.lead }],
  );
  const typed = build.steps.flatMap((step): OrderStep[] => {
    const shape = step.phases?.find((phase) => phase.kind === 'lead');
    if (shape === undefined) return [];
    return [{ step: step.id, supplier: shape.supplier, lead: ({ source }) => leadOf(step, source) }];
  });
  return [...implied, ...typed];
}

/** Each order of a step with the moment when the last of it was received, the oldest closed first. */
function deliveriesOf(step: string, standing: readonly TimedEntry[]): [from: Instant, to: Instant][] {
  const open: { at: Instant; units: number }[] = [];
  const deliveries: [Instant, Instant][] = [];
  for (const entry of standing) {
    if (entry.step !== step) continue;
    if (entry.kind === 'ordered') open.push({ at: entry.at, units: entry.n ?? 1 });
    if (entry.kind !== 'received') continue;
    for (let left = entry.n ?? 1; left > 0 && open.length > 0; ) {
      const oldest = open[0]!;
      const taken = Math.min(left, oldest.units);
      left -= taken;
      oldest.units -= taken;
      if (oldest.units > 0) break;
      deliveries.push([oldest.at, entry.at]);
      open.shift();
    }
  }
  return deliveries;
}
