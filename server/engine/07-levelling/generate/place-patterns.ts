/** The two patterns that most lots are of, placed and taken without the questions that `place` asks. */
import { NEVER } from '../instance/calendars.ts';
import { FREE } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { machineFree } from './place.ts';
import { placeSingly } from './place-crew.ts';

/**
 * Places and takes a lot that is one person's work and waits after it, to begin at `start` at the earliest: what
 * `place` and `take` do, without their questions. Returns its finish. The work must not be nothing.
 */
export function placePlain(instance: Instance, l: number, start: number): number {
  const { phaseFirst, phaseStarts, phaseFinishes, phaseMinutes, phaseCrew } = instance;
  const first = phaseFirst[l]!;
  const end = phaseFirst[l + 1]!;
  placeSingly(instance, l, first, Math.max(start, instance.phaseNotBefore[first]!));
  takeSingly(instance, l, first);
  let at = phaseFinishes[first]!;
  for (let p = first + 1; p < end; p++) {
    phaseStarts[p] = at;
    at += phaseMinutes[p]!;
    phaseFinishes[p] = at;
    phaseCrew[p] = -1;
  }
  instance.starts[l] = phaseStarts[first]!;
  instance.finishes[l] = at;
  return at;
}

/**
 * The same for a lot that one person loads, a machine runs alone and one person unloads. Returns its finish; NEVER,
 * with nothing taken, where the machine is not open when it is loaded, so that the loading must wait for it.
 */
export function placeLoaded(instance: Instance, l: number, start: number): number {
  const { phaseStarts, phaseFinishes, phaseMinutes, phaseNotBefore, timelines } = instance;
  const load = instance.phaseFirst[l]!;
  const run = load + 1;
  const unload = load + 2;
  const machine = instance.phaseMachine[run]!;
  const calendar = instance.phaseCalendar[run]!;
  let from = Math.max(start, phaseNotBefore[load]!);
  for (;;) {
    from = machineFree(instance, load, from);
    placeSingly(instance, l, load, from);
    const loaded = phaseStarts[load]!;
    if (loaded > from) {
      // Whoever loads it comes later, and the machine may be taken by then.
      from = machineFree(instance, load, loaded);
      if (from > loaded) continue;
    }
    const ran = phaseFinishes[load]!;
    if (calendar >= 0 && instance.calendars.stretch(calendar, ran, phaseMinutes[run]!) > ran) return NEVER;
    phaseStarts[run] = ran;
    phaseFinishes[run] = ran + phaseMinutes[run]!;
    instance.phaseCrew[run] = -1;
    placeSingly(instance, l, unload, Math.max(phaseFinishes[run]!, phaseNotBefore[unload]!));
    const blocked = timelines.blockedUntil(machine, loaded, phaseFinishes[unload]!);
    if (blocked === FREE) break;
    from = blocked;
  }
  takeSingly(instance, l, load);
  takeSingly(instance, l, unload);
  timelines.take(machine, phaseStarts[load]!, phaseFinishes[unload]!);
  instance.starts[l] = phaseStarts[load]!;
  instance.finishes[l] = phaseFinishes[unload]!;
  return phaseFinishes[unload]!;
}

function takeSingly(instance: Instance, l: number, p: number): void {
  const person = instance.crewPerson[instance.phaseCrew[p]!]!;
  const work = instance.phaseWork[p]!;
  instance.people.take(person, work, work + instance.phaseMinutes[p]!);
  instance.lastStep[person] = instance.lotStep[l]! + 1;
}
