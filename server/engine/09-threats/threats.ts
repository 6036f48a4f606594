/** What is likely to cost the date, worst first, each a code with its values. */
import type { Forecast, ForecastPart, ForecastRisk, ForecastStep, Machine, Threat } from '../../model/index.ts';
import type { Instant } from '../types.ts';
import { limitThreats, uncheckedThreats } from './design-threats.ts';
import { idleMachines } from './idle-machines.ts';
import { lateRoots, type Root } from './late-roots.ts';
import { slowSteps } from './slow-steps.ts';
import { isExplained, waitingFor } from './what-waits.ts';

const DAY = 1440;
/** Minutes without an entry after which a step that should run is silent. */
const SILENT = 2 * DAY;
/** A decision that must fall within this long is due. */
const DECISION_AHEAD = 2 * DAY;
/** A spare that must be ordered within this long is asked about. */
const SPARE_AHEAD = 3 * DAY;
/** Nights of work that are still no leaning on nights. */
const FEW_NIGHTS = 2;
/** Clocks that differ by less say nothing. */
const CLOCKS_APART = 10;

/**
 * The threats to the date of a forecast, ranked by what they cost (clock minutes of the end, as far as that can be
 * told: expected ones where futures were drawn, the lateness of the plan else; 0 where the loss cannot be put in
 * minutes), none when all is well. `risk` null: no futures were drawn; `machines` are those of the build. Instants are
 * minutes since the epoch.
 */
export function threatsOf(
  forecast: Omit<Forecast, 'threats'>,
  risk: ForecastRisk | null,
  now: Instant,
  machines: readonly Machine[] = [],
): Threat[] {
  const { threats, roots } = slowSteps(forecast, risk, lateRoots(forecast, risk, now));
  const all: Threat[] = [
    ...roots.map(({ threat }) => threat),
    ...threats,
    ...decisionThreats(forecast, now),
    ...idleMachines(forecast, risk, now, machines),
    ...silentSteps(forecast, now, machines),
    ...nightThreats(forecast),
    ...spareThreats(forecast, now),
    ...dueThreats(forecast, risk),
    ...oldPlanThreats(forecast, now),
    ...limitThreats(forecast, now),
    ...uncheckedThreats(forecast, now),
  ];
  return rootsFirst(
    forecast,
    risk,
    all.sort((a, b) => b.costMinutes - a.costMinutes),
    roots,
  );
}

/**
 * In their order, but each root before the first threat to a step that waits for it; work on site that is not late for
 * the root's sake keeps its place.
 */
function rootsFirst(
  forecast: Given,
  risk: ForecastRisk | null,
  threats: readonly Threat[],
  roots: readonly Root[],
): Threat[] {
  const onSite = forecast.steps.filter((step) => step.onSite);
  const waiting = roots.map(({ threat, origin }) => {
    const steps = new Set(waitingFor(forecast, origin));
    for (const step of onSite) {
      if (!isExplained(forecast, risk, origin, threat.costMinutes, step)) steps.delete(step.id);
    }
    return { threat, steps };
  });
  const seen = new Set<Threat>();
  const placed: Threat[] = [];
  const place = (threat: Threat): void => {
    if (seen.has(threat)) return;
    seen.add(threat);
    for (const root of waiting) if (threat.step !== null && root.steps.has(threat.step)) place(root.threat);
    placed.push(threat);
  };
  threats.forEach(place);
  return placed;
}

/**
 * The same threats with `since` carried over from a forecast before, where the threat (its code and step, of the design
 * what it is about) stood there too.
 */
export function withSince(threats: readonly Threat[], before: readonly Threat[]): Threat[] {
  return threats.map((threat) => {
    const known = before.find((other) => subjectOf(other) === subjectOf(threat));
    return known === undefined ? threat : { ...threat, since: Math.min(threat.since, known.since) };
  });
}

function subjectOf(threat: Threat): string {
  if (threat.code === 'limit') return `limit ${threat.values.id}`;
  if (threat.code === 'unchecked') return `unchecked ${threat.values.part}`;
  return `${threat.code} ${threat.step}`;
}

type Given = Omit<Forecast, 'threats'>;

