/** How many pieces lie on a bed, a sheet or a bar. */
import { ceilCount, floorCount } from '../../numbers/index.ts';
import { type FabricationFormula, formulaRow, notNegative, optional, positive } from './catalogue.ts';

/**
 * A bed or a sheet, with a margin kept free along every edge (0 where parts may touch it) and a gap between parts, mm.
 */
interface Bed {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly gapMm: number;
  readonly marginMm?: number;
}

/** Rectangles in straight rows, not turned: floor((W + g) / (w + g)) floor((H + g) / (h + g)). */
export function rectanglesInRows(bed: Bed, widthMm: number, heightMm: number): number {
  const [width, height] = freeArea(bed);
  return howMany(width, widthMm, bed.gapMm) * howMany(height, heightMm, bed.gapMm);
}

/** Rectangles in straight rows, all turned the better way. Mixed ways may hold more. */
function rectanglesOnBed(bed: Bed, widthMm: number, heightMm: number): number {
  return Math.max(rectanglesInRows(bed, widthMm, heightMm), rectanglesInRows(bed, heightMm, widthMm));
}

/** Discs in a square pattern. */
function discsInSquares(bed: Bed, diameterMm: number): number {
  return rectanglesInRows(bed, diameterMm, diameterMm);
}

/**
 * Discs in a honeycomb of rows along the width, the even rows set off by half a pitch: P = d + g, odd-numbered rows
 * floor((W + g) / P), even-numbered floor((W - P/2 + g) / P), 1 + floor((H - d) / (P sqrt(3) / 2)) rows.
 */
function discsInHoneycomb(bed: Bed, diameterMm: number): number {
  const [width, height] = freeArea(bed);
  if (width < diameterMm || height < diameterMm) return 0;
  const pitch = diameterMm + bed.gapMm;
  const rows = 1 + floorCount((height - diameterMm) / ((pitch * Math.sqrt(3)) / 2));
  const full = howMany(width, diameterMm, bed.gapMm);
  const setOff = howMany(width - pitch / 2, diameterMm, bed.gapMm);
  return Math.ceil(rows / 2) * full + Math.floor(rows / 2) * setOff;
}

/**
 * Discs in the best of three patterns: squares, honeycomb along the width, honeycomb along the height. Honeycomb is not
 * always better.
 */
function discsOnBed(bed: Bed, diameterMm: number): number {
  const turned = { ...bed, widthMm: bed.heightMm, heightMm: bed.widthMm };
  return Math.max(
    discsInSquares(bed, diameterMm),
    discsInHoneycomb(bed, diameterMm),
    discsInHoneycomb(turned, diameterMm),
  );
}

/** Plates, sheets, trays or loads for n units. */
export function platesFor(units: number, unitsPerPlate: number): number {
  return ceilCount(units / unitsPerPlate);
}

function freeArea({ widthMm, heightMm, marginMm = 0 }: Bed): [number, number] {
  return [widthMm - 2 * marginMm, heightMm - 2 * marginMm];
}

function howMany(lengthMm: number, partMm: number, gapMm: number): number {
  return Math.max(0, floorCount((lengthMm + gapMm) / (partMm + gapMm)));
}

const bedRanges = [positive('bed_width', 'mm'), positive('bed_height', 'mm')] as const;
const spacing = [notNegative('gap', 'mm'), optional(notNegative('margin', 'mm'))] as const;
const discRanges = [...bedRanges, positive('diameter', 'mm'), ...spacing] as const;
const bedOf = (widthMm: number, heightMm: number, gapMm: number, marginMm = 0): Bed => ({
  widthMm,
  heightMm,
  gapMm,
  marginMm,
});

export const PACKING: readonly FabricationFormula[] = [
  formulaRow(
    'packing',
    {
      name: 'bed_rect',
      gives: 'parts',
      class: 'physics',
      source: 'rows',
      example: { arguments: [1220, 2440, 300, 200, 8, 10], gives: 35 },
    },
    [...bedRanges, positive('width', 'mm'), positive('height', 'mm'), ...spacing] as const,
    (bedWidth, bedHeight, width, height, gap, margin) =>
      rectanglesOnBed(bedOf(bedWidth, bedHeight, gap, margin), width, height),
  ),
  formulaRow(
    'packing',
    {
      name: 'bed_disc',
      gives: 'parts',
      class: 'physics',
      source: 'rows',
      example: { arguments: [220, 220, 30, 2], gives: 42 },
    },
    discRanges,
    (bedWidth, bedHeight, diameter, gap, margin) => discsOnBed(bedOf(bedWidth, bedHeight, gap, margin), diameter),
  ),
  formulaRow(
    'packing',
    {
      name: 'bed_disc_square',
      gives: 'parts',
      class: 'physics',
      source: 'rows',
      example: { arguments: [220, 220, 40, 2], gives: 25 },
    },
    discRanges,
    (bedWidth, bedHeight, diameter, gap, margin) => discsInSquares(bedOf(bedWidth, bedHeight, gap, margin), diameter),
  ),
  formulaRow(
    'packing',
    {
      name: 'bed_disc_hex',
      gives: 'parts',
      class: 'physics',
      source: 'rows',
      example: { arguments: [220, 220, 40, 2], gives: 23 },
    },
    discRanges,
    (bedWidth, bedHeight, diameter, gap, margin) => discsInHoneycomb(bedOf(bedWidth, bedHeight, gap, margin), diameter),
  ),
  formulaRow(
    'packing',
    {
      name: 'plates',
      gives: 'plates',
      class: 'physics',
      source: 'counting',
      example: { arguments: [300, 24], gives: 13 },
    },
    [notNegative('units', ''), positive('units_per_plate', '')],
    platesFor,
  ),
];
