/**
 * Work that waits for the rest of a lot that is left alone is passed over until that rest is done, as whoever is there
 * takes up what is ready instead of waiting for what the sheet names next.
 */
import type { Instance } from '../instance/instance.ts';

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
  enqueue(instance, lot);
}

/** `lot` has had the turn that a machine or place gave it: the next one has its own where that is still not kept. */
export function letNext(instance: Instance, lot: number): void {
  const { heldFor, keeps, capacity } = instance;
  const hold = heldFor[lot]!;
  heldFor[lot] = -1;
  if (keeps[hold]! < capacity[hold]!) releaseHold(instance, hold);
}

/** Passes over `lot` until `other` is placed, or its rest is. */
export function passOver({ waiter, nextWaiter }: Instance, lot: number, other: number): void {
  nextWaiter[lot] = waiter[other]!;
  waiter[other] = lot;
}

/** All that was passed over for `lot` may have its turn. */
export function release(instance: Instance, lot: number): void {
  const { waiter, nextWaiter } = instance;
  for (let next = waiter[lot]!; next >= 0; next = nextWaiter[next]!) enqueue(instance, next);
  waiter[lot] = -1;
}

/** A lot whose turn it is, those first that come first in the activity list. */
export function enqueue(instance: Instance, lot: number): void {
  const { stack, turn } = instance;
  let at = instance.queued++;
  for (; at > 0 && turn[stack[at - 1]!]! < turn[lot]!; at--) stack[at] = stack[at - 1]!;
  stack[at] = lot;
}

/** The next of them; -1 for none. */
export function dequeue(instance: Instance): number {
  return instance.queued === 0 ? -1 : instance.stack[--instance.queued]!;
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
