/** The two patterns that most parts of lots are of, placed and taken without the questions that `place` asks. */
import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { machineFree, orderedBy } from './place.ts';
import { placeCrew } from './place-crew.ts';
import { placeSingly } from './place-singly.ts';

const { ALONE, FREE, LEAD, LOADED, OTHER } = codes;

/**
 * Places the phases of lot l from `first` to `end` (left out), one person's work and waits or deliveries after it, to
 * begin at `start` at the earliest, as `placePart` does, without its questions. The work must not be nothing. Returns
 * the finish.
 */
export function placePlain(instance: Instance, l: number, first: number, end: number, start: number): number {
  const { phaseStarts, phaseFinishes, phaseMinutes, phaseCrew, phaseNotBefore, phaseKind } = instance;
  placeSingly(instance, l, first, Math.max(start, phaseNotBefore[first]!), FREE);
  let at = phaseFinishes[first]!;
  for (let p = first + 1; p < end; p++) {
    const from = Math.max(at, phaseNotBefore[p]!);
    const isLead = phaseKind[p] === LEAD;
    at = (isLead ? instance.leads.finish(instance.phaseTable[p]!, from) : from) + phaseMinutes[p]!;
    phaseStarts[p] = isLead && instance.mirrored ? orderedBy(instance, p, from) : from;
    phaseFinishes[p] = at;
    phaseCrew[p] = -1;
  }
  return at;
}

/**
 * Places the loading and the run of a lot that one person loads and a machine runs alone, until somebody unloads it.
 * False where the machine is not open when it is loaded, so that the loading must wait for it.
 */
export function placeLoading(instance: Instance, l: number, start: number): boolean {
  const { phaseStarts, phaseFinishes, phaseMinutes } = instance;
  const load = instance.phaseFirst[l]!;
  const run = load + 1;
  let from = machineFree(instance, load, Math.max(start, instance.phaseNotBefore[load]!));
  for (;;) {
    placeSingly(instance, l, load, from, FREE);
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

/** Places phase p, the only one of its lot, to begin at `start` at the earliest. It must take some time. */
export function placeAlone(instance: Instance, l: number, p: number, start: number): void {
  const from = Math.max(start, instance.phaseNotBefore[p]!);
  instance.lowFinish[p] = FREE;
  placeCrew(instance, l, p, instance.occupiedUntil[p]! < 0 ? from : machineFree(instance, p, from), true);
}

/** Takes the one person of phase p of lot l. */
export function takeSingly(instance: Instance, l: number, p: number): void {
  const person = instance.crewPerson[instance.phaseCrew[p]!]!;
  const work = instance.phaseWork[p]!;
  instance.people.take(person, work, work + instance.phaseMinutes[p]!);
  instance.lastStep[person] = instance.lotStep[l]! + 1;
}

/**
 * The pattern of the part that begins with phase p, if it is of one in this pass: work that takes no time, or that
 * stays with whoever had it, is placed with care.
 */
export function patternNow(instance: Instance, p: number): number {
  const pattern = instance.partPattern[p]!;
  if (pattern === OTHER) return OTHER;
  const { phaseMinutes, graceMinutes } = instance;
  if (phaseMinutes[p] === 0) return OTHER;
  if (graceMinutes > 0 && pattern !== ALONE && instance.phaseFormerCrew[p]! >= 0) return OTHER;
  return pattern === LOADED && phaseMinutes[p + 1] === 0 ? OTHER : pattern;
}
