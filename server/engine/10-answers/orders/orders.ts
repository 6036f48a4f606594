/** Orders with their last moments. */
import type { ForecastOrder, Step } from '../../../model/index.ts';
import { inWholePacks, type PartCount } from '../../01-quantities/index.ts';
import { leadOf, type PlannedLead } from '../../02-steps/index.ts';
import { lotsOfStep, unitsOf } from '../../04-lots/index.ts';
import {
  addClockMinutes,
  addOpenMinutes,
  arrivalOf,
  isInstant,
  latestOrderFor,
  leadDaysOf,
  noDayBefore,
  subtractOpenMinutes,
} from '../../calendar/index.ts';
import type { Planned } from '../../stages/index.ts';
import type { Instant, Minutes } from '../../types.ts';
import { lastStartOf, neededAt } from '../last-moments.ts';

/**
 * What must be ordered or sent out, and by when. `neededBy` is when the first lot that takes it begins in the latest
 * schedule that hands and machines can do; where the plan is late for want of hands, so that what comes waits for them,
 * when it begins in the plan; where it comes too late even with unlimited hands, the last moment with these. `orderBy`
 * is the last moment at which somebody is there to order it and the supplier still delivers by then; `now` where the
 * calendars know of none. O(links of its lots), and a look at each order's calendar.
 */
export function ordersAnswer(planned: Planned): ForecastOrder[] {
  const { plans, work, dates, schedule, quantities, now } = planned;
  return plans
    .flatMap((plan, index): ForecastOrder[] => {
      const lead = plan.phases.find((phase) => phase.kind === 'lead');
      if (lead === undefined) return [];
      const lots = lotsOfStep(work, index);
      const part = plan.part === null ? undefined : quantities.parts.get(plan.part);
      const base = {
        step: plan.id,
        part: plan.part,
        name: part?.part.name ?? plan.name,
        supplier: lead.supplier,
        units: part?.toBuy ?? plan.total,
        ...measureAnswer(part),
        ...leadAnswer(planned, plan.step, lead),
        kind: part?.part.source === 'buy' ? ('buy' as const) : ('send-out' as const),
      };
      if (lots.length === 0)
        return [{ ...base, orderBy: now, arrives: plan.tally.lastAt ?? now, neededBy: now, state: 'received' }];
      const open = lots.filter((lot) => work.lots[lot]!.begunAt === null);
      const begun = open.length === 0;
      // What is on its way already says nothing of by when the rest must be ordered.
      const asked = begun ? lots : open;
      const arrives = Math.max(...asked.map((lot) => schedule?.finishes[lot] ?? dates.earlyFinish[lot]!));
      const neededBy = Math.min(...asked.map((lot) => neededAt(planned, lot)));
      const orderBy = orderMoment(planned, asked, neededBy);
      const state = begun ? 'ordered' : orderBy < now ? 'late' : 'to-order';
      const count = asked.reduce((sum, lot) => sum + unitsOf(work.lots[lot]!), 0);
      const units = part === undefined ? count : inWholePacks(part.part, count);
      const soonest = state === 'late' ? soonestFor(planned, asked) : {};
      const noDay = begun ? {} : noDayFor(planned, lead.supplier);
      return [{ ...base, units, orderBy, arrives, neededBy, ...soonest, ...noDay, state }];
    })
    .sort((a, b) => a.orderBy - b.orderBy);
}

function measureAnswer(count: PartCount | undefined): Pick<ForecastOrder, 'measure'> {
  if (count === undefined || count.measure === null) return {};
  const { unit, pack } = count.measure;
  return { measure: { unit, pack } };
}

/** Whether the supplier has no day left before the event. */
function noDayFor({ surroundings, now }: Planned, id: string): Pick<ForecastOrder, 'noDay'> {
  const { zone, event, suppliers } = surroundings;
  const days = suppliers.get(id)?.days;
  const noDay = days === undefined || event <= now ? null : noDayBefore(days, zone, now, event);
  return noDay === null ? {} : { noDay };
}

/** What the lead time is planned with, where deliveries have said it. */
function leadAnswer(
  { surroundings }: Planned,
  step: Step | null,
  { supplier: id, workingDays }: PlannedLead,
): Pick<ForecastOrder, 'lead'> {
  const supplier = surroundings.suppliers.get(id);
  if (supplier === undefined || supplier.learnt === null) return {};
  const { deliveries, mean } = supplier.learnt;
  const given = leadDaysOf(leadOf(step, supplier.source));
  return { lead: { given, taken: given * mean, planned: workingDays, deliveries, origin: 'measured' } };
}

/**
 * The last moment to order what must be there by `neededBy`: the cut-off, or before it when somebody is last there to
 * do it.
 */
function orderMoment(planned: Planned, asked: readonly number[], neededBy: Instant): Instant {
  const { work, surroundings, now } = planned;
  const lot = work.lots[asked[0]!]!;
  const lead = lot.phases.findIndex((phase) => phase.kind === 'lead');
  const phase = lot.phases[lead];
  if (phase === undefined || phase.kind !== 'lead') return now;
  const cutOff = latestOrderFor(phase.arrivals, neededBy);
  if (lead + 1 < lot.phases.length) return momentBeforeMore(planned, asked, cutOff);
  if (!isInstant(cutOff)) return now;
  const hands = lot.phases.slice(0, lead).find((candidate) => candidate.kind === 'hands');
  if (hands === undefined || hands.kind !== 'hands') return cutOff;
  const there = surroundings.together(hands.people, hands.eligible);
  const start = subtractOpenMinutes(there, cutOff, hands.minutes);
  return isInstant(start) ? Math.min(cutOff, addOpenMinutes(there, start, hands.minutes)) : cutOff;
}

/** The last moment at which an order comes as early as one placed now. */
function soonestFor({ work, now }: Planned, asked: readonly number[]): Pick<ForecastOrder, 'soonest'> {
  const phase = work.lots[asked[0]!]!.phases.find(({ kind }) => kind === 'lead');
  if (phase?.kind !== 'lead') return {};
  const soonest = latestOrderFor(phase.arrivals, arrivalOf(phase.arrivals, now));
  return isInstant(soonest) ? { soonest } : {};
}

/** The same where more is done with what comes before it is needed: no later than its lots must begin. */
function momentBeforeMore(planned: Planned, asked: readonly number[], cutOff: Instant): Instant {
  const starts = asked
    .filter((lot) => planned.work.lots[lot]!.begunAt === null)
    .map((lot) => addClockMinutes(lastStartOf(planned, lot), handsBefore(planned.work.lots[lot]!.phases)));
  const limits = [cutOff, ...starts].filter(isInstant);
  return limits.length === 0 ? planned.now : Math.min(...limits);
}

function handsBefore(phases: readonly { readonly kind: string; readonly minutes?: number }[]): Minutes {
  const lead = phases.findIndex((phase) => phase.kind === 'lead');
  return phases.slice(0, Math.max(0, lead)).reduce((minutes, phase) => minutes + (phase.minutes ?? 0), 0);
}
