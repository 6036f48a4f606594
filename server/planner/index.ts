/**
 * The door of the planner: joins store and engine. It takes a build and its log from the store, keeps the last forecast
 * and what it was computed from, and lets nothing into the ground state that is wrong.
 */
export type { Turn } from '../store/index.ts';
export {
  atOnce,
  besideForecast,
  computeLevers,
  computePlan,
  computeSizing,
  computeWays,
  tryPlan,
} from './background/compute.ts';
export { hasOwnChance } from './background/fresh.ts';
export { createForecastPool } from './background/pool.ts';
export type { Background, Hand, LeversTask, PlanTask } from './background/tasks.ts';
export {
  isTooLongForYaml,
  MOST_BUILD_MEGABYTES,
  MOST_FILE_MEGABYTES,
  parseBuildText,
  readBuildFile,
} from './build-text.ts';
export { causeOf } from './causes.ts';
export { closedProblem } from './closed.ts';
export type { OpenDoubt } from './counting/counting.ts';
export { MAKER } from './log-check.ts';
export { createPlanner, type PlannerParts, type RunningPlanner } from './planner.ts';
export * from './types.ts';
