/** Which activity lists were tried already. */

/**
 * A bounded memory of hashes met before: open addressing in one typed array, cleared when it is three quarters full.
 */
export class Seen {
  private readonly table: Int32Array;
  private readonly mask: number;
  private count = 0;

  /** Remembers at least `size` hashes. */
  constructor(size: number) {
    let slots = 64;
    while (slots * 3 < size * 4) slots *= 2;
    this.table = new Int32Array(slots);
    this.mask = slots - 1;
  }

  /** Whether this hash is new; from now on it is not. */
  isNew(hash: number): boolean {
    const { table, mask } = this;
    const key = hash === 0 ? 1 : hash;
    let at = Math.imul(key, 0x9e3779b1) >>> 7;
    for (at &= mask; table[at] !== 0; at = (at + 1) & mask) if (table[at] === key) return false;
    if (++this.count * 4 > table.length * 3) {
      table.fill(0);
      this.count = 1;
      at = (Math.imul(key, 0x9e3779b1) >>> 7) & mask;
    }
    table[at] = key;
    return true;
  }
}
