/** Sentences about the schedule, for pages and for the terminal. */

import type { Build, Forecast, ForecastOrder, WhyLine } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { texts } from '../texts/index.ts';
import type { WallClock } from '../wall-clock.ts';
import { isOnlyTooLarge } from './missing-words.ts';
import { nameOfHours } from './names.ts';
import { orderedText } from './supply-words.ts';
import { figure, lengthText, soonText, whenText, workText } from './wording.ts';

const say = texts.schedule;

interface BoundWords {
  readonly text: string;
  readonly isThreat: boolean;
}

/**
 * What is proved of the date: that none is better, that it cannot be kept and who is short, or how far the proof
 * reaches. Null when nothing is left.
 */
export function boundWords(forecast: Forecast, clock: WallClock): BoundWords | null {
  const { lowerBound, room, now, steps } = forecast;
  const { missing = [] } = forecast;
  if (
    lowerBound === null ||
    (missing.length > 0 && !isOnlyTooLarge(forecast) && lowerBound.verdict !== 'impossible') ||
    steps.every((step) => step.left === 0)
  )
    return null;
  const when = (instant: number) => whenText(clock, instant, now);
  const bound = when(lowerBound.readyAt);
  if (lowerBound.verdict === 'impossible') return { text: impossibleText(forecast, clock, bound), isThreat: true };
  const { finish } = room.readyBy;
  const sentence =
    finish === null
      ? say.noSchedule(bound)
      : lowerBound.verdict === 'proved-best'
        ? say.proved(bound)
        : say.gap(bound, when(finish));
  return { text: `${sentence} ${reasonText(forecast, lowerBound)}`, isThreat: false };
}

type Bound = NonNullable<Forecast['lowerBound']>;

function impossibleText(forecast: Forecast, clock: WallClock, bound: string): string {
  const { now, readyBy } = forecast;
  const lowerBound = forecast.lowerBound!;
  const { by, resource, shortMinutes, windowStart, windowEnd } = lowerBound;
  const reason = reasonText(forecast, lowerBound);
  if (readyBy <= now) return `${say.impossible.past(bound)} ${reason}`;
  if (by === 'critical-path') return `${say.impossible.other(bound)} ${chainText(forecast, clock)}`;
  const named = (by === 'hands' || by === 'machine') && resource !== null && shortMinutes > 0;
  // Where even unlimited hands come too late, what had to be done before now is no lack of hands.
  if (windowEnd !== null && windowEnd <= now) return `${say.impossible.other(bound)} ${say.by['critical-path']}`;
  if (!named || windowStart === null || windowEnd === null || windowEnd <= windowStart)
    return `${say.impossible.other(bound)} ${reason}`;
  const to = whenText(clock, windowEnd, now);
  const window = windowStart <= now ? say.window.before(to) : say.window.between(whenText(clock, windowStart, now), to);
  return `${say.impossible[by](workText(shortMinutes), nameOfHours(forecast, resource), window)} ${say.noSchedule(bound)}`;
}

/** What the longest chain begins with where that is a supplier's delivery; else that it takes so long with any help. */
function chainText(forecast: Forecast, clock: WallClock): string {
  const steps = new Map(forecast.lots.map(({ id, step, dates }) => [id, { step, at: dates.earlyFinish }]));
  const orders = new Map(forecast.orders.map((order) => [order.step, order]));
  const last = forecast.criticalPath.flatMap((id) => steps.get(id) ?? []).findLast(({ step }) => orders.has(step));
  const order = orders.get(last?.step ?? '');
  if (last === undefined || last.at === null || order === undefined) return say.by['critical-path'];
  return say.byDelivery(orderedText(order), whenText(clock, last.at, forecast.now));
}

function reasonText(forecast: Forecast, { by, resource }: Bound): string {
  const reason = say.by[by];
  return typeof reason === 'string'
    ? reason
    : reason(resource === null ? texts.unknown : nameOfHours(forecast, resource));
}

/** What another order of work would gain, where the sheet was left as it is; null where there is no such thing. */
export function keptOrderText({ keptOrder }: Forecast): string | null {
  return keptOrder == null ? null : say.kept(lengthText(keptOrder.minutes), keptOrder.upsets);
}

