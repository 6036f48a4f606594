/**
 * The one schedule generator: it turns an order of lots into a schedule, placing each lot at its earliest given those
 * placed before it (serial generation scheme; J. Kelley 1963, R. Kolisch 1996). Builds with people, machines and
 * calendars and textbook instances go through the same passes; a textbook instance takes a shorter way through the
 * inner loop. Nothing is allocated.
 */
import { NEVER } from '../instance/calendars.ts';
import {
  FINISH_FINISH,
  FINISH_START,
  FREE,
  HANDS,
  HOLDING,
  LOADED,
  OTHER,
  PLAIN,
  START_START,
  UNTIED,
} from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { place, take } from './place.ts';
import { placeLoaded, placePlain } from './place-patterns.ts';
import { begin, placeTied, standTied, takeRest } from './place-under-way.ts';

/**
 * Serial generation: fills the instance's starts, finishes and phase columns, and returns the latest finish (FREE for
 * no lots). `activityList` lists every lot once; a lot listed before a lot it depends on has that one placed first,
 * save in a textbook instance, where the order must keep the links (see `keepLinks`).
 */
export function generateSerial(instance: Instance, activityList: Int32Array): number {
  if (instance.isTextbook) return generateTextbook(instance, activityList);
  beginPass(instance);
  let latest = FREE;
  for (let k = 0; k < activityList.length; k++) {
    const lot = activityList[k]!;
    if (instance.placedIn[lot] === instance.pass) continue;
    const start = startIfReady(instance, lot);
    const finish = start === MISSING ? placeWithNeeds(instance, lot) : placeAndTake(instance, lot, start);
    if (finish > latest) latest = finish;
  }
  for (let k = 0; k < instance.underWay.length; k++)
    latest = Math.max(latest, instance.finishes[instance.underWay[k]!]!);
  return latest;
}

/**
 * The pass of the critical path: every lot at its earliest with all people, machines and pools free for it alone.
 * `activityList` lists every lot after those it depends on. Returns the latest finish.
 */
export function generateUnlimited(instance: Instance, activityList: Int32Array): number {
  instance.people.clear();
  instance.timelines.clear();
  instance.pools.clear();
  instance.lastStep.fill(0);
  let latest = FREE;
  for (let k = 0; k < activityList.length; k++) {
    const lot = activityList[k]!;
    if (instance.begun[lot] === FREE) place(instance, lot, startBound(instance, lot), finishBound(instance, lot));
    else placeUnlimited(instance, lot);
    if (instance.finishes[lot]! > latest) latest = instance.finishes[lot]!;
  }
  return latest;
}

/** What is under way began when it began; in the mirror it keeps its place, save that its end may come later. */
function placeUnlimited(instance: Instance, lot: number): void {
  if (instance.mirrored) {
    if (instance.tied[lot] !== UNTIED) instance.starts[lot] = startBound(instance, lot);
    return;
  }
  const finish = finishBound(instance, lot);
  if (instance.phaseFirst[lot]! < instance.phaseFirst[lot + 1]!) begin(instance, lot);
  place(instance, lot, instance.begun[lot]!, finish);
  instance.finishes[lot] = Math.max(instance.finishes[lot]!, finish);
}

/**
 * Everything is free again; what is under way takes its people and machines first, then what it goes on to. What waits
 * with its end for other work comes at its turn, or where it keeps a machine until then at once, behind that work.
 */
function beginPass(instance: Instance): void {
  instance.pass++;
  instance.people.clear();
  instance.timelines.clear();
  instance.pools.clear();
  instance.lastStep.fill(0);
  const { underWay, tied, placedIn } = instance;
  for (let k = 0; k < underWay.length; k++) {
    if (!instance.mirrored) begin(instance, underWay[k]!);
    if (tied[underWay[k]!] !== UNTIED) standTied(instance, underWay[k]!);
  }
  for (let k = 0; k < underWay.length; k++) {
    const lot = underWay[k]!;
    if (placedIn[lot] === instance.pass) continue;
    if (tied[lot] === UNTIED) placeUnderWay(instance, lot, FREE);
    else if (tied[lot] === HOLDING && !instance.mirrored) placeWithNeeds(instance, lot);
  }
}

