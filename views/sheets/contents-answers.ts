/** The answer that a sheet gives, in a few words: what Contents says beside its name. */
import type { Screen } from '../links.ts';
import { texts } from '../texts/index.ts';
import type { BuildPage } from '../types.ts';
import { missingTexts } from '../words/missing-words.ts';
import { orderedText } from '../words/supply-words.ts';
import { chanceBy, figure, money, roomText, soonText, whenText } from '../words/wording.ts';

const say = texts.answers;

type Answer = (page: BuildPage) => string | null;

/** What a sheet answers now; null where it has nothing to say yet, or is a place to type. */
export function answerOf(page: BuildPage, screen: Screen): string | null {
  return ANSWERS[screen]?.(page) ?? null;
}

const ANSWERS: Readonly<Partial<Record<Screen, Answer>>> = {
  countdown: ({ forecast, clock }) => {
    const { finish, clock: room } = forecast.room.readyBy;
    if (finish === null || !forecast.complete || missingTexts(forecast).length > 0) return null;
    const ready = say.ready(whenText(clock, finish, forecast.now), roomText(room));
    const { risk } = forecast;
    return risk == null ? ready : `${say.likely(chanceBy(risk.readyBy, forecast.now))}, ${ready}`;
  },
  now: ({ forecast, clock }) => {
    const spells = forecast.days.flatMap(({ people }) => people.flatMap((one) => one.spells));
    const next = spells.filter(({ finish }) => finish > forecast.now).toSorted((a, b) => a.start - b.start)[0];
    const name = forecast.steps.find(({ id }) => id === next?.step)?.name;
    if (next === undefined || name === undefined) return null;
    return next.start <= forecast.now ? say.now(name) : say.next(name, soonText(clock, next.start, forecast.now));
  },
  steps: ({ forecast }) => {
    const all = forecast.steps.filter(({ kind }) => kind === 'step');
    return all.length === 0 ? null : say.steps(figure(all.filter(({ left }) => left === 0).length), figure(all.length));
  },
  dates: ({ forecast, clock }) => {
    const open = forecast.decisions.filter(({ decided, decideBy }) => decided === null && decideBy !== null);
    const first = open.toSorted((a, b) => a.decideBy! - b.decideBy!)[0];
    return first === undefined ? null : say.decide(first.question, soonText(clock, first.decideBy!, forecast.now));
  },
  orders: ({ forecast, clock }) => {
    const open = forecast.orders.filter(({ state }) => state === 'to-order');
    const first = open.toSorted((a, b) => a.orderBy - b.orderBy)[0];
    if (first !== undefined)
      return say.order(open.length, orderedText(first), soonText(clock, first.orderBy, forecast.now));
    return forecast.orders.length === 0 ? null : say.ordered;
  },
  money: ({ forecast: { money: sums, currency } }) =>
    sums === undefined || sums.lines.length === 0
      ? null
      : say.money(money(sums.total, currency), money(sums.toCome, currency)),
  design: ({ forecast }) => {
    const broken = (forecast.limits ?? []).filter(({ state }) => state === 'broken').length;
    const parts = forecast.parts.length;
    return parts === 0 ? null : say.design(parts, (forecast.limits ?? []).length, broken);
  },
  hands: ({ build }) => {
    const [people, machines] = [(build.people ?? []).length, (build.machines ?? []).length];
    return people + machines === 0 ? null : say.hands(people, machines);
  },
  show: ({ forecast: { show } }) => ((show?.stops.length ?? 0) === 0 ? null : say.show(show!.stops.length)),
};
