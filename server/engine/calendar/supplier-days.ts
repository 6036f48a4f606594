/**
 * Working days of suppliers: when an order must be placed, when it arrives.
 *
 * A day counts when its weekday is worked and it is no holiday. An order up to the cut-off of a working day belongs to
 * that day, a later one to the next; n working days on it is sent; it arrives at the arrival hour of the first delivery
 * day from then on.
 */

import { problemTexts, saidOf } from '../../model/index.ts';
import type { ArrivalTable, Instant, Minutes } from '../types.ts';
import {
  calendarOf,
  type Day,
  dateText,
  dayAt,
  instantOfWall,
  MINUTES_PER_DAY,
  type Reading,
  readDate,
  weekdayOf,
} from './clock.ts';
import { LONG_AGO, NEVER } from './working-time.ts';

/**
 * Weekdays are ISO numbers, 1 Monday to 7 Sunday; times are minutes after midnight on the clock of the build's zone.
 */
export interface SupplierDays {
  readonly working: ReadonlySet<number>;
  readonly delivery: ReadonlySet<number>;
  readonly holidays: ReadonlySet<Day>;
  readonly cutOffMinute: Minutes;
  readonly arrivalMinute: Minutes;
}

/** What is not given is usual: Monday to Friday, orders until 24:00, deliveries on working days at 12:00. */
export interface SupplierDaysInput {
  readonly workingWeekdays?: readonly number[] | undefined;
  readonly deliveryWeekdays?: readonly number[] | undefined;
  readonly holidays?: readonly string[] | undefined;
  readonly cutOffMinute?: Minutes | undefined;
  readonly arrivalMinute?: Minutes | undefined;
}

/** Where to begin when the first day is no working day. */
type Roll = 'forward' | 'back';

/**
 * A supplier's days. Problems: `not-a-date` for a holiday that is none, `no-hours` for a supplier who never works or
 * delivers, or not for ten years.
 */
export function supplierDays(input: SupplierDaysInput): Reading<SupplierDays> {
  const holidays = new Set<Day>();
  for (const date of input.holidays ?? []) {
    const day = readDate(date);
    if (!day.ok) return day;
    holidays.add(day.value);
  }
  const working = new Set(input.workingWeekdays ?? [1, 2, 3, 4, 5]);
  const delivery = new Set(input.deliveryWeekdays ?? working);
  if (working.size === 0 || delivery.size === 0) {
    return { ok: false, problem: { code: 'no-hours', value: '', ...saidOf(problemTexts.hours.supplierHasNone) } };
  }
  const closed = endlessClosure(holidays, working) ?? endlessClosure(holidays, delivery);
  if (closed !== null) {
    const said = saidOf(problemTexts.hours.supplierClosed(dateText(closed)));
    return { ok: false, problem: { code: 'no-hours', value: dateText(closed), ...said } };
  }
  const cutOffMinute = input.cutOffMinute ?? MINUTES_PER_DAY;
  return { ok: true, value: { working, delivery, holidays, cutOffMinute, arrivalMinute: input.arrivalMinute ?? 720 } };
}

/**
 * The first of this many days in a row that are holidays or not among these weekdays that nobody would wait for the
 * next; null where there are none. O(days that the holidays span).
 */
function endlessClosure(holidays: ReadonlySet<Day>, weekdays: ReadonlySet<number>): Day | null {
  if (holidays.size < LONGEST_CLOSURE_DAYS / 7) return null;
  const sorted = [...holidays].sort((a, b) => a - b);
  let open = sorted[0]! - 8;
  for (let day = open + 1; day <= sorted.at(-1)! + 7; day++) {
    if (weekdays.has(weekdayOf(day)) && !holidays.has(day)) open = day;
    else if (day - open >= LONGEST_CLOSURE_DAYS - 14) return open + 1;
  }
  return null;
}

/** Whether the supplier works on that day. */
function isWorkingDay(days: SupplierDays, day: Day): boolean {
  return days.working.has(weekdayOf(day)) && !days.holidays.has(day);
}

/**
 * The working day `count` working days after (or, negative, before) `day`, which is first rolled to a working day; so 0
 * days from a Saturday is Monday (`forward`) or Friday (`back`). The convention of numpy's busday_offset. O(days
 * passed).
 */
export function addWorkingDays(days: SupplierDays, day: Day, count: number, roll: Roll = 'forward'): Day {
  let at = nearestWorkingDay(days, day, roll);
  const direction = count < 0 ? -1 : 1;
  for (let left = Math.abs(count); left > 0; left--) {
    at = nearestWorkingDay(days, at + direction, direction < 0 ? 'back' : 'forward');
  }
  return at;
}

