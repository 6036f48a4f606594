/** The stages in their order, from a case to schedules: the one pipeline that every question goes through. */

/** What is planned, and what of it is replaced. */
export type { Case, KeptBaseline, Replaced } from './case.ts';
/** What is wanted before the rest, and the steps that must be done by then. */
export { type Due, duesOf } from './dues.ts';
/** The plan held against another finish. */
export { heldTo } from './held-to.ts';
/** What is made already, and when it was. */
export { madeAt } from './made.ts';
/** What the stages hand on: what remains, its dates, its schedules. */
export type { Dated, Ground, Planned, Remaining } from './planned.ts';
/** What is wrong with a case, from all its stages. */
export { problemsOf } from './problems.ts';
/** A case worked through, as deep as asked for. */
export { workThrough } from './work-through.ts';
