/** What comes from outside, in words: amounts and packs, moments, what is missing. */

import type { Forecast, ForecastOrder, ForecastStep, ForecastSupply, SupplyMeasure } from '../../server/model/index.ts';
import { byId } from '../by-id.ts';
import { orderTexts as say } from '../texts/paper/orders.ts';
import type { WallClock } from '../wall-clock.ts';
import { counted, dayText, figure, lateFromStart, percent, soonText, thing } from './wording.ts';

type Measure = Pick<SupplyMeasure, 'unit' | 'pack'>;

/**
 * An amount in its unit, or a number of pieces.
 *
 *     measuredText(0.86, { unit: 'L', pack: 2.5 }) // '0.86 L'
 *     measuredText(12, { unit: null, pack: 25 }) // '12'
 */
export function measuredText(amount: number, { unit }: Measure): string {
  return unit === null ? figure(amount) : say.ofUnit(figure(amount), unit);
}

/**
 * Units of the log with the name of what they are.
 *
 *     unitsText(2, 'oil', { unit: 'L', pack: 2.5 }) // '2 packs of 2.5 L oil'
 *     unitsText(7, 'cord', { unit: 'm', pack: 1 }) // '7 m cord'
 *     unitsText(2, 'hook', { unit: null, pack: 10 }) // '2 × hook'
 */
export function unitsText(units: number, name: string, measure: Measure): string {
  if (measure.unit === null) return say.pieces(figure(units), name);
  const size = measuredText(measure.pack, measure);
  return measure.pack === 1
    ? say.measured(measuredText(units, measure), name)
    : `${figure(units)} ${say.ofPacks(units !== 1, size, name)}`;
}

interface Units extends Pick<ForecastOrder, 'units' | 'name'> {
  readonly measure?: ForecastOrder['measure'] | undefined;
}

/** What is ordered: `24 × fish`, `2 packs of 2.5 L oil`. */
export function orderedText({ units, name, measure }: Units): string {
  return measure === undefined ? counted(units, name) : unitsText(units, name, measure);
}

/**
 * Units of a step; of an order as many as it asks for what is really ordered, in whole packs, which is what the sheet
 * of orders says too. Other units of an order, such as a lot of it, are said as they are logged.
 */
export function unitsOfStep(forecast: Forecast, id: string, units: number): string {
  const step = byId(forecast.steps, id);
  const order = step?.kind === 'order' ? forecast.orders.find((one) => one.step === id) : undefined;
  if (step === undefined || order === undefined || units !== askedOf(step, order))
    return loggedText(forecast, id, units);
  return orderedText(order);
}

/** Units of the log of a step: `24 × fish`, of what is measured `2 packs of 2.5 L oil`. */
export function loggedText(forecast: Forecast, id: string, units: number): string {
  const step = byId(forecast.steps, id);
  return orderedText({ name: step?.unit ?? '', units, measure: measureOf(forecast, step?.part ?? null) });
}

/** What the units of a step are, behind their number: `fish`, `packs of 2.5 L oil`, `m cord`. */
export function thingOfStep(forecast: Forecast, { part, total, unit }: ForecastStep): string {
  const measure = measureOf(forecast, part);
  if (measure === undefined) return thing(total, unit);
  return measure.pack === 1
    ? say.measured(measure.unit, unit)
    : say.ofPacks(total !== 1, measuredText(measure.pack, measure), unit);
}

/** In what a part is measured; nothing of what is counted in pieces. */
export function measureOf({ supplies = [] }: Forecast, part: string | null): ForecastOrder['measure'] {
  const found = part === null ? undefined : byId(supplies, part);
  // A step may have the id of a part.
  const supply = found?.part === part ? found : supplies.find((one) => one.part === part && part !== null);
  const { unit = null, pack = 1 } = supply?.measure ?? {};
  return unit === null ? undefined : { unit, pack };
}

/** What an order's units are planned for: what is left, or the rest of it where some is on its way. */
function askedOf({ left, underWay }: ForecastStep, { state }: ForecastOrder): number {
  return state === 'ordered' ? left : left - underWay.reduce((sum, { units }) => sum + units, 0);
}

