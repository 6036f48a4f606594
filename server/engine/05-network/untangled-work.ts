/** Lots and links without the feeds that would close a circle. */
import type { Problem } from '../../model/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import type { GateHold, StepFeed } from '../04-lots/index.ts';
import { type BuildWork, workOf } from '../04-lots/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import { type Network, networkOf, networkProblems } from './network.ts';

/** The lots with their links, the feeds that were kept, and what was wrong with the others. */
interface Untangled {
  readonly work: BuildWork;
  readonly feeds: readonly StepFeed[];
  readonly network: Network;
  readonly problems: readonly Problem[];
}

/** The work without the feeds that close a circle: each circle is named, and the feed typed last in it is left out. */
export function untangledWork(
  surroundings: Surroundings,
  plans: readonly PlannedStep[],
  all: readonly StepFeed[],
  holds: readonly GateHold[],
): Untangled {
  const problems: Problem[] = [];
  let feeds = all;
  let kept = holds;
  for (;;) {
    const work = workOf(surroundings, plans, feeds, kept);
    const network = networkOf(work.lots.length, work.links);
    if (network.circles.length === 0) return { work, feeds, network, problems };
    problems.push(
      ...networkProblems(network, (lot) => plans[work.lots[lot]!.step]!.id).filter(
        (found) => found.code === 'feed-circle',
      ),
    );
    const steps = network.circles[0]!.map((lot) => plans[work.lots[lot]!.step]!.id);
    const inCircle = new Set(steps);
    const closing = feeds.findLastIndex((feed) => inCircle.has(feed.from) && inCircle.has(feed.to));
    if (closing >= 0) feeds = feeds.filter((_, i) => i !== closing);
    else if (kept.length > 0) kept = kept.filter((hold) => !inCircle.has(hold.step));
    else
      return {
        work: workOf(surroundings, plans, [], []),
        feeds: [],
        network: networkOf(work.lots.length, []),
        problems,
      };
  }
}
