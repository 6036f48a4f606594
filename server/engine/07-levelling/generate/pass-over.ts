/**
 * Work that waits for the rest of a lot that is left alone is passed over until that rest is done, as whoever is there
 * takes up what is ready instead of waiting for what the sheet names next.
 */
import { FINISH_FINISH, FINISH_START } from '../instance/codes.ts';
import type { Instance } from '../instance/instance.ts';

/**
 * The lot that `lot` waits for: one before it that is not placed yet or whose rest is not, or one that keeps the
 * machine or place it needs; -1 for none.
 */
export function waitsFor(instance: Instance, lot: number): number {
  const { linkFirst, linkFrom, linkType, placedIn, pass, restFirst, holdFirst, holds, keeps, capacity } = instance;
  for (let i = linkFirst[lot]!; i < linkFirst[lot + 1]!; i++) {
    const from = linkFrom[i]!;
    if (placedIn[from] !== pass) return from;
    if (restFirst[from]! >= 0 && (linkType[i] === FINISH_START || linkType[i] === FINISH_FINISH)) return from;
  }
  for (let i = holdFirst[lot]!; i < holdFirst[lot + 1]!; i++) {
    if (keeps[holds[i]!]! >= capacity[holds[i]!]!) return longestKeeping(instance, holds[i]!);
  }
  return -1;
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
