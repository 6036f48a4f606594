/** What is likely to cost the date, worst first, each in a sentence with numbers. */
import type { BurnLine, Forecast, ForecastRisk, ForecastStep, Threat } from '../model/index.ts';
import { dateAt, minuteOfDayAt } from './clock.ts';
import { durationLabel, figureLabel, hoursLabel, momentLabel } from './labels.ts';
import type { Instant } from './types.ts';

/** A chance to be ready above this is left alone. */
const WELL = 0.9;
/** Steps named at most. */
const MOST_STEPS = 3;
const DAY = 1440;
/** Of fewer units no pace is told. */
const FEWEST_PACED = 5;
/** A step that should run and of which nothing was logged for so long. */
const SILENT = 2 * DAY;
/** A decision that must fall within so long is due. */
const DECISION_AHEAD = 2 * DAY;
/** Nights of work that are still no leaning on nights. */
const FEW_NIGHTS = 2;
const NIGHT = { from: 22 * 60, minutes: 8 * 60 };

/**
 * The threats to the date of a forecast, ranked by what they cost (clock minutes of the end, as far as that can be told: expected ones
 * where futures were drawn, the lateness of the plan else; 0 where the loss cannot be put in minutes), none when all is well. `risk` null:
 * no futures were drawn. Instants are minutes since the epoch.
 */
export function threatsOf(forecast: Omit<Forecast, 'threats'>, risk: ForecastRisk | null, now: Instant): Threat[] {
  return [
    ...slowSteps(forecast, risk),
    ...orderThreats(forecast, now),
    ...decisionThreats(forecast, now),
    ...idleMachines(forecast, risk, now),
    ...silentSteps(forecast, now),
    ...nightThreats(forecast),
  ].sort((a, b) => b.costMinutes - a.costMinutes);
}

type Given = Omit<Forecast, 'threats'>;

/** The steps that cost most, where the date is late or unlikely. */
function slowSteps(forecast: Given, risk: ForecastRisk | null): Threat[] {
  const lateMinutes = Math.max(0, -(forecast.room.readyBy.clock ?? 0), -(forecast.room.event.clock ?? 0));
  const unlikely = risk !== null && Math.min(risk.readyBy.chance, risk.event.chance) < WELL;
  if (lateMinutes === 0 && !unlikely) return [];
  const expected = new Map(
    (risk?.steps ?? []).flatMap(({ step, costMinutes, costError }) =>
      costMinutes > Math.max(30, 2 * costError) ? [[step, costMinutes] as const] : [],
    ),
  );
  return forecast.steps
    .filter((step) => step.kind === 'step' && step.left > 0)
    .map((step) => {
      const drawn = expected.get(step.id);
      return { step, cost: drawn ?? Math.min(lateMinutes, latenessOf(step)), drawn: drawn !== undefined };
    })
    .filter(({ cost }) => cost > 0)
    .sort((a, b) => b.cost - a.cost || b.step.handsMinutesLeft - a.step.handsMinutesLeft)
    .slice(0, MOST_STEPS)
    .map(({ step, cost, drawn }) => slowStep(forecast, step, cost, drawn));
}

/** By how much the plan runs past the step's last moment under hands and machines, or without them. */
function latenessOf({ levelled, dates }: ForecastStep): number {
  const levelledLate = levelled === null || levelled.lastFinish === null ? 0 : levelled.finish - levelled.lastFinish;
  return Math.max(0, levelledLate, -(dates?.totalSlackClock ?? 0));
}

