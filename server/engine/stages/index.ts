/** The stages in their order, from a case to schedules: the one pipeline that every question goes through. */

/** The plan aimed at another finish. */
export { aimedAt } from './aimed-at.ts';
/** What is planned, and what of it is replaced. */
export type { Case, KeptBaseline, Replaced } from './case.ts';
/** What is wanted before the rest, and the steps that must be done by then. */
export { type Due, duesOf } from './dues.ts';
/** What is made already, and when it was. */
export { madeAt } from './made.ts';
/** What the stages hand on: what remains, its dates, its schedules. */
export type { Dated, Ground, Planned, Remaining } from './planned.ts';
/** What is wrong with a case, from all its stages. */
export { problemsOf } from './problems.ts';
/** Late dates where the hours on site are too few. */
export { lateThere } from './site-time.ts';
/** A case worked through, as deep as asked for. */
export { workThrough } from './work-through.ts';
