/** Parameters of the design, and the limits that they keep to. */
import Type, { type Static } from 'typebox';
import { Amount, Id, Name, Note, ORIGINS, Origin, Range } from './common.ts';
import { described } from './texts/described.ts';

const say = described.parameter;

/** Where the number of a parameter comes from: what somebody decided is no guess. */
export const PARAMETER_ORIGINS = [...ORIGINS, 'decided'] as const;
export const ParameterOrigin = Type.Union([Origin, Type.Literal('decided')]);
export type ParameterOrigin = (typeof PARAMETER_ORIGINS)[number];

/** A named number of the design: exactly one of value, formula and range. */
export const Parameter = Type.Object(
  {
    name: Type.String({ pattern: '^[A-Za-z][A-Za-z0-9_]{0,59}$', description: say.name }),
    value: Type.Optional(Type.Number()),
    formula: Type.Optional(Type.String({ minLength: 1, maxLength: 500 })),
    range: Type.Optional(Range),
    atLeast: Type.Optional(Type.Number({ description: say.atLeast })),
    unit: Type.Optional(Name),
    origin: Type.Optional(ParameterOrigin),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Parameter = Static<typeof Parameter>;

/**
 * A limit that a number of the design keeps to, looked at with every edit: "door minus frame at least 0", "load a point
 * at most 25 kg". It has `least`, `most` or both; a build that breaks it is planned all the same, and threatened.
 */
export const Limit = Type.Object(
  {
    id: Id,
    name: Name,
    of: Amount,
    least: Type.Optional(Amount),
    most: Type.Optional(Amount),
    unit: Type.Optional(Name),
    parts: Type.Optional(Type.Array(Id, { description: say.parts })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Limit = Static<typeof Limit>;
