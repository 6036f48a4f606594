/** Gates and decisions. */
import Type, { type Static } from 'typebox';
import { Amount, Id, Name, Note, Span } from './common.ts';
import { Hazards } from './step.ts';
import { described } from './texts/described.ts';

const say = described.gate;

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
    onSite: Type.Optional(Type.Boolean({ description: say.onSite })),
    powerOn: Type.Optional(Type.Boolean({ description: say.powerOn })),
    hazards: Type.Optional(Hazards),
    signedBy: Type.Optional(Type.String({ ...Name, description: say.signedBy })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Gate = Static<typeof Gate>;

/** One field that an answer sets: `{ list: 'parts', key: 'bough', field: 'way', value: 'welder' }`. */
const AnswerChange = Type.Object(
  {
    list: Type.Union([
      Type.Literal('parameters'),
      Type.Literal('parts'),
      Type.Literal('steps'),
      Type.Literal('gates'),
      Type.Literal('suppliers'),
      Type.Literal('people'),
      Type.Literal('machines'),
    ]),
    key: Type.String({ minLength: 1, maxLength: 120 }),
    field: Type.String({ minLength: 1, maxLength: 60 }),
    value: Type.Optional(Type.Unknown()),
  },
  { additionalProperties: false },
);
export type AnswerChange = Static<typeof AnswerChange>;

/** A possible answer: its name, or a name and what the build becomes with it. */
const Answer = Type.Union([
  Name,
  Type.Object(
    {
      name: Name,
      changes: Type.Array(AnswerChange, {
        maxItems: 50,
        description: say.changes,
      }),
    },
    { additionalProperties: false },
  ),
]);

/**
 * An open question and the steps and orders that wait for the answer. Answers may carry changes: deciding for one makes
 * them, as one edit (`decidingChanges`).
 */
export const Decision = Type.Object(
  {
    id: Id,
    question: Name,
    waits: Type.Array(Id, { minItems: 1 }),
    answers: Type.Optional(Type.Array(Answer)),
    decided: Type.Optional(Name),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Decision = Static<typeof Decision>;
