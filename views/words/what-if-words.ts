/** What a change does, in words: dates that move, chances, and differences with their errors. */
import type { Difference, Forecast, ForecastMoney, ForecastOrder, FuturesCompared } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { WallClock } from '../wall-clock.ts';
import { hasSiteWork } from './marks.tsx';
import { orderedText } from './supply-words.ts';
import { chanceText, figure, lengthText, whenText } from './wording.ts';

const say = texts.options;

/**
 * When it is ready, in minutes since the epoch, and how likely by the ready-by, from 0 to 1; null where that is not
 * known.
 */
export interface Answer {
  readonly readyAt: number | null;
  readonly chance: number | null;
  /** How likely all is set up before the event, from 0 to 1; null or left out: nothing is left to do on site. */
  readonly installed?: number | null;
}

/**
 * `ready Thu 3 Dec 20:10, 6 h earlier; 71 % to 84 %`; what is not known is left out. Where work is left to do on site,
 * a chance to be set up in time that changes is said too: a ready-by that is kept does not show it.
 */
export function effectText(clock: WallClock, now: number, before: Answer, after: Answer): string {
  const ready =
    after.readyAt === null
      ? say.noDateNow
      : say.ready(whenText(clock, after.readyAt, now), movedText(before.readyAt, after.readyAt));
  const chance = chancesText(before.chance, after.chance);
  return [ready, chance, installedText(before, after)].filter((part) => part !== null).join('; ');
}

function installedText(before: Answer, after: Answer): string | null {
  const [was, is] = [before.installed ?? null, after.installed ?? null];
  if (is === null || (was !== null && chanceText(was) === chanceText(is))) return null;
  return say.installed(chancesText(was, is)!);
}

/** `6 h earlier`, `as before`, `no date before`. */
export function movedText(before: number | null, after: number | null): string {
  if (before === after) return say.same;
  if (before === null) return say.noDateBefore;
  if (after === null) return say.noDate;
  const length = lengthText(Math.abs(after - before));
  return after < before ? say.earlier(length) : say.later(length);
}

function chancesText(before: number | null, after: number | null): string | null {
  if (after === null) return null;
  const [was, is] = [before === null ? null : chanceText(before), chanceText(after)];
  if (was === null) return is;
  return was === is ? say.sameChance(is) : say.chances(was, is);
}

/** `13 points more ± 1.8`: by how much a chance differs, in points of a hundred. */
export function pointsText({ mean, error }: Difference, futures: number): string {
  if (mean === 0 && error === 0) return say.noDifference(figure(futures));
  return say.points(figure(Math.abs(mean) * 100, 1), figure(error * 100, 1), mean >= 0);
}

/** `on average 5 h 20 min earlier ± 12 min`. */
export function averageText({ readyAt: { mean, error }, futures }: FuturesCompared): string {
  if (mean === 0 && error === 0) return say.noDifference(figure(futures));
  const rounded = Math.round(mean);
  return say.onAverage(movedText(0, rounded), lengthText(error, 'up'));
}

/** What is more or less than now, behind a figure; empty where it is the same. */
export function changeText(before: number, after: number, words: (amount: number) => string): string {
  if (after === before) return '';
  const amount = words(Math.abs(after - before));
  return after > before ? say.more(amount) : say.less(amount);
}

/** Orders whose last moment moves, that are new, or that are not made any more. */
export function orderTexts(clock: WallClock, present: Forecast, forecast: Forecast): string[] {
  const open = (orders: readonly ForecastOrder[]) =>
    orders.filter(({ state }) => state === 'to-order' || state === 'late');
  const then = new Map(open(forecast.orders).map((order) => [order.step, order]));
  const now = new Map(open(present.orders).map((order) => [order.step, order]));
  const when = ({ orderBy }: ForecastOrder) => whenText(clock, orderBy, forecast.now);
  const moved = [...then.values()].flatMap((order) => {
    const before = now.get(order.step);
    const what = orderedText(order);
    if (before === undefined) return [say.orderNew(what, when(order))];
    return before.orderBy === order.orderBy && before.units === order.units ? [] : [say.orderMoves(what, when(order))];
  });
  return [...moved, ...[...now.values()].filter(({ step }) => !then.has(step)).map(({ name }) => say.orderGone(name))];
}

/** Parts with more made already than a changed plan needs, where the present plan needs what is made. */
export function beyondTexts(present: Forecast, forecast: Forecast): string[] {
  const over = ({ good, need, spares, measure }: Forecast['parts'][number]) =>
    measure === undefined ? Math.max(0, good - need - spares) : 0;
  const before = new Map(present.parts.map((part) => [part.id, over(part)]));
  return forecast.parts.flatMap((part) => {
    const more = over(part);
    return more > (before.get(part.id) ?? 0) ? [say.beyond(part.name, figure(part.good), figure(more))] : [];
  });
}

/** The figures of a plan that options are compared by. */
export interface PlanFigures extends Answer {
  readonly installed: number | null;
  readonly room: number | null;
  readonly half: number | null;
  readonly mostly: number | null;
  readonly make: number;
  readonly buy: number;
  readonly handsMinutes: number;
  readonly machineMinutes: number;
  /** All that it costs, as the sheet of its money says; null where nothing has a price. */
  readonly money: Pick<ForecastMoney, 'committed' | 'toCome' | 'contingency' | 'total'> | null;
}

/** The figures of a forecast; a chance only where nothing had to be left out. */
export function figuresOf(forecast: Forecast): PlanFigures {
  const { room, risk, riskFrom, complete, parts, steps, money } = forecast;
  const own = complete && riskFrom === undefined ? (risk ?? null) : null;
  const sum = (numbers: readonly number[]) => numbers.reduce((all, n) => all + n, 0);
  return {
    readyAt: room.readyBy.finish,
    room: room.readyBy.clock,
    chance: own?.readyBy.chance ?? null,
    installed: hasSiteWork({ forecast }) ? (own?.event.chance ?? null) : null,
    half: own?.readyAt.p50 ?? null,
    mostly: own?.readyAt.p80 ?? null,
    make: sum(parts.filter(({ source }) => source !== 'buy').map(({ toMake }) => toMake)),
    buy: sum(parts.map(({ toBuy }) => toBuy ?? 0)),
    handsMinutes: sum(steps.map(({ handsMinutesLeft }) => handsMinutesLeft)),
    machineMinutes: sum(steps.map(({ machineMinutesLeft }) => machineMinutesLeft)),
    money: money === undefined || money.lines.length === 0 ? null : money,
  };
}
