/** Times of handling and of batches: predetermined motions, ovens, plates, trays. */
import {
  ceilCount,
  lotMinutes,
  sparesFor,
  stationsForTakt,
  taktMinutes,
  unitsToBuy,
  unitsToStart,
} from '../../numbers/index.ts';
import { count, type FabricationFormula, formulaRow, notNegative, optional, positive, share } from './catalogue.ts';
import { platesFor } from './packing.ts';

/** Minutes of this many time measurement units: 1 TMU is 0.00001 h, 0.0006 min, 0.036 s. */
function tmuMinutes(tmu: number): number {
  return tmu * 0.0006;
}

/** Minutes of a batch: setup + units x cycle. */
function batchMinutes(setupMinutes: number, units: number, cycleMinutes: number): number {
  return setupMinutes + units * cycleMinutes;
}

/** Minutes of a machine that takes this many units a load: whole loads x minutes a load. */
function loadsMinutes(units: number, unitsPerLoad: number, minutesPerLoad: number): number {
  return platesFor(units, unitsPerLoad) * minutesPerLoad;
}

/** Standard minutes with an allowance that is added to the work: normal x (1 + allowance). */
function standardMinutesOnWork(normalMinutes: number, allowance: number): number {
  return normalMinutes * (1 + allowance);
}

/** Standard minutes with an allowance that is a share of the day: normal / (1 - allowance). */
function standardMinutesOfDay(normalMinutes: number, allowance: number): number {
  return normalMinutes / (1 - allowance);
}

/** Units in the last of the lots that hold `units`. Example: 300 in 24s leave 12. */
function lastLotUnits(units: number, lotSize: number): number {
  return units === 0 ? 0 : units - (ceilCount(units / lotSize) - 1) * lotSize;
}

/** Minutes a unit to guess for a run when only a prototype was made: prototype minutes times 2 to 3. */
function minutesFromPrototype(prototypeMinutes: number, factor = 2.5): number {
  return prototypeMinutes * factor;
}

const allowance = { ...notNegative('allowance', ''), below: 1 };
const confidence = optional({ ...share('confidence'), below: 1 });

export const BATCHES: readonly FabricationFormula[] = [
  formulaRow(
    'batches',
    {
      name: 'batch_minutes',
      gives: 'min',
      class: 'physics',
      source: 'groover-quantities',
      example: { arguments: [45, 300, 6], gives: 1845 },
    },
    [notNegative('setup', 'min'), notNegative('units', ''), notNegative('cycle', 'min')],
    batchMinutes,
  ),
  formulaRow(
    'batches',
    {
      name: 'loads_minutes',
      gives: 'min',
      class: 'physics',
      source: 'counting',
      example: { arguments: [300, 24, 90], gives: 1170 },
    },
    [notNegative('units', ''), positive('units_per_load', ''), notNegative('per_load', 'min')],
    loadsMinutes,
  ),
  formulaRow(
    'batches',
    {
      name: 'last_lot',
      gives: 'units',
      class: 'physics',
      source: 'counting',
      example: { arguments: [300, 24], gives: 12 },
    },
    [notNegative('units', ''), positive('lot_size', '')],
    lastLotUnits,
  ),
  formulaRow(
    'batches',
    {
      name: 'standard_minutes_on_work',
      gives: 'min',
      class: 'physics',
      source: 'allowance-on-work',
      example: { arguments: [5, 0.15], gives: 5.75 },
    },
    [notNegative('normal', 'min'), notNegative('allowance', '')],
    standardMinutesOnWork,
  ),
  formulaRow(
    'batches',
    {
      name: 'standard_minutes_of_day',
      gives: 'min',
      class: 'physics',
      source: 'allowance-of-day',
      example: { arguments: [5, 0.15], gives: 5.882353 },
    },
    [notNegative('normal', 'min'), allowance],
    standardMinutesOfDay,
  ),
  formulaRow(
    'batches',
    {
      name: 'tmu_minutes',
      gives: 'min',
      class: 'physics',
      source: 'time-unit',
      example: { arguments: [40.8], gives: 0.02448 },
    },
    [notNegative('units', 'TMU')],
    tmuMinutes,
  ),
  formulaRow(
    'batches',
    {
      name: 'learned_minutes',
      gives: 'min',
      class: 'handbook',
      source: 'crawford',
      example: { arguments: [19.4526, 0.9, 25, 300], gives: 2550.31 },
    },
    [notNegative('first_unit', 'min'), { ...share('rate'), above: 0.5 }, count('first', 1), count('last')],
    lotMinutes,
  ),
  formulaRow(
    'batches',
    {
      name: 'units_to_start',
      gives: 'units',
      class: 'physics',
      source: 'binomial',
      example: { arguments: [300, 0.95, 0.9], gives: 321 },
    },
    [{ ...count('need'), most: 1e7 }, { ...share('yield'), least: 0.001 }, confidence],
    unitsToStart,
  ),
  formulaRow(
    'batches',
    {
      name: 'spares',
      gives: 'units',
      class: 'physics',
      source: 'poisson',
      example: { arguments: [2, 0.95], gives: 5 },
    },
    [{ ...notNegative('expected_failures', ''), most: 1e6 }, confidence],
    sparesFor,
  ),
  formulaRow(
    'batches',
    {
      name: 'whole_packs',
      gives: 'units',
      class: 'physics',
      source: 'counting',
      example: { arguments: [105, 50], gives: 150 },
    },
    [notNegative('need', ''), positive('pack_size', '')],
    unitsToBuy,
  ),
  formulaRow(
    'batches',
    {
      name: 'takt_minutes',
      gives: 'min',
      class: 'physics',
      source: 'takt',
      example: { arguments: [4080, 300], gives: 13.6 },
    },
    [notNegative('available', 'min'), positive('units', '')],
    taktMinutes,
  ),
  formulaRow(
    'batches',
    {
      name: 'takt_stations',
      gives: 'stations',
      class: 'physics',
      source: 'counting',
      example: { arguments: [38, 13.6], gives: 3 },
    },
    [notNegative('operation', 'min'), positive('takt', 'min')],
    stationsForTakt,
  ),
  formulaRow(
    'batches',
    {
      name: 'prototype_minutes',
      gives: 'min',
      class: 'rule of thumb',
      source: 'prototype',
      example: { arguments: [4, 2.75], gives: 11 },
    },
    [notNegative('prototype', 'min'), optional({ ...positive('factor', ''), least: 1 })],
    minutesFromPrototype,
  ),
];
