/**
 * What the phone or a program and the server say to each other when units are counted. Instants are ISO texts in UTC
 * with milliseconds; lengths are minutes.
 */
import Type, { type Static, type TSchema } from 'typebox';
import { Id } from '../common.ts';
import { LOG_KINDS, type LogKind } from '../log/index.ts';
import { NewLogEntry } from '../log-entry.ts';
import { described } from '../texts/described.ts';

const say = described.countShapes;

/** The type of a shape that is only read. */
type Read<S extends TSchema> = ReadonlyOf<Static<S>>;
export type ReadonlyOf<T> = T extends readonly (infer Item)[]
  ? readonly ReadonlyOf<Item>[]
  : T extends object
    ? { readonly [Key in keyof T]: ReadonlyOf<T[Key]> }
    : T;

const EXACT = { additionalProperties: false } as const;
const Text = Type.String();
const Count = Type.Integer();
const Kind = Type.Union(LOG_KINDS.map((kind) => Type.Literal(kind)) as unknown as [Type.TLiteral<LogKind>]);
const EntryId = Type.String({ description: say.entryId });
const Instant = Type.String({ format: 'date-time' });

/** A shape, or null. */
export function orNull<S extends TSchema>(shape: S, description?: string) {
  return Type.Union([shape, Type.Null()], description === undefined ? {} : { description });
}

/** Entries with the last that is known to have arrived: the server says whether it still has it at that number. */
export const Sending = Type.Object(
  {
    entries: Type.Array(NewLogEntry, { maxItems: 500 }),
    last: Type.Optional(orNull(Type.Object({ id: EntryId, seq: Count }, EXACT))),
  },
  EXACT,
);

/** The same of a program, which may count and nothing else. */
export const CountSending = Type.Object(
  {
    entries: Type.Array(
      Type.Object(
        { ...NewLogEntry.properties, kind: Type.Union([Type.Literal('done'), Type.Literal('scrapped')]) },
        EXACT,
      ),
      { maxItems: 500 },
    ),
  },
  EXACT,
);

/** What was wrong: the field, the value found there, and a sentence with what would be right. */
export const ProblemShape = Type.Object(
  {
    code: Text,
    severity: Type.Union([Type.Literal('error'), Type.Literal('warning')]),
    field: Text,
    value: Text,
    message: Text,
  },
  EXACT,
);

const Receipt = Type.Object(
  {
    id: EntryId,
    state: Type.Union([Type.Literal('stored'), Type.Literal('known'), Type.Literal('refused')], {
      description: say.state,
    }),
    seq: orNull(Count, say.seq),
    problems: Type.Array(ProblemShape),
    questions: Type.Array(Text, { description: say.questions }),
  },
  EXACT,
);

/** A receipt for each entry. */
export const SendingAnswer = Type.Object(
  {
    receipts: Type.Array(Receipt),
    now: Type.String({ format: 'date-time', description: say.now }),
    knowsLast: Type.Boolean({
      description: say.knowsLast,
    }),
  },
  EXACT,
);

const SetCounts = Type.Object(
  {
    set: orNull(Count, say.set),
    total: Count,
    counted: Type.Integer({ description: say.counted }),
    scrapped: Count,
    left: Count,
  },
  EXACT,
);

const Load = Type.Object(
  {
    entry: EntryId,
    kind: Type.Union([Type.Literal('loaded'), Type.Literal('ordered')]),
    set: orNull(Count),
    units: Type.Number(),
    since: Instant,
    backAt: orNull(Instant, say.backAt),
    promised: Type.Boolean({ description: say.promised }),
  },
  EXACT,
);

const UnitsOf = Type.Object({ step: Text, name: Text, units: Type.Number() }, EXACT);

const Step = Type.Object(
  {
    id: Text,
    name: Text,
    kind: Type.Union([Type.Literal('step'), Type.Literal('order'), Type.Literal('gate')]),
    part: orNull(Text, say.part),
    unchecked: Type.Optional(Type.Number({ description: say.unchecked })),
    failing: Type.Optional(Type.String({ description: say.failing })),
    unit: Text,
    measure: Type.Optional(Type.Object({ unit: Text, pack: Type.Number() }, { ...EXACT, description: say.measure })),
    sets: Type.Array(SetCounts),
    lotSize: Type.Number(),
    handsMinutesPerUnit: orNull(Type.Number()),
    runMinutesPerLot: orNull(Type.Number()),
    waitMinutes: orNull(Type.Number(), say.waitMinutes),
    machine: orNull(Text),
    machineName: orNull(Text),
    fed: Type.Boolean({
      description: say.fed,
    }),
    readyNow: orNull(Type.Number(), say.readyNow),
    waitsFor: orNull(Text, say.waitsFor),
    underWay: Type.Array(Load),
    toOrder: Type.Number({ description: say.toOrder }),
    packs: orNull(Text, say.packs),
    feeds: Type.Array(Type.Object({ step: Text, ratio: Type.Number() }, EXACT), {
      description: say.feeds,
    }),
    parts: Type.Array(UnitsOf, { description: say.parts }),
    sendsBack: Type.Array(UnitsOf, {
      description: say.sendsBack,
    }),
  },
  EXACT,
);

const Own = Type.Object(
  {
    id: EntryId,
    kind: Kind,
    at: Text,
    step: orNull(Text),
    set: orNull(Count),
    n: orNull(Count),
    counted: orNull(Type.Boolean()),
    until: orNull(Text),
    undoes: orNull(EntryId),
    by: orNull(Text, say.by),
    seq: Count,
  },
  EXACT,
);

const Doubt = Type.Object(
  {
    entry: EntryId,
    other: orNull(EntryId, say.other),
    kind: Kind,
    step: orNull(Text),
    set: orNull(Count),
    n: orNull(Count),
    question: Text,
    takeBack: orNull(Type.Object({ id: EntryId, whose: orNull(Text) }, EXACT), say.takeBack),
  },
  EXACT,
);

/** All the Count page shows, as of entry `logSeq` of the log. */
export const CountState = Type.Object(
  {
    build: Id,
    zone: Type.String({ description: say.zone }),
    revision: Count,
    logSeq: Count,
    who: Text,
    setName: Text,
    people: Type.Array(Type.Object({ id: Text, name: Text }, EXACT)),
    machines: Type.Array(Type.Object({ id: Text, name: Text, count: Count }, EXACT)),
    steps: Type.Array(Step),
    mine: Type.Array(Own, { description: say.mine }),
    doubts: Type.Array(Doubt, { description: say.doubts }),
  },
  EXACT,
);

export type SendingAnswer = Read<typeof SendingAnswer>;
export type WireReceipt = Read<typeof Receipt>;
export type CountSet = Read<typeof SetCounts>;
export type CountLoad = Read<typeof Load>;
export type CountStep = Read<typeof Step>;
export type OwnEntry = Read<typeof Own>;
export type CountDoubt = Read<typeof Doubt>;
export type CountState = Read<typeof CountState>;
