/** How long suppliers take: for what is still to be ordered, and for what is on its way. */

import type { Range } from '../../../model/index.ts';
import type { PlannedStep } from '../../02-steps/index.ts';
import { leadOf } from '../../02-steps/index.ts';
import { lotsOfStep } from '../../04-lots/index.ts';
import { arrivalOf, type LearntLead } from '../../calendar/index.ts';
import type { Remaining } from '../../stages/index.ts';
import type { ArrivalTable, Lot } from '../../types.ts';
import type { OtherDraw } from '../futures.ts';
import { threePointSampler } from '../samplers.ts';
import { keyOf } from '../streams.ts';
import type { Context } from './context.ts';

/** A lead time that varies, in working days, with when what is ordered arrives by each number of them. */
interface LeadRange {
  readonly range: Range;
  /** The chances of floor(low), floor(low) + 1 … working days. */
  readonly tables: readonly ArrivalTable[];
}

/** By step, the lead times that vary. */
export function leadRanges({ plans, surroundings }: Remaining): Map<number, LeadRange> {
  const ranges = new Map<number, LeadRange>();
  plans.forEach((plan, step) => {
    const lead = plan.phases.find((phase) => phase.kind === 'lead');
    const supplier = lead === undefined ? undefined : surroundings.suppliers.get(lead.supplier);
    if (supplier === undefined) return;
    const range = learntRange(leadRangeOf(leadOf(plan.step, supplier.source)), supplier.learnt);
    if (range === null || !(range.low >= 0 && range.low <= range.likely && range.likely <= range.high)) return;
    const first = Math.floor(range.low);
    const tables = Array.from({ length: Math.min(60, Math.ceil(range.high) - first + 1) }, (_, i) =>
      supplier.arrivals(first + i),
    );
    ranges.set(step, { range, tables });
  });
  return ranges;
}

/**
 * A lead time given as one number is taken as likely: never less than four fifths of it (rounded down, a day at least),
 * half as much again where it is late (rounded up). Common practice, no source. Example: 4 is 3 to 6, 1 is 1 to 2. Null
 * for what takes no time.
 */
export function leadRangeOf(lead: number | Range): Range | null {
  if (typeof lead !== 'number') return lead;
  return lead <= 0 ? null : { low: Math.max(1, Math.floor(0.8 * lead)), likely: lead, high: Math.ceil(1.5 * lead) };
}

/** The range in the days that deliveries have taken, and no narrower than they were. */
function learntRange(range: Range | null, learnt: LearntLead | null): Range | null {
  if (range === null || learnt === null) return range;
  const { factor, shortest, longest } = learnt;
  const likely = Math.round(range.likely * factor);
  return {
    low: Math.min(likely, Math.floor(range.low * factor), Math.round(range.likely * shortest)),
    likely,
    high: Math.max(likely, Math.ceil(range.high * factor), Math.round(range.likely * longest)),
  };
}

/** A draw for each lot of a step that is ordered, or whose order is out; none where its lead time does not vary. */
export function leadDraws(
  { planned, phaseFirst, phaseTable }: Context,
  step: number,
  lead: LeadRange | undefined,
): OtherDraw[] {
  if (lead === undefined) return [];
  const plan = planned.plans[step]!;
  const sampler = threePointSampler(lead.range);
  const first = Math.floor(lead.range.low);
  const pick = (p: number) => Math.min(lead.tables.length - 1, Math.max(0, Math.round(sampler(p)) - first));
  return lotsOfStep(planned.work, step).flatMap((index): OtherDraw[] => {
    const lot = planned.work.lots[index]!;
    const key = keyOf(`${lot.id} lead`);
    if (lot.begunAt !== null) return underWayDraw(lot, plan, phaseFirst[index]!, step, key, planned, lead, pick);
    const at = lot.phases.findIndex((phase) => phase.kind === 'lead');
    if (at < 0) return [];
    const p = phaseFirst[index]! + at;
    const own = phaseTable[p]!;
    return [
      {
        step,
        key,
        draw: (stream) => {
          const chosen = pick(stream.unit());
          phaseTable[p] = own + 1 + chosen;
          return Math.round((first + chosen - lead.range.likely) * 1440);
        },
        reset: () => {
          phaseTable[p] = own;
        },
      },
    ];
  });
}

/** An order that is out and that nobody has promised: it may take as long as any, but is not back before now. */
function underWayDraw(
  lot: Lot,
  plan: PlannedStep,
  phase: number,
  step: number,
  key: number,
  { surroundings }: Remaining,
  lead: LeadRange,
  pick: (p: number) => number,
): OtherDraw[] {
  const begun = lot.begunAt!;
  const start = plan.tally.starts.find(
    ({ at, kind }) => kind === 'ordered' && Math.min(at, surroundings.now) === begun,
  );
  if (start === undefined || start.promisedAt !== null || lot.phases[0]?.kind !== 'wait') return [];
  const planned = lot.phases[0].minutes;
  return [
    {
      step,
      key,
      draw: (stream, minutes) => {
        const back = Math.max(surroundings.now, arrivalOf(lead.tables[pick(stream.unit())]!, begun));
        minutes[phase] = back - begun;
        return back - begun - planned;
      },
      reset: () => {},
    },
  ];
}
