/** The formula functions of the trade, gathered from the folder of that name. */
import { BATCHES } from './fabrication/batches.ts';
import type { FabricationFormula } from './fabrication/catalogue.ts';
import { FITS } from './fabrication/fits.ts';
import { GEARS } from './fabrication/gears.ts';
import { MACHINING } from './fabrication/machining.ts';
import { PACKING } from './fabrication/packing.ts';
import { PAINT } from './fabrication/paint.ts';
import { PRINTING } from './fabrication/printing.ts';
import { SHAPES } from './fabrication/shapes.ts';
import { SHEET } from './fabrication/sheet.ts';

export { FORMULA_CLASSES } from './fabrication/catalogue.ts';

/**
 * Every fabrication formula, by subject: what it answers, its arguments with their units and ranges, the unit it gives,
 * how far it can be trusted, where it comes from, and an example. The Design screen shows this table; formulas may call
 * each by its name; the functions themselves stand in `fabrication/` with units in their argument names and compute
 * whatever they are given.
 */
export const FABRICATION_FORMULAS: readonly FabricationFormula[] = [
  ...SHAPES,
  ...MACHINING,
  ...FITS,
  ...PRINTING,
  ...SHEET,
  ...PACKING,
  ...PAINT,
  ...GEARS,
  ...BATCHES,
];
