/** A change of a build as data, so that it can be stored, sent, shown, applied and taken back. */
import Type, { type Static } from 'typebox';
import { FILE_VERSION } from '../build.ts';
import { Id } from '../common.ts';
import { described } from '../texts/described.ts';
import { THING_LISTS } from './lists.ts';

const say = described.change;

const List = Type.Union(
  THING_LISTS.map((list) => Type.Literal(list)) as unknown as [Type.TLiteral<(typeof THING_LISTS)[number]>],
);
const Key = Type.String({ minLength: 1, maxLength: 200, description: say.key });
const Place = Type.Union([Key, Type.Null()], { description: say.place });

/** A new thing, right after the thing `after` (null: at the beginning; left out: at the end of its list). */
export const Put = Type.Object(
  {
    kind: Type.Literal('put'),
    list: List,
    key: Key,
    thing: Type.Record(Type.String(), Type.Unknown()),
    after: Type.Optional(Place),
  },
  { additionalProperties: false },
);
/** A thing taken out. */
export const Remove = Type.Object(
  { kind: Type.Literal('remove'), list: List, key: Key },
  { additionalProperties: false },
);
/** A thing brought to another place of its list: right after the thing `after`, or (null) to the beginning. */
export const Move = Type.Object(
  { kind: Type.Literal('move'), list: List, key: Key, after: Place },
  { additionalProperties: false },
);
/** One field of a thing; without a value the field is emptied. */
export const SetField = Type.Object(
  {
    kind: Type.Literal('set'),
    list: List,
    key: Key,
    field: Type.String({ maxLength: 60 }),
    value: Type.Optional(Type.Unknown()),
  },
  { additionalProperties: false },
);
/** One field of the build itself, such as its event or its sets. */
export const SetOwn = Type.Object(
  {
    kind: Type.Literal('set'),
    list: Type.Literal('build'),
    field: Type.String({ maxLength: 60 }),
    value: Type.Optional(Type.Unknown()),
  },
  { additionalProperties: false },
);
/**
 * Another name for a parameter, wherever a formula or a drawing refers to it. Other things keep their ids, by which the
 * log knows them: what a person reads of those is their name, a field like any other.
 */
export const Rename = Type.Object(
  { kind: Type.Literal('rename'), list: Type.Literal('parameters'), key: Key, to: Key },
  { additionalProperties: false },
);

export const Change = Type.Union([Put, Remove, Move, SetField, SetOwn, Rename]);
export type Change = Static<typeof Change>;

export const CHANGE_KINDS = ['put', 'remove', 'move', 'set', 'rename'] as const;

/**
 * Changes of one build, as they are stored and sent. `version` is that of the build file, whose fields they speak of.
 */
export const ChangeList = Type.Object(
  {
    format: Type.Literal('daywright-changes'),
    version: Type.Literal(FILE_VERSION),
    build: Id,
    changes: Type.Array(Change),
  },
  { additionalProperties: false },
);
export type ChangeList = Static<typeof ChangeList>;