/**
 * The supplier's answers for orders placed in [from, to]: rows of cut-off and arrival, both rising. Working days are
 * taken upwards to whole ones. Where what belongs to a day would arrive on it before its cut-off (no working day of
 * lead time), only what was ordered before that day began does; the rest comes on the next delivery day. Rows run one
 * working day past `to`, so that an order at `to` has its answer; from 1970 on, a row a working day.
 */
export function arrivalTable(
  days: SupplierDays,
  leadWorkingDays: number,
  zone: string,
  from: Instant,
  to: Instant,
): ArrivalTable {
  const lead = Math.max(0, Math.ceil(leadWorkingDays));
  const cutoffs: Instant[] = [];
  const arrivals: Instant[] = [];
  let orderDay = nearestWorkingDay(days, dayAt(from, zone) - 1, 'forward');
  let sentDay = addWorkingDays(days, orderDay, lead);
  for (let cutoff = LONG_AGO; cutoff < to; ) {
    const dawn = instantOfWall(orderDay, 0, zone);
    const before = cutoff;
    cutoff = instantOfWall(orderDay, days.cutOffMinute, zone);
    for (const until of dawn > before ? [dawn, cutoff] : [cutoff]) {
      const arrival = arrivalFrom(days, sentDay, until, zone);
      if (arrivals.at(-1) === arrival) cutoffs[cutoffs.length - 1] = until;
      else {
        cutoffs.push(until);
        arrivals.push(arrival);
      }
    }
    orderDay = nearestWorkingDay(days, orderDay + 1, 'forward');
    sentDay = nearestWorkingDay(days, sentDay + 1, 'forward');
  }
  return { cutoffs: Int32Array.from(cutoffs), arrivals: Int32Array.from(arrivals) };
}

/** When an order placed at `t` arrives; NEVER beyond the table's end. O(log n). */
export function arrivalOf(table: ArrivalTable, t: Instant): Instant {
  if (t === LONG_AGO) return LONG_AGO;
  const row = countBelow(table.cutoffs, t);
  return table.arrivals[row] ?? NEVER;
}

/**
 * The latest order that is there by `t`, cut-off counted; LONG_AGO when even the table's first row arrives later. It
 * mirrors `arrivalOf` exactly: `arrivalOf(table, s) <= t` if and only if `s <= latestOrderFor(table, t)`. O(log n).
 */
export function latestOrderFor(table: ArrivalTable, t: Instant): Instant {
  if (t === NEVER) return NEVER;
  const row = countBelow(table.arrivals, t + 1) - 1;
  return table.cutoffs[row] ?? LONG_AGO;
}

/** A day that a supplier does not have any more before an instant, and when the next such day begins. */
interface NoDay {
  readonly kind: 'working' | 'delivery';
  readonly next: Instant;
}

/**
 * Whether a supplier has no working day left before `until` to which an order placed at `from` belongs, or else none on
 * which they deliver; null where there are both. O(days closed).
 */
export function noDayBefore(days: SupplierDays, zone: string, from: Instant, until: Instant): NoDay | null {
  const today = dayAt(from, zone);
  const isMissed = isWorkingDay(days, today) && instantOfWall(today, days.cutOffMinute, zone) < from;
  const working = instantOfWall(nearestWorkingDay(days, isMissed ? today + 1 : today, 'forward'), 0, zone);
  if (working >= until) return { kind: 'working', next: working };
  const delivery = arrivalFrom(days, today, from, zone);
  if (delivery < until) return null;
  return { kind: 'delivery', next: delivery };
}

/** A holiday list covers years, not centuries: whoever has no working day in this many days never works. */
const LONGEST_CLOSURE_DAYS = 3660;

function nearestWorkingDay(days: SupplierDays, day: Day, roll: Roll): Day {
  const step = roll === 'forward' ? 1 : -1;
  for (let i = 0; i < LONGEST_CLOSURE_DAYS; i++) if (isWorkingDay(days, day + i * step)) return day + i * step;
  throw new RangeError(`no working day within ${LONGEST_CLOSURE_DAYS} days of ${dateText(day)}`);
}

function arrivalFrom(days: SupplierDays, sentDay: Day, cutoff: Instant, zone: string): Instant {
  for (let day = sentDay; day < sentDay + LONGEST_CLOSURE_DAYS; day++) {
    if (!days.delivery.has(weekdayOf(day)) || days.holidays.has(day)) continue;
    const arrival = instantOfWall(day, days.arrivalMinute, zone);
    if (arrival >= cutoff) return arrival;
  }
  throw new RangeError(`no delivery day in ${LONGEST_CLOSURE_DAYS} days from ${calendarOf(sentDay).year}`);
}

/** How many values of a rising array are below `value`. */
function countBelow(values: Int32Array, value: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (values[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
