/** What most of the chain to the ready finish goes through. */
import type { Neck, WhyLine } from '../../model/index.ts';
import { whyAnswer } from '../10-answers/index.ts';
import type { Planned } from '../stages/index.ts';

/**
 * The machine, the hands, the supplier or the wait through which the greatest part of the chain goes that drives the
 * ready finish, in clock minutes, and when it is through with it. Null where there is no chain.
 */
export function neckOf(planned: Planned): Neck | null {
  const totals = new Map<string, Neck & { readonly minutes: number }>();
  let from = planned.surroundings.from;
  for (const line of whyAnswer(planned)) {
    const { kind, name } = throughOf(line, planned);
    const key = `${kind} ${name}`;
    const minutes = (totals.get(key)?.minutes ?? 0) + line.finish - Math.max(from, line.start);
    totals.set(key, { kind, name, until: line.finish, minutes });
    from = Math.max(from, line.finish);
  }
  const [most] = [...totals.values()].sort((a, b) => b.minutes - a.minutes);
  return most === undefined ? null : { kind: most.kind, name: most.name, until: most.until };
}

function throughOf({ machine, supplier, people, step }: WhyLine, { plans }: Planned): Pick<Neck, 'kind' | 'name'> {
  if (machine !== null) return { kind: 'machine', name: machine };
  if (supplier !== null) return { kind: 'supplier', name: supplier };
  if (people.length > 0) return { kind: 'hands', name: [...people].sort().join(', ') };
  return { kind: 'wait', name: plans.find(({ id }) => id === step)?.name ?? step };
}
