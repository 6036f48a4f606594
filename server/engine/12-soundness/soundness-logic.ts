/** Checks of what follows what, and of the room that comes of it. */
import type { Build, ForecastStep, LagFound } from '../../model/index.ts';
import { openMinutesBetween } from '../calendar/index.ts';
import { type Check, countCheck, indexCheck, type SoundnessSources } from './soundness-parts.ts';

/** DCMA metrics 5 and 6. */
const FEW = 0.05;
/** DCMA metric 13. */
const LEAST_PATH_INDEX = 0.95;
/** Instead of 44 working days: a share of the time to the end. */
const HIGH_SLACK = 0.5;

/**
 * Critical path length index (CPL + TF) / CPL (DCMA metric 13): what is left of time against what the longest chain
 * takes. Both in the same unit, `slack` negative when late. Null where nothing is left of the chain.
 */
export function pathLengthIndex(length: number, slack: number): number | null {
  return length > 0 ? (length + slack) / length : null;
}

/**
 * Practice "all work sequenced", metric 1. A step may begin out of nothing in the workshop; but only one may end there,
 * or on site.
 */
const missingLogic: Check = ({ forecast }) => {
  const open = openSteps(forecast.steps);
  if (open.length === 0) return null;
  const atEnd = endOf(open);
  const inWorkshop = open.some((step) => !step.onSite);
  const due = new Set((forecast.dues ?? []).map(({ list, id }) => `${list}/${id}`));
  const leadsToDue = ({ id, part }: ForecastStep) => due.has(`steps/${id}`) || due.has(`parts/${part}`);
  const loose = open.filter((step) => step.feeds.length === 0 && step !== atEnd && !leadsToDue(step));
  const sudden = open.filter((step) => step.onSite && step.fedBy.length === 0 && inWorkshop && !loose.includes(step));
  const warned = new Set(forecast.problems.filter(({ code }) => code === 'orphan').map(({ field }) => field));
  const told = (step: ForecastStep) => warned.has(`steps.${step.id}`);
  const news = [...loose, ...sudden].filter((step) => !told(step));
  return countCheck({
    code: 'missing-logic',
    value: loose.length + sudden.length,
    of: open.length,
    steps: idsOf(news.length > 0 ? news : [...loose, ...sudden]),
    saidElsewhere: news.length === 0,
    values: { ends: idsOf(loose.filter((step) => !told(step))), begins: idsOf(sudden.filter((step) => !told(step))) },
  });
};

/** Metric 2. */
const negativeLag: Check = ({ planned }) => {
  const early = planned.feeds.filter((feed) => feed.lagMinutes < 0);
  if (planned.feeds.length === 0) return null;
  return countCheck({
    code: 'negative-lag',
    value: early.length,
    of: planned.feeds.length,
    steps: early.map(({ to }) => to),
    values: { lags: early.map(lagOf) },
  });
};

/** Metric 3: a lag may be, paint dries; but a note says what for. */
const unnamedLag: Check = ({ planned }) => {
  const lags = planned.feeds.filter((feed) => feed.lagMinutes > 0);
  if (lags.length === 0) return null;
  const noted = notedPairs(planned.build);
  const bare = lags.filter((feed) => !noted.has(`${feed.from}>${feed.to}`));
  return countCheck({
    code: 'unnamed-lag',
    value: bare.length,
    of: lags.length,
    steps: bare.map(({ to }) => to),
    values: { lags: bare.map(lagOf) },
  });
};

/** Metric 5: the hour of the event is fixed, few others should be. */
const fixedStart: Check = ({ planned }) => {
  const { lots } = planned.work;
  if (lots.length === 0) return null;
  const pinned = lots.filter((lot) => lot.pinnedStart !== null);
  const plans = [...new Set(pinned.map((lot) => planned.plans[lot.step]!))];
  return countCheck({
    code: 'fixed-start',
    value: pinned.length,
    of: lots.length,
    limit: FEW,
    steps: plans.map(({ id }) => id),
    values: null,
  });
};

/**
 * Practice "valid critical path". Where it is broken the problems name what was left out; work that is missing is said
 * in its own place.
 */
const brokenPath: Check = ({ planned, forecast }) => {
  if (planned.work.lots.length === 0 || (forecast.missing ?? []).some(({ code }) => code !== 'nobody')) return null;
  const whole = forecast.complete && forecast.criticalPath.length > 0;
  return countCheck({
    code: 'broken-path',
    value: whole ? 0 : 1,
    of: 1,
    saidElsewhere: forecast.problems.length > 0,
    values: null,
  });
};

