/** Numbers, lengths of time and instants as a person at the bench says them. */
import { type Chance, hoursAndMinutes } from '../../server/model/index.ts';
import { texts } from '../texts/index.ts';
import type { WallClock } from '../wall-clock.ts';

const MINUTES_PER_HOUR = 60;
const MINUTES_PER_DAY = 1440;

type Rounding = 'down' | 'up';

/**
 * A length of time in its two largest units: `45 min`, `3 h 20 min`, `1 day 4 h`. What is cut off is dropped (`down`:
 * room is never promised that is not there) or counted as a whole (`up`: what is missing is never understated). The
 * sign is not said.
 *
 *     lengthText(1700) // '1 day 4 h'
 *     lengthText(1700, 'up') // '1 day 5 h'
 */
export function lengthText(minutes: number, rounding: Rounding = 'down'): string {
  const round = rounding === 'down' ? Math.floor : Math.ceil;
  const size = round(Math.abs(minutes));
  if (size < MINUTES_PER_HOUR) return texts.unit.min(size);
  if (size < MINUTES_PER_DAY) {
    const [hours, rest] = [Math.floor(size / MINUTES_PER_HOUR), size % MINUTES_PER_HOUR];
    return rest === 0 ? texts.unit.h(hours) : `${texts.unit.h(hours)} ${texts.unit.min(rest)}`;
  }
  const hoursInAll = round(size / MINUTES_PER_HOUR);
  const [days, hours] = [Math.floor(hoursInAll / 24), hoursInAll % 24];
  return hours === 0 ? texts.unit.days(days) : `${texts.unit.days(days)} ${texts.unit.h(hours)}`;
}

/** A length of time to the minute, for what is to add up: `1 day 4 h 20 min`. The sign is not said. */
export function exactText(minutes: number): string {
  const size = Math.abs(minutes);
  const [days, rest] = [Math.floor(size / MINUTES_PER_DAY), size % MINUTES_PER_DAY];
  if (days === 0) return lengthText(size);
  return rest === 0 ? texts.unit.days(days) : `${texts.unit.days(days)} ${lengthText(rest)}`;
}

/**
 * Minutes of work or rest to the minute, never in days, since a working day is as long as somebody's hours. Rounded up.
 *
 * @example hoursText(2190) is "36 h 30 min"
 */
export function hoursText(minutes: number): string {
  return hoursAndMinutes(Math.abs(minutes), '\u00a0');
}

/**
 * A measured number with two figures, from a hundred on as a whole: `3.2`, `14`, `0.85`, `312`.
 *
 *     twoFigures(14.37) // '14'
 */
export function twoFigures(value: number): string {
  return figure(value >= 100 ? Math.round(value) : Number(value.toPrecision(2)), 6);
}

/**
 * A share as a number out of a hundred, to the nearest, and 100 only where it is all of them.
 *
 *     ofHundred(0.998) // 99
 */
export function ofHundred(share: number): number {
  return share < 1 ? Math.min(99, Math.round(100 * share)) : 100;
}

/**
 * How fast units come or have to: `5 an hour`, or below one `one in 7 h 30 min`.
 *
 *     hourly(5.04) // '5 an hour'
 */
export function hourly(perHour: number): string {
  return perHour >= 1 || perHour <= 0
    ? texts.rate.anHour(twoFigures(perHour))
    : texts.rate.oneIn(hoursText(MINUTES_PER_HOUR / perHour));
}

/**
 * Minutes as they are typed or measured: with what is behind the point below an hour, from there on in hours and whole
 * minutes, to the nearest.
 *
 *     minutesText(3.25) // '3.25 min'
 *     minutesText(180) // '3 h'
 */
export function minutesText(minutes: number, digits = 2): string {
  return minutes < MINUTES_PER_HOUR ? texts.unit.min(figure(minutes, digits)) : hoursText(Math.round(minutes));
}

/**
 * The range of a pace in the unit of the pace beside it: a bare number there is minutes, so hours are said with their
 * unit.
 *
 *     spreadText(3, { low: 1.6, high: 4.8 }) // ['1.6', '4.8']
 *     spreadText(90, { low: 48.52, high: 142.8 }).join(' to ') // '49 min to 2 h 23 min'
 */
