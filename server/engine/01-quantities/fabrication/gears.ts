/** Gears and belts: distances, diameters, ratios. */
import { count, type FabricationFormula, formulaRow, positive } from './catalogue.ts';

/** Distance of two axes in mesh: module x (z1 + z2) / 2. */
function centreDistance(moduleMm: number, teethA: number, teethB: number): number {
  return (moduleMm * (teethA + teethB)) / 2;
}

/** Distance of the axes of a wheel and the ring it runs in: module x (ring - wheel) / 2. */
function centreDistanceInternal(moduleMm: number, wheelTeeth: number, ringTeeth: number): number {
  return (moduleMm * (ringTeeth - wheelTeeth)) / 2;
}

/** Pitch diameter: module x teeth. */
function pitchDiameter(moduleMm: number, teeth: number): number {
  return moduleMm * teeth;
}

/** Tip diameter of standard teeth: module x (teeth + 2). */
function tipDiameter(moduleMm: number, teeth: number): number {
  return moduleMm * (teeth + 2);
}

/** Distance from tooth to tooth along the pitch circle: pi x module. */
function circularPitch(moduleMm: number): number {
  return Math.PI * moduleMm;
}

/**
 * Turns of the first shaft for one turn of the last: product of driven over driving teeth. Idlers between do not change
 * it.
 */
export function trainRatio(meshes: readonly { readonly driving: number; readonly driven: number }[]): number {
  return meshes.reduce((ratio, { driving, driven }) => ratio * (driven / driving), 1);
}

export const GEARS: readonly FabricationFormula[] = [
  formulaRow(
    'gears',
    {
      name: 'gear_distance',
      gives: 'mm',
      class: 'physics',
      source: 'gearing',
      example: { arguments: [2, 20, 40], gives: 60 },
    },
    [positive('module', 'mm'), count('teeth_a', 1), count('teeth_b', 1)],
    centreDistance,
  ),
  formulaRow(
    'gears',
    {
      name: 'gear_distance_internal',
      gives: 'mm',
      class: 'physics',
      source: 'gearing',
      example: { arguments: [2, 18, 72], gives: 54 },
    },
    [positive('module', 'mm'), count('wheel_teeth', 1), count('ring_teeth', 1)],
    centreDistanceInternal,
  ),
  formulaRow(
    'gears',
    {
      name: 'gear_pitch_diameter',
      gives: 'mm',
      class: 'physics',
      source: 'gearing',
      example: { arguments: [2, 20], gives: 40 },
    },
    [positive('module', 'mm'), count('teeth', 1)],
    pitchDiameter,
  ),
  formulaRow(
    'gears',
    {
      name: 'gear_tip_diameter',
      gives: 'mm',
      class: 'physics',
      source: 'gearing',
      example: { arguments: [2, 20], gives: 44 },
    },
    [positive('module', 'mm'), count('teeth', 1)],
    tipDiameter,
  ),
  formulaRow(
    'gears',
    {
      name: 'gear_pitch',
      gives: 'mm',
      class: 'physics',
      source: 'gearing',
      example: { arguments: [2], gives: 6.2832 },
    },
    [positive('module', 'mm')],
    circularPitch,
  ),
  formulaRow(
    'gears',
    {
      name: 'gear_ratio',
      gives: '',
      class: 'physics',
      source: 'gearing',
      example: { arguments: [15, 45], gives: 3 },
    },
    [count('driving_teeth', 1), count('driven_teeth', 1)],
    (driving, driven) => trainRatio([{ driving, driven }]),
  ),
];
