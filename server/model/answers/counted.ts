/** What a program with a key sends and reads: counts, and the steps that there are to count. */
import Type, { type Static } from 'typebox';
import { Id, Name } from '../common.ts';
import type { LogKind } from '../log/index.ts';

const KEY_KINDS = ['done', 'scrapped'] as const;

/** Whether a program with a key may post entries of a kind. */
export function isKeyKind(kind: LogKind): boolean {
  return KEY_KINDS.some((own) => own === kind);
}

/** The steps of a build that units are counted on, in the order of the route. */
export const StepsToCount = Type.Object(
  {
    build: Id,
    logSeq: Type.Integer({ minimum: 0, description: 'the number of the last log entry that these counts know of' }),
    isStale: Type.Boolean({ description: 'newer counts or edits are there, and are being worked out' }),
    steps: Type.Array(
      Type.Object(
        {
          id: Id,
          name: Name,
          unit: Type.String({ description: 'what is counted, such as "ribs"' }),
          left: Type.Number({ description: 'units still to be counted as done' }),
        },
        { additionalProperties: false },
      ),
    ),
  },
  { additionalProperties: false },
);
export type StepsToCount = Static<typeof StepsToCount>;
