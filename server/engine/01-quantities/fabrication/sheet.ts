/** Cutting sheets: laser, saw and knife. */
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
