/** Backgrounds that answer at once, without threads. */
import { setImmediate as nextTurn } from 'node:timers/promises';
import type { Build, Forecast, LogEntry } from '../../server/model/index.ts';
import {
  atOnce,
  type Background,
  computeLevers,
  computePlan,
  computeSizing,
  computeWays,
  tryPlan,
} from '../../server/planner/index.ts';

/**
 * The engine at its quickest, whatever is asked: a first answer serves as a searched one. Between two plans others have
 * their turn, as they have beside a thread: a build's past, day after day, would else keep every request waiting.
 */
export const quickly: Background = {
  plan: async (task) => {
    await nextTurn();
    return computePlan({ ...task, depth: 'quick' });
  },
  tryOut: async (task) => tryPlan({ ...task, depth: 'quick' }),
  findLevers: async (task, _, onRows) => computeLevers({ ...task, futures: 60 }, onRows),
  rightSize: async (task) => computeSizing({ ...task, futures: 40 }),
  waysBeside: async (task, _, onParts) => computeWays({ ...task, futures: 40 }, onParts),
  attribute: async () => [],
  read: atOnce.read,
};

/** A forecast made by hand, whatever is asked. */
export function byHand(forecastOf: (build: Build, log: readonly LogEntry[], now: number) => Forecast): Background {
  return {
    plan: async ({ build, log, now }) => forecastOf(build, log, now),
    tryOut: async ({ build, log, now }) => ({ forecast: forecastOf(build, log, now), ends: null }),
    findLevers: atOnce.findLevers,
    rightSize: atOnce.rightSize,
    waysBeside: atOnce.waysBeside,
    attribute: async () => [],
    read: atOnce.read,
  };
}

/** Taps are waited for as good as not at all. */
export const SHORT_PAUSES = { quiet: 1, calm: 1 };