/**
 * Practice "reasonable float", metric 6; slack to the plan's own end, as an early plan gives all the same; what is late
 * can wait no more. Orders may be.
 */
const highSlack: Check = ({ planned, forecast }) => {
  const steps = openSteps(forecast.steps).filter((step) => step.kind !== 'order' && step.dates !== null);
  const end = forecast.room.readyBy.unlimitedFinish;
  if (steps.length === 0 || end === null || end <= planned.now) return null;
  const slackOf = ({ dates }: ForecastStep) => dates?.slackToOwnEnd ?? 0;
  const much = steps.filter(
    (step) =>
      !step.onSite && (step.dates?.totalSlackClock ?? -1) >= 0 && slackOf(step) > HIGH_SLACK * (end - planned.now),
  );
  return countCheck({
    code: 'high-slack',
    value: much.length,
    of: steps.length,
    limit: FEW,
    steps: much.map(({ id }) => id),
    values: { slacks: much.map((step) => ({ step: step.id, minutes: slackOf(step) })) },
  });
};

/** Practice "reasonable float", metric 7. */
const negativeSlack: Check = ({ forecast }) => {
  const steps = openSteps(forecast.steps).filter((step) => roomOf(step) !== null);
  if (steps.length === 0) return null;
  const late = steps.filter((step) => roomOf(step)! < 0).sort((a, b) => roomOf(a)! - roomOf(b)!);
  const [worst] = late;
  return countCheck({
    code: 'negative-slack',
    value: late.length,
    of: steps.length,
    steps: late.map(({ id }) => id),
    values: { worst: { step: worst?.id ?? '', minutes: worst === undefined ? 0 : -roomOf(worst)! } },
  });
};

/** Metric 13, in working minutes; in clock minutes where only machines and drying are left. */
const pathIndex: Check = ({ planned, forecast }) => {
  const inWorkshop = planned.work.lots.some((lot) => !lot.onSite);
  const room = inWorkshop ? forecast.room.readyBy : forecast.room.event;
  if (planned.work.lots.length === 0 || room.finish === null || room.working === null || room.clock === null)
    return null;
  const working = openMinutesBetween(planned.surroundings.working, planned.now, room.finish);
  const byHands = working > 0;
  const [length, slack] = byHands ? [working, room.working] : [room.finish - planned.now, room.clock];
  const index = pathLengthIndex(length, slack);
  if (index === null) return null;
  return indexCheck({
    code: 'path-index',
    value: index,
    limit: LEAST_PATH_INDEX,
    values: { length, left: Math.max(0, length + slack), byHands },
  });
};

/** The checks of links and room, in their order. */
export const LOGIC_CHECKS: readonly Check[] = [
  missingLogic,
  negativeLag,
  unnamedLag,
  fixedStart,
  brokenPath,
  highSlack,
  negativeSlack,
  pathIndex,
];

/** Steps, orders and gates that have something left. */
function openSteps(steps: SoundnessSources['forecast']['steps']): ForecastStep[] {
  return steps.filter((step) => step.left > 0);
}

/** Room under hands and machines where it is planned. */
function roomOf({ levelled, dates }: ForecastStep): number | null {
  return levelled?.room ?? dates?.totalSlackClock ?? null;
}

/** The step that the whole build may end with: the last to finish, on site if anything is done there. */
function endOf(open: readonly ForecastStep[]): ForecastStep | undefined {
  const site = open.filter((step) => step.onSite);
  const finish = ({ levelled, dates }: ForecastStep) =>
    levelled?.finish ?? dates?.earlyFinish ?? Number.NEGATIVE_INFINITY;
  return (site.length > 0 ? site : open)
    .filter((step) => step.feeds.length === 0)
    .reduce<ForecastStep | undefined>(
      (last, step) => (last === undefined || finish(step) >= finish(last) ? step : last),
      undefined,
    );
}

function lagOf({ from, to, lagMinutes }: { from: string; to: string; lagMinutes: number }): LagFound {
  return { from, to, minutes: Math.abs(lagMinutes) };
}

function idsOf(steps: readonly ForecastStep[]): string[] {
  return steps.map(({ id }) => id);
}

/** Feeds that the maker wrote a note to. */
function notedPairs(build: Build): Set<string> {
  const typed = (build.feeds ?? []).filter((feed) => feed.note !== undefined).map((feed) => `${feed.from}>${feed.to}`);
  const after = build.steps.flatMap((step) =>
    (step.after ?? []).flatMap((link) =>
      typeof link === 'string' || link.note === undefined ? [] : [`${link.step}>${step.id}`],
    ),
  );
  return new Set([...typed, ...after]);
}
