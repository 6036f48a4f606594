/** The kinds of log entries. */

export const LOG_KINDS = [
  'done', // n good units have passed the step
  'scrapped', // n units are lost at this step; `counted`: whether they were among those counted as done
  'loaded', // n units were set going: a machine was loaded, or what waits in the middle of its work was begun
  'ordered',
  'promised', // the supplier named an instant (`until`)
  'received', // n units have arrived
  'passed', // a gate
  'failed',
  'sent-back', // n units of the step must be done again
  'began', // the run clock of the step was started
  'paused',
  'lost', // time lost: `person`, `machine` (n of them) or everybody, from `at` until `until`
  'packed', // a box (`box`) is packed
  'undo', // takes the entry `undoes` back
  'confirmed', // the entry `confirms` was asked about, and is right as it stands
] as const;
export type LogKind = (typeof LOG_KINDS)[number];
