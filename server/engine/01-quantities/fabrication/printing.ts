/** Printing layer by layer: flow, minutes and material. */
import { count, type FabricationFormula, formulaRow, notNegative, positive, share } from './catalogue.ts';

/** Melt flow in mm3/s: layer height x line width x speed. */
function printFlow(layerMm: number, widthMm: number, mmPerSecond: number): number {
  return layerMm * widthMm * mmPerSecond;
}

/** The speed in mm/s at which a melt flow in mm3/s is reached. */
function printSpeedLimit(flowMm3PerSecond: number, layerMm: number, widthMm: number): number {
  return flowMm3PerSecond / (layerMm * widthMm);
}

/**
 * The least minutes a volume can take at a flow: volume / flow. Real prints take 1.5 to 3 times that (rule of thumb).
 */
function printMinutes(volumeCm3: number, flowMm3PerSecond: number): number {
  return (1000 * volumeCm3) / flowMm3PerSecond / 60;
}

/** Minutes a plate takes: all volumes at the share of the flow that is reached on average, and the change of plates. */
function plateMinutes(
  parts: number,
  volumeCm3: number,
  flowMm3PerSecond: number,
  efficiency: number,
  changeMinutes: number,
): number {
  return printMinutes(parts * volumeCm3, flowMm3PerSecond * efficiency) + changeMinutes;
}

/** Metres of filament that hold a volume. */
function filamentMetres(volumeCm3: number, diameterMm: number): number {
  return volumeCm3 / ((Math.PI / 4) * diameterMm * diameterMm);
}

/** Grams of a volume. */
function filamentGrams(volumeCm3: number, gramsPerCm3: number): number {
  return volumeCm3 * gramsPerCm3;
}

/** The volume in cm3 on a spool of this mass. */
function spoolVolume(grams: number, gramsPerCm3: number): number {
  return grams / gramsPerCm3;
}

/** An overhang angle measured from the vertical, told from the horizontal, and the other way round: 90 - angle. */
function overhangOtherReference(degrees: number): number {
  return 90 - degrees;
}

const overhang = (name: string) => ({ ...notNegative(name, 'degrees'), most: 90 });

export const PRINTING: readonly FabricationFormula[] = [
  formulaRow(
    'printing',
    {
      name: 'print_flow',
      gives: 'mm3/s',
      class: 'physics',
      source: 'geometry',
      example: { arguments: [0.2, 0.48, 120], gives: 11.52 },
    },
    [positive('layer', 'mm'), positive('width', 'mm'), positive('speed', 'mm/s')],
    printFlow,
  ),
  formulaRow(
    'printing',
    {
      name: 'print_speed_limit',
      gives: 'mm/s',
      class: 'physics',
      source: 'geometry',
      example: { arguments: [11, 0.2, 0.45], gives: 122.2222 },
    },
    [positive('flow', 'mm3/s'), positive('layer', 'mm'), positive('width', 'mm')],
    printSpeedLimit,
  ),
  formulaRow(
    'printing',
    {
      name: 'print_minutes',
      gives: 'min',
      class: 'physics',
      source: 'volume-over-flow',
      example: { arguments: [18.5, 11], gives: 28.0303 },
    },
    [positive('volume', 'cm3'), positive('flow', 'mm3/s')],
    printMinutes,
  ),
  formulaRow(
    'printing',
    {
      name: 'plate_minutes',
      gives: 'min',
      class: 'rule of thumb',
      source: 'practice',
      example: { arguments: [12, 18.5, 11, 0.55, 8], gives: 619.57025 },
    },
    [
      count('parts'),
      positive('volume', 'cm3'),
      positive('flow', 'mm3/s'),
      share('efficiency'),
      notNegative('change', 'min'),
    ],
    plateMinutes,
  ),
  formulaRow(
    'printing',
    {
      name: 'filament_metres',
      gives: 'm',
      class: 'physics',
      source: 'geometry',
      example: { arguments: [18.5, 1.75], gives: 7.6914 },
    },
    [notNegative('volume', 'cm3'), positive('diameter', 'mm')],
    filamentMetres,
  ),
  formulaRow(
    'printing',
    {
      name: 'filament_grams',
      gives: 'g',
      class: 'physics',
      source: 'density',
      example: { arguments: [18.5, 1.24], gives: 22.94 },
    },
    [notNegative('volume', 'cm3'), positive('density', 'g/cm3')],
    filamentGrams,
  ),
  formulaRow(
    'printing',
    {
      name: 'spool_volume',
      gives: 'cm3',
      class: 'physics',
      source: 'density',
      example: { arguments: [1000, 1.24], gives: 806.4516 },
    },
    [notNegative('mass', 'g'), positive('density', 'g/cm3')],
    spoolVolume,
  ),
  formulaRow(
    'printing',
    {
      name: 'overhang_from_horizontal',
      gives: 'degrees',
      class: 'physics',
      source: 'geometry-support',
      example: { arguments: [30], gives: 60 },
    },
    [overhang('from_vertical')],
    overhangOtherReference,
  ),
  formulaRow(
    'printing',
    {
      name: 'overhang_from_vertical',
      gives: 'degrees',
      class: 'physics',
      source: 'geometry-support',
      example: { arguments: [60], gives: 30 },
    },
    [overhang('from_horizontal')],
    overhangOtherReference,
  ),
];
