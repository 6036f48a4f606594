/** Common random numbers: a stream for each step and future, the same across builds that differ a little. */
import { normalQuantile, Random } from '../numbers/index.ts';

/**
 * Common random numbers: every thing that is drawn has a stream of its own in every future, which depends on the seed,
 * the number of the future and the thing's key, and on nothing else. A plan with one step more or fewer meets the same
 * luck everywhere else, so that differences between plans are theirs and not the dice's (Law, "Simulation Modeling and
 * Analysis", 11.2: common random numbers).
 */
export class Streams {
  private readonly random = new Random(0);
  private readonly seed: number;
  private future = -1;
  private ofFuture = 0;

  constructor(seed: number) {
    this.seed = scramble(seed);
  }

  /** Turns to the stream of `key` in `future`; the draws that follow come from it. */
  turnTo(future: number, key: number): void {
    if (future !== this.future) {
      this.future = future;
      this.ofFuture = scramble(this.seed ^ future);
    }
    this.random.reseed(scramble(this.ofFuture ^ key));
  }

  /** One of the values of a table, whose length is a power of two, each as likely as the others. */
  of(table: Float64Array): number {
    return table[this.random.bits() & (table.length - 1)]!;
  }

  /** Uniform strictly between 0 and 1. */
  unit(): number {
    return this.random.unit() + 1.1641532182693481e-10;
  }

  /** Standard normal, from a table of 4,096 equally likely values whose variance is 1. */
  normal(): number {
    return this.of(NORMALS);
  }
}

const NORMALS = normals(4096);

function normals(count: number): Float64Array {
  const values = Float64Array.from({ length: count }, (_, i) => normalQuantile((i + 0.5) / count));
  const variance = values.reduce((sum, value) => sum + value * value, 0) / count;
  return values.map((value) => value / Math.sqrt(variance));
}

/**
 * A 32-bit key of a name (FNV-1a; Fowler, Noll, Vo).
 *
 *     keyOf('a') // -468965076
 */
export function keyOf(name: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) hash = Math.imul(hash ^ name.charCodeAt(i), 0x01000193);
  return hash | 0;
}

/** A bijection of 32 bits that leaves no pattern (the finalizer of MurmurHash3, A. Appleby). */
function scramble(value: number): number {
  let z = (value + 0x9e3779b9) | 0;
  z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
  z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
  return z ^ (z >>> 16);
}
