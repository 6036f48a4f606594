/** The ledger of room: what gained or cost room between two forecasts, and what that comes to over a span. */
export { attributeRoom, type LedgerSpan } from './attribute.ts';
export { pastInstants } from './past.ts';
export { answersAfter } from './room-at.ts';
export { roomSince, sumParts } from './sums.ts';