export function spreadText(minutesPerUnit: number, { low, high }: { low: number; high: number }): [string, string] {
  const isBare = minutesPerUnit < 60 && high < 60;
  const said = (minutes: number) => (isBare ? figure(minutes, 1) : minutesText(minutes, 0));
  return [said(low), said(high)];
}

/** The same to two figures below an hour, for what is measured: `0.21 min`. */
export function paceLength(minutes: number): string {
  return minutes < MINUTES_PER_HOUR ? texts.unit.min(twoFigures(minutes)) : hoursText(Math.round(minutes));
}

/**
 * Minutes of work, never in days: `50 min`, `2 h 15 min`, `38 h`; from 100 minutes to ten hours by the quarter of an
 * hour, above by the hour. Rounded up.
 *
 *     workText(95) // '1 h 35 min'
 *     workText(130) // '2 h 15 min'
 */
export function workText(minutes: number): string {
  return hoursText(shownWork(minutes));
}

/** The minutes of work that `workText` shows: what is taken from what must agree with the figures beside it. */
export function shownWork(minutes: number): number {
  if (minutes < 100) return Math.ceil(minutes);
  const hours = minutes / MINUTES_PER_HOUR;
  return MINUTES_PER_HOUR * (hours < 10 ? Math.ceil(hours * 4) / 4 : Math.ceil(hours));
}

/**
 * Room in words: `1 day 4 h`, `none`, or `6 h short`.
 *
 *     roomText(1700) // '1 day 4 h'
 *     roomText(-90) // '1 h 30 min short'
 */
export function roomText(minutes: number | null): string {
  if (minutes === null) return texts.room.unknown;
  if (minutes < 0) return texts.room.short(lengthText(minutes, 'up'));
  return minutes === 0 ? texts.room.none : lengthText(minutes);
}

/** The same to the minute: `5 days 10 min`, for what is added up. */
export function exactRoomText(minutes: number | null): string {
  if (minutes === null || minutes === 0) return roomText(minutes);
  return minutes < 0 ? texts.room.short(exactText(minutes)) : exactText(minutes);
}

/**
 * A number with at most `digits` places after the point and a thin space between thousands.
 *
 *     figure(1234.567, 1) // '1\u202f234.6'
 *     figure(-3) // '\u22123'
 */
export function figure(value: number, digits = 2): string {
  const rounded = Number(value.toFixed(digits));
  const [whole, fraction] = String(Math.abs(rounded)).split('.');
  const grouped = (whole ?? '0').replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
  return `${rounded < 0 ? '\u2212' : ''}${grouped}${fraction === undefined ? '' : `${texts.decimal}${fraction}`}`;
}

/**
 * An amount of money with its currency; `85 EUR` where it is whole.
 *
 *     money(12.5, 'EUR') // '12.50 EUR'
 */
export function money(value: number, currency: string): string {
  const [whole, cents] = value.toFixed(2).split('.');
  return `${figure(Number(whole))}${cents === '00' ? '' : `${texts.decimal}${cents}`} ${currency}`.trim();
}

/**
 * `24 × fish`, as on a parts list: names of parts have no plural that we could know. Our own words have: `24 units`.
 *
 *     counted(24, 'fish') // '24 × fish'
 */
export function counted(count: number, unit: string): string {
  return isOurs(unit) ? `${figure(count)}\u00a0${thing(count, unit)}` : `${figure(count)}\u00a0×\u00a0${unit}`;
}

/** What is counted, behind a number that stands by itself. */
export function thing(count: number, unit: string): string {
  if (!isOurs(unit)) return unit;
  return count === 1 ? texts.things[unit].one : texts.things[unit].many;
}

function isOurs(unit: string): unit is keyof typeof texts.things {
  return Object.hasOwn(texts.things, unit);
}

/**
 * A share as per cent.
 *
 *     percent(0.835) // '84\u202f%'
 */
export function percent(share: number): string {
  return `${figure(share * 100, 0)}\u202f%`;
}

/**
 * Whole per cent, rounded down: 95 % is said only where the instant of 95 of 100 is in time too. 0 and 1 are never said
 * outright of what was drawn: beyond the ends it is "over" or "under".
 *
 *     chanceText(0.956) // '95\u202f%'
 */
