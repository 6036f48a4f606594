/** Places one lot: its phases one after the other, each with a crew, a machine or a calendar. */

import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { placeCrew } from './place-crew.ts';

const { DEMAND, FREE, LEAD, NEVER, RUN } = codes;

/**
 * Finds the earliest place of lot l that starts at `start` at the earliest and finishes at `finish` at the earliest,
 * given what is taken already, and writes it to the instance's phaseStarts, phaseFinishes, phaseCrew, starts and
 * finishes. Takes nothing: `take` does. Returns the start.
 *
 * Phases are placed one after the other. Where one does not fit, what must move is bounded from below (the phase itself
 * if it may begin later than the one before it ends, else the chain it hangs on) and the chain is placed again from
 * there. Every bound is one that no earlier start can meet, so the place found is the earliest, given that each phase
 * takes the crew that finishes it first, or the one that is wanted (`phaseWanted`), and begins not before
 * `phaseNotBefore`.
 *
 * A lot that may be left alone while a machine runs or something dries is placed in parts (`place-rest.ts`): its rest
 * comes when whoever sees to it has finished what is in their hands. As a whole it is placed only where what it would
 * keep until then is taken again later.
 *
 * An example: somebody who is there from 9:00 to 17:00 loads a printer (8 minutes), it runs alone (250) and is unloaded
 * (4); the lot is free from 12:55, and other work has the printer from 18:00 to 20:00. Loading 12:55 to 13:03 and the
 * run until 17:13 fit, the unloading only at 9:00 the next day. But the printer is occupied from loading to unloading,
 * and the other work comes between: `needed` is 20:00, and `moved` is the loading, where the occupation begins. It is
 * placed again from there and fits at 9:00 the next day, the run until 13:18, the unloading until 13:22.
 *
 * `placeSingly`, `placePlain` and `placeLoading` are the same rule for the commonest shapes of lots, for speed. That
 * they agree with it is what the judge of the tests holds, which reads schedules without knowing how they were made.
 */
export function place(instance: Instance, l: number, start: number, finish: number): number {
  const { phaseFirst, phaseStarts } = instance;
  const first = phaseFirst[l]!;
  const end = phaseFirst[l + 1]!;
  if (first === end) instance.starts[l] = instance.finishes[l] = Math.max(start, finish);
  else {
    instance.finishes[l] = placePart(instance, l, first, end, start, finish);
    instance.starts[l] = phaseStarts[first]!;
  }
  return instance.starts[l]!;
}

/**
 * The same for the phases of lot l from `first` to `end` (left out) alone, which begin at `start` and finish at
 * `finish` at the earliest. What the lot has kept since an earlier part is its own. Writes the phases' times and crews
 * alone, and returns the finish of the last of them.
 */
export function placePart(
  instance: Instance,
  l: number,
  first: number,
  end: number,
  start: number,
  finish: number,
): number {
  if (instance.lotHangs[l] === 0) return placeFirst(instance, l, first, end, start, finish);
  instance.doubt = -1;
  placeFirst(instance, l, first, end, start, finish);
  const p = instance.doubt;
  return p < 0 ? instance.phaseFinishes[end - 1]! : placeAmong(instance, l, first, end, start, finish, p);
}

/**
 * The crew of phase p that follows at once need not end first: another may, if what comes before it comes later. Each
 * is tried, and the finish of the part decides.
 */
function placeAmong(
  instance: Instance,
  l: number,
  first: number,
  end: number,
  start: number,
  finish: number,
  p: number,
): number {
  const { crewRange, phaseWanted, phaseCrew, phaseFormerCrew, phaseFinishes } = instance;
  let best = phaseCrew[p]!;
  const patience = best === phaseFormerCrew[p] ? instance.graceMinutes : 0;
  let bestFinish = phaseFinishes[end - 1]! - patience;
  for (let crew = crewRange[2 * p]!; crew < crewRange[2 * p + 1]!; crew++) {
    if (crew === best) continue;
    phaseWanted[p] = crew;
    const other = placePart(instance, l, first, end, start, finish);
    if (other >= bestFinish) continue;
    best = crew;
    bestFinish = other;
  }
  phaseWanted[p] = best;
  placePart(instance, l, first, end, start, finish);
  phaseWanted[p] = -1;
  return phaseFinishes[end - 1]!;
}

