/** When it could be done with hands and machines unlimited. */

/**
 * How long the build must take with as many hands and machines as one could wish for, how much every lot can slip, and
 * the chain of lots that drives the end.
 */
export { criticalPath, totalSlackTo } from './critical-path.ts';
