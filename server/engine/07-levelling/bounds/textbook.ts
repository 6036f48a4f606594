/** The textbook form of an instance: demands, durations and links alone. */
import { dependencyOrderOf } from '../generate/orders.ts';
import type { Instance } from '../instance/instance.ts';

/** A textbook instance stripped to the lots that take time: what bounds and exact search read. Times in ticks. */
export interface TextbookData {
  readonly lots: number;
  /** The instance's number of each lot. */
  readonly lotOf: Int32Array;
  readonly minutes: Int32Array;
  /** demand[lot * pools + pool]. */
  readonly demand: Int32Array;
  readonly capacity: Int32Array;
  /** Minutes times amount over all lots, by pool. */
  readonly work: Float64Array;
  /** Direct predecessors, milestones bridged. */
  readonly beforeFirst: Int32Array;
  readonly before: Int32Array;
  readonly afterFirst: Int32Array;
  readonly after: Int32Array;
  /**
   * Earliest start, and time from a lot's start to the end, both at least; work of predecessors and successors counted.
   */
  readonly head: Int32Array;
  readonly tail: Int32Array;
  /** A topological rank. */
  readonly rank: Int32Array;
  /** 2^i for the first 53 lots. */
  readonly bit: Float64Array;
}

/** Reads a textbook instance; `capacities` and `demands` come from the work it was compiled from. O(lots squared). */
export function textbookData(
  instance: Instance,
  capacities: readonly number[],
  demandOf: (lot: number, pool: number) => number,
): TextbookData {
  const activityList = dependencyOrderOf(instance);
  const minutesOf = (lot: number) => instance.phaseMinutes[instance.onlyPhase[lot]!]!;
  const lotOf = activityList.filter((lot) => minutesOf(lot) > 0);
  const numberOf = new Int32Array(instance.lots).fill(-1);
  lotOf.forEach((lot, i) => {
    numberOf[lot] = i;
  });
  const n = lotOf.length;
  const before = bridged(instance, activityList, numberOf);
  const pools = capacities.length;
  const demand = new Int32Array(n * pools);
  const work = new Float64Array(pools);
  for (let i = 0; i < n; i++) {
    for (let r = 0; r < pools; r++) {
      demand[i * pools + r] = demandOf(lotOf[i]!, r);
      work[r] = work[r]! + demand[i * pools + r]! * minutesOf(lotOf[i]!);
    }
  }
  const after: number[][] = Array.from({ length: n }, () => []);
  before.forEach((list, i) => {
    for (const b of list) after[b]!.push(i);
  });
  const minutes = Int32Array.from(lotOf, minutesOf);
  const capacity = Int32Array.from(capacities);
  const spread = (reach: number[][], upwards: boolean) => reaches({ n, minutes, demand, capacity }, reach, upwards);
  const tail = spread(after, false).map((time, i) => time + minutes[i]!);
  return {
    lots: n,
    lotOf,
    minutes,
    demand,
    capacity,
    work,
    ...flat('before', before),
    ...flat('after', after),
    head: spread(before, true),
    tail,
    rank: Int32Array.from({ length: n }, (_, i) => i),
    bit: Float64Array.from({ length: n }, (_, i) => (i < 53 ? 2 ** i : 0)),
  };
}

function flat<K extends string>(
  name: K,
  lists: readonly (readonly number[])[],
): { [P in K | `${K}First`]: Int32Array } {
  const first = new Int32Array(lists.length + 1);
  lists.forEach((list, i) => {
    first[i + 1] = first[i]! + list.length;
  });
  return { [name]: Int32Array.from(lists.flat()), [`${name}First`]: first } as { [P in K | `${K}First`]: Int32Array };
}

/** Direct predecessors that take time, by way of milestones. */
function bridged(instance: Instance, activityList: Int32Array, numberOf: Int32Array): number[][] {
  const ends: Set<number>[] = Array.from({ length: instance.lots }, () => new Set());
  const before: number[][] = [];
  for (const lot of activityList) {
    const own = new Set<number>();
    for (let i = instance.linkFirst[lot]!; i < instance.linkFirst[lot + 1]!; i++)
      for (const end of ends[instance.linkFrom[i]!]!) own.add(end);
    if (numberOf[lot]! >= 0) {
      before[numberOf[lot]!] = [...own];
      ends[lot]!.add(numberOf[lot]!);
    } else ends[lot] = own;
  }
  return before;
}

/**
 * Time that must pass before each lot (upwards) or after it, beside the longest path the work of all that must lie
 * there: on each pool, for every cut among them by their own such times. O(lots squared times pools).
 */
function reaches(
  { n, minutes, demand, capacity }: { n: number; minutes: Int32Array; demand: Int32Array; capacity: Int32Array },
  near: readonly (readonly number[])[],
  upwards: boolean,
): Int32Array {
  const time = new Int32Array(n);
  const all: Set<number>[] = Array.from({ length: n }, () => new Set());
  const pools = capacity.length;
  for (let k = 0; k < n; k++) {
    const i = upwards ? k : n - 1 - k;
    for (const j of near[i]!) {
      time[i] = Math.max(time[i]!, time[j]! + minutes[j]!);
      all[i]!.add(j);
      for (const far of all[j]!) all[i]!.add(far);
    }
    const byTime = [...all[i]!].sort((a, b) => time[b]! - time[a]!);
    for (let r = 0; r < pools; r++) {
      let work = 0;
      for (const j of byTime) {
        work += minutes[j]! * demand[j * pools + r]!;
        if (work > 0) time[i] = Math.max(time[i]!, time[j]! + Math.ceil(work / capacity[r]!));
      }
    }
  }
  return time;
}
