/** What is wrong with a date, a time, a zone, or the dates of the event. */
const DAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'] as const;
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

export const dateTexts = {
  /** An instant in a sentence; the weekday from Monday 1, the month from January 1. */
  moment: ({ weekday, date, month, time }: Moment) => `${DAYS[weekday - 1]} ${date} ${MONTHS[month - 1]} ${time}`,
  notATime: (text: string) => `"${text}" is not a date and time; write it like 2026-12-03T14:00.`,
  notOfDay: (time: string) => `${time} is not a time of day; the hours run from 00:00 to 23:59.`,
  missingHour: ({ time, date, zone, span, next }: MissingHour) =>
    `${time} on ${date} does not exist in ${zone}: the clocks go from ${span}; the next minute there is ${next}.`,
  clocksGo: (from: string, to: string) => `${from} to ${to}`,
  notADate: (text: string) => `"${text}" is not a date; write it like 2026-12-03.`,
  year: (year: number, first: number, last: number) =>
    `The year ${year} is out of range; years run from ${first} to ${last}.`,
  noMonth: (text: string) => `${text} is not in the calendar; months run from 01 to 12.`,
  noDay: (text: string, days: number) => `${text} is not in the calendar; that month has ${days} days.`,
  offset: (text: string) => `${text} is not an offset from UTC; they run from -12:00 to +14:00.`,
  zone: (zone: string) => `"${zone}" is not a time zone; write an IANA name such as Europe/Berlin.`,
  unknownZone: (zone: string) =>
    `"${zone}" is not a known time zone; write it like Europe/Lisbon, or on a page by a large city nearby.`,
  eventPast: (event: string) =>
    `The event, ${event}, has passed; set a later one. Until then the plan puts what is left after now.`,
  far: (field: 'start' | 'event', typed: string) =>
    `The ${field === 'start' ? 'start of the work' : 'event'}, ${typed}, is more than ten years away, and the plan looks no farther; look at the year.`,
  lateLoadIn: (event: string) => `The load-in must not be after the event (${event}).`,
  dueAfter: (name: string) =>
    `${name} is due after the event; give it a due date before that, or leave it empty: it is planned for the rest then.`,
  readyAfterEvent: (event: string) => `The ready-by must not be after the event (${event}).`,
  readyAfterLoadIn: (loadIn: string) => `The ready-by must not be after the load-in (${loadIn}).`,
} as const;

interface Moment {
  readonly weekday: number;
  readonly date: number;
  readonly month: number;
  readonly time: string;
}

interface MissingHour {
  readonly time: string;
  readonly date: string;
  readonly zone: string;
  readonly span: string;
  readonly next: string;
}
