/** Gates and decisions. */
import Type, { type Static } from 'typebox';
import { Amount, Id, Name, Note, Span } from './common.ts';

/**
 * A check on a set or on the whole. It comes after the steps in `after` and before those in `before`; a failure sends
 * back units of the named steps. It happens on site where it says so, or where something that it comes after does. With
 * `proveFirst`, sets 2 and on may not begin the steps in `holds` (left out: those in `before`) until set 1 has passed.
 */
export const Gate = Type.Object(
  {
    id: Id,
    name: Name,
    perSet: Type.Optional(Type.Boolean()),
    after: Type.Array(Id, { minItems: 1 }),
    before: Type.Optional(Type.Array(Id)),
    minutes: Span,
    people: Type.Optional(Type.Integer({ minimum: 1, maximum: 50 })),
    who: Type.Optional(Type.Array(Id, { minItems: 1 })),
    failChance: Type.Optional(Type.Number({ minimum: 0, maximum: 1 })),
    sendsBack: Type.Optional(Type.Array(Type.Object({ step: Id, units: Amount }, { additionalProperties: false }))),
    proveFirst: Type.Optional(Type.Boolean()),
    holds: Type.Optional(Type.Array(Id)),
    onSite: Type.Optional(Type.Boolean({ description: 'done where it will stand, after the load-in' })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Gate = Static<typeof Gate>;

/** An open question and the steps that wait for the answer. */
export const Decision = Type.Object(
  {
    id: Id,
    question: Name,
    waits: Type.Array(Id, { minItems: 1 }),
    answers: Type.Optional(Type.Array(Name)),
    decided: Type.Optional(Name),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Decision = Static<typeof Decision>;
