/**
 * Work that waits for the rest of a lot that is left alone is passed over until that rest is done, as whoever is there
 * takes up what is ready instead of waiting for what the sheet names next.
 */
import * as codes from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';
import { linkBound } from './link-bounds.ts';

const { OUT } = codes;

/** A machine or place that `lot` needs and lots that are left alone keep all of; -1 for none. */
export function keptHold({ holdFirst, holds, keeps, capacity }: Instance, lot: number): number {
  for (let i = holdFirst[lot]!; i < holdFirst[lot + 1]!; i++) {
    if (keeps[holds[i]!]! >= capacity[holds[i]!]!) return holds[i]!;
  }
  return -1;
}

/**
 * Passes over `lot` until one of a machine or place is given back. Those that wait for it stay in the order of the
 * activity list.
 */
export function awaitHold({ holdWaiter, lastWaiter, nextWaiter, turn }: Instance, lot: number, hold: number): void {
  let before = -1;
  let after = holdWaiter[hold]!;
  if (after >= 0 && turn[lastWaiter[hold]!]! < turn[lot]!) [before, after] = [lastWaiter[hold]!, -1];
  for (; after >= 0 && turn[after]! < turn[lot]!; after = nextWaiter[after]!) before = after;
  nextWaiter[lot] = after;
  if (before < 0) holdWaiter[hold] = lot;
  else nextWaiter[before] = lot;
  if (after < 0) lastWaiter[hold] = lot;
}

/** One of a machine or place is given back: the first that waits for it has its turn. */
export function releaseHold(instance: Instance, hold: number): void {
  const { holdWaiter, nextWaiter, heldFor } = instance;
  const lot = holdWaiter[hold]!;
  if (lot < 0) return;
  holdWaiter[hold] = nextWaiter[lot]!;
  heldFor[lot] = hold;
  makeReady(instance, lot);
}

/** `lot` has had the turn that a machine or place gave it: the next one has its own where that is still not kept. */
export function letNext(instance: Instance, lot: number): void {
  const { heldFor, keeps, capacity } = instance;
  const hold = heldFor[lot]!;
  heldFor[lot] = -1;
  if (keeps[hold]! < capacity[hold]!) releaseHold(instance, hold);
}

/** Nothing is placed yet in the order of this list: what waits for no other lot may have its turn. */
export function awaitAll(instance: Instance, activityList: Int32Array): void {
  const { turn, missing, linkCount, bound, ready } = instance;
  missing.set(linkCount);
  bound.set(instance.earliest);
  ready.fill(0);
  instance.readyFrom = 0;
  for (let k = 0; k < activityList.length; k++) {
    const lot = activityList[k]!;
    turn[lot] = k;
    if (missing[lot] === 0) ready[k >> 5]! |= 1 << k;
  }
}

/**
 * What a lot lets others do is known: by its start alone where it is left alone, by its finish too where `isWhole`.
 * What waited for nothing else may have its turn.
 */
export function releaseBy(instance: Instance, lot: number, isWhole: boolean): void {
  const { outFirst } = instance;
  release(instance, outFirst[2 * lot]!, outFirst[2 * lot + (isWhole ? 2 : 1)]!);
}

/** The same by the finish of a lot whose start is known already. */
export function releaseByFinish(instance: Instance, lot: number): void {
  const { outFirst } = instance;
  release(instance, outFirst[2 * lot + 1]!, outFirst[2 * lot + 2]!);
}

function release(instance: Instance, first: number, end: number): void {
  const { out, times, bound, missing } = instance;
  for (let j = first; j < end; j += OUT) {
    const to = out[j + 1]!;
    const time = out[j + 2]!;
    const after = time >= 0 ? times[time]! + out[j + 3]! : linkBound(instance, out[j]!);
    if (after > bound[to]!) bound[to] = after;
    const left = missing[to]! - 1;
    missing[to] = left;
    if (left === 0) makeReady(instance, to);
  }
}

/** A lot that waits for no other may have its turn. */
export function makeReady(instance: Instance, lot: number): void {
  const k = instance.turn[lot]!;
  const word = k >> 5;
  instance.ready[word]! |= 1 << k;
  if (word < instance.readyFrom) instance.readyFrom = word;
}

/** A lot that is placed before its turn has none. */
export function hasHadTurn({ turn, ready }: Instance, lot: number): void {
  ready[turn[lot]! >> 5]! &= ~(1 << turn[lot]!);
}

/** The first place in the activity list whose lot may have its turn, which it has now; -1 for none. */
export function nextReady(instance: Instance): number {
  const { ready } = instance;
  let word = instance.readyFrom;
  while (word < ready.length && ready[word] === 0) word++;
  instance.readyFrom = word;
  if (word === ready.length) return -1;
  const bits = ready[word]!;
  ready[word] = bits & (bits - 1);
  return (word << 5) + 31 - Math.clz32(bits & -bits);
}

/** The lot left alone whose rest may begin first, of those that keep this machine or place; of all where it is -1. */
export function longestKeeping(instance: Instance, hold: number): number {
  const { left, leftCount, holdFirst, holds } = instance;
  for (let i = 0; i < leftCount; i++) {
    const l = left[i]!;
    if (hold < 0 || isAmong(holds, holdFirst[l]!, holdFirst[l + 1]!, hold)) return l;
  }
  return -1;
}

/** Whether `value` is among those of `list` from `from` to `to` (left out). */
export function isAmong(list: Int32Array, from: number, to: number, value: number): boolean {
  for (let i = from; i < to; i++) if (list[i] === value) return true;
  return false;
}
