/** The engine: plain data in, plain data out. Its rooms in the order of the computation. */

export { formulaList } from './01-quantities/index.ts';
export { type KeptSchedule, keptScheduleOf } from './07-levelling/index.ts';
export { besideKnown, compareEnds, type FutureEnds } from './08-risk/index.ts';
export { withSince } from './09-threats/index.ts';
export { firstCount, firstPlanIn } from './10-answers/index.ts';
export { answersAfter, attributeRoom, type LedgerSpan, pastInstants, roomSince, sumParts } from './11-ledger/index.ts';
export { askedBy, settleRipple } from './13-ripple/index.ts';
export { findLevers, rightSize, waysBeside } from './14-levers/index.ts';
export {
  calendarOf,
  dateText,
  dayAt,
  dayNumber,
  daysBetween,
  exceptionsWithout,
  hoursText,
  instantOfWall,
  isZone,
  readHours,
  readWall,
  timeAt,
  wallText,
  weekdayOf,
} from './calendar/index.ts';
export { planBuild } from './plan.ts';
export type { Case, KeptBaseline } from './stages/index.ts';
