/**
 * As much of the large answers as programs may rely on: what is here stays, what else an answer holds may change with
 * any version. Instants are minutes since the epoch, lengths minutes.
 */
import Type, { type Static, type TSchema } from 'typebox';
import { Id } from '../common.ts';
import { described } from '../texts/described.ts';
import { orNull, ProblemShape, type ReadonlyOf } from './count-shapes.ts';

const say = described.outlines;

const Instant = Type.Integer({ description: say.instant });

const RoomOutline = Type.Object({
  target: Instant,
  finish: orNull(Instant, say.finish),
  clock: orNull(Type.Integer(), say.clock),
  working: orNull(Type.Integer(), say.working),
});

/** When the build is ready, with how much room, step by step. */
export const ForecastOutline = Type.Object({
  build: Type.Object({ id: Id, name: Type.String(), zone: Type.String() }),
  now: Instant,
  event: Instant,
  readyBy: Instant,
  complete: Type.Boolean({ description: say.complete }),
  room: Type.Object({ readyBy: RoomOutline, loadIn: orNull(RoomOutline), event: RoomOutline }),
  steps: Type.Array(
    Type.Object({
      id: Type.String(),
      name: Type.String(),
      kind: Type.Union([Type.Literal('step'), Type.Literal('order'), Type.Literal('gate')]),
      state: Type.Union([Type.Literal('not-begun'), Type.Literal('under-way'), Type.Literal('done')]),
      unit: Type.String(),
      total: Type.Number(),
      done: Type.Number(),
      scrapped: Type.Number(),
      left: Type.Number(),
    }),
  ),
  problems: Type.Array(ProblemShape),
});
export type ForecastOutline = Outline<typeof ForecastOutline>;

const Worth = { readyAt: orNull(Instant), room: orNull(Type.Number()), chance: orNull(Type.Number()) };

/** What would buy time; null where nobody has looked since the start of the server. */
export const LeversOutline = orNull(
  Type.Object({
    now: Instant,
    readyBy: Instant,
    rows: Type.Array(
      Type.Object({
        lever: Type.Object({
          code: Type.String(),
          cost: Type.Object({ money: orNull(Type.Number()), handsMinutes: Type.Number() }),
        }),
        verdict: Type.Union([Type.Literal('gains'), Type.Literal('nothing'), Type.Literal('costs')]),
        ...Worth,
      }),
    ),
  }),
);
export type LeversOutline = Outline<typeof LeversOutline>;

/** Make or send out, part by part; null where nobody has asked since the start of the server. */
export const WaysOutline = orNull(
  Type.Object({
    now: Instant,
    readyBy: Instant,
    isDone: Type.Boolean({ description: say.isDone }),
    parts: Type.Array(
      Type.Object({
        part: Type.String(),
        name: Type.String(),
        units: Type.Number(),
        made: Type.Number(),
        ways: Type.Array(Type.Object({ way: Type.String(), name: Type.String(), isPresent: Type.Boolean() })),
      }),
    ),
  }),
);
export type WaysOutline = Outline<typeof WaysOutline>;

type Outline<S extends TSchema> = ReadonlyOf<Static<S>>;
