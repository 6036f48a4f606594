/** The days of the demo, counted from the day on which somebody looks at it. */
const MINUTES_PER_DAY = 1440;
const DAYS_TO_EVENT = 12;
/** The day before is for hanging, with the platform that is hired for it. */
const DAYS_TO_LOAD_IN = 11;
/** Enough days in hand for one late delivery, too few for two. */
const DAYS_TO_READY = 9;

/** Days as numbers since 1970-01-01. */
export interface Days {
  readonly today: number;
  readonly ready: number;
  readonly loadIn: number;
  readonly event: number;
}

/** The days of the demo for an instant in whole minutes since the epoch. */
export function daysOf(now: number): Days {
  const today = dayNumber(now);
  return {
    today,
    ready: today + DAYS_TO_READY,
    loadIn: today + DAYS_TO_LOAD_IN,
    event: today + DAYS_TO_EVENT,
  };
}

/** The day of an instant in whole minutes since the epoch. */
export function dayNumber(now: number): number {
  return Math.floor(now / MINUTES_PER_DAY);
}

/** A day as YYYY-MM-DD. */
export function dateOf(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}

/** An hour of a day as an instant. */
export function instantOf(day: number, time: string): string {
  return `${dateOf(day)}T${time}:00Z`;
}

/** The day that is `n` working evenings before (n < 0) or after a day: Sundays are free. */
export function eveningFrom(day: number, n: number): number {
  return stepped(day, n, (one) => weekday(one) !== 0);
}

/** The day that is `n` working days of a firm, Monday to Friday, after a day. */
export function firmDayFrom(day: number, n: number): number {
  return stepped(day, n, (one) => weekday(one) !== 0 && weekday(one) !== 6);
}

/** 0 for a Sunday. 1970-01-01 was a Thursday. */
export function weekday(day: number): number {
  return (day + 4) % 7;
}

function stepped(day: number, n: number, counts: (day: number) => boolean): number {
  let at = day;
  for (let left = Math.abs(n); left > 0; ) {
    at += Math.sign(n);
    if (counts(at)) left -= 1;
  }
  return at;
}
