/** The sheets of a build, as paths behind its own; each is looked at by day and by night. */
export const SHEETS = [
  '',
  '/steps',
  '/dates',
  '/dates/2026-11-26',
  '/design',
  '/hands',
  '/options',
  '/lines',
  '/levers',
  '/wrong',
  '/history',
  '/ledger',
  '/contents',
  '/burn-down',
  '/balance',
  '/steps/paint-fish',
];
