/** What was forecast before the last edit of each build, to compare the next forecast with; lost with a restart. */
import { hasOwnChance } from '../background/fresh.ts';
import type { LastEdit } from '../types.ts';
import type { EditParts } from './edit-parts.ts';

interface LastEdits {
  /** Null: nothing was edited since the start, or nothing was forecast before. */
  of(id: string): LastEdit | null;
  readonly saved: NonNullable<EditParts['saved']>;
  /** Lets go of a build that is gone. */
  letGo(id: string): void;
}

/** No edit yet. `now` in minutes since the epoch. */
export function createLastEdits(now: () => number): LastEdits {
  const last = new Map<string, LastEdit>();
  return {
    of: (id) => last.get(id) ?? null,
    saved: (id, { revision, logSeq, before }) => {
      last.delete(id);
      if (before === null) return;
      const risk = hasOwnChance(before) ? (before.risk ?? null) : null;
      const [chance, installed] = [risk?.readyBy.chance ?? null, risk?.event.chance ?? null];
      const then = { readyAt: before.room.readyBy.finish, chance, installed };
      last.set(id, { revision, logSeq, at: now(), before: then });
    },
    letGo: (id) => void last.delete(id),
  };
}
