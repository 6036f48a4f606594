/** The two patterns that most lots are of, placed and taken without the questions that `place` asks. */
import { LOADED, OTHER, PLAIN } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { machineFree } from './place.ts';
import { placeSingly } from './place-crew.ts';

/**
 * Places a lot that is one person's work and waits after it, to begin at `start` at the earliest, as `place` does,
 * without its questions. The work must not be nothing.
 */
export function placePlain(instance: Instance, l: number, start: number): void {
  const { phaseFirst, phaseStarts, phaseFinishes, phaseMinutes, phaseCrew } = instance;
  const first = phaseFirst[l]!;
  const end = phaseFirst[l + 1]!;
  placeSingly(instance, l, first, Math.max(start, instance.phaseNotBefore[first]!));
  let at = phaseFinishes[first]!;
  for (let p = first + 1; p < end; p++) {
    phaseStarts[p] = at;
    at += phaseMinutes[p]!;
    phaseFinishes[p] = at;
    phaseCrew[p] = -1;
  }
  instance.starts[l] = phaseStarts[first]!;
  instance.finishes[l] = at;
}

/**
 * Places the loading and the run of a lot that one person loads, a machine runs alone and one person unloads. False
 * where the machine is not open when it is loaded, so that the loading must wait for it.
 */
export function placeLoading(instance: Instance, l: number, start: number): boolean {
  const { phaseStarts, phaseFinishes, phaseMinutes } = instance;
  const load = instance.phaseFirst[l]!;
  const run = load + 1;
  let from = machineFree(instance, load, Math.max(start, instance.phaseNotBefore[load]!));
  for (;;) {
    placeSingly(instance, l, load, from);
    if (phaseStarts[load] === from) break;
    // Whoever loads it comes later, and the machine may be taken by then.
    from = machineFree(instance, load, phaseStarts[load]!);
    if (from === phaseStarts[load]) break;
  }
  const ran = phaseFinishes[load]!;
  const calendar = instance.phaseCalendar[run]!;
  if (calendar >= 0 && instance.calendars.stretch(calendar, ran, phaseMinutes[run]!) > ran) return false;
  phaseStarts[run] = ran;
  phaseFinishes[run] = ran + phaseMinutes[run]!;
  instance.phaseCrew[run] = -1;
  return true;
}

/** Takes the one person of phase p of lot l. */
export function takeSingly(instance: Instance, l: number, p: number): void {
  const person = instance.crewPerson[instance.phaseCrew[p]!]!;
  const work = instance.phaseWork[p]!;
  instance.people.take(person, work, work + instance.phaseMinutes[p]!);
  instance.lastStep[person] = instance.lotStep[l]! + 1;
}

/**
 * The pattern of a lot, if it is of one in this pass: work that takes no time, or that stays with whoever had it, is
 * placed with care.
 */
export function patternNow(instance: Instance, lot: number): number {
  const pattern = instance.lotPattern[lot]!;
  if (pattern === OTHER) return OTHER;
  const { phaseMinutes, phaseFormerCrew, graceMinutes } = instance;
  const first = instance.phaseFirst[lot]!;
  if (phaseMinutes[first] === 0 || (graceMinutes > 0 && phaseFormerCrew[first]! >= 0)) return OTHER;
  if (pattern === PLAIN) return PLAIN;
  if (phaseMinutes[first + 1] === 0 || phaseMinutes[first + 2] === 0) return OTHER;
  return graceMinutes > 0 && phaseFormerCrew[first + 2]! >= 0 ? OTHER : LOADED;
}
