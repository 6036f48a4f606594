/** Parts. */
import Type, { type Static } from 'typebox';
import { Amount, Id, Name, Note, WallTime } from './common.ts';
import { type Problem, problem } from './problem.ts';
import { described } from './texts/described.ts';
import { problemTexts } from './texts/index.ts';
import type { Sentence } from './texts/sentence.ts';

const say = described.part;

export const SOURCES = ['make', 'send-out', 'buy'] as const;
export type Source = (typeof SOURCES)[number];

const SourceName = Type.Union([Type.Literal('make'), Type.Literal('send-out'), Type.Literal('buy')]);

/**
 * One of several ways in which a part may come about: made here by the steps that name it (`way`), sent out to a
 * supplier, or bought. What it leaves out is as the part says. `units`: this many come this way, though another way is
 * the chosen one, which has the rest. Changing the way of a part is one change, `set parts.bough.way`; splitting it is
 * one too, `set parts.bough.ways`: see `wayChanges` and `splitChanges`.
 */
export const Way = Type.Object(
  {
    id: Id,
    name: Name,
    source: SourceName,
    supplier: Type.Optional(Id),
    unitCost: Type.Optional(Type.Number({ minimum: 0 })),
    onceCost: Type.Optional(Type.Number({ minimum: 0 })),
    yield: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1, description: say.yield })),
    units: Type.Optional(Amount),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Way = Static<typeof Way>;

/**
 * Where units of a part are: they have passed a step as their last one, went into another part at a step, are on their
 * way under the id of an order, or lie on hand.
 */
export const MADE_AT = ['passed', 'mounted', 'on-its-way', 'on-hand'] as const;
export type MadeAt = (typeof MADE_AT)[number];

/** Units made or ordered before a change that touches them; nobody has said yet whether they are still good. */
export const Unchecked = Type.Object(
  {
    at: Type.Union([
      Type.Literal('passed'),
      Type.Literal('mounted'),
      Type.Literal('on-its-way'),
      Type.Literal('on-hand'),
    ]),
    step: Type.Optional(Id),
    units: Type.Integer({ minimum: 1 }),
    revision: Type.Optional(Type.String({ maxLength: 40, description: say.revision })),
    because: Type.Optional(Type.String({ maxLength: 200, description: say.because })),
  },
  { additionalProperties: false },
);
export type Unchecked = Static<typeof Unchecked>;

/**
 * A thing that is counted. What is needed of it is its own `count` plus parent needs times `usedIn` counts, over all
 * paths, plus spares, less what is on hand; with a yield below 1 more are started than are needed. With `ways` it comes
 * about by the `way` named, else by the first. How many fail in use says how many spares are wanted: this many in all
 * (`failures`), or each with a chance (`failShare`). With `due` all units for the piece are wanted by then. With a
 * `unit` it is measured, such as by the litre: counts, spares and what is on hand are amounts of it, and it is ordered,
 * counted and logged in packs of `packSize`; the share `waste` is lost.
 */
export const Part = Type.Object(
  {
    id: Id,
    name: Name,
    source: SourceName,
    count: Type.Optional(Amount),
    usedIn: Type.Optional(
      Type.Array(Type.Object({ part: Id, count: Amount, way: Type.Optional(Id) }, { additionalProperties: false })),
    ),
    atLeast: Type.Optional(Type.Integer({ minimum: 0, description: say.atLeast })),
    spares: Type.Optional(Amount),
    failures: Type.Optional(Type.Number({ minimum: 0, maximum: 10_000, description: say.failures })),
    failShare: Type.Optional(Type.Number({ minimum: 0, exclusiveMaximum: 1, description: say.failShare })),
    due: Type.Optional(WallTime),
    yield: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1, description: say.yield })),
    unit: Type.Optional(Type.String({ minLength: 1, maxLength: 12, description: say.unit })),
    waste: Type.Optional(
      Type.Number({
        minimum: 0,
        exclusiveMaximum: 1,
        description: say.waste,
      }),
    ),
    onHand: Type.Optional(Type.Number({ minimum: 0 })),
    unitCost: Type.Optional(Type.Number({ minimum: 0, description: say.unitCost })),
    onceCost: Type.Optional(Type.Number({ minimum: 0, description: say.onceCost })),
    packSize: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1_000_000, description: say.packSize })),
    supplier: Type.Optional(Id),
    ways: Type.Optional(Type.Array(Way, { maxItems: 8, description: say.ways })),
    way: Type.Optional(Id),
    revision: Type.Optional(Type.String({ maxLength: 40 })),
    dependsOn: Type.Optional(Type.Array(Type.String({ maxLength: 60 }), { description: say.dependsOn })),
    unchecked: Type.Optional(Type.Array(Unchecked, { maxItems: 200, description: say.unchecked })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Part = Static<typeof Part>;

/** What is wrong with the measures of a part: pieces come in whole numbers, and only what is measured has waste. */
export function measureProblems({ id, name, unit, packSize, onHand, waste }: Part): Problem[] {
  if (unit !== undefined) return [];
  const say = problemTexts.parts;
  const wrong = (field: string, value: number, what: Sentence): Problem =>
    problem('shape', `parts.${id}.${field}`, value, what);
  return [
    ...(packSize === undefined || Number.isInteger(packSize)
      ? []
      : [wrong('packSize', packSize, say.wholePack(name, packSize))]),
    ...(onHand === undefined || Number.isInteger(onHand)
      ? []
      : [wrong('onHand', onHand, say.wholeOnHand(name, onHand))]),
    ...(waste === undefined || waste === 0 ? [] : [wrong('waste', waste, say.wasteOfPieces(name, waste))]),
  ];
}
