/** Press fits in metal. */
import { type FabricationFormula, formulaRow } from './catalogue.ts';

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

/** Least interference at a nominal diameter: the thinnest shaft in the widest hole. */
function leastInterference(nominalMm: number): number {
  const { shaftLeast, holeMost } = fitAt(nominalMm);
  return shaftLeast - holeMost;
}

/** Most interference at a nominal diameter: the thickest shaft in a hole of the nominal size. */
function mostInterference(nominalMm: number): number {
  return fitAt(nominalMm).shaftMost;
}

function fitAt(nominalMm: number) {
  return FITS_H7_P6.find(({ overMm, toMm }) => nominalMm > overMm && nominalMm <= toMm)!;
}

const diameter = { name: 'diameter', unit: 'mm', above: 3, most: 80 };

export const FITS: readonly FabricationFormula[] = [
  formulaRow(
    'machining',
    {
      name: 'press_fit_least',
      gives: 'µm',
      class: 'physics',
      source: 'iso-286',
      example: { arguments: [20], gives: 1 },
    },
    [diameter],
    leastInterference,
  ),
  formulaRow(
    'machining',
    {
      name: 'press_fit_most',
      gives: 'µm',
      class: 'physics',
      source: 'iso-286',
      example: { arguments: [20], gives: 35 },
    },
    [diameter],
    mostInterference,
  ),
];
