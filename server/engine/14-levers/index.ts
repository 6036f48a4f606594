/**
 * Levers: what could be changed to gain time, each a list of changes with what it costs. How the parts follow from each
 * other:
 *
 * 1. `propose` asks `people-levers`, `step-levers` and `plan-levers` what this build really has to change.
 * 2. `trial` works a changed build through and draws its futures on as far as they are asked for, with one luck for
 *    all.
 * 3. `worth` says what a trial gains beside the plan as it is, `halving` which of many to look at longer.
 * 4. `levers` screens by the driving chain, tries, ranks; `combine` makes pairs, triples and what it would take;
 *    `neck` and `free-until` say why something buys nothing, and by when what would cost the planned finish.
 * 5. `make-or-send` lays the ways of a part beside each other: `way-switch` makes it come another way, `way-costs`,
 *    `way-minutes` and `way-moments` say what that costs and until when it can be done.
 */

/** By when to order and to decide so that the planned finish stays. */
export { freeUntilOf } from './free-until.ts';
/** The search for what would buy time. */
export { findLevers } from './levers.ts';
/** Make or send out: the ways of each part beside each other. */
export { waysBeside } from './make-or-send.ts';
/** How large a parameter may be. */
export { rightSize } from './right-size.ts';
