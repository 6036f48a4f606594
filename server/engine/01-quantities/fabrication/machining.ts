/** Turning, milling, drilling and sawing: speeds, feeds and minutes. */
import { ceilCount } from '../../numbers/index.ts';
import { count, type FabricationFormula, formulaRow, notNegative, optional, positive } from './catalogue.ts';

/** Spindle turns a minute for a cutting speed: 1000 v / (pi d). */
function spindleRpm(metresPerMinute: number, diameterMm: number): number {
  return (1000 * metresPerMinute) / (Math.PI * diameterMm);
}

/** The same in feet a minute and inches: 12 v / (pi d). The shop rule 4 v / d gives about 5 % more. */
function spindleRpmInch(feetPerMinute: number, diameterInch: number): number {
  return (12 * feetPerMinute) / (Math.PI * diameterInch);
}

/** Cutting speed in m/min at the rim of a cutter: pi d n / 1000. */
function surfaceSpeed(rpm: number, diameterMm: number): number {
  return (Math.PI * diameterMm * rpm) / 1000;
}

/** Feed in mm/min: turns x teeth x chip load in mm a tooth. Chip loads are the cutter maker's to give. */
function feedMmPerMinute(rpm: number, teeth: number, chipLoadMm: number): number {
  return rpm * teeth * chipLoadMm;
}

/** Chip load in mm a tooth at a feed in mm/min. */
function chipLoadMm(feed: number, rpm: number, teeth: number): number {
  return feed / (rpm * teeth);
}

/** Passes to reach a depth. */
function cuttingPasses(depthMm: number, stepdownMm: number): number {
  return ceilCount(depthMm / stepdownMm);
}

/**
 * Minutes to mill or rout a path in passes: passes x path / feed, one plunge through the whole depth (left out without
 * a plunge feed), and what rapids take, which is a guess.
 */
function cuttingMinutes(
  pathMm: number,
  feed: number,
  depthMm: number,
  stepdownMm: number,
  plungeFeed = Number.POSITIVE_INFINITY,
  rapidMinutes = 0,
): number {
  return (cuttingPasses(depthMm, stepdownMm) * pathMm) / feed + depthMm / plungeFeed + rapidMinutes;
}

/**
 * Minutes to drill one hole: (depth + point) / (turns x feed a turn); the point of a drill is d/2 tan(90 - angle/2).
 */
function drillMinutes(
  diameterMm: number,
  pointDegrees: number,
  depthMm: number,
  rpm: number,
  mmPerTurn: number,
): number {
  const pointMm = (diameterMm / 2) * Math.tan(((90 - pointDegrees / 2) * Math.PI) / 180);
  return (depthMm + pointMm) / (rpm * mmPerTurn);
}

/** Minutes to turn a length on a lathe: length / (feed a turn x turns). */
function turningMinutes(lengthMm: number, mmPerTurn: number, rpm: number): number {
  return lengthMm / (mmPerTurn * rpm);
}

export const MACHINING: readonly FabricationFormula[] = [
  formulaRow(
    'machining',
    {
      name: 'spindle_rpm',
      gives: 'rpm',
      class: 'physics',
      source: 'cutter',
      example: { arguments: [100, 10], gives: 3183.1 },
    },
    [positive('speed', 'm/min'), positive('diameter', 'mm')],
    spindleRpm,
  ),
  formulaRow(
    'machining',
    {
      name: 'spindle_rpm_inch',
      gives: 'rpm',
      class: 'physics',
      source: 'cutter',
      example: { arguments: [250, 1], gives: 954.93 },
    },
    [positive('speed', 'ft/min'), positive('diameter', 'in')],
    spindleRpmInch,
  ),
  formulaRow(
    'machining',
    {
      name: 'surface_speed',
      gives: 'm/min',
      class: 'physics',
      source: 'cutter',
      example: { arguments: [18000, 6], gives: 339.29 },
    },
    [positive('turns', 'rpm'), positive('diameter', 'mm')],
    surfaceSpeed,
  ),
  formulaRow(
    'machining',
    {
      name: 'feed',
      gives: 'mm/min',
      class: 'physics',
      source: 'groover-machining',
      example: { arguments: [18000, 2, 0.1], gives: 3600 },
    },
    [positive('turns', 'rpm'), count('teeth', 1), positive('chip_load', 'mm')],
    feedMmPerMinute,
  ),
  formulaRow(
    'machining',
    {
      name: 'chip_load',
      gives: 'mm',
      class: 'physics',
      source: 'groover-machining',
      example: { arguments: [3600, 18000, 2], gives: 0.1 },
    },
    [positive('feed', 'mm/min'), positive('turns', 'rpm'), count('teeth', 1)],
    chipLoadMm,
  ),
  formulaRow(
    'machining',
    {
      name: 'cutting_passes',
      gives: 'passes',
      class: 'physics',
      source: 'geometry',
      example: { arguments: [18.3, 4], gives: 5 },
    },
    [positive('depth', 'mm'), positive('stepdown', 'mm')],
    cuttingPasses,
  ),
  formulaRow(
    'machining',
    {
      name: 'cutting_minutes',
      gives: 'min',
      class: 'physics',
      source: 'geometry-rapids',
      example: { arguments: [2400, 3000, 18.3, 4, 800, 0.5], gives: 4.522875 },
    },
    [
      positive('path', 'mm'),
      positive('feed', 'mm/min'),
      positive('depth', 'mm'),
      positive('stepdown', 'mm'),
      optional(positive('plunge_feed', 'mm/min')),
      optional(notNegative('rapids', 'min')),
    ],
    cuttingMinutes,
  ),
  formulaRow(
    'machining',
    {
      name: 'drill_minutes',
      gives: 'min',
      class: 'physics',
      source: 'groover-machining',
      example: { arguments: [8, 118, 25, 1200, 0.12], gives: 0.1903 },
    },
    [
      positive('diameter', 'mm'),
      { ...positive('point_angle', 'degrees'), most: 180 },
      positive('depth', 'mm'),
      positive('turns', 'rpm'),
      positive('feed_per_turn', 'mm'),
    ],
    drillMinutes,
  ),
  formulaRow(
    'machining',
    {
      name: 'turning_minutes',
      gives: 'min',
      class: 'physics',
      source: 'groover-machining',
      example: { arguments: [300, 0.2, 500], gives: 3 },
    },
    [positive('length', 'mm'), positive('feed_per_turn', 'mm'), positive('turns', 'rpm')],
    turningMinutes,
  ),
];
