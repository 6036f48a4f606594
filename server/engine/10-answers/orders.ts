/** Orders and decisions with their last moments. */
import type { ForecastDecision, ForecastOrder, Part } from '../../model/index.ts';
import { unitsOf } from '../04-lots/index.ts';
import { addClockMinutes, isInstant, latestOrderFor } from '../calendar/index.ts';
import { unitsToBuy } from '../numbers/index.ts';
import type { Planned } from '../stages/index.ts';
import { lastStartOf } from './lots.ts';

/**
 * What must be ordered or sent out, and by when. `orderBy` is the last moment whose delivery keeps the ready-by: the
 * supplier's last cut-off for the late finish of the lot, and no later than the last moment under hands and machines; `now` where
 * the calendars know of none.
 */
export function ordersAnswer(planned: Planned): ForecastOrder[] {
  const { plans, work, dates, schedule, quantities, now } = planned;
  return plans
    .flatMap((plan, index): ForecastOrder[] => {
      const lead = plan.phases.find((phase) => phase.kind === 'lead');
      if (lead === undefined) return [];
      const lots = work.runs[index]!.flatMap((run) => run.lots);
      const part = plan.part === null ? undefined : quantities.parts.get(plan.part);
      const base = {
        step: plan.id,
        part: plan.part,
        name: part?.part.name ?? plan.name,
        supplier: lead.supplier,
        units: part?.toBuy ?? plan.total,
        kind: part?.part.source === 'buy' ? ('buy' as const) : ('send-out' as const),
      };
      if (lots.length === 0)
        return [{ ...base, orderBy: now, arrives: plan.tally.lastAt ?? now, neededBy: now, state: 'received' }];
      const open = lots.filter((lot) => work.lots[lot]!.begunAt === null);
      const begun = open.length === 0;
      // What is on its way already says nothing of by when the rest must be ordered.
      const asked = begun ? lots : open;
      const first = asked[0]!;
      const late = Math.min(...asked.map((lot) => dates.lateFinish[lot]!));
      const neededBy = isInstant(late) ? late : work.lots[first]!.deadline;
      const arrives = Math.max(...asked.map((lot) => schedule?.finishes[lot] ?? dates.earlyFinish[lot]!));
      const phase = work.lots[first]!.phases.find((candidate) => candidate.kind === 'lead');
      const cutoff = phase === undefined ? dates.lateStart[first]! : latestOrderFor(phase.arrivals, neededBy);
      const limits = [
        cutoff,
        ...open.map((lot) => addClockMinutes(lastStartOf(planned, lot), handsBefore(work.lots[lot]!.phases))),
      ].filter(isInstant);
      const orderBy = limits.length === 0 ? now : Math.min(...limits);
      const state = begun ? 'ordered' : orderBy < now ? 'late' : 'to-order';
      const count = asked.reduce((sum, lot) => sum + unitsOf(work.lots[lot]!), 0);
      const units = count === plan.total ? base.units : packed(count, part?.part);
      return [{ ...base, units, orderBy, arrives, neededBy, state }];
    })
    .sort((a, b) => a.orderBy - b.orderBy);
}

/** Of what is ordered again, for scrap or in a second lot, only so many: whole packs of what is bought. */
function packed(units: number, part: Part | undefined): number {
  return part?.source === 'buy' ? unitsToBuy(units, part.packSize ?? 1) : units;
}

function handsBefore(phases: readonly { readonly kind: string; readonly minutes?: number }[]): number {
  const lead = phases.findIndex((phase) => phase.kind === 'lead');
  return phases.slice(0, Math.max(0, lead)).reduce((minutes, phase) => minutes + (phase.minutes ?? 0), 0);
}

/**
 * Open questions with the last moment to answer: before the earliest last moment of the steps that wait for it; `now` where
 * the calendars know of none.
 */
export function decisionsAnswer(planned: Planned): ForecastDecision[] {
  const { build, plans, work, now } = planned;
  const indexById = new Map(plans.map((plan, index) => [plan.id, index]));
  return (build.decisions ?? []).map((decision) => {
    const moments = decision.waits.flatMap((id) => {
      const index = indexById.get(id);
      const lots = index === undefined ? [] : work.runs[index]!.flatMap((run) => run.lots);
      return lots.map((lot) => lastStartOf(planned, lot));
    });
    const known = moments.filter(isInstant);
    const decideBy = moments.length === 0 ? null : known.length === 0 ? now : Math.min(...known);
    return {
      id: decision.id,
      question: decision.question,
      decideBy,
      decided: decision.decided ?? null,
      waits: decision.waits,
    };
  });
}
