/** Orders of lots: sorting by the times of a pass, and the first order of all. Nothing is allocated in the sorts. */
import type { Work } from '../../types.ts';
import type { Instance } from '../instance/instance.ts';
import { generateUnlimited } from './generate.ts';

const BITS = 11;
const SIZE = 1 << BITS;

/** Sorts orders by keys, stably: equals stay as they stood. Counting sort where keys span little, else radix sort. */
export class Sorter {
  private readonly counts = new Int32Array(SIZE + 1);
  private readonly other: Int32Array;

  constructor(lots: number) {
    this.other = new Int32Array(lots);
  }

  /** Sorts `activityList` in place by rising keys[lot]. O(lots) for each 11 bits of the keys' span. */
  rising(activityList: Int32Array, keys: Int32Array): void {
    this.span(activityList, keys);
    this.sort(activityList, keys, this.least, 1, this.most - this.least);
  }

  /** The same by falling keys. */
  falling(activityList: Int32Array, keys: Int32Array): void {
    this.span(activityList, keys);
    this.sort(activityList, keys, this.most, -1, this.most - this.least);
  }

  private least = 0;
  private most = 0;

  private span(activityList: Int32Array, keys: Int32Array): void {
    let least = 2147483647;
    let most = -2147483648;
    for (let i = 0; i < activityList.length; i++) {
      const key = keys[i]!;
      least = Math.min(key, least);
      most = Math.max(key, most);
    }
    this.least = least;
    this.most = most;
  }

  private sort(activityList: Int32Array, keys: Int32Array, zero: number, sign: number, span: number): void {
    if (activityList.length < 2) return;
    for (let shift = 0; shift === 0 || span >> shift > 0; shift += BITS)
      this.round(activityList, keys, zero, sign, span, shift);
  }

  private round(
    activityList: Int32Array,
    keys: Int32Array,
    zero: number,
    sign: number,
    span: number,
    shift: number,
  ): void {
    const { counts, other } = this;
    const n = activityList.length;
    const top = Math.min(SIZE - 1, span >> shift);
    for (let i = 0; i < n; i++) counts[((((keys[activityList[i]!]! - zero) * sign) >> shift) & (SIZE - 1)) + 1]!++;
    for (let d = 1; d <= top; d++) counts[d + 1] = counts[d + 1]! + counts[d]!;
    for (let i = 0; i < n; i++) {
      const lot = activityList[i]!;
      other[counts[(((keys[lot]! - zero) * sign) >> shift) & (SIZE - 1)]!++] = lot;
    }
    activityList.set(other);
    counts.fill(0, 0, top + 2);
  }
}

/**
 * An order in which every lot comes after those it depends on; a lot no later than need be by its number. O(lots and
 * links).
 */
export function dependencyOrderOf(instance: Instance): Int32Array {
  return keepLinks(
    instance,
    Int32Array.from({ length: instance.lots }, (_, l) => l),
  );
}

/**
 * `activityList` with every lot that comes before one it depends on moved behind it, as little as need be. O(lots and
 * links). Throws RangeError when the links form a circle.
 */
export function keepLinks(instance: Instance, activityList: Int32Array): Int32Array {
  const { lots, linkFirst, linkFrom } = instance;
  const placed = new Uint8Array(lots);
  const kept = new Int32Array(lots);
  const stack: number[] = [];
  let count = 0;
  for (const lot of activityList) {
    if (placed[lot] === 0) stack.push(lot);
    while (stack.length > 0) {
      const top = stack[stack.length - 1]!;
      let missing = -1;
      for (let i = linkFirst[top]!; i < linkFirst[top + 1]! && missing < 0; i++) {
        if (placed[linkFrom[i]!] === 0) missing = linkFrom[i]!;
      }
      if (missing >= 0) {
        if (stack.length > lots) throw new RangeError('The links between the lots form a circle.');
        stack.push(missing);
      } else {
        stack.pop();
        kept[count++] = top;
        placed[top] = 1;
      }
    }
  }
  return kept;
}

/**
 * `activityList` with the lots that are pinned to a time in front, by that time, and what they need before them; links
 * kept.
 */
export function pinnedFirst(work: Work, instance: Instance, activityList: Int32Array): Int32Array {
  const pinned = [...activityList].filter((l) => work.lots[l]!.pinnedStart !== null);
  if (pinned.length === 0) return activityList;
  pinned.sort((a, b) => work.lots[a]!.pinnedStart! - work.lots[b]!.pinnedStart!);
  return keepLinks(
    instance,
    Int32Array.from([...pinned, ...activityList.filter((l) => work.lots[l]!.pinnedStart === null)]),
  );
}

/** Whether `activityList` has every lot after those it depends on. O(lots and links). */
export function keepsLinks(instance: Instance, activityList: Int32Array): boolean {
  const { linkFirst, linkFrom, placedIn } = instance;
  const pass = ++instance.pass;
  for (let k = 0; k < activityList.length; k++) {
    const lot = activityList[k]!;
    for (let i = linkFirst[lot]!; i < linkFirst[lot + 1]!; i++) if (placedIn[linkFrom[i]!] !== pass) return false;
    placedIn[lot] = pass;
  }
  return true;
}

/**
 * Early starts and finishes with hands, machines and pools unlimited, through the calendars; in the instance's time.
 */
export function unlimitedTimes(instance: Instance): { starts: Int32Array; finishes: Int32Array; latest: number } {
  const latest = generateUnlimited(instance, dependencyOrderOf(instance));
  return { starts: instance.starts.slice(), finishes: instance.finishes.slice(), latest };
}
