/**
 * Rounding for things that are counted. Binary fractions leave noise behind (0.1 * 3 * 10 is 3.0000000000000004), and a
 * plain ceiling would turn that noise into one unit too many; so a value that is within the noise of a whole number is
 * that number.
 */

/**
 * The least whole number that is not below `value`, noise forgiven. Example: ceilCount(0.1 * 3 * 10) is 3,
 * ceilCount(3.01) is 4.
 *
 *     ceilCount(3.0000000001) // 3
 */
export function ceilCount(value: number): number {
  return isNearlyWhole(value) ? Math.round(value) + 0 : Math.ceil(value) + 0;
}

/**
 * The greatest whole number that is not above `value`, noise forgiven. Example: floorCount(0.3 / 0.1) is 3,
 * floorCount(2.99) is 2.
 */
export function floorCount(value: number): number {
  return isNearlyWhole(value) ? Math.round(value) + 0 : Math.floor(value) + 0;
}

/** Whether two numbers differ by no more than the noise of a few arithmetic operations. */
export function isNearlyEqual(a: number, b: number): boolean {
  return a === b || Math.abs(a - b) <= noise(Math.max(Math.abs(a), Math.abs(b)));
}

/**
 * Whether a number is within the noise of a whole number.
 *
 *     isNearlyWhole(2.9999999999) // true
 */
export function isNearlyWhole(value: number): boolean {
  return Math.abs(value - Math.round(value)) <= noise(Math.abs(value));
}

function noise(size: number): number {
  return Math.min(1e-6, 1e-9 * Math.max(1, size));
}