/** The steps whose lot size nobody has said; null where that is said of all. */
export function assumedLotsText({ steps }: Forecast): string | null {
  const assumed = steps.filter(({ isLotAssumed, left, lotSize }) => isLotAssumed === true && left > 0 && lotSize > 1);
  if (assumed.length === 0) return null;
  return say.lotsAssumed(assumed.map(({ name, lotSize }) => say.lotOf(name, figure(lotSize))));
}

interface WhyWords {
  readonly step: string;
  /** Units, lots, hands and machine, such as `units 25 to 48, hands of Ada`; may be empty. */
  readonly what: string;
  readonly cause: string;
}

/** One line of the chain that drives the date. */
export function whyWords(forecast: Forecast, clock: WallClock, line: WhyLine): WhyWords {
  const step = byId(forecast.steps, line.step);
  return { step: step?.name ?? line.step, what: whatText(forecast, line), cause: causeText(forecast, clock, line) };
}

function whatText(forecast: Forecast, line: WhyLine): string {
  const total = byId(forecast.steps, line.step)?.total ?? 1;
  const [first, last] = [figure(line.firstUnit), figure(line.lastUnit)];
  const parts = [
    total <= 1 ? null : first === last ? say.why.unit(first) : say.why.units(first, last),
    line.set === null ? null : texts.dates.set(forecast.setName, line.set),
    line.lots > 1 ? say.why.inLots(line.lots) : null,
    line.people.length === 0 ? null : say.why.hands(line.people.join(', ')),
    line.machine === null ? null : say.why.machine(line.machine),
    line.supplier === null ? null : say.why.supplier(line.supplier),
  ];
  return parts.filter((it) => it !== null).join(', ');
}

function causeText(forecast: Forecast, clock: WallClock, line: WhyLine): string {
  const { waited, waitedFor, taken } = say.why;
  const { kind, step, who } = line.waited;
  const name = byId(forecast.steps, step ?? '')?.name ?? step ?? texts.unknown;
  const stood = stoodText(forecast, clock, line);
  if (kind === 'hands' || kind === 'machine' || kind === 'station') return `${taken[kind](who ?? '', name)}${stood}`;
  if (kind === 'units' || kind === 'step' || kind === 'gate' || kind === 'supplier')
    return `${waitedFor[kind](name)}${stood}`;
  return `${waited[kind]}${stood}`;
}

/** A wait over midnight that ends before noon is one for morning. */
function stoodText({ now }: Forecast, clock: WallClock, { stood, start, people }: WhyLine): string {
  if (stood === null) return '';
  const [from, to] = [clock.read(stood.from), clock.read(stood.to)];
  const isMorning = from.date !== to.date && to.time < '12:00';
  const kind = isMorning ? 'morning' : people.length > 0 ? 'hands' : 'machine';
  const [since, until] = [stood.from <= now ? null : soonText(clock, stood.from, now), soonText(clock, stood.to, now)];
  return stood.to <= start ? `, ${say.why.after[kind](until)}` : `; ${say.why.stood[kind](since, until)}`;
}

/** When an order is here as planned, which may be before its last moment: so the hour of ordering is said too. */
export function arrivalText(forecast: Forecast, clock: WallClock, { step, arrives }: ForecastOrder): string {
  const start = byId(forecast.steps, step)?.levelled?.start;
  const here = soonText(clock, arrives, forecast.now);
  const { arrives: said, arrivesIf } = texts.countdown;
  return start === undefined ? said(here) : arrivesIf(soonText(clock, start, forecast.now), here);
}

/**
 * Why more is ordered than the steps ask for: `13 still needed, in packs of 4`. Null where as many are ordered as are
 * needed.
 */
export function packsText(build: Build, forecast: Forecast, order: ForecastOrder): string | null {
  const size = build.parts?.find(({ id }) => id === order.part)?.packSize ?? 1;
  const step = byId(forecast.steps, order.step);
  if (
    step === undefined ||
    order.measure !== undefined ||
    size === 1 ||
    (order.state !== 'to-order' && order.state !== 'late')
  )
    return null;
  const needed = step.left - step.underWay.reduce((sum, { units }) => sum + units, 0);
  return needed < order.units ? texts.countdown.packs(figure(needed), size) : null;
}
