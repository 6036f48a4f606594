/** The room that a state of a build leaves, planned as near as may be to the plan before. */
import type { MeasuredPace } from '../02-steps/index.ts';
import { measuredPaces, runFactors } from '../03-pace/index.ts';
import type { KeptSchedule } from '../07-levelling/index.ts';
import { missingOf, roomAnswer, stepsAnswer } from '../10-answers/index.ts';
import type { TimedEntry } from '../log/index.ts';
import { type Case, type Planned, problemsOf, workThrough } from '../stages/index.ts';
import type { Minutes } from '../types.ts';

/** What the parts of a change are asked of. */
export interface Answers {
  /** Clock minutes from the ready finish to the ready-by; null where something cannot be placed. */
  room(state: Case): Minutes | null;
  survey(state: Case): Survey;
}

export interface Survey {
  /** By step, those that rest on a count. */
  readonly paces: ReadonlyMap<string, MeasuredPace>;
  readonly runs: ReadonlyMap<string, number>;
  /** By step with hands a unit: minutes of the first, units left. */
  readonly steps: ReadonlyMap<string, { readonly firstUnitMinutes: number; readonly left: number }>;
  /** Entries that are not undone, as they happened. */
  readonly standing: readonly TimedEntry[];
  /** Orders that should be here by now and are not. */
  readonly overdue: readonly { readonly step: string; readonly set: number | null }[];
}

/**
 * The engine's own answers: a short search that keeps the plan before as the long one does, so that two states differ
 * by what they are and not by the luck of a search. Deterministic. `clock` is asked now and then and may throw to end
 * the work.
 */
export function answersAfter(former: KeptSchedule, clock?: () => number): Answers {
  const levelling = clock === undefined ? SHORT : { ...SHORT, milliseconds: Number.MAX_SAFE_INTEGER, clock };
  const planned = (state: Case) => workThrough({ ...state, levelling, former }, 'schedules');
  return {
    room: (state) => roomWithin(planned(state)),
    survey: (state) => surveyOf(planned(state)),
  };
}

function roomWithin(planned: Planned): Minutes | null {
  const missing = missingOf(planned.plans, planned.quantities, problemsOf(planned), planned.work.lots);
  return roomAnswer(planned, missing.length === 0).readyBy.clock;
}

/** With fewer schedules the answer jumps by a day where a sitting is missed by minutes. */
const SHORT = { seed: 1, schedules: 20, nodes: 0 };

function surveyOf(planned: Planned): Survey {
  const { plans, paces, runTimes, tally, now } = planned;
  const left = new Map(plans.map((plan) => [plan.id, plan.left]));
  return {
    paces: measuredPaces(paces),
    runs: runFactors(runTimes),
    steps: new Map(
      [...paces].map(([step, { firstUnitMinutes }]) => [step, { firstUnitMinutes, left: left.get(step) ?? 0 }]),
    ),
    standing: tally.standing,
    overdue: stepsAnswer(planned).flatMap(({ id, underWay }) =>
      underWay.flatMap(({ kind, backAt, set }) => (kind === 'ordered' && backAt < now ? [{ step: id, set }] : [])),
    ),
  };
}
