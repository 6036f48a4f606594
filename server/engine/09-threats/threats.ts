/** What is likely to cost the date, worst first, each a code with its values. */
import type { Forecast, ForecastRisk, Machine, Threat } from '../../model/index.ts';
import { dateAt } from '../calendar/index.ts';
import type { Instant } from '../types.ts';
import { idleMachines } from './idle-machines.ts';
import { slowSteps } from './slow-steps.ts';

const DAY = 1440;
/** A step that should run and of which nothing was logged for so long. */
const SILENT = 2 * DAY;
/** A decision that must fall within so long is due. */
const DECISION_AHEAD = 2 * DAY;
/** Nights of work that are still no leaning on nights. */
const FEW_NIGHTS = 2;
/** Clocks that differ by less say nothing. */
const CLOCKS_APART = 10;

/**
 * The threats to the date of a forecast, ranked by what they cost (clock minutes of the end, as far as that can be told: expected ones
 * where futures were drawn, the lateness of the plan else; 0 where the loss cannot be put in minutes), none when all is well. `risk` null:
 * no futures were drawn; `machines` are those of the build. Instants are minutes since the epoch.
 */
export function threatsOf(
  forecast: Omit<Forecast, 'threats'>,
  risk: ForecastRisk | null,
  now: Instant,
  machines: readonly Machine[] = [],
): Threat[] {
  return [
    ...slowSteps(forecast, risk),
    ...orderThreats(forecast, now),
    ...decisionThreats(forecast, now),
    ...idleMachines(forecast, risk, now),
    ...silentSteps(forecast, now, machines),
    ...nightThreats(forecast),
    ...spareThreats(forecast, now),
    ...oldPlanThreats(forecast, now),
  ].sort((a, b) => b.costMinutes - a.costMinutes);
}

/** The same threats with `since` carried over from a forecast before, where the threat (its code and step) stood there too. */
export function withSince(threats: readonly Threat[], before: readonly Threat[]): Threat[] {
  return threats.map((threat) => {
    const known = before.find(({ code, step }) => code === threat.code && step === threat.step);
    return known === undefined ? threat : { ...threat, since: Math.min(threat.since, known.since) };
  });
}

type Given = Omit<Forecast, 'threats'>;

/**
 * Orders past their last moment, or on their last day, with the express where that is sooner; those that no time was found
 * for are among the problems.
 */
function orderThreats({ orders, parts, steps, build }: Given, now: Instant): Threat[] {
  const today = dateAt(now, build.zone);
  const placed = new Set(steps.flatMap(({ id, levelled }) => (levelled === null ? [] : [id])));
  return orders.flatMap((order): Threat[] => {
    if (!placed.has(order.step)) return [];
    const { name, kind, units, orderBy, arrives, neededBy } = order;
    const late = order.state === 'late';
    if (!late && !(order.state === 'to-order' && dateAt(orderBy, build.zone) === today)) return [];
    const againAt = parts.find(({ id }) => id === order.part)?.againAt ?? arrives;
    const express = late && againAt < arrives ? againAt : null;
    return [
      {
        code: late ? 'order-late' : 'order-today',
        step: order.step,
        costMinutes: Math.max(0, arrives - neededBy),
        since: late ? orderBy : now,
        values: { name, kind, units, orderBy, arrives, express, neededBy },
      },
    ];
  });
}

function decisionThreats(forecast: Given, now: Instant): Threat[] {
  return forecast.decisions.flatMap((decision): Threat[] => {
    const { decideBy, decided, question, waits } = decision;
    if (decided !== null || decideBy === null || decideBy > now + DECISION_AHEAD) return [];
    return [
      {
        code: 'decision',
        step: waits[0] ?? null,
        costMinutes: Math.max(0, now - decideBy),
        since: Math.min(now, decideBy),
        values: { question, decideBy, waits },
      },
    ];
  });
}

/** Steps with units at hand that were begun, are planned for now, have their machine free, and of which nothing was logged for days. */
function silentSteps({ steps }: Given, now: Instant, machines: readonly Machine[]): Threat[] {
  const isOccupied = (machine: string | null) => {
    if (machine === null) return false;
    // Loaded with something that nobody has taken off yet.
    const loaded = steps.flatMap((step) => (step.machine === machine ? step.underWay : []));
    return loaded.length >= (machines.find(({ id }) => id === machine)?.count ?? 1);
  };
  return steps.flatMap((step): Threat[] => {
    const since = step.lastLogged;
    if (step.kind !== 'step' || step.state !== 'under-way' || since === null || now - since < SILENT) return [];
    if ((step.readyNow ?? 0) <= 0 || step.underWay.length > 0 || isOccupied(step.machine)) return [];
    if (step.levelled === null || step.levelled.start > now + DAY || step.handsMinutesLeft <= 0) return [];
    return [
      {
        code: 'silent-step',
        step: step.id,
        costMinutes: 0,
        since,
        values: { left: step.left, readyNow: step.readyNow ?? 0, lastLogged: since },
      },
    ];
  });
}

function nightThreats({ workHours, now }: Given): Threat[] {
  const nights = workHours.filter((warning) => warning.code === 'night');
  if (nights.length <= FEW_NIGHTS) return [];
  const minutes = nights.reduce((sum, night) => sum + night.minutes, 0);
  const first = Math.min(...nights.map((night) => night.at));
  return [
    {
      code: 'nights',
      step: null,
      costMinutes: 0,
      since: now,
      values: { nights: nights.length, minutes, first },
    },
  ];
}

/** What comes from outside, still passes through people's hands, has none to spare, and would come too late if it were ordered now. */
function spareThreats({ parts, steps, orders, readyBy }: Given, now: Instant): Threat[] {
  if (readyBy <= now) return [];
  const unordered = new Set(
    orders.filter(({ state }) => state === 'to-order' || state === 'late').map((it) => it.part),
  );
  const short = parts.flatMap((part) => {
    const { source, againAt, need, spares, onHand, toBuy } = part;
    if (source === 'make' || againAt == null || againAt <= readyBy || need === 0 || unordered.has(part.id)) return [];
    if (spares > 0 || Math.max(toBuy ?? 0, part.toMake) + onHand > need) return [];
    const own = steps.filter((step) => step.part === part.id || part.usedIn.some((use) => use.part === step.part));
    const open = own.length === 0 ? steps : own;
    return open.some((step) => step.kind === 'step' && step.left > 0) ? [{ name: part.name, need, againAt }] : [];
  });
  if (short.length === 0) return [];
  return [{ code: 'no-spare', step: null, costMinutes: 0, since: now, values: { parts: short, readyBy } }];
}

/** Entries of a later hour than the plan itself. A plan is worked out from the whole log, so a clock is wrong, or it was made before. */
function oldPlanThreats({ steps }: Given, now: Instant): Threat[] {
  const last = Math.max(...steps.map(({ lastLogged }) => lastLogged ?? Number.NEGATIVE_INFINITY));
  if (!(last > now + CLOCKS_APART)) return [];
  return [
    {
      code: 'old-plan',
      step: steps.find(({ lastLogged }) => lastLogged === last)?.id ?? null,
      costMinutes: 0,
      since: now,
      values: { last, minutes: last - now },
    },
  ];
}
