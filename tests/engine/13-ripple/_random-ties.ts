/** Random builds of parts in parts, parameters in formulas and steps on parts, all of them without a circle. */
import fc from 'fast-check';
import type { Build, Parameter, Part, Step } from '../../../server/model/index.ts';

const PARAMETERS = ['a', 'b', 'c', 'd', 'e'];
const PARTS = ['p', 'q', 'r', 's'];

/** An amount over the parameters before the `i`th. */
const amountOver = (names: readonly string[]) =>
  names.length === 0
    ? fc.integer({ min: 1, max: 4 })
    : fc.oneof(
        fc.integer({ min: 1, max: 4 }),
        fc.constantFrom(...names).map((name) => `2 * ${name} + 1`),
        fc.tuple(fc.constantFrom(...names), fc.constantFrom(...names)).map(([x, y]) => `max(${x}, ${y})`),
      );

const parameter = (i: number): fc.Arbitrary<Parameter> => {
  const name = PARAMETERS[i]!;
  const value = fc.integer({ min: 1, max: 3 }).map((it): Parameter => ({ name, value: it }));
  if (i === 0) return value;
  const formula = amountOver(PARAMETERS.slice(0, i)).map((it): Parameter => ({ name, formula: String(it) }));
  return fc.oneof(value, formula);
};

const amount = amountOver(PARAMETERS);

const part = (i: number): fc.Arbitrary<Part> =>
  fc
    .record({
      count: amount,
      spares: fc.option(amount, { nil: undefined }),
      usedIn: fc.array(fc.record({ part: fc.constantFrom(...PARTS.slice(0, Math.max(1, i))), count: amount }), {
        maxLength: i === 0 ? 0 : 2,
      }),
      dependsOn: fc.subarray(PARAMETERS, { maxLength: 2 }),
      source: fc.constantFrom('make' as const, 'buy' as const),
    })
    .map(({ spares, ...it }) => ({
      id: PARTS[i]!,
      name: `part ${PARTS[i]}`,
      ...it,
      ...(spares === undefined ? {} : { spares }),
      ...(it.source === 'buy' ? { supplier: 'shop' } : {}),
    }));

const step = (id: string): fc.Arbitrary<Step> =>
  fc
    .record({
      part: fc.option(fc.constantFrom(...PARTS), { nil: undefined }),
      count: amount,
      perUnit: amount,
      perSet: fc.boolean(),
      uses: fc.subarray(PARTS, { maxLength: 1 }),
    })
    .map(({ part: of, count, perUnit, perSet, uses }) => ({
      id,
      name: `step ${id}`,
      ...(of === undefined ? { count } : { part: of }),
      perSet,
      ...(uses.length === 0 ? {} : { uses }),
      phases: [{ kind: 'hands' as const, perUnit }],
    }));

const boxed = fc.record({ part: fc.constantFrom(...PARTS), count: amount, spare: fc.boolean() });

/** A build whose every amount can be worked out. */
export const anyTiedBuild: fc.Arbitrary<Build> = fc
  .record({
    parameters: fc.tuple(...PARAMETERS.map((_, i) => parameter(i))),
    parts: fc.tuple(...PARTS.map((_, i) => part(i))),
    steps: fc.tuple(...['k', 'l', 'm', 'n'].map(step)),
    sets: amount,
    of: amount,
    boxes: fc.tuple(fc.array(boxed, { maxLength: 2 }), fc.array(boxed, { maxLength: 2 })),
    load: amount,
    minutes: amount,
  })
  .map(({ parameters, parts, steps, sets, of, boxes, load, minutes }) => ({
    id: 'tied',
    name: 'Tied',
    zone: 'UTC',
    event: '2027-06-01T19:00',
    sets: { count: sets, name: 'set' },
    suppliers: [{ id: 'shop', name: 'shop', lead: 2 }],
    parameters,
    limits: [{ id: 'limit', name: 'limit', of, most: 1000 }],
    parts,
    steps,
    boxes: boxes.map((inside, i) => ({ id: `box-${i}`, name: `box ${i}`, parts: inside })),
    points: [{ id: 'hook', name: 'hook', load, limit: 1000 }],
    strike: [{ id: 'down', name: 'down', minutes }],
  }));
