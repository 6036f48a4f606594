/** What is found in a plan: hours that wear people out, what threatens the date, and whether it is sound. Instants and lengths as in a forecast. */

export interface WorkHoursWarning {
  readonly code: 'rest' | 'week' | 'no-day-off' | 'night' | 'alone' | 'unattended-night';
  readonly person: string | null;
  readonly at: number;
  readonly minutes: number;
  readonly message: string;
}

export const THREAT_CODES = [
  'slow-step', // costs most of the end, where the date is late or unlikely
  'order-late', // past its last moment
  'order-today', // on its last day
  'decision', // nobody has decided what steps wait for
  'idle-machine', // stands tonight while lots wait for it
  'silent-step', // should run, but nothing was logged for days
  'nights', // the plan leans on them
  'no-spare', // comes from outside, none to spare, and too late if ordered now
  'old-plan', // something is logged of a later hour than the plan
] as const;

export interface Threat {
  readonly code: (typeof THREAT_CODES)[number];
  readonly step: string | null;
  /** What it is likely to cost, in clock minutes; 0 where that cannot be told. */
  readonly costMinutes: number;
  /** The instant from which it has threatened: known from plan and log, else when a forecast first saw it without a break. */
  readonly since: number;
  /** The numbers of the sentence: units, instants, minutes. */
  readonly values: Readonly<Record<string, number | null>>;
  readonly message: string;
}

export const SOUNDNESS_CODES = [
  'missing-logic', // leads nowhere, or begins on site out of nothing
  'negative-lag',
  'unnamed-lag',
  'fixed-start',
  'broken-path', // no chain from now to the end
  'high-slack',
  'negative-slack',
  'path-index', // critical path length index
  'no-route', // a made part without a step
  'missing-kind', // nothing packs, drives, tests …
  'no-hands',
  'no-minutes',
  'guessed',
  'long-lot',
  'totals', // lots, steps and parts do not add up
  'invalid-date', // counted in the future, planned in the past
  'no-first-plan',
  'missed', // due by the first plan and not done
  'execution-index', // done against due by the first plan
  'no-chance',
  'stale-log',
] as const;

/** One test of the plan as a plan. */
export interface SoundnessCheck {
  readonly code: (typeof SOUNDNESS_CODES)[number];
  readonly fine: boolean;
  /** How many were found, or the index. */
  readonly value: number;
  /** Out of so many; null for an index. */
  readonly of: number | null;
  /** The most that is still fine: a share of `of`; for an index the least. */
  readonly limit: number;
  readonly steps: readonly string[];
  /** It stands among the problems or the threats already. */
  readonly saidElsewhere: boolean;
  /** A sentence with numbers; null where it is fine. */
  readonly message: string | null;
}
