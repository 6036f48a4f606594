/** Who and what is there when: minutes, dates, zones, hours, suppliers. */

/** The one place where minutes meet dates, clocks and zones. */
export {
  calendarOf,
  type Day,
  dateAt,
  dateText,
  dayAt,
  daysBetween,
  instantOfWall,
  isZone,
  MINUTES_PER_DAY,
  minuteOfDayAt,
  readWall,
  timeAt,
  wallText,
  weekdayOf,
} from './clock.ts';

/** Hours of the week and of a day, read and written. */
export {
  type DaySpan,
  dayHoursText,
  hoursText,
  readDayHours,
  readHours,
  type WeeklyHours,
  weeklyMinutes,
} from './hours.ts';
/** Instants and lengths of time as people at the bench say them. */
export { momentText } from './labels.ts';
/** Hours of days to come that somebody loses. */
export { dayNumber, exceptionsWithout } from './lost-hours.ts';
/** Working days of suppliers: when an order must be placed, when it arrives. */
export { arrivalOf, latestOrderFor, noDayBefore } from './supplier-days.ts';

/**
 * Who and what is there when: the dates of a build, its people, machines and suppliers as calendars over one horizon.
 */
export {
  accept,
  HORIZON_AFTER_MINUTES,
  type LearntLead,
  type LostTime,
  leadDaysOf,
  OLDEST_ENTRY_MINUTES,
  type PersonThere,
  personNamed,
  plannedLead,
  type SettingSupplier,
  type Surroundings,
  surroundingsOf,
  withLearntLeads,
  workingDaysTaken,
} from './surroundings.ts';
/** Arithmetic on open time: when somebody is there, and what a number of their minutes amounts to on the clock. */
export {
  addClockMinutes,
  addOpenMinutes,
  alwaysOpen,
  atLeastOpen,
  calendarFrom,
  clipOpenTime,
  closedWithin,
  earliestStartInOneGo,
  intersectionOf,
  intervalsOf,
  isInstant,
  isOpen,
  LONG_AGO,
  latestStartInOneGo,
  NEVER,
  nextOpen,
  openMinutesBetween,
  previousOpen,
  subtractOpenMinutes,
  subtractOpenTime,
  totalOpenMinutes,
  unionOf,
} from './working-time.ts';
