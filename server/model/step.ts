/** Steps, their work patterns and their links. */
import Type, { type Static } from 'typebox';
import { Amount, Estimate, Id, Name, Note, Origin, Span, WallTime } from './common.ts';
import { LeadTime } from './supplier.ts';
import { described } from './texts/described.ts';

const say = described.step;

export const HAZARDS = [
  'dust',
  'spray',
  'blades',
  'mains',
  'batteries',
  'hot-work',
  'lasers',
  'resins',
  'height',
  'overhead',
  'lifting',
  'fumes',
  'noise',
  'moving-parts',
  'pressure',
  'glass',
  'solvent-rags',
  'outdoor-mains',
  'isocyanates',
  'driving',
  'public-decor',
] as const;
export type Hazard = (typeof HAZARDS)[number];

/**
 * Hazards at which tiredness hurts, so that work at night weighs more: blades, height and mains after HSE guidance
 * HSG256 (from memory); the others are common practice, no source.
 */
export const NIGHT_HAZARDS: readonly Hazard[] = [
  'blades',
  'height',
  'mains',
  'hot-work',
  'overhead',
  'moving-parts',
  'glass',
  'outdoor-mains',
  'driving',
];
/** Hazards that do not get worse because nobody else is there. */
const SAFE_ALONE: readonly Hazard[] = ['dust', 'fumes', 'noise', 'solvent-rags', 'driving', 'public-decor'];
/** Hazards at which nobody should be alone: common practice, no source. */
export const ALONE_HAZARDS: readonly Hazard[] = HAZARDS.filter((hazard) => !SAFE_ALONE.includes(hazard));
/**
 * Hazards of what runs, charges, dries or cures by itself, so that somebody should watch it: common practice, no
 * source.
 */
export const UNWATCHED_HAZARDS: readonly Hazard[] = [
  'lasers',
  'hot-work',
  'batteries',
  'mains',
  'spray',
  'resins',
  'moving-parts',
  'pressure',
  'solvent-rags',
  'outdoor-mains',
  'isocyanates',
];
/** Those of them that are never left by themselves. */
export const NEVER_UNWATCHED: readonly Hazard[] = ['lasers', 'hot-work', 'batteries'];
/** Hazards that need a competent person, and a gate after the step at which that person signs. */
export const SIGNED_HAZARDS: readonly Hazard[] = ['overhead', 'mains', 'outdoor-mains'];

/** A hazard by a word in the name of a step or of its machine. */
export interface HazardGuess {
  readonly hazard: Hazard;
  readonly from: 'name' | 'machine';
}

/** The hazards that a step or a gate carries; an empty list says that it has none. */
export const Hazards = Type.Array(
  Type.Union(HAZARDS.map((hazard) => Type.Literal(hazard)) as unknown as [Type.TLiteral<Hazard>]),
);

const People = Type.Integer({ minimum: 1, maximum: 50 });
const Who = Type.Array(Id, { minItems: 1, description: say.who });

const HandsPhase = Type.Object(
  {
    kind: Type.Literal('hands'),
    minutes: Type.Optional(Span),
    perUnit: Type.Optional(Estimate),
    people: Type.Optional(People),
    who: Type.Optional(Who),
    oneGo: Type.Optional(Type.Boolean({ description: say.oneGo })),
  },
  { additionalProperties: false },
);
const RunPhase = Type.Object(
  {
    kind: Type.Literal('run'),
    machine: Id,
    minutes: Type.Optional(Span),
    perUnit: Type.Optional(Estimate),
    attended: Type.Optional(Type.Boolean()),
    people: Type.Optional(People),
    who: Type.Optional(Who),
  },
  { additionalProperties: false },
);
const WaitPhase = Type.Object({ kind: Type.Literal('wait'), minutes: Span }, { additionalProperties: false });
const LeadPhase = Type.Object(
  {
    kind: Type.Literal('lead'),
    supplier: Id,
    days: Type.Optional(LeadTime),
    express: Type.Optional(Type.Boolean()),
  },
  { additionalProperties: false },
);

