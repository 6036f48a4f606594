/** The show: boxes and what is in them, the ways to the site, points to hang from, and the work after the event. */
import Type, { type Static } from 'typebox';
import { Amount, Id, Name, Note, Span } from './common.ts';
import { type Problem, problem } from './problem.ts';
import { described } from './texts/described.ts';
import { problemTexts } from './texts/index.ts';

const say = described.show;

const Millimetres = Type.Number({ exclusiveMinimum: 0, maximum: 100_000, description: say.millimetres });
const Kilograms = Type.Number({ minimum: 0, maximum: 100_000, description: say.kilograms });
const Line = Type.String({ minLength: 1, maxLength: 200 });

/** This many units of a part lie in a box: for the piece, or as spares. */
const BoxedPart = Type.Object(
  {
    part: Id,
    count: Amount,
    spare: Type.Optional(Type.Boolean({ description: say.spare })),
  },
  { additionalProperties: false },
);

/**
 * A box, a crate or a bare piece that goes to the site as one, with what is in it. `weight` is that of the full box.
 * Without `opensAt` it is opened at the first step on site that takes one of its parts.
 */
export const Box = Type.Object(
  {
    id: Id,
    name: Name,
    width: Type.Optional(Millimetres),
    height: Type.Optional(Millimetres),
    depth: Type.Optional(Millimetres),
    upright: Type.Optional(Type.Boolean({ description: say.upright })),
    weight: Type.Optional(Kilograms),
    carriers: Type.Optional(Type.Integer({ minimum: 1, maximum: 20, description: say.carriers })),
    opensAt: Type.Optional(Id),
    set: Type.Optional(Type.Integer({ minimum: 1, maximum: 10_000, description: say.set })),
    parts: Type.Optional(Type.Array(BoxedPart, { maxItems: 200 })),
    tools: Type.Optional(Type.Array(Line, { maxItems: 200 })),
    kit: Type.Optional(Type.Array(Line, { maxItems: 200, description: say.kit })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Box = Static<typeof Box>;

const NOT_NEEDED = ['units', 'spares', 'one-more', 'tool', 'repair', 'power-on'] as const;

/** A proposal of Show day that the maker does not need: its code, and the part, tool or place that it is of. */
export const NotNeeded = Type.Object(
  {
    code: Type.Union(NOT_NEEDED.map((code) => Type.Literal(code)) as unknown as [Type.TLiteral<ShowProposalCode>]),
    of: Line,
  },
  { additionalProperties: false, description: say.notNeeded },
);
export type NotNeeded = Static<typeof NotNeeded>;
export type ShowProposalCode = (typeof NOT_NEEDED)[number];

export const PASSAGE_KINDS = ['van', 'door', 'lift'] as const;
export type PassageKind = (typeof PASSAGE_KINDS)[number];

/** What every box must go into or through: a van, a door, a lift. All sizes are clear ones, inside. */
export const Passage = Type.Object(
  {
    id: Id,
    name: Name,
    kind: Type.Union(PASSAGE_KINDS.map((kind) => Type.Literal(kind)) as unknown as [Type.TLiteral<PassageKind>]),
    width: Millimetres,
    height: Millimetres,
    depth: Type.Optional(Millimetres),
    payload: Type.Optional(Kilograms),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Passage = Static<typeof Passage>;

/** A point that something hangs from: what hangs there, what it may carry, and the gate at which it is signed for. */
export const Point = Type.Object(
  {
    id: Id,
    name: Name,
    load: Amount,
    limit: Type.Number({
      exclusiveMinimum: 0,
      maximum: 100_000,
      description: say.limit,
    }),
    gate: Type.Optional(Id),
    signedBy: Type.Optional(Type.String({ ...Name, description: say.signedBy })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Point = Static<typeof Point>;

/** A job after the event: taking down, carrying out, bringing back. Jobs follow each other in the order of the list. */
export const StrikeJob = Type.Object(
  {
    id: Id,
    name: Name,
    minutes: Span,
    people: Type.Optional(Type.Integer({ minimum: 1, maximum: 50 })),
    who: Type.Optional(Type.Array(Id, { minItems: 1 })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type StrikeJob = Static<typeof StrikeJob>;

/** A van or a lift without a depth cannot be said to take a box. */
export function passageProblems({ id, name, kind, depth }: Passage): Problem[] {
  if (kind === 'door' || depth !== undefined) return [];
  return [problem('shape', `passages.${id}.depth`, 'nothing', problemTexts.show.depth(name))];
}

/** A size with a side left out is no size. */
export function boxProblems(box: Box): Problem[] {
  const sides = (['width', 'height', 'depth'] as const).filter((side) => box[side] === undefined);
  if (sides.length === 0 || sides.length === 3) return [];
  return sides.map((side) =>
    problem('shape', `boxes.${box.id}.${side}`, 'nothing', problemTexts.show.side(box.name, side)),
  );
}
