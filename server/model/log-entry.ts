/** Entries of the log. */
import Type, { type Static } from 'typebox';
import { Id, Name } from './common.ts';
import { MOST_SETS } from './limits.ts';
import { LOG_KINDS, type LogKind } from './log/index.ts';
import { described } from './texts/described.ts';

const say = described.logEntry;

export type { LogKind } from './log/index.ts';

const Instant = Type.String({
  pattern: '^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}(:\\d{2}(\\.\\d{1,3})?)?(Z|[+-]\\d{2}:\\d{2})$',
  description: say.instant,
});

/** What a phone sends: made there, with an id made there. */
export const NewLogEntry = Type.Object(
  {
    id: Type.String({ pattern: '^[A-Za-z0-9_-]{8,64}$', description: say.id }),
    kind: Type.Union(LOG_KINDS.map((kind) => Type.Literal(kind)) as unknown as [Type.TLiteral<LogKind>]),
    step: Type.Optional(Id),
    set: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_SETS })),
    n: Type.Optional(Type.Integer({ minimum: 1, maximum: 1_000_000 })),
    /**
     * For `scrapped`: whether the units were among those counted as done. Left out by who was not asked: they were not.
     */
    counted: Type.Optional(Type.Boolean()),
    at: Instant,
    who: Type.Optional(Name),
    person: Type.Optional(Id),
    machine: Type.Optional(Id),
    box: Type.Optional(Id),
    until: Type.Optional(Instant),
    undoes: Type.Optional(Type.String({ pattern: '^[A-Za-z0-9_-]{8,64}$' })),
    confirms: Type.Optional(Type.String({ pattern: '^[A-Za-z0-9_-]{8,64}$' })),
    reason: Type.Optional(Type.String({ maxLength: 200 })),
    note: Type.Optional(Type.String({ maxLength: 2000 })),
    /** What the phone's own clock said, where it was wrong and `at` has been corrected by the offset seen at sync. */
    phoneAt: Type.Optional(Instant),
  },
  { additionalProperties: false },
);
export type NewLogEntry = Static<typeof NewLogEntry>;

/** As kept: with the instant it arrived and its number in order of arrival (1, 2, 3 …). */
export const LogEntry = Type.Object(
  { ...NewLogEntry.properties, arrived: Type.Optional(Instant), seq: Type.Optional(Type.Integer({ minimum: 1 })) },
  { additionalProperties: false },
);
export type LogEntry = Static<typeof LogEntry>;
