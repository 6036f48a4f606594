/** The ripple of a change: what depends on it, what is made to the old value, and what the maker's answer comes to. */

/** What is asked before a change is saved. */
export { askedBy } from './asked.ts';
/** Answers as changes and entries. */
export { settleRipple } from './settle.ts';
