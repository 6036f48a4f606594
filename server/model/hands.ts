/** People and machines. */
import Type, { type Static } from 'typebox';
import { DayException, Hours, Id, Name, Note } from './common.ts';
import { described } from './texts/described.ts';

const say = described.hands;

/** A pair of hands with hours. Without `can` they may do everything; with it, the named steps or skills only. */
export const Person = Type.Object(
  {
    id: Id,
    name: Name,
    hours: Hours,
    exceptions: Type.Optional(Type.Array(DayException)),
    can: Type.Optional(Type.Array(Id, { description: say.can })),
    rate: Type.Optional(Type.Number({ minimum: 0, description: say.rate })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Person = Static<typeof Person>;

/**
 * One or several alike machines. Not overnight: it stands between 22:00 and 06:00. Not unattended: somebody stays with
 * every run.
 */
export const Machine = Type.Object(
  {
    id: Id,
    name: Name,
    count: Type.Optional(Type.Integer({ minimum: 1, maximum: 100 })),
    hours: Type.Optional(Hours),
    exceptions: Type.Optional(Type.Array(DayException)),
    unattended: Type.Optional(Type.Boolean()),
    overnight: Type.Optional(Type.Boolean()),
    price: Type.Optional(Type.Number({ minimum: 0, description: say.price })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Machine = Static<typeof Machine>;
