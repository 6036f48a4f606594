import { describe, expect, test } from 'vitest';
import { trainRatio } from '../../../server/engine/01-quantities/fabrication/gears.ts';
import { rectanglesInRows } from '../../../server/engine/01-quantities/fabrication/packing.ts';
import { FABRICATION_FORMULAS, FORMULA_CLASSES } from '../../../server/engine/01-quantities/fabrication.ts';
import { evaluateFormula, isFormulaName, parseFormula } from '../../../server/engine/01-quantities/formula.ts';

function computed(text: string): number {
  const parsed = parseFormula(text);
  if (!parsed.ok) throw new Error(parsed.problem.message);
  const result = evaluateFormula(parsed.formula, () => undefined);
  if (!result.ok) throw new Error(result.problem.message);
  return result.value;
}

// Agrees to the last digit written: half a unit of it, and a hair for printed halves.
function expectAsWritten(actual: number, written: string) {
  const digits = written.split('.')[1]?.length ?? 0;
  expect(Math.abs(actual - Number(written)), `${actual} against ${written}`).toBeLessThanOrEqual(0.501 * 10 ** -digits);
}

describe('the table of fabrication formulas', () => {
  test.each(FABRICATION_FORMULAS.map((formula) => [formula.name, formula] as const))(
    '%s gives its own example when called from a formula',
    (name, { example }) => {
      expect(Math.abs(computed(`${name}(${example.arguments.join(', ')})`) / example.gives - 1)).toBeLessThan(1e-5);
    },
  );

  test('names every formula, its class and its arguments, each name once', () => {
    expect(new Set(FABRICATION_FORMULAS.map(({ name }) => name)).size).toBe(FABRICATION_FORMULAS.length);
    for (const formula of FABRICATION_FORMULAS) {
      expect(isFormulaName(formula.name)).toBe(true);
      expect(FORMULA_CLASSES).toContain(formula.class);
      expect(formula.example.arguments.length).toBeLessThanOrEqual(formula.arguments.length);
      const firstOptional = formula.arguments.findIndex(({ optional }) => optional);
      const afterIt = firstOptional < 0 ? [] : formula.arguments.slice(firstOptional);
      expect(afterIt.every(({ optional }) => optional)).toBe(true);
    }
  });
});

// Recomputed; feed and flow figures also in published worked examples, the speed example in a machinist's text.
describe('machining and printing', () => {
  test.each([
    ['spindle_rpm(100, 10)', '3183.10'],
    ['spindle_rpm(30, 12)', '795.77'],
    ['spindle_rpm_inch(250, 1)', '954.93'],
    ['feed(18000, 2, 0.1)', '3600'],
    ['chip_load(3600, 18000, 2)', '0.1'],
    ['cutting_passes(18.3, 4)', '5'],
    ['cutting_minutes(2400, 3000, 18.3, 4)', '4.000'],
    ['cutting_minutes(2400, 3000, 18.3, 4, 800) - cutting_minutes(2400, 3000, 18.3, 4)', '0.0229'],
    ['cutting_minutes(2400, 3000, 18.3, 4, 800, 0.5)', '4.5229'],
    ['8 / 2 * tan(90 - 118 / 2)', '2.4034'],
    ['drill_minutes(8, 118, 25, 1200, 0.12)', '0.19030'],
    ['drill_minutes(8, 180, 25, 1200, 0.12)', '0.17361'],
    ['turning_minutes(300, 0.2, 500)', '3.0'],
    ['surface_speed(18000, 6)', '339.29'],
    ['print_flow(0.2, 0.45, 60)', '5.4'],
    ['print_flow(0.2, 0.48, 120)', '11.52'],
    ['print_speed_limit(11, 0.2, 0.45)', '122.22'],
    ['print_minutes(18.5, 5)', '61.67'],
    ['print_minutes(18.5, 11)', '28.03'],
    ['print_minutes(18.5, 24)', '12.85'],
    ['filament_metres(18.5, 1.75)', '7.6914'],
    ['spool_volume(1000, 1.24)', '806.45'],
    ['filament_metres(spool_volume(1000, 1.24), 1.75)', '335.28'],
    ['filament_grams(18.5, 1.24)', '22.94'],
    ['plate_minutes(12, 18.5, 11, 0.55, 8) / 60', '10.326'],
    ['overhang_from_horizontal(45)', '45'],
    ['overhang_from_horizontal(30)', '60'],
    ['overhang_from_vertical(60)', '30'],
  ])('%s is %s', (text, value) => {
    expectAsWritten(computed(text), value);
  });
});

