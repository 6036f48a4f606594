/** Parts. */
import Type, { type Static } from 'typebox';
import { Amount, Id, Name, Note } from './common.ts';

export const SOURCES = ['make', 'send-out', 'buy'] as const;
export type Source = (typeof SOURCES)[number];

/**
 * A thing that is counted. What is needed of it is its own `count` plus parent needs times `usedIn` counts, over all
 * paths, plus spares, less what is on hand; with a yield below 1 more are started than are needed.
 */
export const Part = Type.Object(
  {
    id: Id,
    name: Name,
    source: Type.Union([Type.Literal('make'), Type.Literal('send-out'), Type.Literal('buy')]),
    count: Type.Optional(Amount),
    usedIn: Type.Optional(Type.Array(Type.Object({ part: Id, count: Amount }, { additionalProperties: false }))),
    spares: Type.Optional(Amount),
    yield: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1, description: 'share that comes out good' })),
    onHand: Type.Optional(Type.Integer({ minimum: 0 })),
    unitCost: Type.Optional(Type.Number({ minimum: 0 })),
    packSize: Type.Optional(Type.Integer({ minimum: 1 })),
    supplier: Type.Optional(Id),
    revision: Type.Optional(Type.String({ maxLength: 40 })),
    dependsOn: Type.Optional(
      Type.Array(Type.String({ maxLength: 60 }), { description: 'parameters its drawing depends on' }),
    ),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Part = Static<typeof Part>;
