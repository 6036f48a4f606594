/**
 * What would buy time, how many are the most, make or send out: looked for in the background at a press; levers by
 * themselves too where the chance is too small.
 */
import type { LeverSearch, Sizing, WaysBeside } from '../../model/index.ts';
import { hasOwnChance, sameVersion } from '../background/fresh.ts';
import type { Background } from '../background/tasks.ts';
import type { ForecastKeeper } from '../keeper/keeper.ts';
import type { Planner } from '../types.ts';
import { createLastAsked, type LastAskedParts } from './last-asked.ts';

interface LeversParts extends LastAskedParts {
  readonly keeper: Pick<ForecastKeeper, 'beside' | 'known' | 'peek'>;
  readonly background: Pick<Background, 'findLevers' | 'rightSize' | 'waysBeside'>;
}

interface Levers
  extends Pick<Planner, 'levers' | 'findLevers' | 'sizing' | 'rightSize' | 'partWays' | 'layWaysBeside'> {
  /** A forecast is another: looks for levers where its chance is below the one that the maker asks for. */
  consider(id: string): void;
  /** Lets go of a build that is gone. */
  letGo(id: string): void;
}

/** Looks for levers, sizes and ways, one build at a time. */
export function createLevers(parts: LeversParts): Levers {
  const { keeper, ground, background } = parts;
  const levers = createLastAsked<LeverSearch>('levers', parts, background.findLevers);
  const sizes = createLastAsked<Sizing>('sizes', parts, (task, hand, _, parameter) =>
    background.rightSize({ ...task, parameter }, hand),
  );
  const ways = createLastAsked<WaysBeside>('ways', parts, background.waysBeside);

  return {
    levers: (id) => {
      const shown = levers.shown(id);
      if (shown === null) return null;
      const { found: search, foundOn, version, state, isStale } = shown;
      return { search, foundOn, version, state, isStale };
    },
    findLevers: (id) => {
      const state = ground.get(id);
      if (!state) return false;
      if (!levers.isUnderWay(id, state.version)) levers.begin(state);
      return true;
    },
    sizing: (id) => {
      const shown = sizes.shown(id);
      if (shown === null) return null;
      const { about: parameter, found: sizing, state, isStale } = shown;
      return { parameter, sizing, state, isStale };
    },
    rightSize: (id, parameter) => {
      const state = ground.get(id);
      if (!state?.build.parameters?.some(({ name }) => name === parameter)) return false;
      if (!sizes.isUnderWay(id, state.version, parameter)) sizes.begin(state, parameter);
      return true;
    },
    partWays: (id) => {
      const shown = ways.shown(id);
      if (shown === null) return null;
      const { found, foundOn, state, isStale } = shown;
      return { found, foundOn, state, isStale };
    },
    layWaysBeside: (id) => {
      const state = ground.get(id);
      if (!state) return false;
      if (!ways.isUnderWay(id, state.version)) ways.begin(state);
      return true;
    },
    consider: (id) => {
      const [state, snapshot, own] = [ground.get(id), keeper.peek(id), levers.shown(id)];
      const asked = state?.build.askedChance;
      if (!state || asked === undefined || snapshot === null || !snapshot.settled) return;
      if (!sameVersion(snapshot.version, state.version) || !hasOwnChance(snapshot.forecast)) return;
      if (own !== null && !own.isStale) return;
      const chance = snapshot.forecast.risk?.readyBy.chance;
      if (chance !== undefined && chance < asked) levers.begin(state);
    },
    letGo: (id) => {
      for (const one of [levers, sizes, ways]) one.letGo(id);
    },
  };
}
