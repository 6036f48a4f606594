/**
 * Lots that are left alone while a machine runs or something dries, and their rest: whoever comes back to it finishes
 * what is in their hands first. Until then a lot keeps its machine and its place.
 */
import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { finishBound } from './link-bounds.ts';
import { isAmong, longestKeeping, releaseByFinish, releaseHold } from './pass-over.ts';
import { placePart, takeCrew, takePart } from './place.ts';
import { patternNow, placeLoading, placePlain } from './place-patterns.ts';

const { FREE, NEVER, NO_TURN, OTHER, PLAIN } = codes;

/**
 * Places lot l up to where it may be left alone, to begin at `start` at the earliest, and takes nothing. False where
 * what it would keep from then on is taken again later: then it must be placed as a whole.
 */
export function placeUntilLeft(instance: Instance, l: number, start: number, pattern: number): boolean {
  const { phaseFirst, phaseStarts, phaseFinishes, station, keptUntil } = instance;
  const first = phaseFirst[l]!;
  const rest = instance.partEnd[first]!;
  if (pattern === PLAIN) placePlain(instance, l, first, rest, start);
  else if (pattern === OTHER || !placeLoading(instance, l, start)) placePart(instance, l, first, rest, start, FREE);
  instance.starts[l] = phaseStarts[first]!;
  instance.finishes[l] = phaseFinishes[rest - 1]!;
  const p = keptUntil[rest]!;
  if (p >= 0 && isWanted(instance, instance.occupiedMachine[p]!, phaseStarts[instance.occupiedFrom[p]!]!)) return false;
  return station[l]! < 0 || !isWanted(instance, station[l]!, phaseStarts[first]!);
}

function isWanted({ timelines }: Instance, hold: number, from: number): boolean {
  return timelines.blockedUntil(hold, from, NEVER) !== FREE;
}

/**
 * Takes what lot l needs until it is left alone, as it was placed, and keeps what it keeps from then on. `hasBegun`:
 * what its first phase needs of people is taken already.
 */
export function leave(instance: Instance, l: number, pattern: number, hasBegun = false): void {
  const { phaseFirst, phaseStarts, occupiedFrom, station, starts } = instance;
  const first = phaseFirst[l]!;
  const rest = instance.partEnd[first]!;
  if (pattern !== OTHER) takeCrew(instance, l, first, instance.phaseCrew[first]!);
  else takePart(instance, l, hasBegun ? first + 1 : first, rest);
  if (hasBegun) takeBegun(instance, first, rest);
  const p = instance.keptUntil[rest]!;
  if (p >= 0) keep(instance, instance.occupiedMachine[p]!, phaseStarts[occupiedFrom[p]!]!);
  if (station[l]! >= 0) keep(instance, station[l]!, starts[l]!);
  waits(instance, l, rest);
}

/**
 * Keeps one of a machine or place from `from` on. Where there is but one, nobody asks about it before it is given back.
 */
function keep({ timelines, keeps, capacity }: Instance, hold: number, from: number): void {
  keeps[hold]!++;
  if (capacity[hold]! > 1) timelines.take(hold, from, NEVER);
}

/** What was kept since `from` is free again at `to`. */
function giveBack(instance: Instance, hold: number, from: number, to: number): void {
  const { timelines, keeps, capacity } = instance;
  keeps[hold]!--;
  if (capacity[hold]! > 1) timelines.giveBack(hold, to);
  else timelines.take(hold, from, to);
  if (instance.passesOver) releaseHold(instance, hold);
}

/** Takes the machine that a lot under way was on when it began, where it is given back before phase `rest`. */
function takeBegun(instance: Instance, first: number, rest: number): void {
  const { timelines, phaseStarts, phaseFinishes, occupiedFrom, occupiedMachine } = instance;
  for (let p = first; p < rest; p++) {
    if (occupiedFrom[p] === first) timelines.take(occupiedMachine[p]!, phaseStarts[first]!, phaseFinishes[p]!);
  }
}

/** Notes with which phase the rest of lot l begins, and when that may. */
function waits(instance: Instance, l: number, rest: number): void {
  const { phaseFinishes, phaseNotBefore, earliest, restFirst, restFrom, left } = instance;
  const from = Math.max(phaseFinishes[rest - 1]!, phaseNotBefore[rest]!, earliest[l]!);
  restFirst[l] = rest;
  restFrom[l] = from;
  let at = instance.leftCount++;
  for (; at > 0 && restFrom[left[at - 1]!]! > from; at--) left[at] = left[at - 1]!;
  left[at] = l;
  instance.nextDue = restFrom[left[0]!]!;
  if (instance.hasRestTurns) instance.nextTurn = Math.min(instance.nextTurn, instance.restTurn[rest]!);
}

function waitsNoMore(instance: Instance, l: number): void {
  const { left, restFrom } = instance;
  let at = 0;
  while (left[at] !== l) at++;
  instance.leftCount--;
  for (; at < instance.leftCount; at++) left[at] = left[at + 1]!;
  instance.nextDue = instance.leftCount > 0 ? restFrom[left[0]!]! : NEVER;
}

/** Places and takes all that is left of lot l. */
export function finishLeft(instance: Instance, l: number): void {
  while (instance.restFirst[l]! >= 0) {
    placeRest(instance, l);
    takeRestOf(instance, l);
  }
}

/** Sees to what has waited longest of all that is left alone. */
export function seeToLongest(instance: Instance): void {
  const l = longestKeeping(instance, -1);
  placeRest(instance, l);
  takeRestOf(instance, l);
}