/** The same with each phase by the crew that ends it first, of those that can follow what comes before it. */
function placeFirst(instance: Instance, l: number, first: number, end: number, start: number, finish: number): number {
  const { phaseStarts, phaseFinishes, lowStart, lowFinish, phaseLoose, phaseNotBefore, station } = instance;
  const isWhole = first === instance.phaseFirst[l] && end === instance.phaseFirst[l + 1];
  for (let p = first; p < end; p++) {
    lowStart[p] = phaseNotBefore[p]!;
    lowFinish[p] = FREE;
  }
  lowStart[first] = Math.max(start, phaseNotBefore[first]!);
  lowFinish[end - 1] = finish;
  let p = first;
  while (p < end) {
    const movable = p === first || phaseLoose[p] === 1;
    const previous = p === first ? FREE : phaseFinishes[p - 1]!;
    let from = movable && lowStart[p]! > previous ? lowStart[p]! : previous;
    if (movable && instance.occupiedUntil[p]! >= 0) from = machineFree(instance, p, from);
    // A chain that hangs on the phase before it must be moved as a whole.
    let needed = !movable && lowStart[p]! > from ? lowStart[p]! : placePhase(instance, l, p, from, movable);
    let moved = p;
    if (needed === FREE && movable && instance.occupiedUntil[p]! >= 0 && phaseStarts[p]! > from) {
      // Whoever loads it comes later, and the machine may be taken by then.
      const free = machineFree(instance, p, phaseStarts[p]!);
      if (free > phaseStarts[p]!) needed = free;
    }
    if (needed === FREE) {
      const occupiedSince = instance.occupiedFrom[p]!;
      // What takes no time is in nobody's way.
      if (occupiedSince >= first && phaseStarts[occupiedSince]! < phaseFinishes[p]!) {
        needed = instance.timelines.blockedUntil(
          instance.occupiedMachine[p]!,
          phaseStarts[occupiedSince]!,
          phaseFinishes[p]!,
        );
        moved = occupiedSince;
      }
      const isLast = isWhole && p === end - 1 && phaseStarts[first]! < phaseFinishes[p]!;
      if (needed === FREE && isLast && station[l]! >= 0) {
        needed = instance.timelines.blockedUntil(station[l]!, phaseStarts[first]!, phaseFinishes[p]!);
        moved = first;
      }
      // A lot under way stays where it is, whatever the log says of the machine it is on.
      if (needed === FREE || (moved === instance.phaseFirst[l]! && instance.begun[l]! !== FREE)) {
        p++;
        continue;
      }
    }
    p = delay(instance, first, moved, needed);
  }
  return phaseFinishes[end - 1]!;
}

/**
 * No occupation of the machine that phase p takes can begin earlier, at or after `from`: it lasts as long as its phases
 * at least.
 */
export function machineFree(instance: Instance, p: number, from: number): number {
  const until = instance.occupiedUntil[p]!;
  let minutes = 0;
  for (let q = p; q <= until; q++) minutes += instance.phaseMinutes[q]!;
  return minutes > 0 ? instance.timelines.gap(instance.occupiedMachine[until]!, from, minutes) : from;
}

/**
 * Notes that phase p must not start before `needed`, and returns the phase from which its chain can be placed again.
 */
function delay(instance: Instance, first: number, p: number, needed: number): number {
  if (p === first || instance.phaseLoose[p] === 1) {
    instance.lowStart[p] = needed;
    return p;
  }
  instance.lowStart[p] = needed;
  instance.lowFinish[p - 1] = needed;
  return p - 1;
}

/**
 * Places phase p at `from`, or at the first possible instant after it where it is movable. Returns FREE when done, else
 * the instant before which it cannot start.
 */
function placePhase(instance: Instance, l: number, p: number, from: number, movable: boolean): number {
  const kind = instance.phaseKind[p]!;
  const minutes = instance.phaseMinutes[p]!;
  if (p === instance.phaseFirst[l]! && instance.begun[l]! !== FREE) return goOn(instance, l, p);
  if (instance.crewRange[2 * p + 1]! > instance.crewRange[2 * p]! && minutes > 0)
    return placeCrew(instance, l, p, from, movable);
  const low = instance.lowFinish[p]!;
  let start = from;
  let finish: number;
  if (kind === LEAD) {
    finish = instance.leads.finish(instance.phaseTable[p]!, start) + minutes;
    if (finish < low) {
      start = Math.max(start + 1, instance.leads.startFor(instance.phaseTable[p]!, low - minutes));
      if (!movable) return start;
      finish = instance.leads.finish(instance.phaseTable[p]!, start) + minutes;
    }
    if (instance.mirrored) start = orderedBy(instance, p, start);
  } else {
    if (start + minutes < low) start = low - minutes;
    if (kind === RUN) start = fitRun(instance, p, start, minutes);
    else if (kind === DEMAND) start = fitDemand(instance, p, start, minutes);
    if (start > from && !movable) return start;
    finish = start + minutes;
  }
  instance.phaseStarts[p] = start;
  instance.phaseFinishes[p] = finish;
  instance.phaseCrew[p] = -1;
  return FREE;
}

