/** What a program with a key sends and reads: counts, and the steps that there are to count. */
import Type, { type Static } from 'typebox';
import { Id, Name } from '../common.ts';
import type { LogKind } from '../log/index.ts';
import { described } from '../texts/described.ts';

const say = described.counted;

const KEY_KINDS = ['done', 'scrapped'] as const;

/** Whether a program with a key may post entries of a kind. */
export function isKeyKind(kind: LogKind): boolean {
  return KEY_KINDS.some((own) => own === kind);
}

/** The steps of a build that units are counted on, in the order of the route. */
export const StepsToCount = Type.Object(
  {
    build: Id,
    logSeq: Type.Integer({ minimum: 0, description: say.logSeq }),
    isStale: Type.Boolean({ description: say.isStale }),
    steps: Type.Array(
      Type.Object(
        {
          id: Id,
          name: Name,
          unit: Type.String({ description: say.unit }),
          left: Type.Number({ description: say.left }),
        },
        { additionalProperties: false },
      ),
    ),
  },
  { additionalProperties: false },
);
export type StepsToCount = Static<typeof StepsToCount>;
