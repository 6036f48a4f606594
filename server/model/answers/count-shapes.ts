/**
 * What the phone or a program and the server say to each other when units are counted. Instants are ISO texts in UTC
 * with milliseconds; lengths are minutes.
 */
import Type, { type Static, type TSchema } from 'typebox';
import { Id } from '../common.ts';
import { LOG_KINDS, type LogKind } from '../log/index.ts';
import { NewLogEntry } from '../log-entry.ts';

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
const EntryId = Type.String({ description: 'id of an entry, as it was made where it was tapped or weighed' });
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
      description: 'stored now; known, for it was sent before; or refused, with what was wrong',
    }),
    seq: orNull(Count, 'its number in the log; null where it was refused'),
    problems: Type.Array(ProblemShape),
    questions: Type.Array(Text, { description: 'what is asked about an entry that is kept all the same' }),
  },
  EXACT,
);

/** A receipt for each entry. */
export const SendingAnswer = Type.Object(
  {
    receipts: Type.Array(Receipt),
    now: Type.String({ format: 'date-time', description: 'the server’s clock when it answered' }),
    knowsLast: Type.Boolean({
      description: 'false: the server no longer holds what had arrived (it was put back from a copy); send all again',
    }),
  },
  EXACT,
);

const SetCounts = Type.Object(
  {
    set: orNull(Count, 'null where the step is for the whole piece'),
    total: Count,
    counted: Type.Integer({ description: 'good units as counted, more than `total` where more were made' }),
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
    backAt: orNull(Instant, 'null where only the server knows it, and has not said it yet'),
    promised: Type.Boolean({ description: 'by the supplier' }),
  },
  EXACT,
);

const UnitsOf = Type.Object({ step: Text, name: Text, units: Type.Number() }, EXACT);

const Step = Type.Object(
  {
    id: Text,
    name: Text,
    kind: Type.Union([Type.Literal('step'), Type.Literal('order'), Type.Literal('gate')]),
    part: orNull(
      Text,
      'steps of one part stand in the order of its route: what is scrapped at one must pass those before it again',
    ),
    unchecked: Type.Optional(
      Type.Number({ description: 'units of that part that nobody has looked at since a change; left out: none' }),
    ),
    unit: Text,
    measure: Type.Optional(
      Type.Object(
        { unit: Text, pack: Type.Number() },
        { ...EXACT, description: 'of an order of what is measured: its units are packs of so much; left out: pieces' },
      ),
    ),
    sets: Type.Array(SetCounts),
    lotSize: Type.Number(),
    handsMinutesPerUnit: orNull(Type.Number()),
    runMinutesPerLot: orNull(Type.Number()),
    waitMinutes: orNull(Type.Number(), 'minutes that a lot waits in the middle of its work, where no machine runs'),
    machine: orNull(Text),
    machineName: orNull(Text),
    fed: Type.Boolean({
      description: 'whether other steps say how many units can be worked on: else all that is left can be',
    }),
    readyNow: orNull(Type.Number(), 'units that can be worked on now; null when that cannot be said'),
    waitsFor: orNull(Text, 'the name of the step that holds this one up'),
    underWay: Type.Array(Load),
    toOrder: Type.Number({ description: 'units that are still to be ordered, in whole packs' }),
    packs: orNull(Text, 'why that is more than what is left; null where it is not'),
    feeds: Type.Array(Type.Object({ step: Text, ratio: Type.Number() }, EXACT), {
      description: 'steps that take this step’s units, with how many one of theirs needs; those counted by units only',
    }),
    parts: Type.Array(UnitsOf, { description: 'what one unit has in it: units of other steps' }),
    sendsBack: Type.Array(UnitsOf, {
      description: 'of a gate: the steps whose units a failure sends back, with the usual number',
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
    by: orNull(Text, 'who made it, where that was somebody else'),
    seq: Count,
  },
  EXACT,
);

const Doubt = Type.Object(
  {
    entry: EntryId,
    other: orNull(EntryId, 'the other entry that the question is about'),
    kind: Kind,
    step: orNull(Text),
    set: orNull(Count),
    n: orNull(Count),
    question: Text,
    takeBack: orNull(
      Type.Object({ id: EntryId, whose: orNull(Text) }, EXACT),
      'what may be taken back by whoever is asked; `whose` is null where it is their own',
    ),
  },
  EXACT,
);

/** All the Count page shows, as of entry `logSeq` of the log. */
export const CountState = Type.Object(
  {
    build: Id,
    zone: Type.String({ description: 'the zone in which the build’s clock is read' }),
    revision: Count,
    logSeq: Count,
    who: Text,
    setName: Text,
    people: Type.Array(Type.Object({ id: Text, name: Text }, EXACT)),
    machines: Type.Array(Type.Object({ id: Text, name: Text, count: Count }, EXACT)),
    steps: Type.Array(Step),
    mine: Type.Array(Own, { description: 'entries of whoever asks, with others’ undos of them' }),
    doubts: Type.Array(Doubt, { description: 'what is asked of this person and has not been answered' }),
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
