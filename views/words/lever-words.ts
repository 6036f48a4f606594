/** Levers in words: what each changes, what it gains, what it costs, and why something buys nothing. */
import {
  type FreeUntil,
  type Lever,
  type LeverCost,
  type LeverDay,
  type LeverReason,
  type LeverRow,
  type LeverSearch,
  type LeverWorth,
  messageOf,
  type Neck,
} from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { WallClock } from '../wall-clock.ts';
import {
  chanceText,
  dayOfMonth,
  dayText,
  figure,
  lengthText,
  money,
  roomText,
  soonText,
  whenText,
  workText,
} from './wording.ts';

const say = texts.levers;

/** What a lever changes: `A helper on Sat 5 Dec (6 h)`. */
export function leverText(lever: Lever): string {
  const { lever: words } = say;
  switch (lever.code) {
    case 'helper-day':
      return words.helperDay(dayOf(lever.values.day), workText(lever.values.minutes));
    case 'helper-days':
      return words.helperDays(lever.values.days.map(dayOf), workText(lever.values.minutes));
    case 'one-more-person':
      return words.onePerson(lever.values.like);
    case 'longer-evenings': {
      const { person, minutes, days, limit } = lever.values;
      return words.longer(person, lengthText(minutes), days, limit === null ? '' : say.limit[limit]);
    }
    case 'one-more-machine':
      return words.machine(lever.values.machine, lever.values.count);
    case 'express':
      return words.express(lever.values.name, lever.values.supplier);
    case 'other-way':
      return words.way(lever.values.name, lever.values.from, lever.values.to);
    case 'fewer':
      return words.fewer(lever.values.name, figure(lever.values.from), figure(lever.values.to));
    case 'smaller-lots':
    case 'larger-lots': {
      const { step, from, to, isAssumed } = lever.values;
      return words.smallerLots(step, figure(from), figure(to), isAssumed);
    }
    case 'left-out':
      return words.leftOut(lever.values.step);
    case 'prove-first':
      return words.proveFirst(lever.values.gate);
    case 'prove-along':
      return words.proveAlong(lever.values.gate);
    case 'split-step': {
      const { step, how, people } = lever.values;
      return how === 'either' ? words.either(step, people) : words.together(step);
    }
    case 'may-too':
      return words.mayToo(lever.values.step, lever.values.person);
    case 'other-worker':
      return words.worker(lever.values.step, lever.values.from, lever.values.to);
    case 'no-nights':
      return words.noNights(lever.values.people);
  }
}

/** `Sat 5 Dec`. */
function dayOf({ date, weekday }: LeverDay): string {
  const [, month, day] = date.split('-').map(Number);
  return `${texts.weekdays[weekday - 1]} ${dayOfMonth(day!, month!).replace(' ', '\u00a0')}`;
}

/** What levers cost, together or one: `18 EUR, 4 h of hands`. */
export function leverCostText({ money: paid, handsMinutes }: LeverCost, currency: string): string {
  const hours = handsMinutes === 0 ? [] : [say.cost.hours(workText(handsMinutes))];
  const paying =
    paid === null
      ? [say.cost.unknown]
      : paid === 0
        ? []
        : [paid < 0 ? say.cost.saves(money(-paid, currency)) : money(paid, currency)];
  const all = [...paying, ...hours];
  return all.length === 0 ? say.cost.nothing : all.join(', ');
}

/** Room gained on average: `5 h more`, with its error beside it. */
export function gainedText({ compared }: Pick<LeverWorth, 'compared'>): {
  readonly is: string;
  readonly error: string;
} {
  if (compared === null) return { is: say.same, error: '' };
  const minutes = Math.round(-compared.readyAt.mean);
  const is = minutes === 0 ? say.same : (minutes > 0 ? say.gained : say.lost)(lengthText(Math.abs(minutes)));
  return { is, error: say.plusMinus(lengthText(compared.readyAt.error, 'up')) };
}

/** The chance with it and the points gained. */
export function leverChanceText({ chance, compared }: Pick<LeverWorth, 'chance' | 'compared'>): {
  readonly is: string;
  readonly differs: string;
} {
  if (chance === null || compared === null) return { is: '', differs: '' };
  const { mean, error } = compared.readyBy;
  const sign = mean > 0 ? '+' : '';
  const points = say.points(`${sign}${figure(100 * mean, 1)}`);
  return { is: chanceText(chance), differs: `${points} ${say.plusMinus(figure(100 * error, 1))}` };
}

/** Why something buys nothing, as the end of a sentence. */
export function reasonText(reason: LeverReason, clock: WallClock, now: number): string {
  const words = say.reason;
  switch (reason.code) {
    case 'off-chain':
      return words.offChain(neckText(reason.neck, clock, now));
    case 'neck':
      return words.neck(neckText(reason.neck, clock, now));
    case 'made':
      return words.made(reason.made);
    case 'impossible':
      return words.impossible(reason.problems.slice(0, 1).map(messageOf).join(''));
    case 'untried':
      return words.untried;
  }
}

/** `Printer is the neck until Sat 5 Dec`. */
export function neckText(neck: Neck | null, clock: WallClock, now: number): string | null {
  return neck === null ? null : say.neckOf[neck.kind](neck.name, dayText(clock, neck.until, now));
}

/** The hours that a lever asks of somebody which the plan does not ask now. */
export function warnedTexts({ warnings }: Pick<LeverRow, 'warnings'>, nameOf: (person: string) => string): string[] {
  const said = warnings.map(({ code, person }) => say.warnFor(nameOf(person ?? ''), say.warning[code]));
  return [...new Set(said)];
}

/** The plan as it is, in one line. */
export function presentText({ present, now }: LeverSearch, clock: WallClock): string | null {
  if (present === null || present.readyAt === null) return null;
  const chance = present.chance === null ? null : chanceText(present.chance);
  return say.present(whenText(clock, present.readyAt, now), roomText(present.room), chance);
}

/** Several levers in one line. */
export function leversText(rows: readonly LeverRow[]): string {
  return say.several(rows.map(({ lever }) => leverText(lever)));
}

interface FreeAsked {
  readonly freeUntil?: readonly FreeUntil[];
  readonly now: number;
}

/** The last moments before something costs the planned finish. */
export function freeTexts({ freeUntil = [], now }: FreeAsked, clock: WallClock): string[] {
  return freeUntil.map(({ name, until }) => say.free(name, soonText(clock, until, now)));
}

/** A gain in a few words: `5 h more, 84 %`. */
export function worthText(worth: LeverWorth): string {
  const { is } = gainedText(worth);
  const chance = worth.chance === null ? null : chanceText(worth.chance);
  return chance === null ? is : `${is}, ${chance}`;
}