/** How much is needed, to spare, on hand and lost; in which packs pieces come. */
export function needWords(supply: ForecastSupply): string[] {
  const { measure, need, spares, onHand, packs, part } = supply;
  if (part === null) return [];
  const pack = measuredText(measure.pack, measure);
  return [
    say.needed(measuredText(need, measure)),
    ...(spares > 0 ? [say.spares(measuredText(spares, measure))] : []),
    ...(measure.waste > 0 ? [say.waste(percent(measure.waste))] : []),
    ...(onHand > 0 ? [onHandText(supply)] : []),
    ...(packs === null || measure.pack === 1 ? [] : [say.inPacks(figure(packs), pack)]),
  ];
}

/** What is on hand; where some of it will be lost, what is left of it to use. */
function onHandText({ measure, onHand }: ForecastSupply): string {
  const amount = measuredText(onHand, measure);
  if (measure.waste === 0) return say.onHand(amount);
  return say.onHandWithWaste(amount, measuredText(onHand * (1 - measure.waste), measure));
}

/** Until when it must be ordered, or by how much that is too late; null where nothing of it must be. */
export function orderByText(forecast: Forecast, clock: WallClock, { orderBy }: ForecastSupply): string | null {
  if (orderBy === null) return null;
  const late = lateFromStart(forecast, orderBy);
  if (late !== null) return say.orderedBeforeStart(late);
  const when = soonText(clock, orderBy, forecast.now);
  return orderBy < forecast.now ? say.orderByPassed(when) : say.orderBy(when);
}

/** That the supplier has no day left before the event, and which is the next; null where they have. */
export function noDayText(forecast: Forecast, clock: WallClock, step: string | null): string | null {
  const noDay = forecast.orders.find((order) => order.step === step)?.noDay;
  return noDay === undefined ? null : say.noDay[noDay.kind](dayText(clock, noDay.next, forecast.now));
}

/** When it was ordered and when it is due, each order that is out. */
export function outTexts(forecast: Forecast, clock: WallClock, supply: ForecastSupply): string[] {
  return supply.orders.map(({ entry }) => orderOutText(forecast, clock, supply, entry));
}

/** The same of one order, by the entry that told it. */
export function orderOutText(forecast: Forecast, clock: WallClock, supply: ForecastSupply, entry: string): string {
  const { units, at, due, promised } = supply.orders.find((order) => order.entry === entry)!;
  const when = (instant: number) => soonText(clock, instant, forecast.now);
  return say.out(unitsText(units, supply.name, supply.measure), when(at), when(due), promised);
}

const WEEK_MINUTES = 7 * 1440;
const MISSING_SHOWN = 4;

/**
 * What is not here and must be ordered, is needed or is planned to come within seven days, in one line; null where
 * nothing comes from outside at all.
 */
export function missingText(forecast: Forecast, clock: WallClock): string | null {
  const supplies = (forecast.supplies ?? []).filter(({ step }) => step !== null);
  if (supplies.length === 0) return null;
  const until = forecast.now + WEEK_MINUTES;
  const missing = supplies.filter(
    ({ state, orderBy, neededBy, arrives }) =>
      state !== 'here' && [orderBy, neededBy, arrives].some((at) => at !== null && at < until),
  );
  if (missing.length === 0) return say.nothingMissing;
  const words = missing.slice(0, MISSING_SHOWN).map((supply) => missingOne(forecast, clock, supply));
  const more = missing.length - words.length;
  return say.missing([...words, ...(more > 0 ? [say.missingMore(more)] : [])].join(', '));
}

function missingOne(forecast: Forecast, clock: WallClock, supply: ForecastSupply): string {
  const { toOrder, onTheWay, name, measure, orderBy, arrives } = supply;
  const what = unitsText(toOrder > 0 ? toOrder : onTheWay, name, measure);
  const when = (at: number | null) => (at === null ? '' : soonText(clock, at, forecast.now));
  return toOrder > 0 ? say.missingOrder(what, when(orderBy)) : say.missingDue(what, when(arrives));
}

/** Loads that are in the machine: they are left until what is in them is counted. */
export function loadsInIt({ steps }: Pick<Forecast, 'steps'>, id: string): number {
  return byId(steps, id)?.underWay.filter(({ kind }) => kind === 'loaded').length ?? 0;
}
