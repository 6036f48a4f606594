/** What a trial is worth beside the plan as it is. */
import type { Build, FuturesCompared, LeverCost, LeverWorth } from '../../model/index.ts';
import { compareEnds, type FutureEnds } from '../08-risk/index.ts';
import type { Trial } from './trial.ts';

/**
 * One in a hundred of chance counts as this many minutes of room: ten points are seven hours (our choice, no source).
 */
const POINT_MINUTES = 42;
/** What an hour of hands is worth where the build does not say (our choice, no source). */
export const HOUR_WORTH = 20;
/** No lever costs less than an hour: somebody must see to it (our choice, no source). */
const LEAST_COST_MINUTES = 60;
/** What costs money that nobody has said counts as two days of hands (our choice, no source). */
const UNKNOWN_COST_MINUTES = 16 * 60;

/** Minutes of hands that a cost amounts to. */
export function costMinutes({ money, handsMinutes }: LeverCost, { hourWorth = HOUR_WORTH }: Build): number {
  const paid = money === null ? UNKNOWN_COST_MINUTES : (60 * money) / hourWorth;
  return Math.max(LEAST_COST_MINUTES, handsMinutes + paid);
}

/** The costs of several levers together; money that is not known of one is not known of all. */
export function costOf(costs: readonly LeverCost[]): LeverCost {
  return costs.reduce(
    (all, { money, handsMinutes }) => ({
      money: money === null || all.money === null ? null : money + all.money,
      handsMinutes: all.handsMinutes + handsMinutes,
    }),
    { money: 0, handsMinutes: 0 },
  );
}

/** Minutes of room that a difference amounts to, its chance counted with it. */
export function gainOf({ readyAt, readyBy }: FuturesCompared): number {
  return -readyAt.mean + 100 * POINT_MINUTES * readyBy.mean;
}

/** The standard error of that at most. */
export function gainErrorOf({ readyAt, readyBy }: FuturesCompared): number {
  return readyAt.error + 100 * POINT_MINUTES * readyBy.error;
}

/** What differs in the first futures of two trials; null where one has no date. */
export function comparedOf(present: Trial, tried: Trial, futures: number): FuturesCompared | null {
  return present.ends === null || tried.ends === null ? null : compareEnds(present.ends(futures), tried.ends(futures));
}

interface WorthAsked {
  /** Futures by which the two are compared. */
  readonly futures: number;
  /** Futures that are drawn of the plan as it is, `futures` at least: the chance starts from theirs. */
  readonly ofPresent?: number;
  readonly relaxes: boolean;
  readonly cost: number;
}

/**
 * A trial beside the plan as it is, by this many futures. Where the plan as it is can still be carried out (`relaxes`)
 * it is worth no less: what is found worse is not done, and the present plan stays the better one. Its chance is that
 * of the plan as it is, by all futures that are known of that, plus the difference: so a chance from few futures is
 * beside one from many (a control variate of coefficient 1: Law, "Simulation Modeling and Analysis", 11.4, from
 * memory).
 */
export function worthOf(
  present: Trial,
  tried: Trial,
  { futures, ofPresent = futures, relaxes, cost }: WorthAsked,
): LeverWorth {
  const compared = comparedOf(present, tried, futures);
  const isWorse = relaxes && compared !== null && gainOf(compared) < 0;
  const isLater = relaxes && later(tried.readyAt, present.readyAt);
  const difference = isWorse ? comparedOf(present, present, futures) : compared;
  const readyAt = isLater ? present.readyAt : tried.readyAt;
  const { readyBy } = present.planned.surroundings;
  return {
    readyAt,
    room: readyAt === null ? null : readyBy - readyAt,
    chance: difference === null ? null : chanceWith(difference, knownChance(present, ofPresent)!),
    compared: difference,
    score: difference === null ? Number.NEGATIVE_INFINITY : (60 * gainOf(difference)) / cost,
  };
}

/** The chance of a trial, by as many futures as are known of it; null where there are none. */
export function knownChance(trial: Pick<Trial, 'ends' | 'known'>, futures: number): number | null {
  if (trial.ends === null || futures === 0) return null;
  return trial.known?.chance ?? chanceOf(trial.ends(futures));
}

/** A chance that differs by so much; a share, whatever the difference. */
export function chanceWith({ readyBy }: FuturesCompared, chance: number): number {
  return Math.min(1, Math.max(0, chance + readyBy.mean));
}

/** The share of futures that are ready in time. */
export function chanceOf({ readyAt, readyBy }: FutureEnds): number {
  let hits = 0;
  for (const at of readyAt) if (at <= readyBy) hits++;
  return hits / readyAt.length;
}

function later(one: number | null, other: number | null): boolean {
  return one === null ? other !== null : other !== null && one > other;
}
