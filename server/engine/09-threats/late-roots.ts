/**
 * What the end is late for: deliveries, machines, units that go wrong. The steps that wait for these are named with
 * them.
 */
import type { Forecast, ForecastOrder, ForecastRisk, ForecastStep, Threat } from '../../model/index.ts';
import { dateAt } from '../calendar/index.ts';
import { binomialTail } from '../numbers/index.ts';
import type { Instant } from '../types.ts';
import { drawnCost, isWorkshopUnlikely, lateMinutesOf, latenessOf } from './what-waits.ts';

type Given = Omit<Forecast, 'threats'>;
export type RootCode = 'order-late' | 'order-today' | 'late-delivery' | 'short-machine' | 'scrap';

/** A threat, and the steps that it is about: what waits for one of them waits for it. */
export interface Root {
  readonly threat: Threat<RootCode>;
  readonly origin: readonly string[];
}

/** Share of the futures in which a step drives the end that counts. */
const OFTEN = 0.3;
/** Units that have to go wrong before that is said, and how unlikely they must be by the share that was thought. */
const FEWEST_SCRAPPED = 3;
const SURPRISE = 0.05;

/**
 * All roots that threaten now, in no order. Instants are minutes since the epoch; `risk` null: no futures were drawn.
 */
export function lateRoots(forecast: Given, risk: ForecastRisk | null, now: Instant): Root[] {
  const pressed = lateMinutesOf(forecast) > 0 || isWorkshopUnlikely(risk);
  return [
    ...ordersToPlace(forecast, now),
    ...lateDeliveries(forecast, risk, now, pressed),
    ...(pressed ? [...shortMachines(forecast, risk, now), ...scrap(forecast, risk, now)] : []),
  ];
}

/**
 * Orders past their last moment that come too late, or on their last day, with the express where that is sooner; those
 * that no time was found for are among the problems.
 */
function ordersToPlace({ orders, parts, steps, build }: Given, now: Instant): Root[] {
  const today = dateAt(now, build.zone);
  const placed = new Map(steps.map((step) => [step.id, step]));
  return orders.flatMap((order): Root[] => {
    const step = placed.get(order.step);
    if (step === undefined || step.levelled === null) return [];
    const { name, kind, units, orderBy, arrives, neededBy } = order;
    const late = order.state === 'late' && arrives > neededBy;
    if (!late && !(order.state === 'to-order' && dateAt(orderBy, build.zone) === today)) return [];
    const againAt = parts.find(({ id }) => id === order.part)?.againAt ?? arrives;
    const express = late && againAt < arrives ? againAt : null;
    return [
      {
        origin: [order.step],
        threat: {
          code: late ? 'order-late' : 'order-today',
          step: order.step,
          costMinutes: Math.max(0, arrives - neededBy),
          since: late ? orderBy : now,
          values: { name, kind, units, orderBy, arrives, express, neededBy, holdsUp: takersOf(step) },
        },
      },
    ];
  });
}

/**
 * Orders under way that are overdue, that come later than they are needed, or that most often hold up an end that is
 * not sure.
 */
function lateDeliveries(forecast: Given, risk: ForecastRisk | null, now: Instant, pressed: boolean): Root[] {
  return forecast.orders.flatMap((order): Root[] => {
    const step = forecast.steps.find(({ id }) => id === order.step);
    const onWay = (step?.underWay ?? []).filter(({ kind }) => kind === 'ordered');
    if (step === undefined || onWay.length === 0 || step.left === 0) return [];
    const expected = Math.max(...onWay.map(({ backAt }) => backAt));
    const due = onWay.filter(({ backAt }) => backAt < now);
    const [overdue, late] = [due.length > 0, lateBy(order, expected)];
    if (!overdue && late <= 0 && !(pressed && drives(forecast, risk, step))) return [];
    const last = overdue ? Math.max(...due.map(({ backAt }) => backAt)) : expected;
    const neededBy = order.state === 'ordered' ? order.neededBy : (step.levelled?.lastFinish ?? order.neededBy);
    return [
      {
        origin: [step.id],
        threat: {
          code: 'late-delivery',
          step: step.id,
          costMinutes: Math.round(Math.max(overdue ? Math.max(0, now - neededBy) : 0, late, drawnCost(risk, step.id))),
          since: overdue ? last : now,
          values: {
            name: order.name,
            units: (overdue ? due : onWay).reduce((sum, { units }) => sum + units, 0),
            expected: last,
            promised: onWay.some(({ promised }) => promised),
            overdue,
            neededBy,
            holdsUp: takersOf(step),
          },
        },
      },
    ];
  });
}

function lateBy({ state, neededBy }: ForecastOrder, expected: Instant): number {
  return state === 'ordered' ? Math.max(0, expected - neededBy) : 0;
}

/**
 * Whether a step is what the end waits for: in many futures; where none were drawn, by the chain that drives the ready
 * finish.
 */
function drives({ why = [] }: Given, risk: ForecastRisk | null, step: ForecastStep): boolean {
  if (risk !== null) return (risk.steps.find((one) => one.step === step.id)?.criticality ?? 0) >= OFTEN;
  return why.some((line) => line.step === step.id || (line.waited.kind === 'supplier' && line.waited.step === step.id));
}

/** Machines without hours enough, or that lots on the driving chain wait for while others have them. */
function shortMachines(forecast: Given, risk: ForecastRisk | null, now: Instant): Root[] {
  return forecast.capacity.flatMap((group): Root[] => {
    if (group.kind !== 'machine') return [];
    const runs = forecast.steps.filter(
      ({ machine, left, kind }) => machine === group.id && left > 0 && kind === 'step',
    );
    const taken = (forecast.why ?? []).some(({ waited }) => waited.kind === 'machine' && waited.who === group.name);
    const driving = runs.filter((step) => drives(forecast, risk, step));
    if (runs.length === 0 || (group.shortMinutes <= 0 && !(taken && driving.length > 0))) return [];
    const origin = (driving.length > 0 ? driving : runs).map(({ id }) => id);
    const costs = runs.map((step) => Math.max(latenessOf(step), drawnCost(risk, step.id)));
    const { neededMinutes, offeredMinutes } = group;
    return [
      {
        origin,
        threat: {
          code: 'short-machine',
          step: origin[0]!,
          costMinutes: Math.round(Math.max(...costs)),
          since: now,
          values: { machine: group.id, neededMinutes, offeredMinutes, holdsUp: [] },
        },
      },
    ];
  });
}

/** Steps at which clearly more went wrong than their part was thought to lose, with units left to make. */
function scrap(forecast: Given, risk: ForecastRisk | null, now: Instant): Root[] {
  return forecast.steps.flatMap((step): Root[] => {
    const { scrapped, left, id } = step;
    const part = forecast.parts.find(({ id }) => id === step.part);
    const expected = 1 - (part?.yieldLearnt?.given ?? part?.yield ?? 1);
    const tried = step.done + scrapped;
    if (left === 0 || scrapped < FEWEST_SCRAPPED || binomialTail(scrapped, tried, expected) >= SURPRISE) return [];
    const cost = Math.max(latenessOf(step), drawnCost(risk, id));
    if (cost <= 0 && !drives(forecast, risk, step)) return [];
    return [
      {
        origin: [id],
        threat: {
          code: 'scrap',
          step: id,
          costMinutes: Math.round(cost),
          since: now,
          values: { scrapped, tried, expected, left, holdsUp: takersOf(step) },
        },
      },
    ];
  });
}

function takersOf({ feeds }: ForecastStep): string[] {
  return feeds.map(({ step }) => step);
}
