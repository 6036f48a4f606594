/**
 * The one schedule generator: it turns an order of lots into a schedule, placing each lot at its earliest given those
 * placed before it (serial generation scheme; J. Kelley 1963, R. Kolisch 1996). Builds with people, machines and
 * calendars and textbook instances go through the same passes; a textbook instance takes a shorter way through the
 * inner loop. Nothing is allocated.
 *
 * A lot is left alone while a machine runs or something dries; its rest (the unloading and what follows) has a turn of
 * its own. Whoever would begin other work when the run is over sees to the rest first; what they have begun before,
 * they finish before. So nobody is idle before an unloading because the next lot would last too long for it. A rest
 * that may begin before the next lot can is seen to at once: that lot need not be placed twice.
 */
import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { finishBound, linkBound, startBound } from './link-bounds.ts';
import { awaitAll, awaitHold, hasHadTurn, keptHold, letNext, makeReady, nextReady, releaseBy } from './pass-over.ts';
import { place, take } from './place.ts';
import { patternNow, placeAlone, placePlain, takeSingly } from './place-patterns.ts';
import {
  finishLeft,
  freeHolds,
  leave,
  placeUntilLeft,
  seeToDue,
  seeToLeft,
  seeToLongest,
  seeToTurns,
} from './place-rest.ts';
import { begin, placeTied, standTied, takeRest } from './place-under-way.ts';

const { ALONE, FINISH_FINISH, FINISH_START, FREE, HANDS, HOLDING, NEVER, NO_TURN, OTHER, UNTIED, WHOLE } = codes;

/**
 * Serial generation: fills the instance's starts, finishes and phase columns, and returns the latest finish (FREE for
 * no lots). `activityList` lists every lot once; a lot listed before a lot it depends on has that one placed first,
 * save in a textbook instance, where the order must keep the links (see `keepLinks`). So has, of a lot that is left
 * alone, its rest: where it keeps what is needed, or where its end counts; `Instance.passesOver` asks for the other
 * way.
 */
export function generateSerial(instance: Instance, activityList: Int32Array): number {
  if (instance.isTextbook) return generateTextbook(instance, activityList);
  beginPass(instance);
  if (instance.passesOver) placePassingOver(instance, activityList);
  else placeInOrder(instance, activityList);
  let latest = FREE;
  for (let l = 0; l < instance.lots; l++) if (instance.finishes[l]! > latest) latest = instance.finishes[l]!;
  return latest;
}

/** Every lot at its turn: what it waits for is placed before it, and what keeps its machine seen to. */
function placeInOrder(instance: Instance, activityList: Int32Array): void {
  for (let k = 0; k < activityList.length; k++) {
    const lot = activityList[k]!;
    if (isPlaced(instance, lot)) continue;
    if (instance.nextTurn <= k) seeToTurns(instance, k);
    const start = startIfReady(instance, lot);
    if (start === MISSING) placeWithNeeds(instance, lot);
    else placeAndTake(instance, lot, start);
  }
  while (instance.leftCount > 0) seeToLongest(instance);
}

/**
 * Every lot at its turn, save that what waits for others, for a rest or for a machine is passed over until these are
 * placed: of all that waits for nothing, what comes first in the list is placed next.
 */
function placePassingOver(instance: Instance, activityList: Int32Array): void {
  awaitAll(instance, activityList);
  if (instance.underWay.length > 0) releaseUnderWay(instance);
  for (;;) {
    const k = nextReady(instance);
    if (k >= 0) placeOrPassOver(instance, activityList[k]!);
    else if (instance.leftCount > 0) seeToLongest(instance);
    else return;
  }
}

/** What the pass began with is placed already. */
function releaseUnderWay(instance: Instance): void {
  const { lots, placedIn, pass } = instance;
  for (let lot = 0; lot < lots; lot++) {
    if (isPlaced(instance, lot)) releaseBy(instance, lot, placedIn[lot] === pass);
  }
  for (let lot = 0; lot < lots; lot++) {
    if (isPlaced(instance, lot)) hasHadTurn(instance, lot);
  }
}

/** Places a lot whose turn it is, or passes over it; where a rest was seen to first, it has its turn again. */
function placeOrPassOver(instance: Instance, lot: number): void {
  const start = instance.bound[lot]!;
  const hold = instance.leftCount > 0 ? keptHold(instance, lot) : -1;
  if (hold >= 0) awaitHold(instance, lot, hold);
  else {
    const isAny = instance.nextDue <= start && instance.lotHands[lot] === 1 && seeToDue(instance, lot, start);
    if (isAny || !placeOnce(instance, lot, start)) {
      makeReady(instance, lot);
      return;
    }
    releaseBy(instance, lot, instance.placedIn[lot] === instance.pass);
  }
  if (instance.heldFor[lot]! >= 0) letNext(instance, lot);
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
    if (instance.begun[lot] !== FREE) placeUnlimited(instance, lot);
    else {
      const first = instance.phaseFirst[lot]!;
      const end = instance.phaseFirst[lot + 1]!;
      const finish = finishBound(instance, lot);
      if (finish === FREE && first < end && patternNow(instance, first) === WHOLE) {
        instance.finishes[lot] = placePlain(instance, lot, first, end, startBound(instance, lot));
        instance.starts[lot] = instance.phaseStarts[first]!;
      } else place(instance, lot, startBound(instance, lot), finish);
    }
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
  instance.leftCount = 0;
  instance.nextDue = NEVER;
  instance.nextTurn = NO_TURN;
  instance.restFirst.fill(-1);
  instance.keeps.fill(0);
  const { underWay, tied } = instance;
  for (let k = 0; k < underWay.length; k++) {
    if (!instance.mirrored) begin(instance, underWay[k]!);
    if (tied[underWay[k]!] !== UNTIED) standTied(instance, underWay[k]!);
  }
  for (let k = 0; k < underWay.length; k++) {
    const lot = underWay[k]!;
    if (isPlaced(instance, lot)) continue;
    if (tied[lot] === UNTIED) placeUnderWay(instance, lot, FREE);
    else if (tied[lot] === HOLDING && !instance.mirrored) placeWithNeeds(instance, lot);
  }
}

