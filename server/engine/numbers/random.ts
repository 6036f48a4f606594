/**
 * Seeded random numbers: the only source of chance in the engine, so that the same seed gives the same plan and the
 * same futures on every machine.
 *
 * The generator is xoshiro128** (D. Blackman and S. Vigna, "Scrambled linear pseudorandom number generators", ACM
 * Transactions on Mathematical Software 47, 2021), its state filled by splitmix32. Its state lives in a typed array: a
 * field holding more than 31 bits would be allocated again at every draw.
 */

export class Random {
  private readonly state = new Uint32Array(4);

  /** `seed`: any number; only its low 32 bits count. */
  constructor(seed: number) {
    this.reseed(seed);
  }

  /** Begins again as `new Random(seed)` would, without allocating. */
  reseed(seed: number): void {
    let mix = seed | 0;
    for (let i = 0; i < 4; i++) {
      mix = (mix + 0x9e3779b9) | 0;
      let z = mix ^ (mix >>> 16);
      z = Math.imul(z, 0x21f0aaad);
      z ^= z >>> 15;
      z = Math.imul(z, 0x735a2d97);
      this.state[i] = z ^ (z >>> 15);
    }
  }

  /** The next 32 random bits, as a signed integer. */
  bits(): number {
    const s = this.state;
    const s1 = s[1]!;
    const five = Math.imul(s1, 5);
    const result = Math.imul((five << 7) | (five >>> 25), 9);
    const s2 = s[2]! ^ s[0]!;
    const s3 = s[3]! ^ s1;
    s[1] = s1 ^ s2;
    s[0] = s[0]! ^ s3;
    s[2] = s2 ^ (s1 << 9);
    s[3] = (s3 << 11) | (s3 >>> 21);
    return result;
  }

  /** Uniform in [0, 1), in steps of 2^-32. */
  unit(): number {
    return (this.bits() >>> 0) * 2.3283064365386963e-10;
  }

  /**
   * A whole number in 0..below-1; `below` at most 2^21, where the bias of the multiplication stays under one in 2,000.
   */
  below(below: number): number {
    return ((this.bits() >>> 11) * below * 4.76837158203125e-7) | 0;
  }
}
