/** The list of formulas holds what can be called, and its examples are the check values of making. */
import { expect, it } from 'vitest';
import { FABRICATION_FORMULAS } from '../../../server/engine/01-quantities/fabrication.ts';
import { formulaFunctions } from '../../../server/engine/01-quantities/formula-functions.ts';
import { formulaList } from '../../../server/engine/01-quantities/formula-list.ts';

const listed = new Map(formulaList().map((one) => [one.name, one]));

it('lists every function that a formula may call, once, with if', () => {
  expect(formulaList()).toHaveLength(listed.size);
  expect([...listed.keys()].sort()).toEqual([...formulaFunctions().keys(), 'if'].sort());
});

// Recomputed for each formula from its published form; the speeds and the filament also in published examples.
it.each([
  ['spindle_rpm', 3183.1],
  ['feed', 3600],
  ['drill_minutes', 0.1903],
  ['turning_minutes', 3],
  ['print_flow', 11.52],
  ['print_minutes', 28.03],
  ['laser_seconds', 161.5],
  ['litres', 3],
  ['spreading_rate', 16],
  ['batch_minutes', 1845],
  ['loads_minutes', 1170],
  ['last_lot', 12],
  ['gear_distance', 60],
  ['mod', 2],
  ['if', 10],
])('gives the check value of %s as its example: %d', (name, value) => {
  expect(listed.get(name)!.example.value).toBeCloseTo(value, 2);
});

it('computes each example of the trade to what its row says', () => {
  for (const { name, example } of FABRICATION_FORMULAS) {
    expect(Math.abs(listed.get(name)!.example.value / example.gives - 1), name).toBeLessThan(1e-5);
  }
});