/** Places and takes a lot under way, `start` as `startBound`. Returns its finish. */
function placeUnderWay(instance: Instance, lot: number, start: number): number {
  instance.placedIn[lot] = instance.pass;
  if (instance.tied[lot] !== UNTIED) return placeTied(instance, lot, start, finishBound(instance, lot));
  if (instance.mirrored) take(instance, lot);
  else if (!standsStill(instance, lot)) {
    place(instance, lot, instance.begun[lot]!, FREE);
    takeRest(instance, lot);
  }
  return instance.finishes[lot]!;
}

/** Work under way that takes no time takes nobody: it is noted where it began. */
function standsStill(instance: Instance, lot: number): boolean {
  const p = instance.phaseFirst[lot]!;
  if (instance.mirrored || instance.phaseFirst[lot + 1]! !== p + 1) return false;
  if (instance.phaseKind[p] !== HANDS || instance.phaseMinutes[p] !== 0) return false;
  const at = instance.begun[lot]!;
  instance.starts[lot] = at;
  instance.finishes[lot] = at;
  instance.phaseStarts[p] = at;
  instance.phaseFinishes[p] = at;
  instance.phaseCrew[p] = -1;
  return true;
}

function placeAndTake(instance: Instance, lot: number, start: number): number {
  if (instance.begun[lot] !== FREE) return placeUnderWay(instance, lot, start);
  instance.placedIn[lot] = instance.pass;
  const finish = finishBound(instance, lot);
  const pattern = finish === FREE ? patternNow(instance, lot) : OTHER;
  if (pattern === PLAIN) return placePlain(instance, lot, start);
  if (pattern === LOADED) {
    const loaded = placeLoaded(instance, lot, start);
    if (loaded !== NEVER) return loaded;
  }
  place(instance, lot, start, finish);
  take(instance, lot);
  return instance.finishes[lot]!;
}

/**
 * The pattern of a lot, if it is of one in this pass: work that takes no time, or that stays with whoever had it, is
 * placed with care.
 */
function patternNow(instance: Instance, lot: number): number {
  const pattern = instance.lotPattern[lot]!;
  if (pattern === OTHER) return OTHER;
  const { phaseMinutes, phaseFormerCrew, graceMinutes } = instance;
  const first = instance.phaseFirst[lot]!;
  if (phaseMinutes[first] === 0 || (graceMinutes > 0 && phaseFormerCrew[first]! >= 0)) return OTHER;
  if (pattern === PLAIN) return PLAIN;
  if (phaseMinutes[first + 1] === 0 || phaseMinutes[first + 2] === 0) return OTHER;
  return graceMinutes > 0 && phaseFormerCrew[first + 2]! >= 0 ? OTHER : LOADED;
}

function placeWithNeeds(instance: Instance, lot: number): number {
  const { stack, linkFirst, linkFrom, placedIn, pass } = instance;
  let depth = 0;
  let latest = FREE;
  stack[0] = lot;
  while (depth >= 0) {
    const top = stack[depth]!;
    let missing = -1;
    for (let i = linkFirst[top]!; i < linkFirst[top + 1]! && missing < 0; i++) {
      if (placedIn[linkFrom[i]!] !== pass) missing = linkFrom[i]!;
    }
    if (missing >= 0) stack[++depth] = missing;
    else {
      const finish = placeAndTake(instance, top, startBound(instance, top));
      if (finish > latest) latest = finish;
      depth--;
    }
  }
  return latest;
}

/** Where something that the lot waits for is not placed yet. */
const MISSING = 2147483647;

/**
 * `startBound`, or MISSING where a predecessor is not placed yet; one pass over the links.
 */
