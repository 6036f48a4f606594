/** What can be proved of a schedule: its bound, and whether it meets it. */
import { type Bound, textbookBound } from './bounds/bounds.ts';
import { proveShortest } from './bounds/exact.ts';
import { type TextbookData, textbookData } from './bounds/textbook.ts';
import type { Compiled } from './generate/compiled.ts';
import { dependencyOrderOf, keepLinks } from './generate/orders.ts';
import type { Found } from './search/search.ts';

/** `bound` or, where it is the greater, the bound by heads, work and tails. */
export function sharpened({ forward }: Compiled, data: TextbookData, bound: Bound): Bound {
  const readyAt = forward.origin + textbookBound(data) * forward.tick;
  return readyAt > bound.readyAt ? { ...bound, by: 'pool', readyAt } : bound;
}

/**
 * Closes what is open between bound and schedule of a small textbook work by exact search. Returns the better bound,
 * and the order of a shorter schedule where one was found.
 */
export function proofOf(
  compiled: Compiled,
  data: TextbookData,
  bound: Bound,
  found: Found,
  budget: { readonly nodes: number; readonly outOfTime: () => boolean },
): { bound: Bound; activityList: Int32Array } {
  const { work, forward } = compiled;
  const lower = (bound.readyAt - forward.origin) / forward.tick;
  if (lower >= found.cost) return { bound, activityList: found.activityList };
  const proof = proveShortest(data, found.cost, lower, budget);
  const activityList = proof.activityList === null ? found.activityList : fullOrder(compiled, data, proof.activityList);
  if (!proof.proved || proof.best <= lower) return { bound, activityList };
  const readyAt = forward.origin + proof.best * forward.tick;
  return {
    bound: { readyAt, by: 'search', resources: [], window: null, shortMinutes: Math.max(0, readyAt - work.readyBy) },
    activityList,
  };
}

/** The textbook data of a textbook work, compiled. */
export function textbookOf({ work, forward }: Compiled): TextbookData {
  return textbookData(
    forward,
    work.resources.map((resource) => resource.capacity),
    (lot, pool) => {
      const phase = work.lots[lot]!.phases[0];
      return phase?.kind === 'demand'
        ? phase.demands.reduce((sum, d) => sum + (d.resource === pool ? d.amount : 0), 0)
        : 0;
    },
  );
}

/** An order of the lots that take time, with the milestones where their links want them. */
function fullOrder({ forward }: Compiled, data: TextbookData, activityList: Int32Array): Int32Array {
  const timed = [...activityList].map((i) => data.lotOf[i]!);
  const others = [...dependencyOrderOf(forward)].filter((lot) => !timed.includes(lot));
  return keepLinks(forward, Int32Array.from([...timed, ...others]));
}
