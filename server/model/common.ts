/** The shapes that several things of a build share: names, instants, estimates, hours. */
import Type, { type Static } from 'typebox';
import { described } from './texts/described.ts';

const say = described.common;

/** Names of things inside a build: short, stable, safe in an address. */
export const Id = Type.String({
  pattern: '^[a-z0-9][a-z0-9-]{0,59}$',
  description: say.id,
});

export const Name = Type.String({ minLength: 1, maxLength: 120 });
export const Note = Type.String({ maxLength: 2000 });

/** A count or a measure: a number, or a formula over the parameters. */
export const Amount = Type.Union([Type.Number(), Type.String({ minLength: 1, maxLength: 500 })], {
  description: say.amount,
});
export type Amount = Static<typeof Amount>;

/**
 * A length of time: minutes as a number, `"90 min"`, `"2 h 30 min"`, `"3 d"`, `"2 w"` (clock time), or a formula giving
 * minutes.
 */
export const Span = Type.Union([Type.Number(), Type.String({ minLength: 1, maxLength: 500 })], {
  description: say.span,
});
export type Span = Static<typeof Span>;

/** What is not known yet: the least, the likely and the most. */
export const Range = Type.Object(
  { low: Type.Number(), likely: Type.Number(), high: Type.Number() },
  { additionalProperties: false, description: say.range },
);
export type Range = Static<typeof Range>;

/** A timed trial: units, and the minutes they took together. */
const Trial = Type.Object(
  { units: Type.Number({ exclusiveMinimum: 0 }), minutes: Type.Number({ exclusiveMinimum: 0 }) },
  { additionalProperties: false, description: say.trial },
);

/** Minutes for one unit. */
export const Estimate = Type.Union([Amount, Range, Trial]);
export type Estimate = Static<typeof Estimate>;

/** Where a number comes from; what is measured beats the rest. */
export const ORIGINS = ['guessed', 'trial', 'supplier', 'handbook', 'measured'] as const;
export const Origin = Type.Union(
  ORIGINS.map((origin) => Type.Literal(origin)) as [
    Type.TLiteral<'guessed'>,
    Type.TLiteral<'trial'>,
    Type.TLiteral<'supplier'>,
    Type.TLiteral<'handbook'>,
    Type.TLiteral<'measured'>,
  ],
);
export type Origin = (typeof ORIGINS)[number];

/** A wall clock reading in the zone of the build, or an instant when it ends in Z or an offset. */
export const WallTime = Type.String({
  pattern: '^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}(:\\d{2})?(Z|[+-]\\d{2}:\\d{2})?$',
  description: say.wallTime,
});
export const CalendarDate = Type.String({ pattern: '^\\d{4}-\\d{2}-\\d{2}$', description: say.calendarDate });
export const TimeOfDay = Type.String({ pattern: '^([01]\\d|2[0-3]):[0-5]\\d$', description: say.timeOfDay });

/** Weekly hours in one line: `mon-fri 08:00-12:00 13:00-17:00; sat 09:00-13:00`, `daily 18:00-22:00`, `always`. */
export const Hours = Type.String({
  maxLength: 500,
  description: say.hours,
});

/** One day that differs from the week: other hours, or off. */
export const DayException = Type.Object(
  {
    date: CalendarDate,
    hours: Type.String({ maxLength: 200, description: say.exceptionHours }),
    note: Type.Optional(Note),
  },
  { additionalProperties: false },
);
export type DayException = Static<typeof DayException>;