function slowStep(forecast: Given, step: ForecastStep, cost: number, drawn: boolean): Threat {
  const line = forecast.burn.find((candidate) => candidate.step === step.id);
  const by = step.levelled?.lastFinish ?? step.dates?.lateFinish ?? forecast.readyBy;
  const starves = step.feeds.map((feed) => nameOf(forecast, feed.step));
  const many = step.total >= FEWEST_PACED;
  const left = step.total === 1 ? 'still to do' : `${step.left} of ${step.total} units left`;
  const said = [`${step.name}: ${left}${workLeft(step)}`, many ? paceWords(line) : ''];
  if (by > forecast.now) said.push(`by ${momentLabel(by, forecast.build.zone)}`);
  else said.push(`its last moment was ${momentLabel(by, forecast.build.zone)}`);
  if (starves.length > 0) said.push(`${starves.join(', ')} ${starves.length === 1 ? 'waits' : 'wait'} for it`);
  const length = durationLabel(Math.round(cost));
  said.push(drawn ? `it is likely to cost ${length}` : `the plan runs ${length} past that`);
  return {
    code: 'slow-step',
    step: step.id,
    costMinutes: Math.round(cost),
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

/** Orders past their last moment, or on their last day. */
function orderThreats({ orders, build }: Given, now: Instant): Threat[] {
  const today = dateAt(now, build.zone);
  return orders.flatMap((order): Threat[] => {
    const late = order.state === 'late';
    if (!late && !(order.state === 'to-order' && dateAt(order.orderBy, build.zone) === today)) return [];
    const costMinutes = Math.max(0, order.arrives - order.neededBy);
    const when = momentLabel(order.orderBy, build.zone);
    const what = `${order.units} ${order.name} ${order.kind === 'buy' ? 'to order' : 'to send out'}`;
    const arrival = `would be here ${momentLabel(order.arrives, build.zone)}, needed ${momentLabel(order.neededBy, build.zone)}`;
    return [
      {
        code: late ? 'order-late' : 'order-today',
        step: order.step,
        costMinutes,
        values: { units: order.units, orderBy: order.orderBy, arrives: order.arrives, neededBy: order.neededBy },
        message: late ? `${what}: the last moment was ${when}; ${arrival}.` : `${what} by ${when}, today; ${arrival}.`,
      },
    ];
  });
}

function decisionThreats(forecast: Given, now: Instant): Threat[] {
  return forecast.decisions.flatMap((decision): Threat[] => {
    const { decideBy, decided, question, waits } = decision;
    if (decided !== null || decideBy === null || decideBy > now + DECISION_AHEAD) return [];
    const blocked = waits.map((id) => nameOf(forecast, id)).join(', ');
    const when = momentLabel(decideBy, forecast.build.zone);
    return [
      {
        code: 'decision',
        step: waits[0] ?? null,
        costMinutes: Math.max(0, now - decideBy),
        values: { decideBy, waits: waits.length },
        message: `${question} ${decideBy < now ? `It was to be decided by ${when}` : `Decide by ${when}`}: ${blocked} cannot go on before.`,
      },
    ];
  });
}

/** Machines that may run tonight, have nothing planned, and hold up a step that counts. */
function idleMachines(forecast: Given, risk: ForecastRisk | null, now: Instant): Threat[] {
  const night = nightAfter(now, forecast.build.zone);
  const driving = new Map((risk?.steps ?? []).map(({ step, criticality }) => [step, criticality]));
  return forecast.capacity.flatMap((group): Threat[] => {
    if (group.kind !== 'machine' || !runsByNight(forecast, group.id, night.start)) return [];
    const waiting = forecast.steps
      .filter((step) => step.machine === group.id && (step.readyNow ?? 0) > unitsUnderWay(step))
      .filter((step) => (driving.get(step.id) ?? (isPressed(step) ? 1 : 0)) >= 0.3)
      .sort((a, b) => b.machineMinutesLeft - a.machineMinutesLeft)[0];
    if (waiting === undefined || busyDuring(forecast, group.id, night)) return [];
    const units = waiting.left - unitsUnderWay(waiting);
    const runMinutes = Math.ceil(units / waiting.lotSize) * (waiting.runMinutesPerLot ?? 0);
    const idle = Math.min(NIGHT.minutes, runMinutes);
    return [
      {
        code: 'idle-machine',
        step: waiting.id,
        costMinutes: Math.round(idle * (driving.get(waiting.id) ?? 1)),
        values: {
          units,
          runMinutes,
          from: night.start,
          until: night.end,
        },
        message: `${group.name} stands idle tonight while ${units} units of ${waiting.name} wait for it (${hoursLabel(runMinutes)} of runs): load it before you leave.`,
      },
    ];
  });
}

/** On the critical path, or planned within a day of its last moment under hands and machines. */
function isPressed({ dates, levelled }: ForecastStep): boolean {
  if (dates?.critical) return true;
  return levelled !== null && levelled.lastStart !== null && levelled.lastStart - levelled.start <= DAY;
}

/** The night that comes, or the one that is. */
function nightAfter(now: Instant, zone: string): { start: Instant; end: Instant } {
  const minute = minuteOfDayAt(now, zone);
  const begin =
    minute < (NIGHT.from + NIGHT.minutes) % DAY ? now - minute - (DAY - NIGHT.from) : now - minute + NIGHT.from;
  return { start: Math.max(now, begin), end: begin + NIGHT.minutes };
}

/** Whether the machine offers the whole of the day, nights included. */
function runsByNight({ capacity, build }: Given, machine: string, at: Instant): boolean {
  const days = capacity.find((group) => group.kind === 'machine' && group.id === machine)?.days ?? [];
  const date = dateAt(at + DAY, build.zone);
  return days.some((day) => day.date === date && day.offeredMinutes >= DAY);
}

function unitsUnderWay(step: ForecastStep): number {
  return step.underWay.reduce((units, load) => units + load.units, 0);
}

function busyDuring({ lots, steps }: Given, machine: string, night: { start: Instant; end: Instant }): boolean {
  const planned = lots.some((lot) =>
    lot.placements.some(
      (placement) =>
        placement.machine === machine &&
        placement.kind === 'run' &&
        placement.start < night.end &&
        placement.finish > night.start,
    ),
  );
  const running = steps.some(
    (step) => step.machine === machine && step.underWay.some(({ backAt }) => backAt > night.start),
  );
  return planned || running;
}

/** Steps with units at hand that were begun, are planned for now, and of which nothing was logged for days. */
function silentSteps({ steps, build }: Given, now: Instant): Threat[] {
  return steps.flatMap((step): Threat[] => {
    const since = step.lastLogged;
    if (step.kind !== 'step' || step.state !== 'under-way' || since === null || now - since < SILENT) return [];
    if ((step.readyNow ?? 0) <= 0 || step.underWay.length > 0) return [];
    if (step.levelled === null || step.levelled.start > now + DAY || step.handsMinutesLeft <= 0) return [];
    return [
      {
        code: 'silent-step',
        step: step.id,
        costMinutes: 0,
        values: { left: step.left, readyNow: step.readyNow, lastLogged: since },
        message: `${step.name}: nothing logged for ${durationLabel(now - since)} (since ${momentLabel(since, build.zone)}), ${step.left} left and ${step.readyNow} could be worked on. Count what is done.`,
      },
    ];
  });
}

function nightThreats({ workHours, build }: Given): Threat[] {
  const nights = workHours.filter((warning) => warning.code === 'night');
  if (nights.length <= FEW_NIGHTS) return [];
  const minutes = nights.reduce((sum, night) => sum + night.minutes, 0);
  const first = Math.min(...nights.map((night) => night.at));
  return [
    {
      code: 'nights',
      step: null,
      costMinutes: 0,
      values: { nights: nights.length, minutes, first },
      message: `The plan leans on ${nights.length} nights, ${hoursLabel(minutes)} of work in them, the first ${momentLabel(first, build.zone)}.`,
    },
  ];
}

function nameOf({ steps }: Given, id: string): string {
  return steps.find((step) => step.id === id)?.name ?? id;
}