function startIfReady(instance: Instance, lot: number): number {
  const { linkFirst, linkFrom, linkType, linkLag, linkCalendar, starts, finishes, placedIn, pass } = instance;
  let bound = instance.earliest[lot]!;
  const end = linkFirst[lot + 1]!;
  for (let i = linkFirst[lot]!; i < end; i++) {
    const from = linkFrom[i]!;
    if (placedIn[from] !== pass) return MISSING;
    const type = linkType[i]!;
    if (type > START_START) continue;
    const at = type === FINISH_START ? finishes[from]! : starts[from]!;
    const calendar = linkCalendar[i]!;
    const after = calendar < 0 ? at + linkLag[i]! : instance.calendars.add(calendar, at, linkLag[i]!);
    if (after > bound) bound = after;
  }
  return bound;
}

/** No start of the lot before this, by its own bound and its links. */
export function startBound(instance: Instance, lot: number): number {
  const { linkFirst, linkFrom, linkType, linkLag, linkCalendar, starts, finishes, calendars } = instance;
  let bound = instance.earliest[lot]!;
  const end = linkFirst[lot + 1]!;
  for (let i = linkFirst[lot]!; i < end; i++) {
    const type = linkType[i]!;
    if (type > START_START) continue;
    const at = type === FINISH_START ? finishes[linkFrom[i]!]! : starts[linkFrom[i]!]!;
    const calendar = linkCalendar[i]!;
    const after = calendar < 0 ? at + linkLag[i]! : calendars.add(calendar, at, linkLag[i]!);
    if (after > bound) bound = after;
  }
  return bound;
}

/** No finish of the lot before this, by its links. */
export function finishBound(instance: Instance, lot: number): number {
  if (instance.startsOnly) return FREE;
  const { linkFirst, linkFrom, linkType, linkLag, linkCalendar, starts, finishes, calendars } = instance;
  let bound = FREE;
  for (let i = linkFirst[lot]!; i < linkFirst[lot + 1]!; i++) {
    const type = linkType[i]!;
    if (type <= START_START) continue;
    const at = type === FINISH_FINISH ? finishes[linkFrom[i]!]! : starts[linkFrom[i]!]!;
    const calendar = linkCalendar[i]!;
    const after = calendar < 0 ? at + linkLag[i]! : calendars.add(calendar, at, linkLag[i]!);
    if (after > bound) bound = after;
  }
  return bound;
}

/** The same scheme for textbook instances: no calendars, one demand a lot, pools in one packed word. */
function generateTextbook(instance: Instance, activityList: Int32Array): number {
  const { linkFirst, linkFrom, onlyPhase, phaseMinutes, starts, finishes, demand, pools } = instance;
  pools.clear();
  const { grid, words } = pools;
  const guard = pools.guard[0]!;
  let latest = 0;
  for (let k = 0; k < activityList.length; k++) {
    const lot = activityList[k]!;
    let start = 0;
    for (let i = linkFirst[lot]!, end = linkFirst[lot + 1]!; i < end; i++) {
      const finish = finishes[linkFrom[i]!]!;
      if (finish > start) start = finish;
    }
    const p = onlyPhase[lot]!;
    const length = phaseMinutes[p]!;
    let finish = start + length;
    if (words !== 1) {
      start = pools.fit(demand, p * words, start, length);
      finish = start + length;
      pools.take(demand, p * words, start, length);
    } else {
      const need = demand[p]!;
      let unseen = start;
      for (let slot = finish - 1; slot >= unseen; slot--) {
        if (((grid[slot]! - need) & guard) === 0) continue;
        // The slots between here and the old finish are known to have room.
        unseen = finish;
        start = slot + 1;
        finish = start + length;
        slot = finish;
      }
      for (let slot = start; slot < finish; slot++) grid[slot] = grid[slot]! - need;
    }
    starts[lot] = start;
    finishes[lot] = finish;
    if (finish > latest) latest = finish;
  }
  pools.mark(latest);
  return latest;
}

/** A textbook instance's phases are its lots; after a pass that is read by phase this says so. */
export function fillPhases(instance: Instance): void {
  const { onlyPhase, phaseStarts, phaseFinishes, starts, finishes } = instance;
  for (let l = 0; l < instance.lots; l++) {
    if (onlyPhase[l] === phaseStarts.length) continue;
    phaseStarts[onlyPhase[l]!] = starts[l]!;
    phaseFinishes[onlyPhase[l]!] = finishes[l]!;
  }
}
