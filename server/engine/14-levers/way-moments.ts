/** Until when a way is still possible. */
import type { WayMoment } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import { lotsOfStep } from '../04-lots/index.ts';
import { lastStartOf, ordersAnswer } from '../10-answers/index.ts';
import { isInstant } from '../calendar/index.ts';
import { aimedAt, type Planned } from '../stages/index.ts';
import type { Instant } from '../types.ts';

/**
 * The last moment at which the first of these steps can be begun, or ordered, so that the ready-by is kept, in a plan
 * that has them; where that is over, so that the finish of this plan stays. O(lots), and a few backward schedules where
 * the date is missed.
 */
export function lastMomentOf(planned: Planned, steps: readonly PlannedStep[]): WayMoment {
  const lots = steps.flatMap((step) => openLots(planned, step));
  if (lots.length === 0) return { kind: 'none' };
  if (lots.every(({ isBegun }) => isBegun)) return { kind: 'under-way' };
  const at = momentIn(planned, steps);
  if (at !== null && at >= planned.now) return { kind: 'until', at };
  const aimed = aimedAtItsFinish(planned);
  const later = aimed === null ? null : momentIn(aimed, steps);
  return { kind: 'finish', at: Math.max(planned.now, later ?? planned.now) };
}

/** The plan aimed at the finish that it has; null where it has none. */
export function aimedAtItsFinish(planned: Planned): Planned | null {
  const { schedule } = planned;
  if (schedule === null || planned.beyond.size > 0) return null;
  return aimedAt(planned, schedule.readyAt, Math.max(schedule.readyAt, schedule.finishAt));
}

function momentIn(planned: Planned, steps: readonly PlannedStep[]): Instant | null {
  const orders = new Map(ordersAnswer(planned).map((order) => [order.step, order]));
  const moments = steps.flatMap((step): Instant[] => {
    const order = orders.get(step.id);
    if (order !== undefined) return order.state === 'to-order' || order.state === 'late' ? [order.orderBy] : [];
    return openLots(planned, step).flatMap(({ lot, isBegun }) => (isBegun ? [] : [lastStartOf(planned, lot)]));
  });
  const known = moments.filter(isInstant);
  return known.length === 0 ? null : Math.min(...known);
}

function openLots({ plans, work }: Planned, { id }: PlannedStep) {
  const index = plans.findIndex((plan) => plan.id === id);
  const lots = index < 0 ? [] : lotsOfStep(work, index);
  return lots.map((lot) => ({ lot, isBegun: work.lots[lot]!.begunAt !== null }));
}
