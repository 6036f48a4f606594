/** Checks of the plan against what has happened: the hours of the log, the first plan, the chance. */
import type { DoubtCode } from '../../model/index.ts';
import { type Check, countCheck, indexCheck, type SoundnessSources } from './soundness-parts.ts';

const DAY = 1440;
/** Clocks that differ by less say nothing. */
const CLOCKS_APART = 10;
/** The days of GAO's "updated with actuals": a week of evenings; common practice, no source. */
const STALE_DAYS = 7;
/** DCMA metric 11. */
const FEW = 0.05;
/** DCMA metric 14. */
const LEAST_DONE = 0.95;
/** Doubts that say already that nothing is logged. */
const QUIET_DOUBTS: ReadonlySet<DoubtCode> = new Set(['nothing-logged', 'log-gap', 'wrong-clock']);

/**
 * Baseline execution index (DCMA metric 14): what is done against what should be by the first plan; more than 1 is
 * ahead. Null where nothing is due yet.
 */
export function executionIndex(done: number, due: number): number | null {
  return due > 0 ? done / due : null;
}

/** Metric 9: entries ahead of now (the problems say which), and work that is planned for an hour that has passed. */
const invalidDate: Check = ({ planned, forecast }) => {
  const { now, work, schedule, plans, tally } = planned;
  const ahead = tally.standing.filter(({ at }) => at > now + CLOCKS_APART).length;
  const past = work.lots.filter((lot, l) => {
    if (schedule === null || planned.beyond.has(l)) return false;
    return schedule.finishes[l]! < now || (lot.begunAt === null && schedule.starts[l]! < now);
  });
  const dated = tally.standing.length + forecast.lots.length;
  if (dated === 0) return null;
  const steps = [...new Set(past.map((lot) => plans[lot.step]!))];
  return countCheck({
    code: 'invalid-date',
    value: ahead + past.length,
    of: dated,
    steps: steps.map(({ id }) => id),
    saidElsewhere: past.length === 0,
    values: { lots: past.length },
  });
};

/** Practice "baseline kept". */
const noFirstPlan: Check = ({ planned, forecast }) => {
  if (planned.plans.every((plan) => plan.total === 0)) return null;
  const kept = forecast.burn.some(({ planned: line }) => line.length > 0);
  return countCheck({
    code: 'no-first-plan',
    value: kept ? 0 : 1,
    of: 1,
    values: null,
  });
};

/** Metric 11, in lots: of those due by now by the first plan, how many are not done. */
const missed: Check = (sources) => {
  const lines = againstFirstPlan(sources);
  const due = lines.reduce((sum, line) => sum + line.due, 0);
  if (due === 0) return null;
  const behind = lines.filter((line) => line.due > line.done).sort((a, b) => b.due - b.done - (a.due - a.done));
  const lots = Math.round(behind.reduce((sum, line) => sum + line.due - line.done, 0) * 10) / 10;
  return countCheck({
    code: 'missed',
    value: lots,
    of: due,
    limit: FEW,
    steps: behind.map(({ id }) => id),
    values: {
      due,
      lots,
      behind: behind.map(({ id, dueUnits, doneUnits }) => ({ step: id, done: doneUnits, due: dueUnits })),
    },
  });
};

/** Metric 14, in lots: all that is done, early or not, against all that is due. */
const doneIndex: Check = (sources) => {
  const lines = againstFirstPlan(sources);
  const done = lines.reduce((sum, line) => sum + line.done, 0);
  const due = lines.reduce((sum, line) => sum + line.due, 0);
  const index = executionIndex(done, due);
  if (index === null) return null;
  return indexCheck({
    code: 'execution-index',
    value: index,
    limit: LEAST_DONE,
    values: { done, due },
  });
};

/** Practice "risk analysis": a chance, not only a date. A first answer has none yet and is not blamed. */
const noChance: Check = ({ planned, forecast }) => {
  if (forecast.risk === undefined || planned.work.lots.length === 0) return null;
  return countCheck({
    code: 'no-chance',
    value: forecast.risk === null ? 1 : 0,
    of: 1,
    saidElsewhere: forecast.problems.some(({ code }) => code === 'nobody'),
    values: null,
  });
};

/** Practice "updated with actuals". */
const staleLog: Check = ({ planned, forecast }) => {
  const { now, surroundings, tally, work } = planned;
  const since = tally.lastAt ?? surroundings.start;
  if (since === null || since > now || now > surroundings.event || work.lots.length === 0) return null;
  const stale = now - since > STALE_DAYS * DAY;
  return countCheck({
    code: 'stale-log',
    value: stale ? 1 : 0,
    of: 1,
    saidElsewhere:
      forecast.threats?.some(({ code }) => code === 'silent-step') === true ||
      forecast.doubts.some(({ code }) => QUIET_DOUBTS.has(code)),
    values: { minutes: now - since },
  });
};

/** The checks of progress, in their order. */
export const PROGRESS_CHECKS: readonly Check[] = [invalidDate, noFirstPlan, missed, doneIndex, noChance, staleLog];

interface Progress {
  readonly id: string;
  /** In lots, parts of a lot counted as such: a gear is not a fish. */
  readonly done: number;
  readonly due: number;
  readonly doneUnits: number;
  readonly dueUnits: number;
}

/** Steps and orders for which the first plan says what should be done by now. */
function againstFirstPlan({ forecast }: SoundnessSources): Progress[] {
  return forecast.steps.flatMap((step): Progress[] => {
    const line = forecast.burn.find((candidate) => candidate.step === step.id);
    if (line?.plannedLeft == null || line.total === 0) return [];
    const lot = Math.max(1, step.lotSize);
    const planned = line.planned[0]?.[1] ?? line.total;
    const [doneUnits, dueUnits] = [line.total - line.left, Math.max(0, Math.floor(planned - line.plannedLeft))];
    return [{ id: step.id, done: doneUnits / lot, due: dueUnits / lot, doneUnits, dueUnits }];
  });
}
