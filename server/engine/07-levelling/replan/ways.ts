/** How the work may go on once it goes otherwise than planned: ways to dispatch a future. */
import type { Lot, Schedule } from '../../types.ts';
import { type Choices, choose, mayWait, restTurnsOf, unchosen, withoutNeedless } from '../generate/choices.ts';
import type { CompiledForward } from '../generate/compiled.ts';
import { generateSerial } from '../generate/generate.ts';
import { keepLinks, pinnedFirst } from '../generate/orders.ts';
import { crewAmong } from '../instance/crews.ts';
import type { Instance } from '../instance/instance.ts';
import { compareCriteria, Objective } from '../search/objective.ts';

/**
 * Passes for finding which people and begins of a sheet it needs, and the lots of all of them; not asked of larger
 * work.
 */
const FINDING = { most: 40, lots: 30_000, largest: 1500 };

/**
 * Three ways, each a policy that knows nothing of what is to come: the plan, with as many people and begins of its
 * sheet as it needs to be ready and ended when the sheet says; the sheet's order alone, whoever ends first and as early
 * as can be, and nobody waits for what runs or dries alone; and, besides, machines that run alone before other work. A
 * way that is no other than the one before is the same object. Which serves best where minutes vary is found by trying:
 * activity lists as policies (F. Stork, thesis, TU Berlin 2001; F. Ballestín, Journal of Scheduling 10, 2007; from
 * memory). What the search chose to come to this sheet is not asked: the same sheet has the same ways, whoever made it.
 * Some passes.
 */
export function waysOf(compiled: CompiledForward, sheet: OnSheet): readonly [Choices, Choices, Choices] {
  const { work, forward } = compiled;
  const { activityList } = sheet;
  const passesOver = forward.lotLeft.includes(1);
  const free = unchosen(forward, activityList, passesOver);
  const machines = work.lots.some(runsAlone);
  const early = machines ? unchosen(forward, machinesFirst(compiled, activityList), passesOver) : free;
  return [neededOf(compiled, free, sheet), free, early];
}

/** As much of a schedule as its sheet says. */
type OnSheet = Pick<Schedule, 'activityList' | 'placements'>;

/** Who and when of a sheet, without what it needs to be no worse in pins, ready finish, lateness and end. */
function neededOf({ work, forward }: CompiledForward, free: Choices, { placements }: OnSheet): Choices {
  if (forward.isTextbook || forward.lots > FINDING.largest) return free;
  const restTurn = restTurnsOn(forward, free.activityList, placements);
  const wanted = free.wanted.slice();
  const whole = { ...free, wanted, notBefore: free.notBefore.slice(), restTurn, passesOver: false };
  for (const { lot, phase, people, start } of placements) {
    if (phase === 0 && work.lots[lot]!.begunAt !== null) continue;
    const p = forward.phaseFirst[lot]! + phase;
    whole.wanted[p] = crewAmong(people, forward.crewRange[2 * p]!, forward.crewRange[2 * p + 1]!, forward);
    if (mayWait(forward, lot, p)) whole.notBefore[p] = start;
  }
  const objective = new Objective(work, forward);
  const criteriaOf = (choices: Choices) => {
    choose(forward, choices);
    return objective.criteria(generateSerial(forward, choices.activityList), NOTHING_IS_BETTER).slice(0, 4);
  };
  const onSheet = criteriaOf(whole);
  const isAsGood = (choices: Choices) => compareCriteria(criteriaOf(choices), onSheet) <= 0;
  if (isAsGood(free)) return free;
  const passes = Math.floor(FINDING.lots / Math.max(1, forward.lots));
  return withoutNeedless(whole, isAsGood, Math.min(FINDING.most, passes));
}

function restTurnsOn(forward: Instance, activityList: Int32Array, placements: Schedule['placements']) {
  const begins = new Map(placements.map(({ lot, phase, start }) => [forward.phaseFirst[lot]! + phase, start]));
  const beginOf = (phase: number) => begins.get(phase) ?? null;
  return restTurnsOf(forward, activityList, (l) => beginOf(forward.phaseFirst[l]!), beginOf);
}

/** Criteria that none are as good as: so those that cost much to know are left out. */
const NOTHING_IS_BETTER = [Number.NEGATIVE_INFINITY];

/**
 * The order in which a sheet has its lots, links kept; a milestone no later than need be. Whoever made the schedule,
 * and by which order, futures go on by what is on the sheet alone: the same sheet gives the same futures. O(lots log
 * lots and links).
 */
export function orderOfSheet(
  { forward }: CompiledForward,
  { starts, activityList }: Pick<Schedule, 'starts' | 'activityList'>,
): Int32Array {
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