/** Time reversed, the goods are there when they arrive, not when they are needed. */
export function orderedBy({ leads, phaseTable }: Instance, p: number, from: number): number {
  return Math.max(from, leads.latestStart(phaseTable[p]!, from));
}

/** What is under way is where it began (see `begin`); what comes after it comes now at the earliest. */
function goOn(instance: Instance, l: number, p: number): number {
  if (p + 1 < instance.phaseFirst[l + 1]! && instance.lowStart[p + 1]! < instance.earliest[l]!) {
    instance.lowStart[p + 1] = instance.earliest[l]!;
  }
  return FREE;
}

function fitRun(instance: Instance, p: number, from: number, minutes: number): number {
  const { calendars, timelines } = instance;
  const calendar = instance.phaseCalendar[p]!;
  const machine = instance.phaseMachine[p]!;
  let start = from;
  for (;;) {
    if (calendar >= 0 && minutes > 0) start = calendars.stretch(calendar, start, minutes);
    const blocked =
      minutes > 0 && machine !== instance.kept ? timelines.blockedUntil(machine, start, start + minutes) : FREE;
    // Who keeps the machine for ever waits for this one: no order of work lets both go on.
    if (blocked === FREE || blocked >= NEVER) return start;
    start = blocked;
  }
}

function fitDemand(instance: Instance, p: number, from: number, minutes: number): number {
  const { calendars, pools } = instance;
  const calendar = instance.phaseCalendar[p]!;
  if (minutes === 0) return from;
  let start = from;
  for (;;) {
    const open = calendar >= 0 ? calendars.stretch(calendar, start, minutes) : start;
    start = pools.fit(instance.demand, p * pools.words, open - pools.base, minutes) + pools.base;
    if (start === open) return start;
  }
}

/**
 * Takes what the place of lot l needs: its people, its machines from loading to unloading, its pools and its station.
 */
export function take(instance: Instance, l: number): void {
  takePart(instance, l, instance.phaseFirst[l]!, instance.phaseFirst[l + 1]!);
  const station = instance.station[l]!;
  if (station >= 0) instance.timelines.take(station, instance.starts[l]!, instance.finishes[l]!);
}

/** The same for the phases from `first` to `end` (left out) alone, and the machines that they alone take. */
export function takePart(instance: Instance, l: number, first: number, end: number): void {
  const { timelines, phaseStarts, phaseFinishes, phaseCrew, occupiedFrom, pools } = instance;
  for (let p = first; p < end; p++) {
    if (phaseCrew[p]! >= 0) takeCrew(instance, l, p, phaseCrew[p]!);
    if (occupiedFrom[p]! >= first)
      timelines.take(instance.occupiedMachine[p]!, phaseStarts[occupiedFrom[p]!]!, phaseFinishes[p]!);
    if (instance.phaseKind[p] === DEMAND) {
      pools.take(instance.demand, p * pools.words, phaseStarts[p]! - pools.base, phaseFinishes[p]! - phaseStarts[p]!);
    }
  }
}

/** Takes the crew of phase p for as long as it lasts, and notes what step they are at. */
export function takeCrew(instance: Instance, l: number, p: number, crew: number): void {
  const { people, calendars, members, memberFirst, ownCalendar, phaseStarts, phaseFinishes, lastStep } = instance;
  const work = instance.phaseWork[p]!;
  const end = memberFirst[crew + 1]!;
  for (let m = memberFirst[crew]!; m < end; m++) {
    const person = members[m]!;
    lastStep[person] = instance.lotStep[l]! + 1;
    if (work >= 0) people.take(person, work, work + instance.phaseMinutes[p]!);
    else {
      const own = ownCalendar[person]!;
      people.take(person, calendars.worked(own, phaseStarts[p]!), calendars.worked(own, phaseFinishes[p]!));
    }
  }
}
