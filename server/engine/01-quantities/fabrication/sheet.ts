/** Cutting sheets: laser, saw and knife. */
import { problemTexts, type Sentence } from '../../../model/index.ts';
import { count, type FabricationFormula, formulaRow, notNegative, optional, positive } from './catalogue.ts';

/** Seconds of a laser job: path / speed + pierces x seconds a pierce + rapid path / rapid speed. */
function laserSeconds(
  pathMm: number,
  mmPerSecond: number,
  pierces: number,
  secondsPerPierce: number,
  rapidPathMm = 0,
  rapidMmPerSecond = Number.POSITIVE_INFINITY,
): number {
  return pathMm / mmPerSecond + pierces * secondsPerPierce + rapidPathMm / rapidMmPerSecond;
}

/** Width of a cut from a gauge strip cut into pieces and pushed together: slack / cuts, in the unit of the slack. */
function kerfFromGauge(slack: number, cuts: number): number {
  return slack / cuts;
}

/**
 * A laser's cut in thin wood, mm: what found accounts of 3 mm sheets report (0.05 to 0.15), widened by half on either
 * side.
 */
const LIKELY_KERF_MM = { least: 0.025, most: 0.225 } as const;

/**
 * A sentence when a laser's kerf is so far from what wood cuts show that a decimal point has probably slipped (0.034
 * for 0.0034 inch spoils a face), else null. Rule of thumb: measure.
 */
export function kerfWarning(kerfMm: number): Sentence | null {
  if (kerfMm >= LIKELY_KERF_MM.least && kerfMm <= LIKELY_KERF_MM.most) return null;
  return problemTexts.parts.kerf(kerfMm);
}

export const SHEET: readonly FabricationFormula[] = [
  formulaRow(
    'sheet',
    {
      name: 'laser_seconds',
      gives: 's',
      class: 'physics',
      source: 'length-over-speed',
      example: { arguments: [1800, 12, 14, 0.5, 900, 200], gives: 161.5 },
    },
    [
      positive('path', 'mm'),
      positive('speed', 'mm/s'),
      count('pierces'),
      notNegative('pierce', 's'),
      optional(notNegative('rapid_path', 'mm')),
      optional(positive('rapid_speed', 'mm/s')),
    ],
    laserSeconds,
  ),
  formulaRow(
    'sheet',
    {
      name: 'kerf',
      gives: 'mm',
      class: 'physics',
      source: 'geometry',
      example: { arguments: [0.9398, 11], gives: 0.085436 },
    },
    [notNegative('slack', 'mm'), count('cuts', 1)],
    kerfFromGauge,
  ),
];
