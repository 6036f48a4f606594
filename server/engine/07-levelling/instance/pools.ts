/** Pools: resources that a demand takes an amount of, packed into words. */

/**
 * Renewable resources of the textbooks: what is still free of every pool in every slot of time, several pools packed
 * side by side into one 32-bit word, so that one subtraction and one mask ask about all of them at once.
 * A field is one bit wider than its capacity needs; that bit is set by the borrow when more is asked than there is.
 */
export class Pools {
  /** 32-bit words in a slot. */
  readonly words: number;
  /** grid[slot * words + word]: what is free. */
  readonly grid: Int32Array;
  /** guard[word]: the bits that only a borrow sets. */
  readonly guard: Int32Array;
  private readonly full: Int32Array;
  private readonly wordOf: Int32Array;
  private readonly shiftOf: Int32Array;
  private used = 0;

  /** `base`: the instant of slot 0. */
  constructor(
    capacities: readonly number[],
    slots: number,
    readonly base: number,
  ) {
    this.wordOf = new Int32Array(capacities.length);
    this.shiftOf = new Int32Array(capacities.length);
    const full: number[] = [];
    const guard: number[] = [];
    let word = -1;
    let bits = 32;
    capacities.forEach((capacity, r) => {
      const width = capacity === 0 ? 2 : 33 - Math.clz32(capacity);
      if (bits + width > 32) {
        word++;
        bits = 0;
        full.push(0);
        guard.push(0);
      }
      this.wordOf[r] = word;
      this.shiftOf[r] = bits;
      full[word] = full[word]! | (capacity << bits);
      guard[word] = guard[word]! | (1 << (bits + width - 1));
      bits += width;
    });
    this.words = Math.max(1, full.length);
    this.full = Int32Array.from(full.length === 0 ? [0] : full);
    this.guard = Int32Array.from(guard.length === 0 ? [0] : guard);
    this.grid = new Int32Array(slots * this.words);
    this.used = slots;
    this.clear();
  }

  /** Adds `amount` of pool r to a packed demand that begins at `at`. */
  pack(demand: Int32Array, at: number, r: number, amount: number): void {
    const word = at + this.wordOf[r]!;
    demand[word] = demand[word]! + (amount << this.shiftOf[r]!);
  }

  /** Everything is free again. Costs only the slots used since the last time. */
  clear(): void {
    const words = this.words;
    if (words === 1) this.grid.fill(this.full[0]!, 0, this.used);
    else for (let i = 0; i < this.used * words; i++) this.grid[i] = this.full[i % words]!;
    this.used = 0;
  }

  /** The first slot at or after `from` where `length` slots in a row have room for the demand packed at demand[at]. */
  fit(demand: Int32Array, at: number, from: number, length: number): number {
    const { grid, guard, words } = this;
    let start = from;
    let unseen = from;
    let slot = start + length - 1;
    while (slot >= unseen) {
      let short = 0;
      for (let w = 0; w < words; w++) short |= (grid[slot * words + w]! - demand[at + w]!) & guard[w]!;
      if (short === 0) slot--;
      else {
        unseen = start + length;
        start = slot + 1;
        slot = start + length - 1;
      }
    }
    return start;
  }

  take(demand: Int32Array, at: number, from: number, length: number): void {
    const { grid, words } = this;
    for (let slot = from; slot < from + length; slot++) {
      for (let w = 0; w < words; w++) grid[slot * words + w] = grid[slot * words + w]! - demand[at + w]!;
    }
    this.mark(from + length);
  }

  /** Says that slots before `end` are no longer untouched; for callers that write the grid themselves. */
  mark(end: number): void {
    if (end > this.used) this.used = end;
  }
}