/** Places and takes a lot under way, `start` as `startBound`. */
function placeUnderWay(instance: Instance, lot: number, start: number): void {
  if (instance.tied[lot] !== UNTIED) placeTied(instance, lot, start, finishBound(instance, lot));
  else if (instance.mirrored) take(instance, lot);
  else if (!standsStill(instance, lot)) {
    freeHolds(instance, lot);
    if (mayBeLeft(instance, lot) && placeUntilLeft(instance, lot, instance.begun[lot]!, OTHER))
      leave(instance, lot, OTHER, true);
    else {
      place(instance, lot, instance.begun[lot]!, FREE);
      takeRest(instance, lot);
    }
  }
  notePlaced(instance, lot);
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

/** Places and takes a lot, or as much of it as comes before it is left alone. `start` as `startBound`. */
function placeAndTake(instance: Instance, lot: number, start: number): void {
  if (instance.leftCount > 0) {
    if (instance.holdFirst[lot]! < instance.holdFirst[lot + 1]!) freeHolds(instance, lot);
    if (instance.nextDue <= start && instance.lotHands[lot] === 1) seeToDue(instance, lot, start);
  }
  while (!placeOnce(instance, lot, start));
}

/** The same; false, with nothing placed, where somebody sees to a rest first, which is placed instead. */
function placeOnce(instance: Instance, lot: number, start: number): boolean {
  const first = instance.phaseFirst[lot]!;
  const end = instance.phaseFirst[lot + 1]!;
  if (instance.begun[lot] !== FREE) {
    placeUnderWay(instance, lot, start);
    return true;
  }
  const finish = finishBound(instance, lot);
  const pattern = finish === FREE && first < end ? patternNow(instance, first) : OTHER;
  if (pattern === WHOLE) {
    instance.finishes[lot] = placePlain(instance, lot, first, end, start);
    instance.starts[lot] = instance.phaseStarts[first]!;
    if (instance.nextDue <= instance.starts[lot]! && seeToLeft(instance, lot)) return false;
    takeSingly(instance, lot, first);
    instance.placedIn[lot] = instance.pass;
    return true;
  }
  const isLeft = mayBeLeft(instance, lot) && placeUntilLeft(instance, lot, start, pattern);
  if (pattern === ALONE) {
    placeAlone(instance, lot, first, start);
    instance.starts[lot] = instance.phaseStarts[first]!;
    instance.finishes[lot] = instance.phaseFinishes[first]!;
  } else if (!isLeft) place(instance, lot, start, finish);
  if (instance.nextDue <= instance.starts[lot]! && instance.lotHands[lot] === 1 && seeToLeft(instance, lot))
    return false;
  if (isLeft) leave(instance, lot, pattern);
  else take(instance, lot);
  notePlaced(instance, lot);
  return true;
}

function mayBeLeft(instance: Instance, lot: number): boolean {
  return instance.lotLeft[lot] === 1 && !instance.isWhole;
}

/** The lots that `lot` waits for, then `lot`. */
function placeWithNeeds(instance: Instance, lot: number): void {
  const { stack, linkFirst, linkFrom } = instance;
  let depth = 0;
  stack[0] = lot;
  while (depth >= 0) {
    const top = stack[depth]!;
    let missing = -1;
    for (let i = linkFirst[top]!; i < linkFirst[top + 1]! && missing < 0; i++) {
      if (!isPlaced(instance, linkFrom[i]!)) missing = linkFrom[i]!;
    }
    if (missing >= 0) stack[++depth] = missing;
    else {
      placeAndTake(instance, top, startIfReady(instance, top));
      depth--;
    }
  }
}

/** Whether a lot is placed in this pass, or as much of it as comes before it is left alone. */
function isPlaced({ placedIn, pass }: Instance, lot: number): boolean {
  return placedIn[lot] === pass || placedIn[lot] === -pass;
}

function notePlaced({ placedIn, pass, restFirst }: Instance, lot: number): void {
  placedIn[lot] = restFirst[lot]! < 0 ? pass : -pass;
}

/** A lot that others must be placed before. */
const MISSING = 2147483647;

/**
 * `startBound`, or MISSING where a predecessor is not placed yet; one pass over the links. What is left of those whose
 * finish counts is placed first.
 */
function startIfReady(instance: Instance, lot: number): number {
  const { linkFirst, linkFrom, linkTime, linkLag, times, placedIn, pass } = instance;
  let bound = instance.earliest[lot]!;
  const end = linkFirst[lot + 1]!;
  for (let i = linkFirst[lot]!; i < end; i++) {
    const from = linkFrom[i]!;
    if (placedIn[from] !== pass) {
      if (placedIn[from] !== -pass) return MISSING;
      const type = instance.linkType[i]!;
      if (type === FINISH_START || type === FINISH_FINISH) finishLeft(instance, from);
    }
    const time = linkTime[i]!;
    const after = time >= 0 ? times[time]! + linkLag[i]! : linkBound(instance, i);
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
