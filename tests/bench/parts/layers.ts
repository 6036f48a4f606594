/**
 * A forecast cut into layers, in the order in which one follows from the other, so that two programs can be held
 * against each other layer by layer: what both say, in the same words, whatever else their forecasts hold.
 */
import { openMinutesBetween, surroundingsOf, unionOf } from '../../../server/engine/calendar/index.ts';
import type { Build, Forecast } from '../../../server/model/index.ts';

export const LAYERS = [
  'quantities and part counts',
  'units of steps',
  'minutes of steps',
  'lots',
  'network times on the critical path',
  'ready as planned',
  'chance',
  'threats',
] as const;
export type Layer = (typeof LAYERS)[number];

/** By layer, a text that is equal where two forecasts say the same. */
export type Layers = Readonly<Record<Layer, string>>;

/** Minutes since `now` in which anybody is there; on the clock where a build has nobody. */
export type WorkingMinutes = (instant: number) => number;

/** Cuts a forecast that has its futures. */
export function layersOf(forecast: Forecast, minutes: WorkingMinutes): Layers {
  const { readyBy, event } = forecast.risk ?? {};
  const threats = (forecast.threats ?? []).map(({ code, step }) => [code, step]);
  return {
    'quantities and part counts': text(quantities(forecast)),
    'units of steps': text(forecast.steps.map(({ id, sets, lotSize }) => [id, lotSize, sets.map(unitsOf)])),
    'minutes of steps': text(forecast.steps.map(minutesOf)),
    lots: text(forecast.lots.map(lotName)),
    'network times on the critical path': text(networkTimes(forecast, minutes)),
    'ready as planned': text([forecast.room.readyBy.finish, forecast.room.event.finish]),
    chance: text([readyBy?.chance, event?.chance]),
    threats: text(threats),
  };
}

/** Reads instants in working minutes of a build, by the calendars of the program that lies here. */
export function workingMinutesOf(build: Build, now: number): WorkingMinutes {
  const { resources } = surroundingsOf(build, now, []);
  const people = resources.filter(({ kind }) => kind === 'person').map(({ open }) => open);
  const open = unionOf(people);
  const between = (from: number, to: number) => (people.length === 0 ? to - from : openMinutesBetween(open, from, to));
  return (instant) => (instant >= now ? between(now, instant) : -between(instant, now));
}

function quantities({ setCount, parameters, parts }: Forecast): unknown {
  return [
    setCount,
    parameters.map(({ name, value }) => [name, value]),
    parts.map(({ id, need, spares, toMake, packs, toBuy }) => [id, need, spares, toMake, packs, toBuy]),
  ];
}

function unitsOf({ set, total, done, scrapped, left }: Forecast['steps'][number]['sets'][number]): unknown {
  return [set, total, done, scrapped, left];
}

function minutesOf(step: Forecast['steps'][number]): unknown {
  const { id, handsMinutesPerUnit, runMinutesPerLot, waitMinutesPerLot, handsMinutesLeft, machineMinutesLeft } = step;
  return [id, handsMinutesPerUnit, runMinutesPerLot, waitMinutesPerLot, handsMinutesLeft, machineMinutesLeft];
}

function lotName({ step, set, firstUnit, lastUnit, begun }: Forecast['lots'][number]): string {
  return `${step} ${set ?? ''} ${firstUnit}-${lastUnit}${begun ? ' begun' : ''}`;
}

/** Each lot of the path with its early and late dates, and how soon all could be ready. */
function networkTimes({ lots, criticalPath, room }: Forecast, minutes: WorkingMinutes): unknown {
  const byId = new Map(lots.map((lot) => [lot.id, lot]));
  const said = (instant: number | null) => (instant === null ? null : minutes(instant));
  const times = criticalPath.flatMap((id) => {
    const lot = byId.get(id);
    if (lot === undefined) return [];
    const { earlyStart, earlyFinish, lateStart, lateFinish } = lot.dates;
    return [[lotName(lot), ...[earlyStart, earlyFinish, lateStart, lateFinish].map(said)]];
  });
  return [said(room.readyBy.unlimitedFinish), times];
}

/** Numbers to nine digits: sums in another order are no other answer. */
function text(value: unknown): string {
  const round = (_: string, it: unknown) => (typeof it === 'number' ? Number(it.toPrecision(9)) : it);
  return JSON.stringify(value, round) ?? 'nothing';
}
