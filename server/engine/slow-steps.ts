/** The steps that are likely to cost the date. */
import type { BurnLine, Forecast, ForecastRisk, ForecastStep, Threat } from '../model/index.ts';
import { durationLabel, figureLabel, hoursLabel, latenessLabel, momentLabel } from './labels.ts';

type Given = Omit<Forecast, 'threats'>;

/** A chance to be ready above this is left alone. */
const WELL = 0.9;
/** Steps named at most. */
const MOST_STEPS = 3;
/** Of fewer units no pace is told. */
const FEWEST_PACED = 5;
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
      slowStep(
        forecast,
        step,
        cost,
        drawn
          ? `it is likely to cost ${durationLabel(Math.round(cost))}`
          : `the plan runs ${latenessLabel(cost)} past that`,
      ),
    );
  return costly.length > 0 || risk === null ? costly : drivingStep(forecast, open, risk);
}

/** Where the date is unlikely and yet no step costs much by itself (days that are lost, say): the one that moves the end most, by its spread or its work. */
function drivingStep(forecast: Given, open: readonly ForecastStep[], risk: ForecastRisk): Threat[] {
  const drawn = new Map(risk.steps.map((one) => [one.step, one]));
  const weight = ({ id, handsMinutesLeft }: ForecastStep): number =>
    (drawn.get(id)?.sensitivity ?? 0) + (drawn.get(id)?.criticality ?? 0) * (handsMinutesLeft / MUCH_WORK);
  const [most] = [...open].sort((a, b) => weight(b) - weight(a));
  const share = Math.round((drawn.get(most?.id ?? '')?.criticality ?? 0) * 100);
  if (most === undefined || share === 0) return [];
  return [slowStep(forecast, most, 0, `it holds up the end in ${share} of 100 futures`)];
}

/** By how much the plan runs past the step's last moment under hands and machines, or without them. */
function latenessOf({ levelled, dates }: ForecastStep): number {
  const levelledLate = levelled === null || levelled.lastFinish === null ? 0 : levelled.finish - levelled.lastFinish;
  return Math.max(0, levelledLate, -(dates?.totalSlackClock ?? 0));
}

function slowStep(forecast: Given, step: ForecastStep, cost: number, cause: string): Threat {
  const line = forecast.burn.find((candidate) => candidate.step === step.id);
  const by = step.levelled?.lastFinish ?? step.dates?.lateFinish ?? forecast.readyBy;
  const starves = step.feeds.map((feed) => nameOf(forecast, feed.step));
  const many = step.total >= FEWEST_PACED;
  const left = step.total === 1 ? 'still to do' : `${step.left} of ${step.total} units left`;
  const said = [`${step.name}: ${left}${workLeft(step)}`, many ? paceWords(line) : ''];
  const { loadIn, build } = forecast;
  if (step.onSite && loadIn !== null && by <= loadIn)
    said.push(
      `between the load-in, ${momentLabel(loadIn, build.zone)}, and the event its hands have no time for it: give them hours then`,
    );
  else if (by > forecast.now) said.push(`by ${momentLabel(by, build.zone)}`);
  else said.push(`its last moment was ${momentLabel(by, build.zone)}`);
  if (starves.length > 0) said.push(`${starves.join(', ')} ${starves.length === 1 ? 'waits' : 'wait'} for it`);
  said.push(cause);
  return {
    code: 'slow-step',
    step: step.id,
    costMinutes: Math.round(cost),
    since: forecast.now,
    values: {
      left: step.left,
      total: step.total,
      countedPerHour: line?.countedPerHour ?? null,
      neededPerHour: line?.neededPerHour ?? null,
      minutesPerUnit: step.pace?.minutesPerUnit ?? null,
      handsMinutesLeft: step.handsMinutesLeft,
      by,
    },
    message: `${said.filter((words) => words !== '').join('; ')}.`,
  };
}

function workLeft({ handsMinutesLeft, pace }: ForecastStep): string {
  if (handsMinutesLeft <= 0) return '';
  const each = pace ? ` at ${figureLabel(pace.minutesPerUnit)} min each` : '';
  return `, ${hoursLabel(handsMinutesLeft)} of hands${each}`;
}

/** Both paces by the working hour: the hours in which anybody is there. */
function paceWords(line: BurnLine | undefined): string {
  if (line === undefined || line.neededPerHour === null)
    return line === undefined ? '' : 'no working hour is left for it';
  const counted = line.countedPerHour === null || line.countedPerHour === 0 ? 'none' : figureLabel(line.countedPerHour);
  return `${figureLabel(line.neededPerHour)} a working hour are needed, ${counted} were counted so far`;
}

/** The name of a step, its id where there is none. */
export function nameOf({ steps }: Pick<Forecast, 'steps'>, id: string): string {
  return steps.find((step) => step.id === id)?.name ?? id;
}
