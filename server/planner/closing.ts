/**
 * Closing a build after its show: from then on it is read, and nothing of it is edited or counted, until it is
 * reopened.
 */
import { isZone, readWall } from '../engine/index.ts';
import { type Build, problem, problemTexts } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import type { GroundCache } from './ground.ts';
import type { ForecastKeeper } from './keeper/keeper.ts';
import { noBuild, openBuild, refused } from './refusals.ts';
import type { Planner } from './types.ts';

interface ClosingParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly keeper: Pick<ForecastKeeper, 'rest' | 'refresh'>;
  readonly now: () => number;
  readonly stamp: () => string;
  readonly changed: (id: string) => void;
}

const say = problemTexts.edits;

/** Closes and reopens the builds in the store. */
export function createClosing(parts: ClosingParts): Pick<Planner, 'closed' | 'closeBuild' | 'reopenBuild'> {
  const { store, ground, keeper } = parts;
  return {
    closed: (id) => ground.get(id)?.closed ?? null,
    closeBuild: (id, who) => {
      const open = openBuild(ground, id);
      if (!open.ok) return open;
      const state = open.value;
      const { event } = state.build;
      if (!isOver(state.build, parts.now())) return refused(problem('closed', 'event', event, say.closed.notYet));
      store.builds.close(state.key, { at: parts.stamp(), who });
      keeper.rest(id);
      parts.changed(id);
      return { ok: true, value: null };
    },
    reopenBuild: (id) => {
      const state = ground.get(id);
      if (!state) return refused(noBuild(id));
      store.builds.reopen(state.key);
      keeper.refresh(id);
      parts.changed(id);
      return { ok: true, value: null };
    },
  };
}

function isOver({ event, zone }: Build, now: number): boolean {
  const at = isZone(zone) ? readWall(event, zone) : null;
  return at === null || !at.ok || at.value <= now;
}
