/** What is made already, and when it was. */

import type { PlannedStep } from '../02-steps/index.ts';
import { countedAt, dryingMinutes, lastCountOf } from '../02-steps/index.ts';
import type { SetTally } from '../log/index.ts';
import type { Instant } from '../types.ts';
import type { Planned } from './planned.ts';

type Counted = Pick<Planned, 'plans' | 'feeds' | 'tally' | 'now'>;

/**
 * When the last of the workshop's work was done, or of all work with `onSite`: the last count that was needed, and what
 * that had to dry, as long as nothing that needs it dry was done sooner. Null while anything of it is left but spares,
 * and where nothing of it was ever counted.
 */
export function madeAt(planned: Counted, onSite: boolean): Instant | null {
  const { plans, feeds, now } = planned;
  const own = plans.filter((plan) => onSite || !plan.onSite);
  if (own.some((plan) => plan.neededLeft > 0)) return null;
  const doneAt = new Map(
    plans.flatMap((plan) => (plan.neededLeft === 0 ? [[plan.id, lastNeeded(planned, plan)]] : [])),
  );
  const ends = own.flatMap((plan) => {
    const last = doneAt.get(plan.id) ?? null;
    if (last === null) return [];
    const after = feeds.flatMap(({ from, to }) =>
      from === plan.id ? [doneAt.get(to) ?? Number.POSITIVE_INFINITY] : [],
    );
    const counted = Math.min(last, now);
    return [Math.max(counted, Math.min(counted + dryingMinutes(plan), ...after))];
  });
  return ends.length === 0 ? null : Math.max(...ends);
}

/** When the last unit that a step had to make was counted: what was counted beyond that moves nothing. */
function lastNeeded({ plans, tally }: Counted, plan: PlannedStep): Instant | null {
  const counts = tally.steps.get(plan.id);
  if (counts === undefined) return null;
  if (plan.kind === 'gate') return lastCountOf(counts);
  const later = plan.part === null ? [] : plans.slice(plans.indexOf(plan) + 1).filter(({ part }) => part === plan.part);
  const lost = later.reduce((units, { id }) => units + (tally.steps.get(id)?.scrapped ?? 0), 0);
  const reached = (one: SetTally, total: number, gone: number) => countedAt(one, one.good - gone, total);
  const needed = plan.sets.reduce((units, set) => units + set.needed, 0);
  const sets = plan.sets.map(({ set, needed: units }) => ({
    needed: units,
    own: set === null ? undefined : counts.sets.get(set),
  }));
  const named = sets.reduce((units, { own }) => units + (own?.good ?? 0), 0) === counts.good;
  const ends =
    named && lost === 0 && sets.length > 1
      ? sets.flatMap(({ own, needed }) => (own === undefined ? [] : [reached(own, needed, 0)]))
      : [reached(counts, needed, lost)];
  const known = ends.filter((end) => end !== null);
  return known.length === ends.length && known.length > 0 ? Math.max(...known) : lastCountOf(counts);
}