describe('sheets and beds', () => {
  // Recomputed; the kerf from a published account, in inches.
  test.each([
    ['laser_seconds(1800, 12, 14, 0.5, 900, 200)', '161.5'],
    ['kerf(0.037, 11)', '0.003364'],
    ['bed_rect(1220, 2440, 300, 200, 8, 10)', '35'],
    ['bed_rect(220, 220, 50, 30, 3)', '24'],
    ['bed_disc_square(220, 220, 40, 2)', '25'],
    ['bed_disc_hex(220, 220, 40, 2)', '23'],
    ['bed_disc_square(220, 220, 30, 2)', '36'],
    ['bed_disc_hex(220, 220, 30, 2)', '42'],
    ['bed_disc_square(220, 220, 25, 1)', '64'],
    ['bed_disc_hex(220, 220, 25, 1)', '72'],
    ['bed_disc_square(220, 220, 60, 3)', '9'],
    ['bed_disc_hex(220, 220, 60, 3)', '9'],
    ['bed_disc(220, 220, 40, 2)', '25'],
    ['bed_disc(220, 220, 30, 2)', '42'],
    ['bed_disc(100, 100, 120, 2)', '0'],
    ['plates(300, 24)', '13'],
    ['plates(0, 24)', '0'],
  ])('%s is %s', (text, value) => {
    expectAsWritten(computed(text), value);
  });

  test('a sheet holds 33 parts one way and 35 the other', () => {
    const sheet = { widthMm: 1220, heightMm: 2440, gapMm: 8, marginMm: 10 };
    expect([rectanglesInRows(sheet, 300, 200), rectanglesInRows(sheet, 200, 300)]).toEqual([33, 35]);
    const bed = { widthMm: 220, heightMm: 220, gapMm: 3 };
    expect([rectanglesInRows(bed, 50, 30), rectanglesInRows(bed, 30, 50)]).toEqual([24, 24]);
  });
});

describe('paint', () => {
  // Recomputed; the label's 400 square feet a gallon as printed on tins.
  test.each([
    ['spreading_rate(33, 25)', '13.2'],
    ['spreading_rate(35, 25)', '14.0'],
    ['spreading_rate(48, 30)', '16.0'],
    ['spreading_rate(36, 30)', '12.0'],
    ['litres(300 * 0.035, 2, 10, 0.3)', '3.0'],
    ['litres(300 * 0.035, 2, 10, 0.5)', '4.2'],
    ['litres(300 * 0.035, 2, 10)', '2.1'],
    ['m2_per_litre(400)', '9.8170'],
    ['m2_per_litre(300)', '7.3627'],
  ])('%s is %s', (text, value) => {
    expectAsWritten(computed(text), value);
  });
});

// ISO 286: H7 and IT6 from a published table, p6 from memory and consistent with them.
describe('press fits H7/p6', () => {
  test.each([
    [5, 0, 20],
    [6, 0, 20],
    [8, 0, 24],
    [12, 0, 29],
    [20, 1, 35],
    [40, 1, 42],
    [60, 2, 51],
  ])('at %d mm grip by %d to %d micrometres', (nominal, least, most) => {
    expect(computed(`press_fit_least(${nominal})`)).toBe(least);
    expect(computed(`press_fit_most(${nominal})`)).toBe(most);
  });

  test('are not tabled beyond 3 to 80 mm', () => {
    expect(() => computed('press_fit_least(3)')).toThrow('more than 3');
    expect(() => computed('press_fit_most(80.1)')).toThrow('must be 80 or less');
  });
});

describe('gears', () => {
  test.each([
    ['gear_distance(2, 20, 40)', '60'],
    ['gear_distance(1.5, 17, 51)', '51'],
    ['gear_distance_internal(2, 18, 72)', '54'],
    ['gear_pitch_diameter(2, 20)', '40'],
    ['gear_tip_diameter(2, 20)', '44'],
    ['gear_pitch(2)', '6.2832'],
    ['gear_ratio(20, 40) * gear_ratio(15, 45)', '6'],
  ])('%s is %s', (text, value) => {
    expectAsWritten(computed(text), value);
  });

  test('keep their ratio whatever the idler between them', () => {
    const through = (idler: number) =>
      trainRatio([
        { driving: 20, driven: idler },
        { driving: idler, driven: 40 },
      ]);
    expect([through(13), through(31)]).toEqual([expect.closeTo(2, 12), expect.closeTo(2, 12)]);
    expect(
      trainRatio([
        { driving: 20, driven: 40 },
        { driving: 15, driven: 45 },
      ]),
    ).toBe(6);
  });
});

