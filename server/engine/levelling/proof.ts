import type { Bound } from './bounds.ts';
import { textbookBound } from './bounds.ts';
import type { Compiled } from './compiled.ts';
import { MOST_LOTS, proveShortest } from './exact.ts';
import { dependencyOrderOf, keepLinks } from './orders.ts';
import type { Found } from './search.ts';
import { type TextbookData, textbookData } from './textbook.ts';

/**
 * Closes what is open between bound and schedule of a textbook work where it is small enough: first by the bound of heads,
 * work and tails, then by exact search. Returns the better bound, and the order of a shorter schedule where one was found.
 */
export function proofOf(
  compiled: Compiled,
  bound: Bound,
  found: Found,
  nodes: number,
  time: { readonly clock: () => number; readonly milliseconds: number } | null,
): { bound: Bound; order: Int32Array } {
  const { work, forward } = compiled;
  const instant = (ticks: number) => forward.origin + ticks * forward.tick;
  if (bound.readyAt >= instant(found.cost)) return { bound, order: found.order };
  const data = textbookOf(compiled);
  const lower = Math.max((bound.readyAt - forward.origin) / forward.tick, textbookBound(data));
  let improved: Bound =
    lower > (bound.readyAt - forward.origin) / forward.tick ? { ...bound, by: 'pool', readyAt: instant(lower) } : bound;
  if (lower >= found.cost || data.lots > MOST_LOTS || nodes === 0) return { bound: improved, order: found.order };
  const end = time === null ? 0 : time.clock() + time.milliseconds;
  const proof = proveShortest(data, found.cost, lower, { nodes, outOfTime: () => time !== null && time.clock() > end });
  if (proof.proved && proof.best > lower)
    improved = {
      ...bound,
      readyAt: instant(proof.best),
      by: 'search',
      resources: [],
      window: null,
      shortMinutes: Math.max(0, instant(proof.best) - work.readyBy),
    };
  return { bound: improved, order: proof.order === null ? found.order : fullOrder(compiled, data, proof.order) };
}

/** The textbook data of a plain compiled work. */
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
function fullOrder({ forward }: Compiled, data: TextbookData, order: Int32Array): Int32Array {
  const timed = [...order].map((i) => data.lotOf[i]!);
  const others = [...dependencyOrderOf(forward)].filter((lot) => !timed.includes(lot));
  return keepLinks(forward, Int32Array.from([...timed, ...others]));
}
