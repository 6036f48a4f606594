/** The steps that are likely to cost the date. */
import type { Forecast, ForecastRisk, ForecastStep, SlowStepValues, Threat } from '../../model/index.ts';

import type { Instant } from '../types.ts';
import type { Root, RootCode } from './late-roots.ts';
import { drawnCost, isExplained, isUnlikely, isWorkshopUnlikely, lateMinutesOf, latenessOf } from './what-waits.ts';

type Given = Omit<Forecast, 'threats'>;

/** Steps named at most. */
const MOST_STEPS = 3;
/** Below this many units no pace is shown. */
const FEWEST_PACED = 5;
/** A share of the futures below this is said as 0 of 100. */
const LEAST_SHARE = 0.005;
/** Minutes of hands on the driving chain that weigh as much as all of the end's spread. */
const MUCH_WORK = 600;

interface SlowSteps {
  /** At most three, the costliest first. */
  readonly threats: readonly Threat<'slow-step'>[];
  /** The roots, with the steps whose cost they explain named as what they hold up. */
  readonly roots: readonly Root[];
}

/** The steps that cost most, where the date is late or unlikely; what a root explains is named with it instead. */
export function slowSteps(forecast: Given, risk: ForecastRisk | null, roots: readonly Root[]): SlowSteps {
  const lateMinutes = lateMinutesOf(forecast);
  if (lateMinutes === 0 && !isUnlikely(risk)) return { threats: [], roots };
  const open = forecast.steps.filter((step) => step.kind === 'step' && step.left > 0);
  const inWorkshop = open.filter((step) => !step.onSite);
  // Work on site is late because the workshop is, where the workshop is.
  const late = inWorkshop.some((step) => latenessOf(step) > 0) ? inWorkshop : open;
  const costly = late
    .map((step) => {
      const drawn = drawnCost(risk, step.id);
      return { step, cost: drawn || Math.min(lateMinutes, latenessOf(step)), drawn: drawn > 0 };
    })
    .filter(({ cost }) => cost > 0)
    .sort((a, b) => b.cost - a.cost || b.step.handsMinutesLeft - a.step.handsMinutesLeft);
  const explains = ({ threat, origin }: Root, step: ForecastStep) =>
    isExplained(forecast, risk, origin, threat.costMinutes, step);
  const unexplained = costly.filter(({ step }) => !roots.some((root) => explains(root, step)));
  const threats = unexplained
    .slice(0, MOST_STEPS)
    .map(({ step, cost, drawn }) =>
      slowStep(forecast, step, cost, { kind: drawn ? 'likely' : 'late', minutes: Math.round(cost) }),
    );
  const named = roots.map((root) => {
    const its = costly.filter(({ step }) => !root.origin.includes(step.id) && explains(root, step));
    return its.length === 0
      ? root
      : withHeldUp(
          root,
          its.map(({ step }) => step.id),
        );
  });
  const isSaid = threats.length > 0 || costly.length > 0 || named.some(({ threat }) => threat.costMinutes > 0);
  if (isSaid || risk === null) return { threats, roots: named };
  const driving = drivingStep(forecast, open, risk);
  const isRooted = driving.some(({ step }) =>
    roots.some((root) => explains(root, forecast.steps.find(({ id }) => id === step)!)),
  );
  return { threats: isRooted ? [] : driving, roots: named };
}

function withHeldUp({ origin, threat }: Root, holdsUp: readonly string[]): Root {
  return { origin, threat: { ...threat, values: { ...threat.values, holdsUp } } as Threat<RootCode> };
}

/**
 * Where the date is unlikely and yet no step costs much by itself (days that are lost, say): the one that moves the end
 * most, by its spread or its work; of the steps on site where the workshop is well on time and only the event is not.
 */
function drivingStep(forecast: Given, open: readonly ForecastStep[], risk: ForecastRisk): Threat<'slow-step'>[] {
  const drawn = new Map(risk.steps.map((one) => [one.step, one]));
  const weight = ({ id, handsMinutesLeft }: ForecastStep): number =>
    (drawn.get(id)?.sensitivity ?? 0) + (drawn.get(id)?.criticality ?? 0) * (handsMinutesLeft / MUCH_WORK);
  const onSiteAlone = isUnlikely(risk) && !isWorkshopUnlikely(risk) && open.some((step) => step.onSite);
  const [most] = open.filter((step) => step.onSite || !onSiteAlone).sort((a, b) => weight(b) - weight(a));
  if (most !== undefined && onSiteAlone) {
    return [slowStep(forecast, most, 0, { kind: 'misses', share: 1 - risk.event.chance })];
  }
  const share = drawn.get(most?.id ?? '')?.criticality ?? 0;
  if (most === undefined || share < LEAST_SHARE) return [];
  return [slowStep(forecast, most, 0, { kind: 'driving', share })];
}

function slowStep(
  forecast: Given,
  step: ForecastStep,
  cost: number,
  cause: SlowStepValues['cause'],
): Threat<'slow-step'> {
  const by = step.levelled?.lastFinish ?? step.dates?.lateFinish ?? forecast.readyBy;
  const { loadIn } = forecast;
  return {
    code: 'slow-step',
    step: step.id,
    costMinutes: Math.round(cost),
    since: forecast.now,
    values: {
      left: step.left,
      total: step.total,
      handsMinutesLeft: step.handsMinutesLeft,
      minutesPerUnit: step.pace?.minutesPerUnit ?? null,
      pace: paceOf(forecast, step),
      by,
      noHoursAfter: loadIn !== null && hasTooFewHours(step, by, loadIn) ? loadIn : null,
      waiting: step.feeds.map((feed) => feed.step),
      cause,
    },
  };
}

/**
 * Whether it would have to begin before the load-in to be in time, or is late though it begins as early as it can: what
 * it has after that is too little.
 */
function hasTooFewHours({ onSite, levelled, dates }: ForecastStep, by: Instant, loadIn: Instant): boolean {
  const isLate = (levelled?.room ?? 0) < 0;
  const [last, early] = [levelled?.lastStart ?? loadIn, dates?.earlyStart ?? loadIn];
  return onSite && (by <= loadIn || (dates?.lateStart ?? loadIn) < loadIn || (isLate && last <= early));
}

/** Both paces by the working hour: the hours in which anybody is there. */
function paceOf(forecast: Given, step: ForecastStep): SlowStepValues['pace'] {
  const line = forecast.burn.find((candidate) => candidate.step === step.id);
  if (line === undefined || step.total < FEWEST_PACED) return null;
  const { neededPerHour, countedPerHour } = line;
  return { neededPerHour, countedPerHour };
}
