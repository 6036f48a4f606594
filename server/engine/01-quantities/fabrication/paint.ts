/** Paint: litres, coats and coverage. */
import { type FabricationFormula, formulaRow, notNegative, optional, positive } from './catalogue.ts';

/** Square metres a litre covers in theory: 10 x volume solids in % / dry film in micrometres. */
function spreadingRate(solidsPercent: number, dryFilmMicrometres: number): number {
  return (10 * solidsPercent) / dryFilmMicrometres;
}

/**
 * Litres for an area in m2: area x coats / (rate x (1 - loss)); what spraying loses is a rule of thumb (0.3 to 0.5).
 */
function paintLitres(areaM2: number, coats: number, m2PerLitre: number, loss = 0): number {
  return (areaM2 * coats) / (m2PerLitre * (1 - loss));
}

/** A label's square feet a US gallon in m2 a litre (1 ft = 0.3048 m, 1 US gallon = 3.785411784 l, both exact). */
function squareMetresPerLitre(squareFeetPerGallon: number): number {
  return (squareFeetPerGallon * 0.3048 ** 2) / 3.785411784;
}

export const PAINT: readonly FabricationFormula[] = [
  formulaRow(
    'paint',
    {
      name: 'spreading_rate',
      gives: 'm2/l',
      class: 'physics',
      source: 'dry-film',
      example: { arguments: [48, 30], gives: 16 },
    },
    [{ ...positive('solids', '%'), most: 100 }, positive('dry_film', 'µm')],
    spreadingRate,
  ),
  formulaRow(
    'paint',
    {
      name: 'litres',
      gives: 'l',
      class: 'physics',
      source: 'volume-loss',
      example: { arguments: [10.5, 2, 10, 0.3], gives: 3 },
    },
    [
      notNegative('area', 'm2'),
      notNegative('coats', ''),
      positive('rate', 'm2/l'),
      optional({ ...notNegative('loss', ''), below: 1 }),
    ],
    paintLitres,
  ),
  formulaRow(
    'paint',
    {
      name: 'm2_per_litre',
      gives: 'm2/l',
      class: 'physics',
      source: 'yard-gallon',
      example: { arguments: [400], gives: 9.817 },
    },
    [positive('coverage', 'ft2/gal')],
    squareMetresPerLitre,
  ),
];
