/** The two patterns that most lots are of, placed and taken without the questions that `place` asks. */
import { NEVER } from '../instance/calendars.ts';
import { FREE } from '../instance/codes.ts';
import type { Problem } from '../instance/problem.ts';
import { machineFree } from './place.ts';
import { placeSingly } from './place-crew.ts';

/**
 * Places and takes a lot that is one person's work and waits after it, to begin at `start` at the earliest: what `place` and `take` do,
 * without their questions. Returns its finish. The work must not be nothing.
 */
export function placePlain(problem: Problem, l: number, start: number): number {
  const { phaseFirst, phaseStarts, phaseFinishes, phaseMinutes, phaseCrew } = problem;
  const first = phaseFirst[l]!;
  const end = phaseFirst[l + 1]!;
  placeSingly(problem, l, first, Math.max(start, problem.phaseNotBefore[first]!));
  takeSingly(problem, l, first);
  let at = phaseFinishes[first]!;
  for (let p = first + 1; p < end; p++) {
    phaseStarts[p] = at;
    at += phaseMinutes[p]!;
    phaseFinishes[p] = at;
    phaseCrew[p] = -1;
  }
  problem.starts[l] = phaseStarts[first]!;
  problem.finishes[l] = at;
  return at;
}

/**
 * The same for a lot that one person loads, a machine runs alone and one person unloads. Returns its finish; NEVER, with nothing taken,
 * where the machine is not open when it is loaded, so that the loading must wait for it.
 */
export function placeLoaded(problem: Problem, l: number, start: number): number {
  const { phaseStarts, phaseFinishes, phaseMinutes, phaseNotBefore, timelines } = problem;
  const load = problem.phaseFirst[l]!;
  const run = load + 1;
  const unload = load + 2;
  const machine = problem.phaseMachine[run]!;
  const calendar = problem.phaseCalendar[run]!;
  let from = Math.max(start, phaseNotBefore[load]!);
  for (;;) {
    from = machineFree(problem, load, from);
    placeSingly(problem, l, load, from);
    const loaded = phaseStarts[load]!;
    if (loaded > from) {
      // Whoever loads it comes later, and the machine may be taken by then.
      from = machineFree(problem, load, loaded);
      if (from > loaded) continue;
    }
    const ran = phaseFinishes[load]!;
    if (calendar >= 0 && problem.calendars.stretch(calendar, ran, phaseMinutes[run]!) > ran) return NEVER;
    phaseStarts[run] = ran;
    phaseFinishes[run] = ran + phaseMinutes[run]!;
    problem.phaseCrew[run] = -1;
    placeSingly(problem, l, unload, Math.max(phaseFinishes[run]!, phaseNotBefore[unload]!));
    const blocked = timelines.blockedUntil(machine, loaded, phaseFinishes[unload]!);
    if (blocked === FREE) break;
    from = blocked;
  }
  takeSingly(problem, l, load);
  takeSingly(problem, l, unload);
  timelines.take(machine, phaseStarts[load]!, phaseFinishes[unload]!);
  problem.starts[l] = phaseStarts[load]!;
  problem.finishes[l] = phaseFinishes[unload]!;
  return phaseFinishes[unload]!;
}

function takeSingly(problem: Problem, l: number, p: number): void {
  const person = problem.crewPerson[problem.phaseCrew[p]!]!;
  const work = problem.phaseWork[p]!;
  problem.people.take(person, work, work + problem.phaseMinutes[p]!);
  problem.lastStep[person] = problem.lotStep[l]! + 1;
}
