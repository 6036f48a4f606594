/** What is uncertain in a planned build: paces, runs, suppliers, gates, scrap and lost days, each with its own draw. */
import { compileForward } from '../07-levelling/index.ts';
import type { Remaining } from '../stages/index.ts';
import type { ArrivalTable, Phase, Schedule } from '../types.ts';
import type { Context } from './draws/context.ts';
import { gateDraws } from './draws/gates.ts';
import { leadDraws, leadRanges } from './draws/leads.ts';
import { paceDraws } from './draws/paces.ts';
import { scrapDraws } from './draws/scrap.ts';
import type { Uncertain } from './futures.ts';
import { type LossRate, losableDays, lossRateOf, lostDaysOf } from './lost-days.ts';
import { sittingsOf } from './sittings.ts';

/** Days are lost until this many after the planned end and the event: hardly a future is still at work then. */
const LOST_DAYS_AFTER = 60;
/**
 * The planned work compiled with all that is drawn. One pace factor a step: the belief of its pace where there are
 * hands a unit (beta-PERT of a range nobody has counted yet), else by the origin of its estimate. Suppliers: beta-PERT
 * between low and high, in whole working days (see `leadRangeOf`); what a supplier promised is believed. A gate that
 * fails is repeated, and what it sends back is done again by those at the gate, in the gate's time. Scrap: binomial
 * with the part's yield over the units left; what then lacks is made at the end of every step of its route, hands a
 * unit and one run more for each lot. Waits are certain, but for timed ones.
 */
export function uncertaintyOf(planned: Remaining, schedule: Schedule): Uncertain & { readonly lossRate: LossRate } {
  const { work, plans, surroundings } = planned;
  const end = Math.max(schedule.finishAt, surroundings.event, surroundings.readyBy);
  const days = losableDays(planned, Math.min(surroundings.horizonEnd, end + LOST_DAYS_AFTER * 1440));
  const lossRate = lossRateOf(planned);
  const tables = new Map<Phase, readonly ArrivalTable[]>();
  const ranges = leadRanges(planned);
  for (const lot of work.lots) {
    for (const phase of lot.phases) {
      const range = ranges.get(lot.step);
      if (phase.kind === 'lead' && range !== undefined) tables.set(phase, range.tables);
    }
  }
  const compiled = compileForward(work, tables, days.starts);
  const { forward } = compiled;
  const lostDays = lostDaysOf(forward, days, lossRate);
  const { phaseFirst, phaseTable } = forward;
  const context: Context = { planned, phaseFirst, phaseTable, longest: sittingsOf(planned, schedule) };
  return {
    compiled,
    activityList: schedule.activityList.slice(),
    steps: plans.length,
    paces: plans.flatMap((plan, step) => paceDraws(context, plan, step)),
    others: [
      ...plans.flatMap((_, step) => leadDraws(context, step, ranges.get(step))),
      ...plans.flatMap((plan, step) => gateDraws(context, plan, step)),
      ...scrapDraws(context),
      ...(lostDays === null ? [] : [lostDays]),
    ],
    lossRate,
  };
}
