/** Days that get lost: how often, to whom, in each future. */

import { type CompiledForward, loseDays } from '../07-levelling/index.ts';
import {
  daysBetween,
  type LostTime,
  openMinutesBetween,
  type Surroundings,
  surroundingsOf,
} from '../calendar/index.ts';
import type { Remaining } from '../stages/index.ts';
import type { Instant } from '../types.ts';
import type { OtherDraw } from './futures.ts';
import { lossSampler, type Sampler } from './samplers.ts';
import { keyOf, type Streams } from './streams.ts';

/** Before anything is logged: half a day lost in fourteen (common practice, no source). */
const PRIOR = { lost: 0.5, days: 14 };

/** How often a working day is lost: a gamma belief, `shape` days lost in `days`. */
export interface LossRate {
  readonly shape: number;
  readonly days: number;
}

/**
 * The rate at which this build loses working days: the days its log says were lost of those since the start, joined
 * with a weak belief (gamma and Poisson). A day is lost by the share of its hours, and one person's hours by their
 * share of all: a day on which nobody would have come is none, nor is one on which a machine stood.
 */
export function lossRateOf(remaining: Remaining): LossRate {
  const { surroundings, tally, now } = remaining;
  const there = known.get(surroundings);
  if (there !== undefined && there.tally === tally && there.now === now) return there.rate;
  const rate = rateOf(remaining);
  known.set(surroundings, { tally, now, rate });
  return rate;
}

/** By the surroundings that each set of values of a build's parameters shares with the plan: what was worked out. */
const known = new WeakMap<Surroundings, Pick<Remaining, 'tally' | 'now'> & { readonly rate: LossRate }>();

function rateOf({ asked, surroundings, tally, now }: Remaining): LossRate {
  const from = surroundings.start ?? tally.firstAt;
  if (from === null || from >= now) return { shape: PRIOR.lost, days: PRIOR.days };
  const losses = tally.lost.filter(({ machine }) => machine === null);
  const whole = losses.length === 0 ? surroundings : surroundingsOf(asked.build, now, [], tally.firstAt ?? now);
  let [days, lost] = [0, 0];
  for (const { start, end } of daysBetween(from, now, surroundings.zone)) {
    const day = { start: Math.max(from, start), end: Math.min(end, now) };
    if (openMinutesBetween(whole.working, day.start, day.end) === 0) continue;
    days++;
    lost += Math.min(
      1,
      losses.reduce((sum, loss) => sum + shareLost(whole, loss, day), 0),
    );
  }
  return { shape: PRIOR.lost + lost, days: PRIOR.days + days };
}

/** The share of a day's hours that were lost, 0 to 1. */
function shareLost(
  { people, working }: Surroundings,
  { person, from, until }: LostTime,
  { start, end }: { readonly start: Instant; readonly end: Instant },
): number {
  const hours = person === null ? working : people.get(person)?.open;
  if (hours === undefined || until <= start || from >= end) return 0;
  const all = openMinutesBetween(hours, start, end);
  const taken = openMinutesBetween(hours, Math.max(start, from), Math.min(end, until));
  return all === 0 ? 0 : taken / all / (person === null ? 1 : people.size);
}

/** The days on which somebody is there, from now to where the calendars of a work end. */
interface LosableDays {
  readonly starts: Int32Array;
  readonly ends: Int32Array;
}

/** Every day that the build can lose: what is left of today, and the days after it until `until`. */
export function losableDays({ surroundings }: Remaining, until: Instant): LosableDays {
  const people = [...surroundings.people.values()];
  const days = daysBetween(surroundings.from, until, surroundings.zone)
    .map(({ start, end }) => ({ start: Math.max(start, surroundings.from), end }))
    .filter(({ start, end }) => people.some(({ open }) => openMinutesBetween(open, start, end) > 0));
  return {
    starts: Int32Array.from(days, ({ start }) => start),
    ends: Int32Array.from(days, ({ end }) => end),
  };
}

/**
 * Draws the days that a future loses: each by the same chance, for everybody and for the whole of it, and work under
 * way pauses over it as over any night. To be called with a problem that was compiled with these days. Null where there
 * are none.
 */
export function lostDaysOf(problem: CompiledForward['forward'], days: LosableDays, rate: LossRate): OtherDraw | null {
  return days.starts.length === 0 ? null : new LostDays(problem, days, lossSampler(rate.shape, rate.days));
}

class LostDays implements OtherDraw {
  readonly step = -1;
  readonly key = keyOf('lost days');
  private readonly starts: Int32Array;
  private readonly ends: Int32Array;

  constructor(
    private readonly problem: CompiledForward['forward'],
    private readonly days: LosableDays,
    private readonly daily: Sampler,
  ) {
    this.starts = new Int32Array(days.starts.length);
    this.ends = new Int32Array(days.starts.length);
  }

  reset(): void {}

  draw(stream: Streams): number {
    const { days, starts, ends } = this;
    const chance = 1 - Math.exp(-this.daily(stream.unit()));
    let count = 0;
    for (let day = 0; day < days.starts.length; day++) {
      if (stream.unit() >= chance) continue;
      starts[count] = days.starts[day]!;
      ends[count++] = days.ends[day]!;
    }
    loseDays(this.problem, starts, ends, count);
    return 0;
  }
}
