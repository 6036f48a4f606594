/**
 * The numbers by which the flat arrays of an instance name kinds of phases, types of links and shapes of lots.
 *
 * Whatever runs for each lot of each future takes them out of here once, as constants of its own module: the compiler
 * folds those, while it reads imported ones again at every use (3 in 100 of the time of a future).
 */

export const HANDS = 0;
export const RUN = 1;
export const WAIT = 2;
export const LEAD = 3;
export const DEMAND = 4;

export const FINISH_START = 0;
export const START_START = 1;
export const FINISH_FINISH = 2;

/**
 * The commonest shapes of a part of a lot, which have a fast path: PLAIN is one person's interruptible work, then waits
 * and deliveries; LOADED is one person's loading and the run of a machine that nobody attends; WHOLE is PLAIN and all
 * of its lot; ALONE is the only phase of a lot that takes no place, by any crew, in one go or at a machine.
 */
export const OTHER = 0;
export const PLAIN = 1;
export const LOADED = 2;
export const WHOLE = 3;
export const ALONE = 4;

/** Whether links bind the end of a lot under way, and whether it keeps a machine or a place until then. */
export const UNTIED = 0;
export const TIED = 1;
export const HOLDING = 2;

/** A bound that binds nothing: earlier than every instant, with room below it for arithmetic in 32 bits. */
export const FREE = -1073741824;

/** No instant of an instance is at or beyond this. */
export const NEVER = 1073741824;

/** Later than every place in an activity list. */
export const NO_TURN = 2147483647;

/** So many numbers are a link in `Instance.out`. */
export const OUT = 4;