describe('counts of shapes', () => {
  // Formulas of a public geodesic text; counts and chords by construction of the whole mesh.
  test.each([
    [1, 12, 30, 20, [[1.05146, 30]]],
    [
      2,
      42,
      120,
      80,
      [
        [0.54653, 60],
        [0.61803, 60],
      ],
    ],
    [
      3,
      92,
      270,
      180,
      [
        [0.34862, 60],
        [0.40355, 90],
        [0.41241, 120],
      ],
    ],
    [
      4,
      162,
      480,
      320,
      [
        [0.25318, 60],
        [0.29453, 120],
        [0.29524, 60],
        [0.29859, 60],
        [0.31287, 120],
        [0.32492, 60],
      ],
    ],
  ])('a geodesic sphere of frequency %d', (frequency, nodes, struts, faces, chords) => {
    expect(computed(`geodesic_nodes(${frequency})`)).toBe(nodes);
    expect(computed(`geodesic_struts(${frequency})`)).toBe(struts);
    expect(computed(`geodesic_faces(${frequency})`)).toBe(faces);
    expect(computed(`geodesic_lengths(${frequency})`)).toBe(chords.length);
    chords.forEach(([chord, count], i) => {
      expect(computed(`geodesic_chord_struts(${frequency}, ${i + 1})`)).toBe(count);
      expect(Math.abs(computed(`geodesic_chord(${frequency}, ${i + 1})`) - chord!)).toBeLessThan(1e-5);
    });
    expect(() => computed(`geodesic_chord(${frequency}, ${chords.length + 1})`)).toThrow('change its arguments');
  });

  test('a sphere of frequency 6 has 362 nodes, 350 of them six-way', () => {
    expect(['nodes', 'struts', 'faces'].map((what) => computed(`geodesic_${what}(6)`))).toEqual([362, 1080, 720]);
    expect(computed('geodesic_nodes(6) - 12')).toBe(350);
  });

  test('every closed mesh keeps nodes - struts + faces at 2', () => {
    for (let f = 1; f <= 12; f++) {
      expect(computed(`geodesic_nodes(${f}) - geodesic_struts(${f}) + geodesic_faces(${f})`)).toBe(2);
      const kinds = Array.from({ length: computed(`geodesic_lengths(${f})`) }, (_, i) => i + 1);
      const counted = kinds.reduce((sum, kind) => sum + computed(`geodesic_chord_struts(${f}, ${kind})`), 0);
      expect(counted).toBe(30 * f * f);
    }
  });

  test.each([
    ['grid_sticks(8, 5)', '93'],
    ['grid_nodes(8, 5)', '54'],
    ['posts(12)', '13'],
    ['ring_parts(600, 55)', '68'],
    ['ring_pitch(600, ring_parts(600, 55))', '55.4399'],
  ])('%s is %s', (text, value) => {
    expectAsWritten(computed(text), value);
  });
});

describe('batches', () => {
  // Groover's batch time (from memory), the unit of time measurement by definition, the rest recomputed.
  test.each([
    ['batch_minutes(45, 10, 6)', '105'],
    ['batch_minutes(45, 50, 6) / 50', '6.90'],
    ['batch_minutes(45, 300, 6)', '1845'],
    ['batch_minutes(45, 300, 6) / 300', '6.15'],
    ['60 * 300 / batch_minutes(45, 300, 6)', '9.756'],
    ['loads_minutes(300, 24, 90) / 60', '19.5'],
    ['standard_minutes_on_work(5, 0.15)', '5.75'],
    ['standard_minutes_of_day(5, 0.15)', '5.8824'],
    ['plates(300, 24)', '13'],
    ['last_lot(300, 24)', '12'],
    ['last_lot(48, 24)', '24'],
    ['last_lot(0, 24)', '0'],
    ['tmu_minutes(1) * 60', '0.036'],
    ['tmu_minutes(18.6 + 2 + 18.2 + 2) * 60', '1.4688'],
    ['1 / (tmu_minutes(1) * 60)', '27.8'],
    ['learned_minutes(19.4526, 0.9, 25, 300)', '2550.3'],
    ['units_to_start(300, 0.95)', '321'],
    ['spares(2, 0.95)', '5'],
    ['whole_packs(105, 50)', '150'],
    ['takt_minutes(10 * 8 * 60 * 0.85, 300)', '13.6'],
    ['takt_stations(38, 13.6)', '3'],
  ])('%s is %s', (text, value) => {
    expectAsWritten(computed(text), value);
  });
});
