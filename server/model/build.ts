/** The build: one piece for one event. */
import Type, { type Static } from 'typebox';
import { Amount, Id, Name, Note, WallTime } from './common.ts';
import { Decision, Gate } from './gate.ts';
import { Machine, Person } from './hands.ts';
import { MOST } from './limits.ts';
import { LogEntry } from './log-entry.ts';
import { Limit, Parameter } from './parameter.ts';
import { Part } from './part.ts';
import { Box, NotNeeded, Passage, Point, StrikeJob } from './show.ts';
import { Feed, Step } from './step.ts';
import { Supplier } from './supplier.ts';
import { described } from './texts/described.ts';

const say = described.build;

/**
 * One piece for one event; owns everything below. Lists stand in the maker's order, which is the order of the route.
 */
export const Build = Type.Object(
  {
    id: Id,
    name: Name,
    zone: Type.String({
      minLength: 1,
      maxLength: 60,
      description: say.zone,
    }),
    /** When work may begin; left out: it may begin at once. */
    start: Type.Optional(WallTime),
    event: WallTime,
    loadIn: Type.Optional(WallTime),
    readyBy: Type.Optional(WallTime),
    /** When taking down may begin; left out: at the event itself, for nobody has said when it ends. */
    strikeFrom: Type.Optional(WallTime),
    /** A certificate of how its materials burn is asked for then. */
    forPublic: Type.Optional(Type.Boolean({ description: say.forPublic })),
    certificate: Type.Optional(Type.String({ ...Name, description: say.certificate })),
    sets: Type.Optional(Type.Object({ count: Amount, name: Name }, { additionalProperties: false })),
    confidence: Type.Optional(Type.Number({ minimum: 0.5, maximum: 0.999 })),
    currency: Type.Optional(Type.String({ maxLength: 8 })),
    askedChance: Type.Optional(
      Type.Number({
        minimum: 0.05,
        maximum: 0.999,
        description: say.askedChance,
      }),
    ),
    contingency: Type.Optional(Type.Number({ minimum: 0, maximum: 5, description: say.contingency })),
    hourWorth: Type.Optional(Type.Number({ exclusiveMinimum: 0, description: say.hourWorth })),
    parameters: Type.Optional(Type.Array(Parameter, { maxItems: MOST.parameters })),
    limits: Type.Optional(Type.Array(Limit, { maxItems: MOST.limits })),
    parts: Type.Optional(Type.Array(Part, { maxItems: MOST.parts })),
    suppliers: Type.Optional(Type.Array(Supplier, { maxItems: MOST.suppliers })),
    people: Type.Optional(Type.Array(Person, { maxItems: MOST.people })),
    machines: Type.Optional(Type.Array(Machine, { maxItems: MOST.machines })),
    steps: Type.Array(Step, { maxItems: MOST.steps }),
    feeds: Type.Optional(Type.Array(Feed, { maxItems: MOST.feeds })),
    gates: Type.Optional(Type.Array(Gate, { maxItems: MOST.gates })),
    decisions: Type.Optional(Type.Array(Decision, { maxItems: MOST.decisions })),
    boxes: Type.Optional(Type.Array(Box, { maxItems: MOST.boxes })),
    passages: Type.Optional(Type.Array(Passage, { maxItems: MOST.passages })),
    points: Type.Optional(Type.Array(Point, { maxItems: MOST.points })),
    strike: Type.Optional(Type.Array(StrikeJob, { maxItems: MOST.strike })),
    notNeeded: Type.Optional(Type.Array(NotNeeded, { maxItems: 1000 })),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Build = Static<typeof Build>;

export const FILE_FORMAT = 'daywright-build';
export const FILE_VERSION = 1;

/** The build file: a build and, if there is one, its log. */
export const BuildFile = Type.Object(
  {
    format: Type.Literal(FILE_FORMAT),
    version: Type.Literal(FILE_VERSION),
    build: Build,
    log: Type.Optional(Type.Array(LogEntry)),
  },
  { additionalProperties: false },
);
export type BuildFile = Static<typeof BuildFile>;
