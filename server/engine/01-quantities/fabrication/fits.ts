/** Fits and tolerances: clearances of shafts and holes, stacked lengths. */

/**
 * Interference of a press fit H7/p6 in metal, micrometres, for nominal diameters over `overMm` up to `toMm` (ISO 286;
 * the p6 deviations from memory, consistent with the H7 and IT6 columns). For wood, board and printed plastic there is
 * no table: cut a trial strip in steps of 0.05 mm (laser) or 0.1 mm (printed, routed), and write the offset that works
 * into a parameter.
 */
const FITS_H7_P6 = [
  { overMm: 3, toMm: 6, holeMost: 12, shaftLeast: 12, shaftMost: 20 },
  { overMm: 6, toMm: 10, holeMost: 15, shaftLeast: 15, shaftMost: 24 },
  { overMm: 10, toMm: 18, holeMost: 18, shaftLeast: 18, shaftMost: 29 },
  { overMm: 18, toMm: 30, holeMost: 21, shaftLeast: 22, shaftMost: 35 },
  { overMm: 30, toMm: 50, holeMost: 25, shaftLeast: 26, shaftMost: 42 },
  { overMm: 50, toMm: 80, holeMost: 30, shaftLeast: 32, shaftMost: 51 },
] as const;

/**
 * Least and most interference of H7/p6 at a nominal diameter, micrometres, or null outside the table. Example: 20 mm
 * gives 1 to 35.
 */
export function interferenceH7P6(nominalMm: number): { least: number; most: number } | null {
  const row = FITS_H7_P6.find(({ overMm, toMm }) => nominalMm > overMm && nominalMm <= toMm);
  return row ? { least: row.shaftLeast - row.holeMost, most: row.shaftMost } : null;
}