export function chanceText(chance: number): string {
  if (chance > 0.995) return texts.countdown.over(percent(0.99));
  return chance < 0.01 ? texts.countdown.under(percent(0.01)) : percent(Math.floor(chance * 100 + 1e-9) / 100);
}

/** Two standard errors hold 95 of 100 draws of a share. */
const ERRORS = 2;
/**
 * What is seen in none of n draws happens, with confidence 95 %, in at most 3 of n (Hanley and Lippman-Hand, JAMA 1983;
 * from memory).
 */
const NONE_IN = 3;

/**
 * By how many points a chance may be off for the number of futures alone, with confidence 95 %; never said as nothing.
 */
export function errorText({ chance, error }: Chance, futures: number): string {
  const share = chance <= 0 || chance >= 1 ? Math.max(NONE_IN / futures, error) : ERRORS * error;
  return Math.max(0.1, share * 100)
    .toFixed(1)
    .replace('.', texts.decimal);
}

/** The same of an instant, which is certain once it has passed. */
export function chanceBy({ target, chance }: Chance, now: number): string {
  return target > now ? chanceText(chance) : percent(chance < 0.5 ? 0 : 1);
}

/**
 * Day and time; the year is said when it is not that of `now`.
 *
 *     whenText({ read: () => ({ weekday: 4, day: 27, month: 11, time: '14:00' }) }, 0) // 'Thu 27 Nov 14:00'
 */
export function whenText(clock: WallClock, instant: number, now = instant): string {
  return `${dayText(clock, instant, now)} ${clock.read(instant).time}`;
}

/** A date as it is typed, `2026-11-27`, as `27 Nov 2026`; what is no date stays as it is. */
export function dateWords(date: string): string {
  const [year, month, day] = date.split('-').map(Number);
  const name = texts.months[(month ?? 0) - 1];
  return name === undefined ? date : `${dayOfMonth(day!, month!)} ${year}`.replaceAll(' ', '\u00a0');
}

/** Days from the first of January to the first of a month, in weekdays, for years that begin in March. */
const TO_MONTH = [0, 3, 2, 5, 0, 3, 5, 1, 4, 6, 2, 4];

/** The weekday of a day of the Gregorian calendar, Monday being 0 (T. Sakamoto 1993); NaN of what is no date. */
function weekdayOf(year: number, month: number, day: number): number {
  const y = month < 3 ? year - 1 : year;
  const leaps = Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400);
  return (y + leaps + (TO_MONTH[month - 1] ?? Number.NaN) + day + 6) % 7;
}

/** The same with its weekday, `Fri 27 Nov 2026`. */
export function weekdayWords(date: string): string {
  const [year, month, day] = date.split('-').map(Number) as [number, number, number];
  const name = texts.weekdays[weekdayOf(year, month, day)];
  return name === undefined ? date : `${name}\u00a0${dateWords(date)}`;
}

/** `27 Nov`, of a month from 1 to 12. */
export function dayOfMonth(day: number, month: number): string {
  return texts.dayOfMonth(day, texts.months[month - 1]!);
}

/** `Thu 27 Nov`. */
export function dayText(clock: WallClock, instant: number, now = instant): string {
  const { weekday, day, month, year } = clock.read(instant);
  const text = `${texts.weekdays[weekday - 1]} ${dayOfMonth(day, month)}`;
  return year === clock.read(now).year ? text : `${text} ${year}`;
}

/**
 * `today 14:00`, otherwise with the day: for what is close at hand.
 *
 *     soonText({ daysApart: () => 1, read: () => ({ time: '09:00' }) }, 540, 0) // 'tomorrow 09:00'
 */
export function soonText(clock: WallClock, instant: number, now: number): string {
  const apart = clock.daysApart(now, instant);
  const near = apart === 0 ? texts.today : apart === 1 ? texts.tomorrow : apart === -1 ? texts.yesterday : null;
  return near === null ? whenText(clock, instant, now) : `${near} ${clock.read(instant).time}`;
}

/** By how much a last moment is too late that lay before the build began, as after a late enlargement; else null. */
export function lateFromStart({ start, now }: { start: number | null; now: number }, instant: number): string | null {
  if (start === null || instant >= Math.min(start, now)) return null;
  return texts.tooLateBy(lengthText(now - instant, 'up'));
}