/** Sees to all whose turn has come at place k of the activity list. */
export function seeToTurns(instance: Instance, k: number): void {
  const { left, restFirst, restTurn } = instance;
  let next = NO_TURN;
  for (let i = 0; i < instance.leftCount; i++) {
    const l = left[i]!;
    const turn = restTurn[restFirst[l]!]!;
    if (turn > k) {
      next = Math.min(next, turn);
      continue;
    }
    placeRest(instance, l);
    takeRestOf(instance, l);
    i = -1;
    next = NO_TURN;
  }
  instance.nextTurn = next;
}

/**
 * Where all of a machine or place that lot l takes is kept by lots that are left alone, it waits for those that have
 * waited longest.
 */
export function freeHolds(instance: Instance, l: number): void {
  const { holdFirst, holds, keeps, capacity } = instance;
  for (let i = holdFirst[l]!; i < holdFirst[l + 1]!; i++) {
    const hold = holds[i]!;
    while (keeps[hold]! >= capacity[hold]!) {
      const kept = longestKeeping(instance, hold);
      placeRest(instance, kept);
      takeRestOf(instance, kept);
    }
  }
}

/**
 * Sees to every rest that may begin by `start`, before which `lot` cannot, and that those who may do the lot may do;
 * returns whether there was one.
 */
export function seeToDue(instance: Instance, lot: number, start: number): boolean {
  const { left, restFrom, restFirst, phasePeople } = instance;
  const people = phasePeople[instance.phaseFirst[lot]!]!;
  let isAny = false;
  for (let i = 0; i < instance.leftCount && restFrom[left[i]!]! <= start; i++) {
    const l = left[i]!;
    if ((phasePeople[restFirst[l]!]! & people) === 0) continue;
    placeRest(instance, l);
    takeRestOf(instance, l);
    isAny = true;
    i = -1;
  }
  return isAny;
}

/**
 * Whoever would begin `lot` where it is placed sees first to a rest that has waited for their hands until then: places
 * and takes it, and returns whether there was one. What they can see to before may also wait.
 */
export function seeToLeft(instance: Instance, lot: number): boolean {
  const { left, leftCount, restFrom, restFirst, phasePeople } = instance;
  const start = instance.starts[lot]!;
  const people = peopleAt(instance, lot);
  for (let i = 0; i < leftCount && restFrom[left[i]!]! <= start; i++) {
    const l = left[i]!;
    if ((phasePeople[restFirst[l]!]! & people) === 0 && instance.phaseMinutes[restFirst[l]!]! > 0) continue;
    if (placeRest(instance, l) <= start || !isBySame(instance, lot, l)) continue;
    takeRestOf(instance, l);
    return true;
  }
  return false;
}

/** Those who would do the first part of `lot`, as in `phasePeople`. */
function peopleAt({ phaseFirst, partEnd, phaseCrew, crewPeople }: Instance, lot: number): number {
  let people = 0;
  for (let p = phaseFirst[lot]!; p < partEnd[phaseFirst[lot]!]!; p++) {
    if (phaseCrew[p]! >= 0) people |= crewPeople[phaseCrew[p]!]!;
  }
  return people;
}

/** Whether somebody who would do the first part of `lot` would see to the rest of lot l. */
function isBySame(instance: Instance, lot: number, l: number): boolean {
  const { phaseFirst, partEnd, phaseCrew, memberFirst, members } = instance;
  const rest = phaseCrew[instance.restFirst[l]!]!;
  if (rest < 0) return true;
  for (let p = phaseFirst[lot]!; p < partEnd[phaseFirst[lot]!]!; p++) {
    const crew = phaseCrew[p]!;
    const end = crew < 0 ? 0 : memberFirst[crew + 1]!;
    for (let m = crew < 0 ? 0 : memberFirst[crew]!; m < end; m++) {
      if (isAmong(members, memberFirst[rest]!, memberFirst[rest + 1]!, members[m]!)) return true;
    }
  }
  return false;
}

/** Places the next part of the rest of lot l, and returns its finish. Takes nothing. */
function placeRest(instance: Instance, l: number): number {
  const { restFirst, restFrom, phaseFirst } = instance;
  const first = restFirst[l]!;
  const end = instance.partEnd[first]!;
  const low = end === phaseFirst[l + 1] ? finishBound(instance, l) : FREE;
  if (low === FREE && patternNow(instance, first) === PLAIN) return placePlain(instance, l, first, end, restFrom[l]!);
  const p = instance.keptUntil[first]!;
  instance.kept = p < 0 ? -1 : instance.occupiedMachine[p]!;
  const finish = placePart(instance, l, first, end, restFrom[l]!, low);
  instance.kept = -1;
  return finish;
}

/** Takes what was placed, and gives back what is no longer kept. */
function takeRestOf(instance: Instance, l: number): void {
  const { restFirst, phaseFirst, phaseStarts, phaseFinishes, station, starts } = instance;
  const first = restFirst[l]!;
  const end = instance.partEnd[first]!;
  takePart(instance, l, first, end);
  const p = instance.keptUntil[first]!;
  const finish = phaseFinishes[end - 1]!;
  instance.finishes[l] = finish;
  if (p >= 0 && p < end) {
    giveBack(instance, instance.occupiedMachine[p]!, phaseStarts[instance.occupiedFrom[p]!]!, phaseFinishes[p]!);
  }
  waitsNoMore(instance, l);
  if (end < phaseFirst[l + 1]!) {
    waits(instance, l, end);
    return;
  }
  if (station[l]! >= 0) giveBack(instance, station[l]!, starts[l]!, finish);
  instance.restFirst[l] = -1;
  instance.placedIn[l] = instance.pass;
  if (instance.passesOver) releaseByFinish(instance, l);
}