/** One link of the work pattern. `minutes` is for each lot, `perUnit` for each unit of the lot; together they add. */
export const PhaseShape = Type.Union([HandsPhase, RunPhase, WaitPhase, LeadPhase]);
export type PhaseShape = Static<typeof PhaseShape>;

export const LINK_NAMES = ['units', 'finish-start', 'start-start', 'finish-finish', 'start-finish'] as const;
export const LinkName = Type.Union([
  Type.Literal('units'),
  Type.Literal('finish-start'),
  Type.Literal('start-start'),
  Type.Literal('finish-finish'),
  Type.Literal('start-finish'),
]);
export type LinkName = Static<typeof LinkName>;

const linkFields = {
  type: Type.Optional(LinkName),
  ratio: Type.Optional(Amount),
  headStart: Type.Optional(Type.Integer({ minimum: 0 })),
  lag: Type.Optional(Span),
  lagIn: Type.Optional(Type.Union([Type.Literal('clock'), Type.Literal('working')])),
  note: Type.Optional(Note),
};

/** A link written at the step it leads to: a step's id, or more about it. */
export const After = Type.Union([Id, Type.Object({ step: Id, ...linkFields }, { additionalProperties: false })]);
export type After = Static<typeof After>;

/** A link from step to step. `units`: unit u of `to` needs the first ceil(u x ratio) + headStart units of `from`. */
export const Feed = Type.Object({ from: Id, to: Id, ...linkFields }, { additionalProperties: false });
export type Feed = Static<typeof Feed>;

/**
 * Units of a step (left out: all of them) that the maker fixed: their work begins at `start`, or is done by `people`,
 * or both. Units are counted within the set where one is named, else over all.
 */
export const Pin = Type.Object(
  {
    set: Type.Optional(Type.Integer({ minimum: 1 })),
    from: Type.Optional(Type.Integer({ minimum: 1, description: say.from })),
    to: Type.Optional(Type.Integer({ minimum: 1, description: say.to })),
    start: Type.Optional(WallTime),
    people: Type.Optional(Type.Array(Id, { minItems: 1 })),
  },
  { additionalProperties: false },
);
export type Pin = Static<typeof Pin>;

/**
 * One kind of work. It works on a part (its units are those to make), or has a count of its own, or is a single job.
 * `takes` is the short form of one wait phase: a plain duration in clock time that needs nobody. With `way` it is done
 * only to the units of its part that come about that way. With `due` its units, spares aside, are wanted by then.
 */
export const Step = Type.Object(
  {
    id: Id,
    name: Name,
    part: Type.Optional(Id),
    way: Type.Optional(Id),
    count: Type.Optional(Amount),
    perSet: Type.Optional(Type.Boolean()),
    takes: Type.Optional(Span),
    phases: Type.Optional(Type.Array(PhaseShape, { maxItems: 20 })),
    setup: Type.Optional(Span),
    setupEach: Type.Optional(Type.Union([Type.Literal('step'), Type.Literal('lot')])),
    learning: Type.Optional(Type.Number({ minimum: 0.5, maximum: 1, description: say.learning })),
    lotSize: Type.Optional(Amount),
    stations: Type.Optional(Type.Integer({ minimum: 1, maximum: 1000 })),
    after: Type.Optional(Type.Array(After)),
    uses: Type.Optional(Type.Array(Id, { description: say.uses })),
    onSite: Type.Optional(Type.Boolean({ description: say.onSite })),
    tools: Type.Optional(
      Type.Array(Type.String({ minLength: 1, maxLength: 200 }), { maxItems: 50, description: say.tools }),
    ),
    mayDrop: Type.Optional(Type.Boolean({ description: say.mayDrop })),
    skill: Type.Optional(Id),
    notBefore: Type.Optional(WallTime),
    due: Type.Optional(WallTime),
    pinnedTo: Type.Optional(Type.Array(Id, { minItems: 1, description: say.pinnedTo })),
    pins: Type.Optional(Type.Array(Pin, { maxItems: 200 })),
    hazards: Type.Optional(Hazards),
    hazardsGuessed: Type.Optional(Type.Boolean({ description: say.hazardsGuessed })),
    origin: Type.Optional(Origin),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type Step = Static<typeof Step>;
