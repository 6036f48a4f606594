/** Lots under way: what they have in hand as a pass begins, what they go on to, and an end that waits. */
import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { place, take, takeCrew } from './place.ts';
import { crewBlocked } from './place-crew.ts';

const { DEMAND, FREE, HANDS, HOLDING, LEAD, NEVER, UNTIED } = codes;

/**
 * Lays the phase that lot l is in where it began, about which no calendar is asked, and takes whoever is at it.
 * Forwards only: in the mirror all that is under way is where a forward pass put it.
 */
export function begin(instance: Instance, l: number): void {
  const { begun, crewRange, phaseKind, phaseMinutes, phaseTable, calendars, crewCalendar, pools } = instance;
  const p = instance.phaseFirst[l]!;
  const start = begun[l]!;
  const minutes = phaseMinutes[p]!;
  const crew = crewRange[2 * p + 1]! > crewRange[2 * p]! && minutes > 0 ? crewOf(instance, p, start, minutes) : -1;
  let finish = start + minutes;
  if (phaseKind[p] === LEAD) finish = instance.leads.finish(phaseTable[p]!, start) + minutes;
  else if (phaseKind[p] === HANDS && crew >= 0 && instance.phaseOneGo[p] === 0)
    finish = calendars.add(crewCalendar[crew]!, start, minutes);
  instance.phaseStarts[p] = start;
  instance.phaseFinishes[p] = finish;
  instance.phaseCrew[p] = crew;
  instance.phaseWork[p] = -1;
  if (crew >= 0) takeCrew(instance, l, p, crew);
  if (phaseKind[p] === DEMAND) pools.take(instance.demand, p * pools.words, start - pools.base, minutes);
}

/**
 * The first crew who may be at it, are at nothing else that is under way, and are there; else the first who are at
 * nothing else.
 */
function crewOf(instance: Instance, p: number, start: number, minutes: number): number {
  const { crewRange, crewCalendar, calendars } = instance;
  const [first, end] = [crewRange[2 * p]!, crewRange[2 * p + 1]!];
  let free = -1;
  for (let crew = first; crew < end; crew++) {
    if (crewBlocked(instance, crew, -1, start, start + minutes) !== FREE) continue;
    if (calendars.nextOpen(crewCalendar[crew]!, start) === start) return crew;
    if (free < 0) free = crew;
  }
  return free < 0 ? first : free;
}

/** Takes what the place of lot l needs beside what `begin` took. */
export function takeRest(instance: Instance, l: number): void {
  const { timelines, phaseFirst, phaseStarts, phaseFinishes, phaseCrew, occupiedFrom, occupiedMachine, pools } =
    instance;
  const first = phaseFirst[l]!;
  for (let p = first; p < phaseFirst[l + 1]!; p++) {
    if (occupiedFrom[p]! > first || (occupiedFrom[p] === first && instance.tied[l] === UNTIED))
      timelines.take(occupiedMachine[p]!, phaseStarts[occupiedFrom[p]!]!, phaseFinishes[p]!);
    if (p === first) continue;
    if (phaseCrew[p]! >= 0) takeCrew(instance, l, p, phaseCrew[p]!);
    if (instance.phaseKind[p] === DEMAND)
      pools.take(instance.demand, p * pools.words, phaseStarts[p]! - pools.base, phaseFinishes[p]! - phaseStarts[p]!);
  }
  const station = instance.station[l]!;
  if (station >= 0 && instance.tied[l] === UNTIED) timelines.take(station, instance.starts[l]!, instance.finishes[l]!);
}

/**
 * A lot whose end waits takes what it has now: its machine for the phase it is in, or, where it keeps it until its end,
 * which is not known yet, from then on; a place likewise.
 */
export function standTied(instance: Instance, l: number): void {
  if (instance.mirrored) {
    take(instance, l);
    return;
  }
  const { timelines, begun, phaseFirst, phaseFinishes, occupiedUntil, occupiedMachine, station } = instance;
  const first = phaseFirst[l]!;
  const until = occupiedUntil[first]!;
  if (until >= 0) timelines.take(occupiedMachine[until]!, begun[l]!, until > first ? NEVER : phaseFinishes[first]!);
  if (station[l]! >= 0) timelines.take(station[l]!, begun[l]!, NEVER);
}

/**
 * Places and takes the rest of a lot whose end waits: it ends at `finish` at the earliest. What is in its only phase
 * ends then too, though nobody and nothing is busy with it any more. In the mirror its end comes at `start`, as late as
 * its links allow. Returns its finish.
 */
export function placeTied(instance: Instance, l: number, start: number, finish: number): number {
  const { finishes } = instance;
  if (instance.mirrored) {
    instance.starts[l] = start;
    return finishes[l]!;
  }
  place(instance, l, instance.begun[l]!, finish);
  finishes[l] = Math.max(finishes[l]!, finish);
  takeRest(instance, l);
  if (instance.tied[l] !== HOLDING) return finishes[l]!;
  const { timelines, phaseFinishes, occupiedUntil, occupiedMachine, station } = instance;
  const first = instance.phaseFirst[l]!;
  const until = occupiedUntil[first]!;
  if (until > first) timelines.giveBack(occupiedMachine[until]!, phaseFinishes[until]!);
  if (station[l]! >= 0) timelines.giveBack(station[l]!, finishes[l]!);
  return finishes[l]!;
}
