/** What the pages show of a planned build. */

/** Line of balance: who runs out of whose units, and when. */
export { balanceAnswer } from './balance.ts';
/** The plan before anything was counted: what the counts are compared with. */
export { baselineOf, firstCount, firstPlanAnswer, firstPlanIn, yardstickLinesOf } from './baseline.ts';
/** Burn-down: what is left over time, planned and counted. */
export { burnAnswer } from './burn.ts';
/** Hours needed against hours there, for hands and machines. */
export { capacityAnswer } from './capacity.ts';
/** Day sheets: what each person and machine does on each day. */
export { daySheetsAnswer } from './day-sheets.ts';

/** Open questions with their last moments, and until when each answer is possible. */
export { decisionsAnswer } from './decisions.ts';
/** What has a due instant of its own: when it is finished, and with how much room. */
export { duesAnswer } from './dues.ts';
/** The last moment at which a lot can begin, be back or end under these hands and machines. */
export { lastStartOf, levelledOfLot } from './last-moments.ts';
/** The limits of the design, and whom they concern. */
export { limitsAnswer } from './limits.ts';
/** Lots with their dates, people and machines. */
export { lotsAnswer, placementsByLot } from './lots.ts';
/** What a build must say before it can have a date. */
export { missingOf } from './missing.ts';
/** What the piece costs: committed, to come, kept back. */
export { moneyAnswer } from './orders/money.ts';
/** Orders with their last moments. */
export { ordersAnswer } from './orders/orders.ts';
/** What to buy from whom, how far it has come, and what is missing. */
export { suppliesAnswer } from './orders/supplies.ts';
/** Parameters with their values, and what uses each of them. */
export { parametersAnswer, usesAnswer } from './parameters.ts';
/** Parts with their counts: needed, to make, to buy, good and scrapped. */
export { partsAnswer } from './parts.ts';
/** Room before the ready-by, the load-in and the event, and the lower bound. */
export { lowerBoundAnswer, roomAnswer } from './room.ts';
/** Who is at what when, for day sheets and working hours. */
export { type Spells, spellsOf } from './spells.ts';
/** Steps with their counts, minutes, links, state and dates. */
export { stepsAnswer } from './steps.ts';
/** What hangs on a parameter that is not known yet. */
export { trialsOf, uncertainAnswer, withHighs } from './uncertain.ts';
/** The chain that drives the ready date, link by link. */
export { whyAnswer } from './why.ts';
/** Working hours in the forecast: nights, rest and lone work. */
export { workHoursAnswer } from './work-hours/work-hours.ts';
