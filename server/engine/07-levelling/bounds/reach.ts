/** The earliest that each lot and phase can be done, alone in the workshop. */
import { finishBound, startBound } from '../generate/generate.ts';
import { dependencyOrderOf } from '../generate/orders.ts';
import { place } from '../generate/place.ts';
import { FREE, HANDS, LEAD, RUN } from '../instance/codes.ts';
import type { Problem } from '../instance/problem.ts';

/** What no schedule of a problem can do earlier, by lot and by phase; in the problem's time. */
export interface Reach {
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  readonly phaseStarts: Int32Array;
  readonly phaseFinishes: Int32Array;
}

/**
 * The earliest start and the earliest finish of every lot and of every phase, hands, machines and pools unlimited, each as if
 * it alone mattered: a crew that begins early may end late, so both may not be had together. A schedule can do neither
 * earlier. Starts fall short of the truth where phases that must follow each other at once wait for a late one. O(phases
 * times crews, and links). `notBefore`: what is known beside, by phase. Leaves the times of the last pass as they are.
 */
export function reachOf(problem: Problem, notBefore: Int32Array | null = null): Reach {
  const { starts, finishes, phaseStarts, phaseFinishes, graceMinutes } = problem;
  const before = [starts, finishes, phaseStarts, phaseFinishes].map((times) => times.slice());
  problem.graceMinutes = 0;
  problem.people.clear();
  problem.timelines.clear();
  problem.pools.clear();
  for (const lot of dependencyOrderOf(problem)) reachLot(problem, lot, notBefore);
  problem.graceMinutes = graceMinutes;
  const reach = {
    starts: starts.slice(),
    finishes: finishes.slice(),
    phaseStarts: phaseStarts.slice(),
    phaseFinishes: phaseFinishes.slice(),
  };
  // Where what is under way stands in the mirror is known from these alone.
  [starts, finishes, phaseStarts, phaseFinishes].forEach((times, i) => {
    times.set(before[i]!);
  });
  return reach;
}

function reachLot(problem: Problem, lot: number, notBefore: Int32Array | null): void {
  const { mirrored, plain, begun, starts, finishes, phaseFirst, phaseStarts, phaseFinishes } = problem;
  const isBegun = begun[lot] !== FREE;
  const from = isBegun && !mirrored ? begun[lot]! : startBound(problem, lot, FREE);
  const until = isBegun ? FREE : finishBound(problem, lot);
  let least = until;
  // Forwards the generator's own rules say when alone it would end, gaps between phases counted.
  if (!mirrored && !plain && endsFirst(problem, lot, until)) {
    place(problem, lot, from, until);
    least = finishes[lot]!;
  }
  let at = from;
  for (let p = phaseFirst[lot]!; p < phaseFirst[lot + 1]!; p++) {
    const isUnderWay = isBegun && p === (mirrored ? phaseFirst[lot + 1]! - 1 : phaseFirst[lot]!);
    if (isUnderWay) {
      phaseStarts[p] = at;
      if (mirrored) phaseFinishes[p] = at;
      at = mirrored ? at : Math.max(phaseFinishes[p]!, problem.earliest[lot]!);
    } else at = reachPhase(problem, p, notBefore === null ? at : Math.max(at, notBefore[p]!));
  }
  const first = phaseFirst[lot]!;
  starts[lot] = first < phaseFirst[lot + 1]! ? phaseStarts[first]! : Math.max(from, least);
  finishes[lot] = Math.max(at, least);
}

/**
 * Whether the place that the generator finds for a lot alone is the one that ends first. It takes the crew that can follow at
 * once; where there is a choice and the end must not come too early, another that begins later may end first.
 */
function endsFirst({ phaseFirst, phaseLoose, crewRange }: Problem, lot: number, until: number): boolean {
  const end = phaseFirst[lot + 1]!;
  for (let p = phaseFirst[lot]! + 1; p < end; p++) {
    const follows = phaseLoose[p] === 0 && crewRange[2 * p + 1]! - crewRange[2 * p]! > 1;
    if (follows && (p === end - 1 ? until !== FREE : phaseLoose[p + 1] === 0)) return false;
  }
  return true;
}

/** Writes the earliest start and finish of phase p from t on; returns the finish. */
function reachPhase(problem: Problem, p: number, t: number): number {
  const { calendars, phaseKind, phaseCalendar, phaseTable, crewRange, crewCalendar, phaseStarts, phaseFinishes } =
    problem;
  const minutes = problem.phaseMinutes[p]!;
  const kind = phaseKind[p]!;
  let start = t;
  let finish = t + minutes;
  if (kind === LEAD) finish = problem.leads.finish(phaseTable[p]!, t) + minutes;
  else if (minutes > 0 && crewRange[2 * p + 1]! > crewRange[2 * p]!) {
    const unbroken = kind === RUN || (kind === HANDS && problem.phaseOneGo[p] === 1);
    start = 2147483647;
    finish = 2147483647;
    for (let crew = crewRange[2 * p]!; crew < crewRange[2 * p + 1]!; crew++) {
      const calendar = crewCalendar[crew]!;
      const own = unbroken ? calendars.stretch(calendar, t, minutes) : calendars.nextOpen(calendar, t);
      start = Math.min(start, own);
      finish = Math.min(finish, unbroken ? own + minutes : calendars.add(calendar, own, minutes));
    }
  } else if (minutes > 0 && phaseCalendar[p]! >= 0) {
    start = calendars.stretch(phaseCalendar[p]!, t, minutes);
    finish = start + minutes;
  }
  phaseStarts[p] = start;
  phaseFinishes[p] = finish;
  return finish;
}
