/** What is likely to cost the date. */

/** What is likely to cost the date, worst first, each a code with its values. */
export { threatsOf, withSince } from './threats.ts';
