/** The steps that are likely to cost the date. */
import type { Forecast, ForecastRisk, ForecastStep, SlowStepValues, Threat } from '../../model/index.ts';

type Given = Omit<Forecast, 'threats'>;

/** No step is called slow while the chance to be ready is above this. */
const WELL = 0.9;
/** Steps named at most. */
const MOST_STEPS = 3;
/** Below this many units no pace is shown. */
const FEWEST_PACED = 5;
/** A share of the futures below this is said as 0 of 100. */
const LEAST_SHARE = 0.005;
/** Minutes of hands on the driving chain that weigh as much as all of the end's spread. */
const MUCH_WORK = 600;

/** Whether futures say that the ready-by or the event may well be missed. */
export function isUnlikely(risk: ForecastRisk | null): boolean {
  return risk !== null && Math.min(risk.readyBy.chance, risk.event.chance) < WELL;
}

/** The steps that cost most, where the date is late or unlikely. */
export function slowSteps(forecast: Given, risk: ForecastRisk | null): Threat[] {
  const lateMinutes = Math.max(0, -(forecast.room.readyBy.clock ?? 0), -(forecast.room.event.clock ?? 0));
  if (lateMinutes === 0 && !isUnlikely(risk)) return [];
  const expected = new Map(
    (risk?.steps ?? []).flatMap(({ step, costMinutes, costError }) =>
      costMinutes > Math.max(30, 2 * costError) ? [[step, costMinutes] as const] : [],
    ),
  );
  const open = forecast.steps.filter((step) => step.kind === 'step' && step.left > 0);
  const inWorkshop = open.filter((step) => !step.onSite);
  // Work on site is late because the workshop is, where the workshop is.
  const late = inWorkshop.some((step) => latenessOf(step) > 0) ? inWorkshop : open;
  const costly = late
    .map((step) => {
      const drawn = expected.get(step.id);
      return { step, cost: drawn ?? Math.min(lateMinutes, latenessOf(step)), drawn: drawn !== undefined };
    })
    .filter(({ cost }) => cost > 0)
    .sort((a, b) => b.cost - a.cost || b.step.handsMinutesLeft - a.step.handsMinutesLeft)
    .slice(0, MOST_STEPS)
    .map(({ step, cost, drawn }) =>
      slowStep(forecast, step, cost, { kind: drawn ? 'likely' : 'late', minutes: Math.round(cost) }),
    );
  return costly.length > 0 || risk === null ? costly : drivingStep(forecast, open, risk);
}

/** Where the date is unlikely and yet no step costs much by itself (days that are lost, say): the one that moves the end most, by its spread or its work. */
function drivingStep(forecast: Given, open: readonly ForecastStep[], risk: ForecastRisk): Threat[] {
  const drawn = new Map(risk.steps.map((one) => [one.step, one]));
  const weight = ({ id, handsMinutesLeft }: ForecastStep): number =>
    (drawn.get(id)?.sensitivity ?? 0) + (drawn.get(id)?.criticality ?? 0) * (handsMinutesLeft / MUCH_WORK);
  const [most] = [...open].sort((a, b) => weight(b) - weight(a));
  const share = drawn.get(most?.id ?? '')?.criticality ?? 0;
  if (most === undefined || share < LEAST_SHARE) return [];
  return [slowStep(forecast, most, 0, { kind: 'driving', share })];
}

/** By how much the plan runs past the step's last moment under hands and machines, or without them. */
function latenessOf({ levelled, dates }: ForecastStep): number {
  const levelledLate = levelled === null || levelled.lastFinish === null ? 0 : levelled.finish - levelled.lastFinish;
  return Math.max(0, levelledLate, -(dates?.totalSlackClock ?? 0));
}

function slowStep(forecast: Given, step: ForecastStep, cost: number, cause: SlowStepValues['cause']): Threat {
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
      noHoursAfter: step.onSite && loadIn !== null && by <= loadIn ? loadIn : null,
      waiting: step.feeds.map((feed) => feed.step),
      cause,
    },
  };
}

/** Both paces by the working hour: the hours in which anybody is there. */
function paceOf(forecast: Given, step: ForecastStep): SlowStepValues['pace'] {
  const line = forecast.burn.find((candidate) => candidate.step === step.id);
  if (line === undefined || step.total < FEWEST_PACED) return null;
  const { neededPerHour, countedPerHour } = line;
  return { neededPerHour, countedPerHour };
}
