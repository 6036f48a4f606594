import { dryingMinutes, lastCountOf } from '../drying.ts';
import type { Instant } from '../types.ts';
import type { Planned } from './planned.ts';

/**
 * When the last of the workshop's work was done, or of all work with `onSite`: its last count, and what that had to dry, as long
 * as nothing that needs it dry was done sooner. Null while anything of it is left, and where nothing of it was ever counted.
 */
export function madeAt(planned: Pick<Planned, 'plans' | 'feeds' | 'tally' | 'now'>, onSite: boolean): Instant | null {
  const { plans, feeds, now } = planned;
  const own = plans.filter((plan) => onSite || !plan.onSite);
  if (own.some((plan) => plan.left > 0)) return null;
  const done = new Map(plans.flatMap(({ id, left }) => (left === 0 ? [[id, lastAt(planned, id)]] : [])));
  const ends = own.flatMap((plan) => {
    const last = lastAt(planned, plan.id);
    if (last === null) return [];
    const after = feeds.flatMap(({ from, to }) => (from === plan.id ? [done.get(to) ?? Number.POSITIVE_INFINITY] : []));
    const counted = Math.min(last, now);
    return [Math.max(counted, Math.min(counted + dryingMinutes(plan), ...after))];
  });
  return ends.length === 0 ? null : Math.max(...ends);
}

function lastAt({ tally }: Pick<Planned, 'tally'>, step: string): Instant | null {
  const counts = tally.steps.get(step);
  return counts === undefined ? null : lastCountOf(counts);
}
