/** How the work may go on once it goes otherwise than planned: ways to dispatch a future. */
import type { Lot, Schedule } from '../../types.ts';
import { type Choices, unchosen } from '../generate/choices.ts';
import type { CompiledForward } from '../generate/compiled.ts';
import { keepLinks, pinnedFirst } from '../generate/orders.ts';
import { FREE } from '../instance/codes.ts';

/**
 * Three ways, each a policy that knows nothing of what is to come: the plan with its choices; the plan's order, whoever
 * ends first and as early as can be; and, besides, machines that run alone before other work. A way that is no other
 * than the one before is the same object. Which serves best where minutes vary is found by trying: activity lists as
 * policies (F. Stork, thesis, TU Berlin 2001; F. Ballestín, Journal of Scheduling 10, 2007; from memory). O(lots log
 * lots and links).
 */
export function waysOf(compiled: CompiledForward, activityList: Int32Array): readonly [Choices, Choices, Choices] {
  const { work, forward } = compiled;
  const asPlanned = { activityList, wanted: forward.phaseWanted.slice(), notBefore: forward.phaseNotBefore.slice() };
  const isChosen = asPlanned.wanted.some((crew) => crew >= 0) || asPlanned.notBefore.some((at) => at !== FREE);
  const free = isChosen ? unchosen(forward, activityList) : asPlanned;
  return [asPlanned, free, work.lots.some(runsAlone) ? unchosen(forward, machinesFirst(compiled, activityList)) : free];
}

/**
 * The order in which a sheet has its lots, links kept; a milestone no later than need be. Whoever made the schedule,
 * and by which order, futures go on by what is on the sheet alone: the same sheet gives the same futures. O(lots log
 * lots and links).
 */
export function orderOfSheet({ forward }: CompiledForward, { starts, activityList }: Schedule): Int32Array {
  return keepLinks(
    forward,
    activityList.slice().sort((a, b) => starts[a]! - starts[b]! || a - b),
  );
}

/**
 * `activityList` with every lot of a machine that runs alone right behind the last lot it depends on, so that whoever
 * is there sees to the machine before they take up other work; pinned lots stay in front, links kept. `activityList`
 * may leave out lots that are linked to nothing.
 */
export function machinesFirst({ work, forward }: CompiledForward, activityList: Int32Array): Int32Array {
  const { linkFirst, linkFrom } = forward;
  const kept = keepLinks(forward, activityList).slice(0, activityList.length);
  const places = new Int32Array(forward.lots);
  kept.forEach((lot, place) => {
    places[lot] = place;
    if (!runsAlone(work.lots[lot]!)) return;
    const before = linkFrom.subarray(linkFirst[lot]!, linkFirst[lot + 1]!);
    places[lot] = before.reduce((latest, from) => Math.max(latest, places[from]!), -1);
  });
  const early = kept.sort((a, b) => places[a]! - places[b]!);
  return pinnedFirst(work, forward, early).slice(0, activityList.length);
}

function runsAlone({ phases }: Lot): boolean {
  return phases.some((phase) => phase.kind === 'run' && !phase.attended);
}