function decisionThreats(forecast: Given, now: Instant): Threat[] {
  return forecast.decisions.flatMap((decision): Threat[] => {
    const { decideBy, decided, question, settles, waits } = decision;
    if (decided !== null || decideBy === null || decideBy > now + DECISION_AHEAD) return [];
    return [
      {
        code: 'decision',
        step: waits[0] ?? null,
        costMinutes: Math.max(0, now - decideBy),
        since: Math.min(now, decideBy),
        values: { question, ...(settles === undefined ? {} : { settles }), decideBy, waits },
      },
    ];
  });
}

/**
 * Steps with units at hand that were begun, that a sheet has asked somebody for since their last entry, that are
 * planned for this hour and have their machine free, and had nothing logged for days.
 */
function silentSteps(forecast: Given, now: Instant, machines: readonly Machine[]): Threat[] {
  const { steps } = forecast;
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
    if (!wasAskedFor(forecast, step, since, now)) return [];
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

/**
 * Whether a sheet has asked somebody for the step since then; where no sheet is known, whether the first plan has units
 * of it done since.
 */
function wasAskedFor({ burn }: Given, step: ForecastStep, since: Instant, now: Instant): boolean {
  if (step.askedSince !== undefined) return step.askedSince !== null;
  const planned = burn.find((line) => line.step === step.id)?.planned ?? [];
  const leftAt = (at: Instant) => planned.findLast(([from]) => from <= at)?.[1] ?? step.total;
  return leftAt(now) < leftAt(since);
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

/** What is due by itself and late as planned, or there in fewer futures than the maker asks for. */
function dueThreats({ dues = [], confidence, now }: Given, risk: ForecastRisk | null): Threat[] {
  return dues.flatMap(({ list, id, name, at, left, finish, clock }): Threat[] => {
    const chance = risk?.dues?.find((it) => it.list === list && it.id === id)?.chance ?? null;
    const isLate = clock === null || clock < 0;
    if (left === 0 || (!isLate && (chance === null || chance >= confidence))) return [];
    const costMinutes = Math.max(0, -(clock ?? 0));
    return [
      {
        code: 'due',
        step: list === 'steps' ? id : null,
        costMinutes,
        since: now,
        values: { name, at, left, finish, chance },
      },
    ];
  });
}

/**
 * What comes from outside and has fewer to spare than are wanted (one, where it still passes through people's hands and
 * nobody has said how many fail), where the last moment to order one more that is here by the ready-by is near, or has
 * passed.
 */
function spareThreats(forecast: Given, now: Instant): Threat[] {
  const { parts, orders, readyBy } = forecast;
  if (readyBy <= now) return [];
  const unordered = new Set(
    orders.filter(({ state }) => state === 'to-order' || state === 'late').map((order) => order.part),
  );
  const short = parts.flatMap((part) => {
    const { source, againAt, need, name, sparesWanted: wanted = 1 } = part;
    const spareBy = part.spareBy ?? null;
    const isLookedAt = source !== 'make' && part.measure === undefined && part.shareOf === undefined;
    if (!isLookedAt || againAt == null || need === 0 || unordered.has(part.id)) return [];
    if (spareBy !== null && spareBy > now + SPARE_AHEAD) return [];
    const has = part.toSpare ?? part.spares;
    if (has >= wanted) return [];
    const isAsked = part.sparesWanted !== undefined || isStillHandled(forecast, part);
    return isAsked ? [{ name, need, has, wanted, spareBy, againAt }] : [];
  });
  if (short.length === 0) return [];
  return [{ code: 'no-spare', step: null, costMinutes: 0, since: now, values: { parts: short, readyBy } }];
}

/**
 * Whether hands still work on a part, or on what it goes into; where nothing says which steps these are, on anything.
 */
function isStillHandled(forecast: Given, part: ForecastPart): boolean {
  const work = forecast.steps.filter(({ kind }) => kind === 'step');
  const orders = forecast.steps.filter(({ kind, part: of }) => kind === 'order' && of === part.id).map(({ id }) => id);
  const waiting = waitingFor(forecast, orders);
  const own = work.filter(
    (step) => step.part === part.id || part.usedIn.some((use) => use.part === step.part) || waiting.has(step.id),
  );
  return (own.length === 0 ? work : own).some(({ left }) => left > 0);
}

/**
 * Entries of a later hour than the plan itself. A plan is worked out from the whole log, so a clock is wrong, or it was
 * made before.
 */
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
